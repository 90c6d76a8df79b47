package side2

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The desk holds each limit against the instruments that will read it: a step is answered as well as they
// can, everything where it is expected, and judged. What does not pass then passes in no walk.

// atBestJudged are the limits that the uncertainty of the readings alone can keep from passing.
var atBestJudged = []string{"square.skew", "floor.tilt", "shift.register", "screws.shift"}

// foresees are the limits of the walk, each with the best that can be read, and what would prove those that are open.
func foresees(p *fold.Plan) []fold.Check {
	out := bestOf(p)
	var open []fold.Check
	for _, c := range out {
		if !c.Verdict.OK() {
			open = append(open, c)
		}
	}
	if len(open) == 0 {
		return out
	}
	by := takes(p, open)
	for i := range out {
		if it := by[out[i].Limit.ID]; it != "" && !out[i].Verdict.OK() {
			out[i].Words += " It takes " + it + "."
		}
	}
	return out
}

// bestOf are the limits of the walk, each with the best that can be read.
func bestOf(p *fold.Plan) []fold.Check {
	out := []fold.Check{judge.Of(p.Limit("offset.register"), 0, kit.OffsetGuard(p, fold.Walk))}
	known := []fold.Known{kit.Nominal(p), kit.NominalBaseline(p), facts.Bore.Is(facts.BoreFact{})}
	told := fold.StepID("shift") // that the part stays while its hold changes hands
	if p.Setup.HoldDown == "S" {
		told = "screws"
	}
	for _, id := range []fold.StepID{"square", "floor", told} {
		sp, ok := p.Spec(id)
		if !ok {
			continue
		}
		for _, c := range sp.Judge(atBest(p, sp, known)).Checks {
			if slices.ContainsFunc(atBestJudged, func(l string) bool { return strings.HasPrefix(c.Limit.ID, l) }) {
				out = append(out, judge.Of(c.Limit, c.Got, c.Guard))
			}
		}
	}
	for i := range out {
		c := &out[i]
		c.Got, c.Guard = c.Got+c.Guard, 0 // shown as what it is read within
		c.Limit.System = p.Job.Unit
		if why := c.Limit.Why; !c.Verdict.OK() {
			got, most := c.Against()
			c.Words = fmt.Sprintf("These instruments cannot prove it: %s. At best it is known within %s of %s.", why, got, most)
		}
		c.Limit.Why += ", at best"
	}
	return append(out, tooCoarse(p)...)
}

// dialRead are limits that a dial alone is held against.
var dialRead = []string{"seat.rock", "straps.move", "straps.bow", "screws.round", "screws.total", "unstrap.move"}

// tooCoarse are the limits that the dial's graduation does not show, read to half of it.
func tooCoarse(p *fold.Plan) (out []fold.Check) {
	g := p.Job.Machine.Dial.Graduation
	for _, id := range dialRead {
		if c := judge.Of(p.Limit(id), g/2, 0); !c.Verdict.OK() {
			c.Verdict = fold.NotProven
			c.Words = fmt.Sprintf("A dial of %s does not show %s: %s.", p.Len(g), p.Len(c.Limit.Max), c.Limit.Why)
			if s, ok := coarsest(p, 2*c.Limit.Max); ok {
				c.Words += " It takes one of " + p.Len(s) + "."
			}
			out = append(out, c)
		}
	}
	return out
}

// askedAtMost is more than any step asks.
const askedAtMost = 200

// atBest is a round of a step in which every reading is what is expected, or as the one before it, and every answer the good one.
func atBest(p *fold.Plan, sp *fold.Spec, known []fold.Known) fold.View {
	var typed [][2]string
	v := fold.Trial(p, sp.ID, time.Time{}, known)
	for range askedAtMost {
		i := slices.IndexFunc(sp.Wanted(v), func(a fold.Ask) bool { return !v.Has(a.Field) })
		if i < 0 {
			break
		}
		a := sp.Wanted(v)[i]
		typed = append(typed, [2]string{a.Field, goodAnswer(a)})
		v = fold.Trial(p, sp.ID, time.Time{}, known, typed...)
	}
	return v
}

// goodAnswer is the answer that an ask looks for.
func goodAnswer(a fold.Ask) string {
	switch {
	case a.Want != "":
		return a.Want
	case len(a.Options) > 0:
		return a.Options[0]
	case a.Kind == fold.Reading && a.Unit == unit.KLength && a.Window != nil && a.Window.Least > 0: // a jog: the needle goes as far
		return fmt.Sprintf("%.9fmm", a.Window.Want+a.Do[0].Amount)
	case a.Kind == fold.Reading && a.Unit == unit.KLength && a.Window != nil:
		return fmt.Sprintf("%.9fmm", a.Window.Want)
	case a.Kind == fold.Reading && a.Unit == unit.KLength:
		return "0mm"
	}
	return "0"
}
