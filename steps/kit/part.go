package kit

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// LastAt is the time of the newest reading of the round in hand, in hours of Unix time; ok is false before any.
func LastAt(v fold.View) (hours float64, ok bool) {
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

// HoursBetween are the hours since side 1 came out of the vise, by the record's times, or as the job gives them.
func HoursBetween(v fold.View) (float64, bool) {
	f, ok := v.Perhaps("part/hours")
	if !ok {
		return 0, false
	}
	if f.Value[1] == 0 {
		return f.Value[0], true
	}
	now, ok := LastAt(v)
	return math.Max(0, now-f.Value[0]), ok
}

// UOf is the standard uncertainty of a fact's first component.
func UOf(f fold.Known) float64 {
	if len(f.Cov) == 0 || len(f.Cov[0]) == 0 {
		return 0
	}
	return math.Sqrt(f.Cov[0][0])
}

// edgeError is by how much the outline that side 1 left carries the features away from the
// datum walls, side-2 coordinates: half of what the part is beyond the drawing, the error
// of the outline being the same on both of its sides (a cutter's size is).
func edgeError(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) frame.Vec {
	var e frame.Vec
	if p.Setup.Floating || len(p.Setup.Against) < 2 {
		return e
	}
	half := func(id fold.FactID) float64 {
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
func asMeasured(p *fold.Plan, get func(fold.FactID) (fold.Known, bool), ls []budget.Line, axis int) []budget.Line {
	if f, ok := get("part/edges"); ok && len(f.Cov) == 2 {
		for i := range ls {
			if ls[i].Name == "side-1 pickup" {
				ls[i] = budget.N("side-1 pickup", math.Sqrt(f.Cov[axis][axis]), judge.TypeB).From("corner of side 1, in this record")
			}
		}
	}
	id := fold.FactID("part/width-x")
	if axis == 1 {
		id = "part/width-y"
	}
	if f, ok := get(id); ok && UOf(f) > 0 && !p.Setup.Floating {
		ls = append(ls, budget.N("size of side 1", UOf(f)/2, judge.TypeB))
	}
	return ls
}

// holds says that a card's entry is not marked as lost.
func holds(void string) bool { return void == "" || void == "no" }

func givenOr(p *fold.Plan, key string, otherwise float64) float64 {
	if g, ok := p.Job.Part.Given[key]; ok && g.Value > 0 {
		return g.Value
	}
	return otherwise
}

// Thickness is the part's as it goes in: measured, or the finished one with side 2's skin.
func Thickness(p *fold.Plan) float64 {
	return givenOr(p, "thickness", p.Job.Part.Size[2]+p.Job.Part.Skin[1])
}
