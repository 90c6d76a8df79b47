package reuse

import (
	calc "fliptrue/calc/reuse"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Limits are those of a fixture that comes back (common practice).
var Limits = []fold.LimitRow{
	{ID: "reuse.grown", Why: "growth between the bores that heat does not explain, over 1 m", How: "{1}: 1 part in 1000", Class: fold.Hard, Unit: unit.KLength, Max: judge.Always(1000 * calc.RestMost)},
	{ID: "reuse.bore", Why: "bore off its size as made, its growth taken off", How: "{0.010}", Class: fold.Hard, Unit: unit.KLength, Max: judge.Always(calc.BoreMost)},
	{ID: "reuse.line", Why: "edge against the line of both bores, since it was made", How: "3 standard uncertainties", Class: fold.Hard, Unit: unit.KSlope},
	{ID: "reuse.form", Why: "floor further from a plane than as made", How: "{0.010}", Class: fold.Hard, Unit: unit.KLength, Max: judge.Always(calc.FormMost)},
	{ID: "reuse.rim", Why: "rim over floor against as made", How: "{0.020}", Class: fold.Hard, Unit: unit.KLength, Max: judge.Always(calc.FloorMost)},
	{ID: "reuse.rock", Why: "rock of the last part in its pocket", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.010)},
}

// Kind looks at a fixture again.
var Kind = &fold.Kind{Name: kit.Reuse, Goal: facts.Kept.ID, Given: kit.GivenFacts, Writes: card, Line: []fold.Place{
	{ID: "back", Leg: "BACK", Build: back},
	{ID: "look", Build: look},
	{ID: "scale", Leg: "SCALE", Build: scale},
	{ID: "line", Build: line},
	{ID: "floor-now", Build: floorNow},
	{ID: "proof", Leg: "PROOF", Build: proof},
	{ID: "dry-fit", Build: dryFit},
	{ID: "fate", Leg: "VERDICT", Build: fate},
}, Off: []fold.Place{
	{ID: "ball", Build: func(p *fold.Plan) *fold.Spec { return checks.BallBefore(p, "scale") }},
	{ID: "tram", Build: func(p *fold.Plan) *fold.Spec { return checks.TramBefore(p, "back") }},
}}
