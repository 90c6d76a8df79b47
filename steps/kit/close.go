package kit

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// closeOf is what the third walk reckons with: the part's growth since side 1, how it leans and
// turns at its walls, the probe's lobes and the lead of the screws.
func closeOf(p *fold.Plan, get Facts, o register.Offset) *register.Close {
	c := &register.Close{Grown: grownOf(p, get), Lobing: lobes(p), Lead: leadOf(p, get)}
	walls := Walls(p)
	if p.Setup.Floating || len(walls) < 2 || DatumOf(p).HoldsPart() { // which holds its direction
		return c
	}
	size := frame.Vec{X: p.Job.Part.Size[0], Y: p.Job.Part.Size[1]}
	c.Seat = &frame.Seat{Size: size, Walls: [2]frame.Wall{walls[0], walls[1]}}
	// Strips were tried at both ends of both walls: the longer sees less of a turn.
	c.Strips, _ = frame.TurnAtWalls(Strip(p), math.Max(size.X, size.Y))
	c.Turn, c.TurnU = turnOf(p, get, o.Fixture.Skew)
	return c
}

// Strip is the thickness of the paper or feeler strips, which is common to both.
func Strip(p *fold.Plan) float64 { return Even(p, 0.02, 0.01, 0.001) }

// turnOf is the turn of the part against its pocket by the two witnesses on one of its faces, which was cut along X
// of side 1 and lies along it after either flip; u 0 where they were not touched, or lie on two faces.
func turnOf(p *fold.Plan, get Facts, skew unit.Angle) (unit.Angle, float64) {
	if s, ok := facts.Seat.By(get); ok && s.TurnU > 0 {
		return s.Turn - skew, s.TurnU
	}
	base, ok := facts.Baseline.By(get)
	spots := Spots(p)
	if !ok || len(base.D) != len(spots) {
		return 0, 0
	}
	ends, ok := FaceEnds(spots)
	if !ok {
		return 0, 0
	}
	d := spots[ends[1]].At.X - spots[ends[0]].At.X
	s := float64(base.S)
	if base.Freedom == 0 { // once each
		s, _ = judge.ProbeS(p)
		s *= math.Sqrt2
	}
	return unit.Angle((base.D[ends[1]]-base.D[ends[0]])/d) - skew, turnU(p, s, d)
}

// FaceEnds are the two witnesses on one of the part's faces along X; ok is false where they lie on two.
func FaceEnds(spots []Spot) (ends [2]int, ok bool) {
	n := 0
	for i, s := range spots {
		if s.Axis == fit.AxisY && n < 2 {
			ends[n] = i
			n++
		}
	}
	if n != 2 {
		return ends, false
	}
	a, b := spots[ends[0]], spots[ends[1]]
	return ends, a.Sign == b.Sign && a.At.Y == b.At.Y && b.At.X != a.At.X
}

// TouchedTurn is the turn of a face against the machine's axis by one touch at each end, with its standard uncertainty.
func TouchedTurn(p *fold.Plan, a, b Spot, ya, yb float64) (unit.Angle, float64) {
	s, _ := judge.ProbeS(p)
	d := b.At.X - a.At.X
	return unit.Angle((yb - ya) / d), turnU(p, s*math.Sqrt2, d)
}

// turnU is its standard uncertainty: both ends twice, and the axis' straightness over them when it was cut and now.
func turnU(p *fold.Plan, s, between float64) float64 {
	return math.Hypot(s, math.Sqrt2*p.Job.Machine.Straightness/math.Sqrt(3)) / math.Abs(between)
}

// NearBy is how far from the place where it was made a fixture may stand to be called there, mm.
func NearBy(p *fold.Plan) float64 { return Even(p, 20, 10, 1) }

// NearSaid is NearBy as it is said.
func NearSaid(p *fold.Plan) string {
	if p.Job.Unit == unit.Imperial {
		return "1 in"
	}
	return "20 mm"
}

// leadOf is the lead error by the cards and by where the fixture stands. Before it is mounted it counts as near:
// that is the best that can be proven.
func leadOf(p *fold.Plan, get Facts) register.Lead {
	l := register.Lead{Per300: p.Job.Machine.Lead}
	if l.Per300 == 0 {
		l.Per300, l.Assumed = frame.LeadPreset, true
	}
	if id, ok := facts.Identity.By(get); !ok || id.Near != 0 {
		l.Moved = &[2]float64{NearBy(p), NearBy(p)}
	}
	return l
}

// grownOf is how the part has grown since side 1: by its widths measured again, else by what was read of both days.
func grownOf(p *fold.Plan, get Facts) [2]growth.Growth {
	s, _ := facts.Seat.By(get)
	g := since(p, daysOf(get))
	for i, by := range [2][2]float64{{s.GrownX, s.UX}, {s.GrownY, s.UY}} {
		if by[1] > 0 {
			g[i] = measured(by[0], by[1])
		}
	}
	return g
}
