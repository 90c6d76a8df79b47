package dowel

import (
	"fmt"
	"math"

	calc "fliptrue/calc/dowel"
	"fliptrue/calc/growth"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// usualLand is the share of a diamond pin that its land usually is. Common practice.
const usualLand = 0.3

// nominal is a part on its pins with the planned play.
func nominal(p *fold.Plan) []fold.Known {
	h, n := planned(p)
	k, err := located(p, h, n)
	if err != nil {
		return nil
	}
	return []fold.Known{k}
}

// foreseen says whether the pins are in the way of the cutter, and whether the part still goes on when it is not as
// warm as its fixture was made.
func foreseen(p *fold.Plan) []fold.Check { return append(below(p), inHeat(p)...) }

// below holds the pins' ends under the lowest cut.
func below(p *fold.Plan) []fold.Check {
	h, lowest := p.Setup.Dowels.Height, p.Setup.Cut.Lowest
	if h == 0 || p.Setup.Cut.Tool == 0 {
		return nil
	}
	if p.Setup.Z0 == "finished top" {
		lowest += p.Job.Part.Size[2]
	}
	c := judge.Least(p.Limit("dowel.height"), lowest-h, 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("Pins end %s over the floor, the lowest cut %s: take shorter pins.", p.Len(h), p.Len(lowest))
	}
	return []fold.Check{c}
}

// inHeat says whether the part still goes on after a change of the room.
func inHeat(p *fold.Plan) []fold.Check {
	part, fixture := kit.Alpha(p, p.Job.Part.Material), kit.FixtureAlpha(p)
	if part == 0 || fixture == 0 {
		return nil
	}
	h, n := planned(p)
	grown := calc.Apart(float64(n.Apart), part, fixture, growth.UnreadHalf)
	s, err := onPins(h, n).Fits(float64(h.Apart), grown, p.Setup.Dowels.Land)
	if err != nil {
		return []fold.Check{judge.Refused("dowel.goes", goes, err)}
	}
	l := p.Limit("dowel.heat")
	l.Max = s.Bears
	c := judge.Most(l, math.Abs(grown), 0)
	if c.Verdict == fold.Pass {
		return []fold.Check{c}
	}
	c.Words = fmt.Sprintf("In %s they grow apart by %s, and the pins bear %s: it jams.", kit.Degrees(p, 10), p.Len(math.Abs(grown)),
		p.Len(s.Bears))
	land := usualLand * float64(n.D2)
	if d, err := onPins(h, n).Fits(float64(h.Apart), grown, land); err == nil && !s.Diamond && d.GoesOn {
		c.Words += fmt.Sprintf(" A diamond with a land of %s bears %s.", p.Len(land), p.Len(d.Bears))
	}
	return []fold.Check{c}
}
