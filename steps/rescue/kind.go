package rescue

import (
	"fliptrue/calc/fit"
	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Limits are those of a part that let go.
var Limits = []fold.LimitRow{
	{ID: "rescue.offset", Why: "offset by the readouts at the stop, off", How: "2 steps of the readout", Class: fold.Hard, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return 2 * p.Job.Machine.Readout }},
	{ID: "rescue.pass", Why: "the place where it stopped, off its line's pass", How: "{1}: what a servo lags in a fast cut", Class: fold.Hard, Unit: unit.KLength, Max: judge.Fixed(lags)},
	{ID: "rescue.height", Why: "the height where it stopped, off its line's pass", How: "{0.02}, and 2 steps of the readout", Class: fold.Hard, Unit: unit.KLength, Max: stopHeight},
	{ID: "rescue.mark", Why: "depth of the mark that still cleans up", How: "the stock still to come off there, less {0.1}", Class: fold.Hard, Unit: unit.KLength},
	{ID: "rescue.found", Why: "how well it can be found, at the worst feature", How: "the register allowance", Class: fold.Hard, Unit: unit.KLength, Max: judge.Share(1)},
	{ID: "rescue.cost", Why: "minutes of the rescue", How: "what the part is worth", Class: fold.Soft, Unit: unit.Scalar},
	{ID: "rescue.fixture", Why: "the fixture against before", How: "twice that of the next part", Class: fold.Hard, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return 2 * p.Limit("next.bore").Max }},
	{ID: "rescue.step", Why: "step where the cut goes on", How: "{0.02}", Class: fold.Hard, Unit: unit.KLength, Max: judge.Fixed(calc.ReentryStep)},
	{ID: "rescue.register", Why: "mismatch at the worst feature", How: "the register allowance", Class: fold.Hard, Unit: unit.KLength, Max: judge.Share(1)},
}

// Witness is how the fixture, and the part by its set, are read again: the second side's own way.
type Witness struct {
	Asks    func(*fold.Plan, fold.View, *fold.Known) []fold.Ask
	Reads   func(*fold.Plan, fold.Known) bool
	Fixture func(*fold.Plan, fold.View) (away float64, read bool)
	Motion  func(*fold.Plan, fold.View, fold.Known) (fit.Motion, error)
}

// Kind goes on with a part that let go while it was cut. It stands in no job file: a setup that was begun opens it.
func Kind(w Witness) *fold.Kind {
	return &fold.Kind{Name: kit.Rescue, Goal: "release", Given: kit.GivenFacts, Reads: map[fold.StepID][]fold.Worth{}, Line: []fold.Place{
		{ID: "stop", Leg: "STOP", Build: stop},
		{ID: "wrote", Build: wrote},
		{ID: "look", Build: look},
		{ID: "decide", Leg: "DECIDE", Build: decide},
		{ID: "hold", Leg: "AGAIN", Build: again},
		{ID: "find", Build: func(p *fold.Plan) *fold.Spec { return find(p, w) }},
		{ID: "offset", Build: offset},
		{ID: "restart", Leg: "CUT", Build: restart},
		{ID: "skim", Build: skim},
		{ID: "release", Build: release},
	}}
}

const yes, no = "yes", "no"

// wants is a question whose only good answer is yes.
func wants(field, label, of, dir, why, hint string) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Choice, Options: []string{yes, no}, What: fold.What{By: "eye", Of: of, Dir: dir},
		Want: yes, WantWhy: why, Hint: hint}
}

func length(field, label string, w fold.What, win *fold.Window) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: w, Window: win}
}
