package stick

import (
	calc "fliptrue/calc/stick"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Limits are those of vacuum and tape.
var Limits = []fold.LimitRow{
	{ID: "hold.gate", Why: "vacuum before each start", How: "{0.06} under the atmosphere; it is reckoned with that", Class: fold.Never, Unit: unit.KVacuum, Max: judge.Always(calc.GateMPa), Min: true},
	{ID: "hold.leak", Why: "vacuum lost in 30 s, pump off, percent", How: "10 %, and no less than the gate after them", Class: fold.Never, Unit: unit.Scalar, Max: judge.Always(100 * calc.LeakMost)},
	{ID: "hold.pressed", Why: "minutes that a film was pressed before it bears", How: "{1}", Class: fold.Never, Unit: unit.Scalar, Max: judge.Always(leastPressed), Min: true},
	{ID: "hold.warm", Why: "film under the warmest that its test counts for", How: "hot, as the job says", Class: fold.Never, Unit: unit.KTemperature, Max: hottest},
	{ID: "hold.move", Why: "the part stays while it is drawn or pressed down", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.010)},
	{ID: "hold.sag", Why: "a thin floor is not drawn into a hollow", How: "{0.002}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(float64(calc.FlatSag))},
}

// leastPressed is how long a film is pressed before it bears, minutes: the dwell before a peel by ASTM D3330 (from memory).
const leastPressed = 1

// hottest is the warmest that the job says its film becomes.
func hottest(p *fold.Plan) float64 {
	if h := p.Setup.Hold.Hot; h != nil {
		return float64(*h)
	}
	return 0
}

// Cut are the steps of a second side that go by what holds the part.
type Cut struct {
	Reference, Deck      func(*fold.Plan, fold.FactID) *fold.Spec
	Skim, Release, Stops func(*fold.Plan, kit.Load) *fold.Spec
}

const held = facts.ByFace

// By is a kind of second side that may be held by the face under the part as well.
func By(k *fold.Kind, cut Cut) *fold.Kind {
	own := func(id fold.StepID, build func(*fold.Plan) *fold.Spec) fold.Place {
		at := k.Step(id)
		usual := at.Build
		at.Build = func(p *fold.Plan) *fold.Spec {
			if p.Setup.HoldDown != ByFace {
				return usual(p)
			}
			if build == nil {
				return nil
			}
			return build(p)
		}
		return at
	}
	none := func(id fold.StepID) fold.Place { return own(id, nil) }
	with := func(id fold.StepID, build func(*fold.Plan, kit.Load) *fold.Spec) fold.Place {
		return own(id, func(p *fold.Plan) *fold.Spec { return build(p, after(p)) })
	}
	c := k.With(k.Name,
		fold.Place{ID: "hold", Leg: "HOLD", Plans: ByFace, Before: "reference", Build: hold},
		none("screws"), none("thread-check"), none("hole-check"), own("screw-check", holdCheck),
		own("reference", func(p *fold.Plan) *fold.Spec { return cut.Reference(p, held) }),
		own("deck", func(p *fold.Plan) *fold.Spec { return cut.Deck(p, held) }),
		with("skim", cut.Skim), with("release", cut.Release), with("stops", cut.Stops),
		own("part-out", partOut))
	c.Holds = func(p *fold.Plan) *fold.Hold {
		if p.Setup.HoldDown != ByFace {
			return nil
		}
		return Face(p).Hold(p)
	}
	return c
}
