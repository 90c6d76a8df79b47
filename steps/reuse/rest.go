package reuse

import (
	"fmt"
	"math"

	"fliptrue/calc/growth"
	calc "fliptrue/calc/reuse"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// said is what the rest may be. Two bores cannot tell damp from a plate that is warmer than its thermometer, so no humidity is
// given for it; earlier walks gave one.
func said(p *fold.Plan, v fold.View, r calc.Split, now facts.BackFact, moist bool) (out []string) {
	if !v.Walks(4) {
		return words(r, now, moist)
	}
	if math.Abs(r.Rest) <= r.Guard {
		return []string{"Heat as read explains its growth, within the doubt."}
	}
	if least := math.Abs(r.Warmer) - r.WarmerG; least > growth.UnreadHalf {
		out = []string{"Heat alone would take " + warmer(p, r) + ". It is damp, or worse."}
	} else {
		out = []string{fmt.Sprintf("The rest is damp, or %s. The bores cannot tell which.", warmer(p, r)),
			"Leave it two hours beside the machine, then read both again: heat goes, damp stays."}
	}
	switch {
	case !r.Damp:
		out = append(out, "What damp does to this plate is not known.")
	case moist:
		out = append(out, "The air would explain it by damp: it comes back. Rest it, do not cut.")
	default:
		out = append(out, fmt.Sprintf("Air of %.0f %% would not explain it by damp.", now.RH))
	}
	return out
}

// warmer is a plate by how much it would have to be warmer or colder than its thermometer, from the least to the most.
func warmer(p *fold.Plan, r calc.Split) string {
	way := "warmer"
	if r.Warmer < 0 {
		way = "colder"
	}
	k := math.Abs(r.Warmer)
	if k == 0 {
		return "a plate not as warm as its thermometer"
	}
	return fmt.Sprintf("a plate %s to %s %s than its thermometer", kit.Degrees(p, math.Max(k-r.WarmerG, 0)), kit.Degrees(p, k+r.WarmerG), way)
}

// words say what humidity the rest would take.
func words(r calc.Split, now facts.BackFact, moist bool) (out []string) {
	if !r.Damp {
		return append(out, "What damp does to this plate is not known: the rest is not told apart.")
	}
	more := "more"
	if r.More < 0 {
		more = "less"
	}
	out = append(out, fmt.Sprintf("The rest is what %.1f %% %s humidity would do, %.0f %% in the plate.", math.Abs(r.More), more, r.RH))
	if moist {
		return append(out, "The air explains it: it comes back. Rest it, do not cut.")
	}
	return append(out, fmt.Sprintf("The air is %.0f %% damp: that does not explain it.", now.RH))
}
