package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/pickup"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// What side 1 leaves for side 2, in the part's own terms (mm, rad). Each is a fact of
// the record that side 2 picks up, or a value given in the job.
//
//	part/thickness  [t taper bx by]  cov 1: as it came out of the vise, mean of its corners; highest less lowest; its
//	                                 slope along X and Y of side 1
//	part/width-x    [w off]          cov 1: outer width along X, and what it is beyond the drawing; width-y along Y
//	part/wall       [t]              cov 1: the wall that stays
//	part/seat       [0 tiltx tilty flat] cov 1: the face that side 2 rests on, against the machine
//	part/edges      [xside yside]    cov 2: the stock edges that side 1 was picked up from, -1 left or front, +1 right
//	                                 or rear, 0 the middle; cov of the pickup
//	part/holes      [n]              clearance holes for side 2, drilled on side 1
//	part/spring     [d]              movement of the wall when the vise was opened
//	part/air        [c read rh]      when side 1 was measured: temperature of the part, read 1 by thermometer; humidity, 0 unread
//	part/hours      [h clock]        clock 1: hours of Unix time when it came out; clock 0: hours between the sides, as given

// givenPart are the part facts that the job gives.
func givenPart(p *fold.Plan) []fold.Known {
	var out []fold.Known
	for _, k := range []string{"thickness", "width-x", "width-y", "hours"} {
		g, ok := p.Job.Part.Given[k]
		if !ok {
			continue
		}
		off := 0.0
		switch k {
		case "width-x":
			off = g.Value - p.Job.Part.Size[0]
		case "width-y":
			off = g.Value - p.Job.Part.Size[1]
		}
		out = append(out, fold.Known{ID: fold.FactID("part/" + k), Value: []float64{g.Value, off}, Cov: [][]float64{{g.U * g.U}}})
	}
	t, warm := p.Job.Part.Given["temperature"]
	rh, damp := p.Job.Part.Given["humidity"]
	if warm || damp {
		a := facts.AirFact{C: t.Value, RH: rh.Value}
		if warm {
			a.Read = 1
		}
		out = append(out, facts.Air.Is(a))
	}
	return out
}

// fromSide1 are the part facts that the register reckons with.
var fromSide1 = []fold.FactID{"part/width-x", "part/width-y", "part/edges", "part/thickness", "part/seat", "part/air"}

// thicknessNow is the part's as it goes in: as side 1 left it, or as the job says.
func thicknessNow(p *fold.Plan, v fold.View) float64 {
	if f, ok := facts.Thickness.In(v); ok {
		return float64(f.T)
	}
	return kit.Thickness(p)
}

// expected is the thickness that the top is held against, and who says so.
func expected(p *fold.Plan, v fold.View) (t float64, says string) {
	if f, ok := facts.Thickness.In(v); ok && v.Walks(3) {
		if k, _ := v.Fact("part/thickness"); k.By != "" {
			return float64(f.T), ". Side 1 measured"
		}
	}
	return kit.Thickness(p), "; the job says"
}

// wedge is the lean of the part's top over its seat face as side 1 left them, side-2
// coordinates: what is thicker at one end stands higher there without any chip.
func wedge(p *fold.Plan, v fold.View) (x, y float64) {
	f, _ := facts.Thickness.In(v)
	return pickup.Wedge(float64(f.BX), float64(f.BY), p.Setup.Flip != "y")
}

// sinceSide1 says what side 1 left that no number of side 2 holds.
func sinceSide1(p *fold.Plan, v fold.View) []string {
	var out []string
	if h, ok := kit.HoursBetween(v); ok && kit.IsWood(p.Job.Part.Material) {
		out = append(out, fmt.Sprintf("Side 1 came out %.0f h before: wood moves with the air meanwhile.", h))
	}
	if f, ok := facts.Spring.In(v); ok && math.Abs(float64(f.D)) > 0.002 {
		out = append(out, fmt.Sprintf("The wall sprang by %s when the vise was opened: it is not as straight as it was cut.",
			p.Len(math.Abs(float64(f.D)))))
	}
	return out
}
