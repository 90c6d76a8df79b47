package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// runoutLimits are those of the runout in a collet (common practice, from memory).
var runoutLimits = []LimitRow{
	{"runout.cutter", "a cutter runs true in its collet", "half the feed per tooth, {0.010}: the larger", Soft, unit.KLength,
		func(p *Plan) float64 { return math.Max(0.5*p.Setup.Cut.Fz, p.sensible(0.010)) }, false},
	{"runout.drill", "a drill runs true in its collet", "0.02 of its diameter, {0.020}: the larger", Soft, unit.KLength, nil, false},
}

// How the runout of the tools is known.
const (
	byDial      = "dial on each shank"
	notMeasured = "not measured"
)

// runoutLimit is how far a tool may run out, all of it, as the dial shows in one turn; false for
// a tool that cuts nothing here, or whose one tooth cuts all in any case. Common practice,
// from memory: beyond half the feed per tooth one tooth of two does all the work; a good
// collet holds 0.010; a drill wanders and cuts wide from some 2 % of its diameter on.
func (p *Plan) runoutLimit(tool int) (Limit, bool) {
	t, ok := p.Job.Tools[tool]
	switch {
	case !ok:
		return Limit{}, false
	case t.Point > 0 && p.Setup.HoldDown != "S":
		l := p.Limit("runout.drill")
		if l.Max == 0 {
			l.Max = math.Max(0.02*t.Dia, p.sensible(0.020))
		}
		l.ID = fmt.Sprintf("runout.T%d", tool)
		return l, true
	case tool == p.Setup.Cut.Tool && t.Teeth != 1:
		l := p.Limit("runout.cutter")
		l.ID = fmt.Sprintf("runout.T%d", tool)
		return l, true
	}
	return Limit{}, false
}

// runoutWay asks once how it is known.
func runoutWay() Ask {
	return Ask{Field: "runby", Since: sinceRunout, Label: "runout of the tools in their collets", Kind: Choice, Options: []string{byDial, notMeasured}, What: What{By: "eye", Of: "tools", Dir: "runout"}}
}

// runoutAsk is one tool's, while it is out for its length.
func (p *Plan) runoutAsk(f FactID, tool int, l Limit) Ask {
	n := f.Thing()
	return Ask{Field: "t" + n + ".run", Since: sinceRunout, Label: "runout of " + p.toolName(n) + ", highest less lowest", Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "tool/" + n, Dir: "runout"},
		Window: around(0, l.Max, map[bool]string{true: "of a drill in a clean collet", false: "so that all teeth cut"}[p.Job.Tools[tool].Point > 0]),
		Do:     []Act{{Do: "sweep", Of: "tool/" + n, Words: "T" + n + " in the spindle. Dial on its shank, close to the collet. Turn the spindle by hand once round."}}}
}

// runoutPage says why and how, while it is asked.
func runoutPage() Page {
	return Page{Why: "A chip in a collet makes one tooth cut for all, and every wall thin. Found now it costs no length.",
		Act:     "Look how true each tool runs before its length is taken.",
		Read:    "Highest less lowest of the needle, on the smooth shank close to the collet.",
		Caution: "SPINDLE STOPPED, turned by hand only. Fingers off the flutes."}
}

// runsOut is a tool's runout held against its limit, false while it was not read.
func runsOut(v View, f FactID, l Limit) (Check, bool) {
	field := "t" + f.Thing() + ".run"
	if !v.Has(field) {
		return Check{}, false
	}
	c := Judged(l, math.Abs(v.Len(field)), 0)
	c.On = field
	return c, true
}

// olderThanRunout refuses a length that was read before the runout: the tool was out of its collet
// in between, or may have been.
func olderThanRunout(v View, field, name string, o *Outcome) {
	length, _ := v.Round.Get(field)
	run, ok := v.Round.Get(field + ".run")
	if !ok || length.Seq >= run.Seq {
		return
	}
	c := Check{Limit: Limit{ID: field + ".after", Why: "a length is read after the runout", Class: Never}, Count: true, Verdict: Fail,
		Words: name + "'s length was read before its runout: gripped again in between it is another now."}
	o.Checks = append(o.Checks, c)
	o.Next = append(o.Next, Act{Do: "measure", Of: "tools", Words: "Measure " + name + " again, as it sits in its collet now."}, Act{Do: "again", Of: field})
}

// runoutCheck holds it against its limit.
func (p *Plan) runoutCheck(v View, f FactID, tool int, o *Outcome) (said string) {
	l, ok := p.runoutLimit(tool)
	if !ok {
		return ""
	}
	c, ok := runsOut(v, f, l)
	if !ok {
		return ""
	}
	x := c.Got
	if c.Verdict == Fail {
		t := p.Job.Tools[tool]
		harm := fmt.Sprintf("one tooth does the work of all, and a wall comes out up to %s thin", p.len(x/2))
		if t.Point > 0 {
			harm = fmt.Sprintf("it wanders, breaks, or drills up to %s wide", p.len(x))
		}
		c.Words = fmt.Sprintf("T%d runs out by %s: %s.", tool, p.len(x), harm)
		o.Named = "collet-runout"
		o.Next = append(o.Next, Act{Do: "wipe", Of: "collet", Words: "Tool out. Wipe collet, nut, taper and shank: a chip sits there. Grip it again; its length is another now, and taken after."},
			Act{Do: "again", Of: c.On})
	}
	o.Checks = append(o.Checks, c)
	return " (runs out " + p.num(x) + ")"
}
