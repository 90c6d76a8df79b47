package inspect

import (
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Limits are those of a finished part.
var Limits = []fold.LimitRow{
	{ID: "inspect.register", Why: "mismatch measured at the worst feature", How: "the register allowance", Class: fold.Hard, Unit: unit.KLength, Max: judge.Share(1)},
	{ID: "inspect.wall", Why: "wall off its thickness", How: "as the job says", Class: fold.Hard, Unit: unit.KLength},
	{ID: "inspect.floor", Why: "floor off its thickness", How: "as the job says", Class: fold.Hard, Unit: unit.KLength},
	{ID: "inspect.warm", Why: "temperature of the part against the shop", How: "{1}", Class: fold.Soft, Unit: unit.KWarmth, Max: judge.Always(1)},
	{ID: "inspect.scale", Why: "dial over the feeler, off by", How: "0.1 of the feeler, 1 graduation: the larger", Class: fold.Hard, Unit: unit.KLength, Max: scaleLimit},
}

// By is the kind that measures the finished part, first still on its fixture by that step, then on the bench, side 2 up,
// its arrow toward the person.
func By(standing func(*fold.Plan) *fold.Spec) *fold.Kind {
	return &fold.Kind{Name: kit.Inspect, Goal: "inspect/done", Given: kit.GivenFacts, Writes: revision, Line: []fold.Place{
		{ID: "standing", Leg: "FIXTURE", Build: standing},
		{ID: "bench", Leg: "BENCH", Build: benched},
		{ID: "steps", Build: steps},
		{ID: "walls", Build: walls},
		{ID: "floor-left", Build: floorLeft},
		{ID: "holes", Build: holes},
		{ID: "outside", Build: outside},
		{ID: "finish", Build: finish},
		{ID: "mate", Build: mate},
		{ID: "verdict", Leg: "VERDICT", Build: verdict},
	}}
}
