package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// Spot is one witness of the part, in program coordinates in plan.
type Spot struct {
	Field, Label string
	Of, Dir      string
	Axis         fit.Axis
	At           fit.Point
	Sign         float64 // way of the approach along the axis
}

var AxisName = [...]string{"x", "y", "z"}

// Spots are the part's witnesses: one face along X, two far apart along Y, four on
// the top; clear of clamps and screws where there is such a place, and still there
// after drilling.
func Spots(p *fold.Plan) []Spot {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	var sides []jobs.Point
	for _, f := range []float64{0.42, 0.25, 0.75, 0.12, 0.88} {
		sides = append(sides, jobs.Point{X: 0, Y: math.Round(f * h)}, jobs.Point{X: w, Y: math.Round(f * h)})
	}
	q := freest(p, sides, false)
	px := Spot{"px", "part, face LEFT", "part-left@" + Place(q.Y), "x+", fit.AxisX, fit.Point{X: q.X, Y: q.Y}, 1}
	if q.X > 0 {
		px = Spot{"px", "part, face RIGHT", "part-right@" + Place(q.Y), "x-", fit.AxisX, fit.Point{X: q.X, Y: q.Y}, -1}
	}
	out := []Spot{px}
	for i, fs := range [][]float64{{0.08, 0.16, 0.24, 0.32}, {0.92, 0.84, 0.76, 0.68}} {
		var ends []jobs.Point
		for _, y := range []float64{0, h} {
			for _, f := range fs {
				ends = append(ends, jobs.Point{X: math.Round(f * w), Y: y})
			}
		}
		q := freest(p, ends, false)
		end := [2]string{"LEFT end", "RIGHT end"}[i]
		s := Spot{fmt.Sprintf("py%d", i+1), "part, face TOWARD YOU, " + end, "part-front@" + Place(q.X), "y+", fit.AxisY,
			fit.Point{X: q.X, Y: q.Y}, 1}
		if q.Y > 0 {
			s.Label, s.Of, s.Dir, s.Sign = "part, face AWAY, "+end, "part-rear@"+Place(q.X), "y-", -1
		}
		out = append(out, s)
	}
	for i, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		var tops []jobs.Point
		for _, in := range [][2]float64{{0.2, 0.12}, {0.12, 0.3}, {0.3, 0.12}, {0.3, 0.3}} {
			tops = append(tops, jobs.Point{X: math.Round(w * math.Abs(c[0]-in[0])), Y: math.Round(h * math.Abs(c[1]-in[1]))})
		}
		q := freest(p, tops, true)
		out = append(out, Spot{fmt.Sprintf("z%d", i+1), "part top, " + CornerName[i], "part-top@" + Place(q.X) + "," + Place(q.Y), "z-",
			fit.AxisZ, fit.Point{X: q.X, Y: q.Y}, -1})
	}
	return out
}

// freest is the first place with room for the ball beside clamps, and on the top beside
// screws; with little room if need be, else the first of all: the person sees the table.
func freest(p *fold.Plan, qs []jobs.Point, top bool) jobs.Point {
	for _, r := range []float64{6, 3} {
		for _, q := range qs {
			if open(p, q.X, q.Y, r) && (!top || offScrews(p, q.X, q.Y, r/2)) {
				return q
			}
		}
	}
	return qs[0]
}

// CornerName are the corners in the order of the top witnesses.
var CornerName = [...]string{"NEAR LEFT", "NEAR RIGHT", "FAR RIGHT", "FAR LEFT"}

// open says that no clamp stands within r of a place on the part.
func open(p *fold.Plan, x, y, r float64) bool {
	for _, c := range p.Setup.Clamps {
		lo, hi := OutlineBox(c.Outline)
		if x > lo.X-r && x < hi.X+r && y > lo.Y-r && y < hi.Y+r {
			return false
		}
	}
	return true
}

// offScrews says that no screw's washer or head comes within r of a place on the part.
func offScrews(p *fold.Plan, x, y, r float64) bool {
	for _, q := range p.Setup.Screws.At {
		if math.Hypot(x-q.X, y-q.Y) < math.Max(p.Setup.Screws.Washer, 4)/2+r {
			return false
		}
	}
	return true
}

// FaceRadius lies between spindle axis and surface when a face is touched: the ball as
// calibrated. What a step measures with it stands on the ball; the card's serves predictions
// only, of steps that compare and so need none.
func FaceRadius(p *fold.Plan, v fold.View) float64 {
	switch {
	case p.Job.Machine.Probe == nil:
		return Kicker{p, FaceBy(p, fit.AxisX)}.Contact().Radius
	case BallRadius(p, v) > 0:
		return BallRadius(p, v)
	}
	return p.Job.Machine.Probe.Radius
}

// FaceBy is the instrument that touches the part's faces along an axis: the probe, an edge finder, or paper.
func FaceBy(p *fold.Plan, a fit.Axis) string {
	m := &p.Job.Machine
	switch {
	case a == fit.AxisZ:
		return TouchBy(p)
	case m.Probe != nil:
		return "probe"
	case m.Finder != nil:
		return "finder"
	}
	return "paper"
}

// FixturePlace is a part place on the fixture card.
func FixturePlace(p *fold.Plan, q jobs.Point) fold.XY {
	z, _ := zeroAt(p) // the card's place where there is no other
	return fold.XY{X: z.X + q.X, Y: z.Y + q.Y}
}
