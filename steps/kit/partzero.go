package kit

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// Expansion per kelvin of fixture and machine materials: published typical values.
// Acrylic: 72e-6 in three data sheets; 6061 and steel: Aluminum Association and A36, all verified copies.
var expansion = []struct {
	word  string
	alpha float64
}{
	{"acrylic", 70e-6}, {"polycarbonate", 68e-6}, {"epoxy", 60e-6}, {"alumin", 23.6e-6}, {"6061", 23.6e-6}, {"brass", 20e-6},
	{"steel", 11.7e-6}, {"iron", 12.1e-6}, {"walnut", 40e-6}, {"maple", 40e-6}, {"wood", 40e-6},
}

// alphaOf is the expansion of a material by its name, 0 when it is not among them.
func alphaOf(material string) float64 {
	m := strings.ToLower(material)
	for _, e := range expansion {
		if strings.Contains(m, e.word) {
			return e.alpha
		}
	}
	return 0
}

// tabled is the walk since which an expansion is looked up in the material table where the name tells none. A record of an earlier
// one keeps what it was judged by.
const tabled = 3

// Alpha is a material's expansion per K: the job's own value, else the published one, else that of the material table; 0 where
// none is known.
func Alpha(p *fold.Plan, material string) float64 {
	if m, ok := p.Job.Materials[material]; ok && m.Alpha != [2]float64{} {
		return (m.Alpha[0] + m.Alpha[1]) / 2
	}
	if a := alphaOf(material); a > 0 || !p.Walks(tabled) {
		return a
	}
	m, err := p.Job.Library().Like(material)
	switch {
	case err != nil:
		return 0
	case m.Heat.Known(): // across the grain, which moves most
		_, by := m.InPlane(m.Heat)
		return by[1] * 1e-6
	}
	return m.Expansion.Nominal * 1e-6
}

// Vec is a job's point as calc's.
func Vec(p jobs.Point) frame.Vec { return frame.Vec{X: p.X, Y: p.Y} }

// PartZero is v: from bore 1 to the part zero, the part against its walls, as made (see frame.Against).
func PartZero(p *fold.Plan) (v frame.Vec, note string) {
	v, err := zeroAt(p)
	a := p.Setup.Against
	switch {
	case p.OnLocator():
		return v, "on its " + Locator(p) + "s: the card's place of the part zero"
	case p.Setup.Floating || len(a) < 2:
		return v, "floating in its pocket: the clearance counts as uncertainty"
	case err != nil:
		return v, err.Error()
	}
	return v, fmt.Sprintf("against %s and %s: pocket clearance %s added toward them", strings.ToUpper(a[0]), strings.ToUpper(a[1]),
		p.Len(p.Job.Fixture.Pocket.Clearance))
}

// errWalls is a setup whose walls are no two that are known.
var errWalls = errors.New("no two walls named: the clearance counts as uncertainty")

// zeroAt is the place alone: the card's where nothing moves it toward two walls.
func zeroAt(p *fold.Plan) (frame.Vec, error) {
	mid := Vec(p.Job.Fixture.AsMade.PartZero)
	a := p.Setup.Against
	if p.OnLocator() || p.Setup.Floating || len(a) < 2 {
		return mid, nil
	}
	w1, err1 := frame.ParseWall(a[0])
	w2, err2 := frame.ParseWall(a[1])
	if err1 != nil || err2 != nil {
		return mid, errWalls
	}
	v, err := frame.Against(mid, p.Job.Fixture.Pocket.Clearance, w1, w2)
	if err != nil {
		return mid, err
	}
	return v, nil
}

// Place writes a place for What: trimmed to a micrometre.
func Place(v float64) string {
	s := fmt.Sprintf("%.3f", v)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// Around gives a window about a prediction.
func Around(want, half float64, why string) *fold.Window {
	return &fold.Window{Want: want, Half: half, Why: why}
}

// TravelWindow is where a machine coordinate can be at all.
func TravelWindow(p *fold.Plan, axis string) *fold.Window {
	t, ok := p.Job.Machine.Travel[axis]
	if !ok {
		return nil
	}
	return Around((t[0]+t[1])/2, math.Abs(t[1]-t[0])/2+1, "the machine's travel")
}

// OutlineBox is the box about an outline.
func OutlineBox(o jobs.Outline) (lo, hi frame.Vec) {
	if len(o) == 0 {
		return
	}
	lo, hi = Vec(o[0]), Vec(o[0])
	for _, q := range o[1:] {
		lo.X, lo.Y = math.Min(lo.X, q.X), math.Min(lo.Y, q.Y)
		hi.X, hi.Y = math.Max(hi.X, q.X), math.Max(hi.Y, q.Y)
	}
	return
}

// Rim are the fixture's Z witness points, on the card or beside the pocket.
func Rim(p *fold.Plan) []jobs.Point {
	if r := p.Job.Fixture.Witness.Rim; len(r) >= 2 {
		return r[:2]
	}
	lo, hi := OutlineBox(p.Job.Fixture.Pocket.Outline)
	y := (lo.Y + hi.Y) / 2
	return []jobs.Point{{X: lo.X - 6, Y: y}, {X: hi.X + 6, Y: y}}
}
