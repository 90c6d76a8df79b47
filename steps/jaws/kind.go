package jaws

import (
	"strings"

	calc "fliptrue/calc/jaws"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

const yes, no = "yes", "no"

// Limits are those of jaws (common practice).
var Limits = []fold.LimitRow{
	{ID: "jaws.spacer", Why: "the jaws were cut on a spacer as wide as the part", How: "{0.5}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.5)},
	{ID: "jaws.step", Why: "depth of the nest", How: "{3}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(3), Min: true},
	{ID: "jaws.nest", Why: "nest wider than the part", How: "{0.020}, never less than 0", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(calc.NestMost)},
	{ID: "jaws.taper", Why: "both widths at the grip alike", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.010)},
	{ID: "jaws.wall", Why: "the wall stays as the jaws close", How: "0.2 of the allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(calc.WallShare)},
	{ID: "jaws.rise", Why: "the part stays down as the jaws close", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(calc.RiseMost)},
	{ID: "jaws.repeat", Why: "the part lies as before when closed again", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(calc.RepeatMost)},
}

// Cut are the steps of a second side that go by what holds the part.
type Cut struct {
	Seat                 func(*fold.Plan, kit.Lies) *fold.Spec
	Reference, Deck      func(*fold.Plan, fold.FactID) *fold.Spec
	Skim, Release, Stops func(*fold.Plan, kit.Load) *fold.Spec
}

// held is the fact that the jaws hold; mishaps hit it as they hit screws.
const held fold.FactID = "screws/jaws"

// Kind walks the steps of a second side, but for the jaws, their nest, and how they hold.
func Kind(second *fold.Kind, cut Cut) *fold.Kind {
	none := func(id fold.StepID) fold.Place {
		return fold.Place{ID: id, Build: func(*fold.Plan) *fold.Spec { return nil }}
	}
	as := func(id fold.StepID, build func(*fold.Plan) *fold.Spec) fold.Place {
		at := second.Step(id)
		at.Plans, at.Build = "", build
		return at
	}
	with := func(id fold.StepID, build func(*fold.Plan, kit.Load) *fold.Spec) fold.Place {
		return as(id, func(p *fold.Plan) *fold.Spec { return build(p, after(p)) })
	}
	proven := func(_ *fold.Plan, s *fold.Spec) { s.Recheck.Lifts = append(s.Recheck.Lifts, facts.Nest.ID) }
	k := second.With("soft-jaws",
		as("mount", jawsOn), none("square"),
		fold.Place{ID: "nest", Before: "bore", Build: nest},
		fold.Place{ID: "grip", Leg: "PART", Before: "seat", Build: grip},
		as("seat", func(p *fold.Plan) *fold.Spec { return cut.Seat(p, lies(p)) }),
		fold.Place{ID: "close", Leg: "HOLD", Before: "reference", Build: closed},
		fold.Place{ID: "again", Before: "reference", Build: again},
		none("screws"), none("thread-check"), none("hole-check"), none("edge-check"),
		as("screw-check", holdCheck),
		as("reference", func(p *fold.Plan) *fold.Spec { return cut.Reference(p, held) }),
		as("deck", func(p *fold.Plan) *fold.Spec { return cut.Deck(p, held) }),
		with("skim", cut.Skim), with("release", cut.Release), with("stops", cut.Stops),
		as("part-out", partOut), second.Step("next", proven))
	k.Holds = func(p *fold.Plan) *fold.Hold { return Clamped(p) }
	k.Foresees = func(p *fold.Plan) []fold.Check { return append(second.Foresees(p), gentle(p)) }
	return k
}

// side is where the fixed jaw is, and moving the one across.
func side(p *fold.Plan) string { return strings.ToUpper(p.Job.Fixture.AsMade.Stops.Long) }

// across is the axis along which the jaws close, as its index, and by its name.
func across(p *fold.Plan) (axis int, name string) {
	if kit.AlongY(p) {
		return 0, "x"
	}
	return 1, "y"
}
