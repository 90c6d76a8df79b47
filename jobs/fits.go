package jobs

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// fits checks the part of a second side against the fixture that it is to lie in: pocket,
// part zero, supports and screws.
func (r *reader) fits(j *Job) {
	for _, s := range j.Setups {
		if !s.Second() || len(j.Fixture.Pocket.Outline) < 3 || !(j.Part.Size[0] > 0 && j.Part.Size[1] > 0) {
			continue
		}
		path := join("setups", s.Name)
		if r.pocket(j) {
			zero, ok := r.zero(j, path)
			if ok {
				r.under(j, s, path, zero)
			}
		}
	}
}

// box is the smallest rectangle round an outline.
func box(o Outline) (lo, hi Point) {
	lo, hi = o[0], o[0]
	for _, q := range o {
		lo = Point{min(lo.X, q.X), min(lo.Y, q.Y)}
		hi = Point{max(hi.X, q.X), max(hi.Y, q.Y)}
	}
	return lo, hi
}

const (
	sameSize = 1e-6 // mm: what rounding of written numbers makes
	farOff   = 0.5  // mm: no rounding, no clearance explains it (common practice)
)

// pocket reports whether the part goes into the pocket.
func (r *reader) pocket(j *Job) bool {
	lo, hi := box(j.Fixture.Pocket.Outline)
	room := [2]float64{hi.X - lo.X, hi.Y - lo.Y}
	size, c := j.Part.Size, j.Fixture.Pocket.Clearance
	goes := func(l, w float64) bool { return l <= room[0]+sameSize && w <= room[1]+sameSize }
	if !goes(size[0], size[1]) {
		hint := "correct the size, or the pocket's outline on the fixture card"
		if goes(size[1], size[0]) {
			hint = "length and width are exchanged, here or on the fixture card"
		}
		r.fault("part.size", fmt.Sprintf("a part of %s x %s does not go into the pocket of %s x %s", shown(j, size[0]), shown(j, size[1]),
			shown(j, room[0]), shown(j, room[1])), hint)
		return false
	}
	for i, axis := range []string{"X", "Y"} {
		if play := (room[i] - size[i]) / 2; math.Abs(play-c) > math.Max(farOff, c) {
			r.notes = append(r.notes, r.note("part.size."+strconv.Itoa(i), fmt.Sprintf("along %s the pocket is %s wider than the part for each "+
				"side, and its clearance is said to be %s", axis, shown(j, play), shown(j, c)),
				"look at both again: a part that does not fill its pocket lies where it likes"))
		}
	}
	return true
}

// zero is the corner of the part in the fixture's frame; ok is false where the program zero
// is no corner of the part, and nothing more can be said.
func (r *reader) zero(j *Job, path string) (corner Point, ok bool) {
	lo, hi := box(j.Fixture.Pocket.Outline)
	z, size := j.Fixture.AsMade.PartZero, j.Part.Size
	corner = Point{(lo.X + hi.X - size[0]) / 2, (lo.Y + hi.Y - size[1]) / 2}
	play := math.Max(hi.X-lo.X-size[0], hi.Y-lo.Y-size[1]) / 2 // a part anywhere in a wide pocket
	near := func(p Point) bool {
		return math.Hypot(z.X-p.X, z.Y-p.Y) <= farOff+math.Max(play, j.Fixture.Pocket.Clearance)
	}
	if near(corner) {
		return corner, true
	}
	for what, p := range map[string]Point{"bore 1": {}, "the middle of the pocket": {(lo.X + hi.X) / 2, (lo.Y + hi.Y) / 2}} {
		if near(p) {
			r.notes = append(r.notes, r.note(path+".fixture", "the program zero of the card's part-zero is "+what+
				", not the part's front left corner",
				"right if the program is made so; then all places of this setup count from there"))
			return corner, false
		}
	}
	r.fault(path+".fixture", fmt.Sprintf("part-zero of the fixture card is at X %s Y %s, and a part in the middle of its pocket has its "+
		"front left corner at X %s Y %s",
		shown(j, z.X), shown(j, z.Y), shown(j, corner.X), shown(j, corner.Y)),
		"correct part-zero or the pocket's outline: both count from bore 1")
	return corner, false
}

