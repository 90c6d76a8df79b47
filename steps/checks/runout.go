package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// RunoutLimits are those of the runout in a collet (common practice, from memory).
var RunoutLimits = []fold.LimitRow{
	{ID: "runout.cutter", Why: "runout of a cutter", How: "half the feed per tooth, {0.010}: the larger", Class: fold.Soft, Unit: unit.KLength,
		Max: func(p *fold.Plan) float64 { return math.Max(0.5*p.Setup.Cut.Fz, p.Sensible(0.010)) }, Min: false},
	{ID: "runout.drill", Why: "runout of a drill", How: "0.02 of its diameter, {0.020}: the larger", Class: fold.Soft, Unit: unit.KLength, Max: nil, Min: false},
}

// How the runout of the tools is known.
const (
	ByDial      = "dial on each shank"
	NotMeasured = "not measured"
)

// RunoutLimit is how far a tool may run out, all of it, as the dial shows in one turn; false for
// a tool that cuts nothing here, or whose one tooth cuts all in any case. Common practice,
// from memory: beyond half the feed per tooth one tooth of two does all the work; a good
// collet holds 0.010; a drill wanders and cuts wide from some 2 % of its diameter on.
func RunoutLimit(p *fold.Plan, tool int) (fold.Limit, bool) {
	t, ok := p.Job.Tools[tool]
	switch {
	case !ok:
		return fold.Limit{}, false
	case t.Point > 0 && p.Setup.HoldDown != "S":
		l := p.Limit("runout.drill")
		if l.Max == 0 {
			l.Max = math.Max(0.02*t.Dia, p.Sensible(0.020))
		}
		l.ID = fmt.Sprintf("runout.T%d", tool)
		return l, true
	case tool == p.Setup.Cut.Tool && t.Teeth != 1:
		l := p.Limit("runout.cutter")
		l.ID = fmt.Sprintf("runout.T%d", tool)
		return l, true
	}
	return fold.Limit{}, false
}

// runoutWay asks once how it is known.
func runoutWay() fold.Ask {
	return fold.Ask{Field: "runby", Since: kit.SinceRunout, Label: "runout of the tools in their collets", Kind: fold.Choice,
		Options: []string{ByDial, NotMeasured}, What: fold.What{By: "eye", Of: "tools", Dir: "runout"}}
}

// runoutAsk is one tool's, while it is out for its length.
func runoutAsk(p *fold.Plan, f fold.FactID, tool int, l fold.Limit) fold.Ask {
	n := f.Thing()
	return fold.Ask{Field: "t" + n + ".run", Since: kit.SinceRunout, Label: "runout of " + kit.ToolName(p, n) + ", highest less lowest",
		Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "tool/" + n, Dir: "runout"},
		Window: kit.Around(0, l.Max, map[bool]string{true: "of a drill in a clean collet",
			false: "so that all teeth cut"}[p.Job.Tools[tool].Point > 0]),
		Do: []fold.Act{{Do: "sweep", Of: "tool/" + n, Words: "T" + n +
			" in the spindle. Dial on its shank, close to the collet. Turn the spindle by hand once round."}}}
}

// runoutPage says why and how, while it is asked.
func runoutPage() fold.Page {
	return fold.Page{Why: "A chip in a collet makes one tooth cut for all, and every wall thin. Found now it costs no length.",
		Act:     "Look how true each tool runs before its length is taken.",
		Read:    "Highest less lowest of the needle, on the smooth shank close to the collet.",
		Caution: "SPINDLE STOPPED, turned by hand only. Fingers off the flutes."}
}

// runsOut is a tool's runout held against its limit, false while it was not read.
func runsOut(v fold.View, f fold.FactID, l fold.Limit) (fold.Check, bool) {
	field := "t" + f.Thing() + ".run"
	if !v.Has(field) {
		return fold.Check{}, false
	}
	c := judge.Of(l, math.Abs(v.Len(field)), 0)
	c.On = field
	return c, true
}

// olderThanRunout refuses a length that was read before the runout: the tool was out of its collet
// in between, or may have been.
func olderThanRunout(v fold.View, field, name string, o *fold.Outcome) {
	length, _ := v.Round.Get(field)
	run, ok := v.Round.Get(field + ".run")
	if !ok || length.Seq >= run.Seq {
		return
	}
	c := fold.Check{Limit: fold.Limit{ID: field + ".after", Why: "a length is read after the runout", Class: fold.Never}, Count: true,
		Verdict: fold.Fail,
		Words:   name + "'s length was read before its runout: gripped again in between it is another now."}
	o.Checks = append(o.Checks, c)
	o.Next = append(o.Next, fold.Act{Do: "measure", Of: "tools", Words: "Measure " + name + " again, as it sits in its collet now."},
		fold.Act{Do: "again", Of: field})
}

// runoutCheck holds it against its limit.
func runoutCheck(p *fold.Plan, v fold.View, f fold.FactID, tool int, o *fold.Outcome) (said string) {
	l, ok := RunoutLimit(p, tool)
	if !ok {
		return ""
	}
	c, ok := runsOut(v, f, l)
	if !ok {
		return ""
	}
	x := c.Got
	if c.Verdict == fold.Fail {
		t := p.Job.Tools[tool]
		harm := fmt.Sprintf("one tooth does the work of all, and a wall comes out up to %s thin", p.Len(x/2))
		if t.Point > 0 {
			harm = fmt.Sprintf("it wanders, breaks, or drills up to %s wide", p.Len(x))
		}
		c.Words = fmt.Sprintf("T%d runs out by %s. %s.", tool, p.Len(x), fold.Capital(harm))
		o.Named = "collet-runout"
		o.Next = append(
			o.Next, fold.Act{Do: "wipe", Of: "collet", Words: "Tool out. Wipe collet, nut, taper and shank: a chip sits there. Grip " +
				"it again; its length is another now, and taken after."},
			fold.Act{Do: "again", Of: c.On})
	}
	o.Checks = append(o.Checks, c)
	return " (runs out " + p.Num(x) + ")"
}
