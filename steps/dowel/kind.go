package dowel

import (
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"

	calc "fliptrue/calc/dowel"
	"fliptrue/calc/unit"
)

// Limits are those of pins and holes.
var Limits = []fold.LimitRow{
	{ID: "dowel.lean", Why: "a pin stands upright up to the part", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.005)},
	{ID: "dowel.play", Why: "play of a hole on its pin", How: "{0.012}, as a diameter", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(calc.PlayMost)},
	{ID: "dowel.apart", Why: "the holes are as far apart as the pins", How: "half of both plays; a diamond: what its land frees, and half of the other play", Class: fold.Hard, Unit: unit.KLength, Max: nil},
	{ID: "dowel.height", Why: "the pins end under the lowest cut", How: "{1} under it", Class: fold.Hard, Unit: unit.KLength, Max: judge.Fixed(1), Min: true},
	{ID: "dowel.heat", Why: "the part still goes on when the day is much warmer or colder", How: "as dowel.apart", Class: fold.Soft, Unit: unit.KLength, Max: nil},
}

// Kind walks the steps of a second side, but for how the part comes to lie: second is that kind, seat its step by
// how the part lies.
func Kind(second *fold.Kind, seat func(*fold.Plan, kit.Lies) *fold.Spec) *fold.Kind {
	located := func(_ *fold.Plan, s *fold.Spec) { s.Needs = fold.Needs(s.Needs, facts.Located.Live()) }
	proven := func(_ *fold.Plan, s *fold.Spec) { s.Recheck.Lifts = append(s.Recheck.Lifts, facts.Pins.ID) }
	k := second.With("dowel-flip",
		fold.Place{ID: "pins", Before: "floor", Build: pins},
		fold.Place{ID: "reamed", Before: "floor", Build: reamed},
		fold.Place{ID: "seat", Leg: "PART", Build: func(p *fold.Plan) *fold.Spec { return seat(p, lies(p)) }},
		second.Step("release", located), second.Step("datum-check", proven), second.Step("next", proven))
	k.OnLocator, k.Nominal = true, nominal
	k.Foresees = func(p *fold.Plan) []fold.Check { return append(second.Foresees(p), foreseen(p)...) }
	return k
}