// under looks for solid fixture under the part and its screws.
func (r *reader) under(j *Job, s Setup, path string, corner Point) {
	if len(j.Fixture.Support) == 0 {
		return
	}
	meets := false
	for _, o := range j.Fixture.Support {
		if len(o) < 3 {
			return
		}
		lo, hi := box(o)
		meets = meets || lo.X < corner.X+j.Part.Size[0] && hi.X > corner.X && lo.Y < corner.Y+j.Part.Size[1] && hi.Y > corner.Y
	}
	if !meets {
		r.fault(path+".fixture", "none of the fixture card's supports lies under the part", "correct support: its places count from bore 1")
		return
	}
	for i, p := range s.Screws.At {
		at := Point{corner.X + p.X, corner.Y + p.Y}
		if !slices.ContainsFunc(j.Fixture.Support, func(o Outline) bool { return holdsPoint(o, at) }) {
			r.notes = append(r.notes, r.note(join(path+".screws.at", strconv.Itoa(i)), fmt.Sprintf("no solid fixture is under screw %d", i+1),
				"it would bend the part into the hollow; move it, or correct support"))
		}
	}
}

// holdsPoint reports whether a point is in a convex outline or on it.
func holdsPoint(o Outline, p Point) bool {
	c, err := o.Convex()
	return err == nil && c.Distance(clearance.Point{X: p.X, Y: p.Y}) <= sameSize
}

// plausible are bounds that every solid a shop cuts is within, by a wide margin: soft foam
// to hardened steel and tungsten carbide. From memory of handbook tables; outside of them a
// unit or a decimal point is wrong.
var plausible = []struct {
	key     string
	of      func(Material) [2]float64
	lo, hi  float64
	unit    string
	shipped func(hold.Material) hold.Range
	scale   float64
}{
	{"kc", func(m Material) [2]float64 { return m.Kc }, 1, 8000, "MPa", func(m hold.Material) hold.Range { return m.Kc11 }, 1},
	{"crush", func(m Material) [2]float64 { return m.Crush }, 0.1, 7000, "MPa", func(m hold.Material) hold.Range { return m.Crush }, 1},
	{"tau", func(m Material) [2]float64 { return m.Tau }, 0.1, 3000, "MPa", func(m hold.Material) hold.Range { return m.Shear }, 1},
	{"e", func(m Material) [2]float64 { return m.E }, 1, 750_000, "MPa", func(m hold.Material) hold.Range { return m.Stiffness }, 1},
	{"alpha", func(m Material) [2]float64 { return m.Alpha }, 0.1e-6, 500e-6, "per K", func(m hold.Material) hold.Range { return m.Expansion }, 1e-6},
}

// farFrom is how many times a value may be off the shipped one before it is asked about.
const farFrom = 4

// implausible asks about material data that no material has, or that are far from those of
// the shipped material of the name.
func (r *reader) implausible(j *Job) {
	for _, name := range slices.Sorted(maps.Keys(j.Materials)) {
		given := j.Materials[name]
		base, err := hold.Library{}.Like(name)
		for _, p := range plausible {
			v, path := p.of(given), join("materials", name)+"."+p.key
			if v[1] <= 0 {
				continue
			}
			show := func(x float64) string {
				if p.unit == "MPa" {
					return boundText(x, unit.KStress, j.Unit)
				}
				return strconv.FormatFloat(x, 'g', -1, 64) + " per K"
			}
			switch s := p.shipped(base); {
			case v[0] < p.lo || v[1] > p.hi:
				r.fault(path, fmt.Sprintf("%s is no value of a material (%s to %s)", show(v[0]), show(p.lo), show(p.hi)),
					"look at the unit and the decimal point")
			case err == nil && s.High > 0 && (v[1] > farFrom*s.High*p.scale || v[0] < s.Low*p.scale/farFrom):
				r.notes = append(r.notes, r.note(path, fmt.Sprintf("%s is far from the %s to %s that is shipped for %s", show(v[0]),
					show(s.Low*p.scale), show(s.High*p.scale), base.Name), "right if you measured it; else look at the unit and the decimal point"))
			}
		}
	}
	for i, axis := range []string{"x", "y"} {
		t, ok := j.Machine.Travel[axis]
		if ok && j.Part.Size[i] > t[1]-t[0] {
			r.notes = append(r.notes, r.note("part.size."+strconv.Itoa(i), fmt.Sprintf("the part is %s along %s, and the machine travels %s",
				shown(j, j.Part.Size[i]), axis, shown(j, t[1]-t[0])), "look at the unit of both files"))
		}
	}
}
