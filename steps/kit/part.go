package kit

import (
	"cmp"
	"math"
	"slices"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
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
	f, ok := facts.Hours.Perhaps(v)
	if !ok {
		return 0, false
	}
	if f.Clock == 0 {
		return f.H, true
	}
	now, ok := LastAt(v)
	return math.Max(0, now-f.H), ok
}

// hoursTo are those up to the round's first reading, so that what is asked does not change while it is answered.
func hoursTo(v fold.View) (float64, bool) {
	f, ok := facts.Hours.Perhaps(v)
	switch {
	case !ok:
		return 0, false
	case f.Clock == 0:
		return f.H, true
	case v.Round == nil || len(v.Round.Taken) == 0:
		return 0, false
	}
	first := slices.MinFunc(v.Round.Taken, func(a, b fold.Taken) int { return cmp.Compare(a.Seq, b.Seq) })
	return math.Max(0, float64(first.At.Unix())/3600-f.H), true
}

// holds says that a card's entry is not marked as lost.
func holds(void string) bool { return void == "" || void == "no" }

func givenOr(p *fold.Plan, key string, otherwise float64) float64 {
	if g, ok := p.Job.Part.Given[key]; ok && g.Value > 0 {
		return g.Value
	}
	return otherwise
}

// ThicknessNow is the part's as it goes in: as side 1 measured it, else as the job says; records of earlier walks took the job's.
func ThicknessNow(p *fold.Plan, v fold.View) float64 {
	if !v.Walks(3) {
		return Thickness(p)
	}
	return ThicknessBy(p, v.Perhaps)
}

// ThicknessBy is the same by the facts that stand.
func ThicknessBy(p *fold.Plan, get Facts) float64 {
	if f, ok := facts.Thickness.By(get); ok {
		return float64(f.T)
	}
	return Thickness(p)
}

// Thickness is the part's as it goes in: measured, or the finished one with side 2's skin.
func Thickness(p *fold.Plan) float64 {
	return givenOr(p, "thickness", p.Job.Part.Size[2]+p.Job.Part.Skin[1])
}
