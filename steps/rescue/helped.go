package rescue

import (
	"fmt"

	calc "fliptrue/calc/rescue"
	"fliptrue/calc/stick"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The two ways of the list that are counted beside screws.
const byStraps, byFilm = "straps on finished faces", "tape or glue at the skirts"

var helpSince = fold.Since{Walk: 4, What: "straps and glue that hold a part again"}

// helpAsks are what is asked of straps, or of a film, once they hold it again.
func helpAsks(p *fold.Plan, way string) []fold.Ask {
	switch {
	case way == byStraps && len(p.Setup.Clamps) > 0:
		n := fmt.Sprint(len(p.Setup.Clamps))
		on := kit.Counted("straps", "straps on, where the job draws them", "clamps", "on", n, "Only those that the job draws are reckoned.",
			"Set them where they are drawn, or draw them in the job.")
		on.Since = helpSince
		return []fold.Ask{on, {Field: "strap-torque", Since: helpSince, Label: "torque of their bolts", Kind: fold.Reading, Unit: unit.KTorque,
			What:   fold.What{By: "driver", Of: "clamps", Dir: "torque"},
			Window: kit.Around(float64(p.Setup.Clamps[0].Torque), 0.5*float64(p.Setup.Clamps[0].Torque), "the job's")}}
	case way == byFilm:
		return filmAsks(p)
	}
	return nil
}

// filmAsks are the shop's own test on scrap, and the film under the part. Left empty the film does not count.
func filmAsks(p *fold.Plan) []fold.Ask {
	ask := func(field, label string, u unit.Kind) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: u, Optional: true, Since: helpSince,
			What: fold.What{By: "scrap", Of: "film", Dir: field}}
	}
	warm := func(a fold.Ask) fold.Ask { a.Bare = kit.BareTemperature(p); return a }
	return []fold.Ask{ask("test-load", "test on scrap: force that it bore sideways", unit.KForce),
		ask("test-x", "test: length of the film", unit.KLength),
		ask("test-y", "test: width of the film", unit.KLength), ask("test-minutes", "test: minutes that it bore", unit.Scalar),
		warm(ask("test-at", "test: temperature of the film", unit.KTemperature)),
		ask("film-x", "film under the part: length along X", unit.KLength), ask("film-y", "film under the part: width along Y", unit.KLength),
		warm(ask("film-hot", "warmest that the film becomes", unit.KTemperature))}
}

// strapsOn are the straps that stand as drawn, with what their tips press at least.
func strapsOn(p *fold.Plan, v fold.View) (out []calc.Strap) {
	read, ok := v.Num("strap-torque", unit.KTorque)
	if !ok || v.Int("straps") != len(p.Setup.Clamps) {
		return nil
	}
	for _, s := range desk.Straps(p, unit.Torque(read)) {
		out = append(out, calc.Strap{At: s.Tip, Low: s.Force.TipLow})
	}
	return out
}

// withStraps is what screws and straps hold together.
func withStraps(p *fold.Plan, v fold.View, lost []int, s []calc.Strap) (calc.Holds, string) {
	h := desk.Hold(p, found(p, v))
	if h.Why != "" {
		return calc.Holds{}, h.Why
	}
	left, err := calc.With(h.C, s, lost...)
	if err != nil {
		return left, err.Error()
	}
	return left, ""
}

// glued is the deepest cut that the film holds alone by its test; why says what is wanting, "" where no film is said.
func glued(p *fold.Plan, v fold.View) (deepest unit.Length, why string) {
	load, any := v.Num("test-load", unit.KForce)
	if !any {
		return 0, ""
	}
	at, ok1 := v.Num("test-at", unit.KTemperature)
	hot, ok2 := v.Num("film-hot", unit.KTemperature)
	if !ok1 || !ok2 {
		return 0, "its test has no temperature"
	}
	cut, why := desk.Heaviest(p)
	if why != "" {
		return 0, why
	}
	minutes, _ := v.Num("test-minutes", unit.Scalar)
	n, err := stick.Test{Kind: "film", Load: unit.Force(load), Area: v.Len("test-x") * v.Len("test-y"), Minutes: minutes,
		At: unit.Temperature(at), Source: "test on scrap"}.Capacity(stick.Face{Long: v.Len("film-x"), Short: v.Len("film-y")},
		stick.Face{Long: p.Job.Part.Size[0], Short: p.Job.Part.Size[1]}, unit.Temperature(hot))
	if err != nil {
		return 0, err.Error()
	}
	held, err := n.Against(cut)
	if err != nil {
		return 0, err.Error()
	}
	return held.Ceiling, ""
}

// helped says that straps or a film count.
func helped(p *fold.Plan, v fold.View) bool {
	deepest, _ := glued(p, v)
	return deepest > 0 || len(strapsOn(p, v)) > 0
}

// heldByFilm judges the cut against the film alone.
func heldByFilm(p *fold.Plan, deepest unit.Length, depth float64, o *fold.Outcome, fails func()) {
	l := fold.Limit{ID: "hold.retention", Why: "leaves its seat above", Max: float64(deepest), Class: fold.Never, Unit: unit.KLength}
	c := judge.Most(l, depth, 0)
	c.Words = fmt.Sprintf("The film alone holds up to %s, a third of its test sideways and a tenth upward.", p.Len(float64(deepest)))
	if c.Verdict != fold.Pass {
		fails()
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: "film holds up to", Value: float64(deepest), Unit: unit.KLength, Verdict: c.Verdict, Big: true})
	o.Notes = append(o.Notes, "The film counts alone: screws and film do not pull together. It lets go when it gets warm.")
}

// counted names what is counted of a hold-down.
func counted(h calc.Holds) string {
	if h.Straps > 0 {
		return fmt.Sprintf("%d screws and %d straps", h.Screws, h.Straps)
	}
	return fmt.Sprintf("%d screws", h.Screws)
}
