package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
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
//	part/hours      [h clock]        clock 1: hours of Unix time when it came out; clock 0: hours between the sides, as given

// givenPart are the part facts that the job gives.
func givenPart(p *Plan) []Fact {
	var out []Fact
	for _, k := range []string{"thickness", "width-x", "width-y", "hours"} {
		g, ok := p.Job.Part.Given[k]
		if !ok {
			continue
		}
		f := Fact{ID: FactID("part/" + k), Value: []float64{g.Value, 0}, Cov: [][]float64{{g.U * g.U}}}
		switch k {
		case "width-x":
			f.Value[1] = g.Value - p.Job.Part.Size[0]
		case "width-y":
			f.Value[1] = g.Value - p.Job.Part.Size[1]
		}
		out = append(out, f)
	}
	return out
}

// lastAt is the time of the newest reading of the round in hand, in hours of Unix time; ok is false before any.
func (v View) lastAt() (hours float64, ok bool) {
	if v.Round == nil || len(v.Round.Taken) == 0 {
		return 0, false
	}
	last := v.Round.Taken[0]
	for _, t := range v.Round.Taken {
		if t.Seq > last.Seq {
			last = t
		}
	}
	return float64(last.At.Unix()) / 3600, true
}

// hoursBetween are the hours since side 1 came out of the vise, by the record's times, or as the job gives them.
func (v View) hoursBetween() (float64, bool) {
	f, ok := v.Fact("part/hours")
	if !ok {
		return 0, false
	}
	if f.Value[1] == 0 {
		return f.Value[0], true
	}
	now, ok := v.lastAt()
	return math.Max(0, now-f.Value[0]), ok
}

// uOf is the standard uncertainty of a fact's first component.
func uOf(f Fact) float64 {
	if len(f.Cov) == 0 || len(f.Cov[0]) == 0 {
		return 0
	}
	return math.Sqrt(f.Cov[0][0])
}

// fromSide1 are the part facts that the register reckons with.
var fromSide1 = []FactID{"part/width-x", "part/width-y", "part/edges", "part/thickness", "part/seat"}

// edgeError is by how much the outline that side 1 left carries the features away from the
// datum walls, side-2 coordinates: half of what the part is beyond the drawing, the error
// of the outline being the same on both of its sides (a cutter's size is).
func (p *Plan) edgeError(get func(FactID) (Fact, bool)) frame.Vec {
	var e frame.Vec
	if p.Setup.Floating || len(p.Setup.Against) < 2 {
		return e
	}
	half := func(id FactID) float64 {
		if f, ok := get(id); ok && len(f.Value) > 1 {
			return f.Value[1] / 2
		}
		return 0
	}
	for _, w := range p.Setup.Against {
		switch w {
		case "left":
			e.X = half("part/width-x")
		case "right":
			e.X = -half("part/width-x")
		case "toward":
			e.Y = half("part/width-y")
		case "away":
			e.Y = -half("part/width-y")
		}
	}
	return e
}

// asMeasured puts what side 1 measured in the place of what is assumed of it.
func (p *Plan) asMeasured(get func(FactID) (Fact, bool), ls []budget.Line, axis int) []budget.Line {
	if f, ok := get("part/edges"); ok && len(f.Cov) == 2 {
		for i := range ls {
			if ls[i].Name == "side-1 pickup" {
				ls[i] = budget.N("side-1 pickup", math.Sqrt(f.Cov[axis][axis]), typeB).From("corner of side 1, in this record")
			}
		}
	}
	id := FactID("part/width-x")
	if axis == 1 {
		id = "part/width-y"
	}
	if f, ok := get(id); ok && uOf(f) > 0 && !p.Setup.Floating {
		ls = append(ls, budget.N("size of side 1", uOf(f)/2, typeB))
	}
	return ls
}

// thicknessNow is the part's as it goes in: as side 1 left it, or as the job says.
func (p *Plan) thicknessNow(v View) float64 {
	if f, ok := v.Fact("part/thickness"); ok {
		return f.Value[0]
	}
	return p.thickness()
}

// wedge is the lean of the part's top over its seat face as side 1 left them, side-2
// coordinates: what is thicker at one end stands higher there without any chip.
func (p *Plan) wedge(v View) (x, y float64) {
	f, ok := v.Fact("part/thickness")
	if !ok || len(f.Value) < 4 {
		return 0, 0
	}
	if p.Setup.Flip == "y" {
		return -f.Value[2], f.Value[3]
	}
	return f.Value[2], -f.Value[3]
}

// holds says that a card's entry is not marked as lost.
func holds(void string) bool { return void == "" || void == "no" }

// sinceSide1 says what side 1 left that no number of side 2 holds.
func (p *Plan) sinceSide1(v View) []string {
	var out []string
	if h, ok := v.hoursBetween(); ok && isWood(p.Job.Part.Material) {
		out = append(out, fmt.Sprintf("Side 1 came out %.0f h before: wood moves with the air meanwhile.", h))
	}
	if f, ok := v.Fact("part/spring"); ok && math.Abs(f.Value[0]) > 0.002 {
		out = append(out, fmt.Sprintf("The wall sprang by %s when the vise was opened: it is not as straight as it was cut.", p.len(math.Abs(f.Value[0]))))
	}
	return out
}
