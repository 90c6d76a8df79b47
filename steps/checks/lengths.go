package checks

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// LengthLimits are those of tool lengths (common practice, from memory).
var LengthLimits = []fold.LimitRow{
	{ID: "length.most", Why: "tools reach no farther from the spindle's gauge line", How: "{200}, 3 times what sticks out: the larger", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(200), Min: false},
}

// CutterName is the tool of the cut, or just the cutter where the job names none.
func CutterName(p *fold.Plan) string {
	if p.Setup.Cut.Tool == 0 {
		return "Cutter"
	}
	return kit.ToolName(p, fmt.Sprint(p.Setup.Cut.Tool))
}

// gauged is where a tool's length can lie: it is longer than what sticks out of its holder.
func gauged(p *fold.Plan, number string) (label string, w *fold.Window) {
	label = kit.ToolName(p, number)
	least, why := kit.Even(p, 5, 5, 0.25), "a tool from the gauge line of the spindle"
	out, most := Reaches(p, number)
	if out > 0 {
		label += ", sticking out " + p.Len(out)
		least, why = out, "longer than the "+p.Len(out)+" it sticks out; from the spindle's gauge line"
	}
	return label, kit.Around((most+least)/2, (most-least)/2, why)
}

// Reaches are what a tool sticks out of its holder, 0 when that is not known, and the longest that it can be.
func Reaches(p *fold.Plan, number string) (out, most float64) {
	for _, n := range kit.ToolNumbers(p) {
		if fmt.Sprint(n) == number {
			out = p.Job.Tools[n].Stickout
		}
	}
	return out, math.Max(p.Limit("length.most").Max, 3*out)
}

// possible holds a length against what one from the spindle's gauge line to the tip can be: no reason
// makes a tool shorter than it sticks out, yet a long one may be as long as it says. Without a tool table differences are lengths too.
func possible(p *fold.Plan, field, name, number string, x float64, o *fold.Outcome) {
	if p.Job.Machine.Delivers == "readout" {
		return
	}
	out, most := Reaches(p, number)
	c := fold.Check{Limit: fold.Limit{ID: "length.most." + number, Why: "a length from the spindle's gauge line to the tip", Max: most,
		Class: fold.Never, Unit: unit.KLength}, Got: x, Verdict: fold.Fail}
	switch {
	case x > most:
		c.Limit.Class, c.On = fold.Soft, field
		c.Words = fmt.Sprintf("%s: %s is longer than most tools reach, %s. If it is not from the spindle's gauge line to the tip, it goes too "+
			"deep by the whole difference.", name, p.Num(x), p.Num(most))
	case x <= 0:
		c.Words = fmt.Sprintf("%s: %s is no length from the spindle's gauge line to its tip.", name, p.Num(x))
	case x < out:
		c.Words = fmt.Sprintf("%s: %s is shorter than it sticks out, %s.", name, p.Num(x), p.Num(out))
	default:
		return
	}
	if x <= most {
		c.Limit.ID, c.Limit.Max, c.Limit.Min = "length.least."+number, out, true
	}
	o.Checks = append(o.Checks, c)
	o.Next = append(o.Next, fold.Act{Do: "measure", Of: "tools", Words: "Measure " + name +
		" again, from the spindle's gauge line to its tip."}, fold.Act{Do: "again", Of: field})
	o.Named = "length-convention"
}

// toolOf is the number of a length's tool, 0 for the probe's.
func toolOf(f fold.FactID) int {
	n, _ := strconv.Atoi(f.Thing())
	return n
}

func lengthField(f fold.FactID) string { return "t" + f.Thing() }

// tipName is what a length is of: a tool by its number, or the probe.
func tipName(f fold.FactID) string {
	if f.Thing() == "probe" {
		return "probe"
	}
	return "T" + f.Thing()
}

// Lengths takes the lengths of the tools and of the probe, and how true those that cut run in their
// collets: of those only that are not current.
func Lengths(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "tool lengths", Makes: kit.LengthFacts(p),
		Needs: fold.Remembered(kit.LengthFacts(p)...), Keys: toolKeys(p), Former: []string{"tools"},
		Owns: func(f fold.FactID, fld string) bool {
			return fld == lengthField(f) || strings.HasPrefix(fld, lengthField(f)+".")
		},
		Asks:  func(v fold.View) []fold.Ask { return askLengths(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeLengths(p, v) },
		Page:  func(v fold.View) fold.Page { return lengthPage(p, v) },
	}
}

func askLengths(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	for _, f := range kit.LengthFacts(p) {
		if _, ok := RunoutLimit(p, toolOf(f)); ok && !v.Standing(f) {
			asks = append(asks, runoutWay())
			break
		}
	}
	for _, f := range kit.LengthFacts(p) {
		if v.Standing(f) {
			continue
		}
		if l, ok := RunoutLimit(p, toolOf(f)); ok && !fold.SameAnswer(v.Text("runby"), NotMeasured) {
			asks = append(asks, runoutAsk(p, f, toolOf(f), l))
			if c, ok := runsOut(v, f, l); ok && c.Verdict == fold.Fail && !v.Waived(c) {
				return asks // it is gripped again, and its length is another then
			}
		}
		a := askLength(p, f)
		if was, ok := facts.Length.Of(f.Thing()).Perhaps(v); ok {
			a.Window = kit.Closer(a.Window, kit.Around(float64(was.L), gripped, "its length before"))
		}
		asks = append(asks, a)
		if f.Thing() == "probe" {
			b := a
			b.Field, b.Label, b.Do = a.Field+".2", kit.SecondTouch(a.Label), nil
			if x, ok := v.Num(a.Field, unit.KLength); ok {
				b.Window = kit.Around(x, 0.05, "the touch before")
			}
			asks = append(asks, b)
		}
	}
	return asks
}

// lengthHalf is how well the length of a tool is known that was touched off, as a half-width, mm (estimate).
const lengthHalf = 0.005

// gripped is how far from its length before a tool comes out that was gripped again, mm (estimate).
const gripped = 5

func askLength(p *fold.Plan, f fold.FactID) fold.Ask {
	label, window := gauged(p, f.Thing())
	a := fold.Ask{Field: lengthField(f), Label: "length of " + label, Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "control", Of: "tool/" + f.Thing(), Dir: "length"}, Window: window}
	if p.Job.Machine.Delivers == "readout" { // no tool table
		a.Label = "length of " + label + ", or its difference from the first tool"
		a.Window = kit.Around(0, 200, "a tool, or a difference of tools")
	}
	if f.Thing() == "probe" {
		a.Label = "length of the probe, touched on the same reference"
		a.What.By = "touch"
		a.Do = []fold.Act{{Do: "fit", Of: "probe", Words: "Fit the probe, spindle mark to the front. Touch it on the same reference as the " +
			"tools."}}
	}
	return a
}

func judgeLengths(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	var said []string
	for _, f := range kit.LengthFacts(p) {
		run := runoutCheck(p, v, f, toolOf(f), &o)
		x, ok := v.Num(lengthField(f), unit.KLength)
		if !ok {
			continue
		}
		olderThanRunout(v, lengthField(f), tipName(f), &o)
		if y, ok := v.Num(lengthField(f)+".2", unit.KLength); ok {
			lengthRepeats(p, f, x, y, &o)
			x = (x + y) / 2
		}
		possible(p, lengthField(f), tipName(f), f.Thing(), x, &o)
		u := pickup.HalfU(lengthHalf)
		o.Facts = append(o.Facts, fold.Known{ID: f, Value: []float64{x}, Cov: [][]float64{{u * u}}})
		said = append(said, tipName(f)+" "+p.Num(x)+run)
	}
	if fold.SameAnswer(v.Text("runby"), NotMeasured) {
		o.Notes = append(o.Notes, "Runout is not measured: a chip in a collet makes one tooth cut for all, and walls thin. Listen at the skim.")
	}
	o.Learned = "Lengths: " + strings.Join(said, ", ") + "."
	return o
}

// lengthRepeats holds two touches of one tip against each other.
func lengthRepeats(p *fold.Plan, f fold.FactID, x, y float64, o *fold.Outcome) {
	c := judge.Of(p.Limit("length.repeat"), math.Abs(x-y), 0)
	c.Words = "The two touches differ: wipe the ball and the reference, touch again."
	o.Checks = append(o.Checks, c)
	if c.Verdict == fold.Fail {
		o.Next = append(o.Next, fold.Act{Do: "again", Of: lengthField(f), Words: c.Words}, fold.Act{Do: "again", Of: lengthField(f) + ".2"})
	}
}

// lengthPage shows the tip that is asked for next.
func lengthPage(p *fold.Plan, v fold.View) fold.Page {
	for _, a := range askLengths(p, v) {
		if v.Has(a.Field) {
			continue
		}
		if a.What.Dir == "runout" {
			return runoutPage()
		}
		pg := lengthsPage(p)
		if thing, ok := strings.CutPrefix(a.What.Of, "tool/"); ok && p.Job.Machine.Delivers != "readout" { // there it is a difference of tools
			pg.Scene.Cut = toolSection(p, thing)
		}
		return pg
	}
	return lengthsPage(p)
}

// probeWords are what is typed where there is a probe.
func probeWords(p *fold.Plan) string {
	switch {
	case len(GivenLengths(p)) > 0:
		return "Measure again, into the control's table, every tool that you have re-gripped. Touch the probe."
	case p.Short():
		return "Measure again every tool that you have re-gripped; type all lengths, touch the probe."
	}
	return "Measure again every tool that you have re-gripped; type all lengths, touch the probe twice."
}

// GivenLengths are those of the cutters where fixture and programs have made good parts: they stand in the control's
// table as they did then, and the block under each tip shows one that does not. What voids one has it typed.
func GivenLengths(p *fold.Plan) []fold.Known {
	if !p.Short() || p.Reads(fold.FirstUse) || p.Job.Machine.Delivers == "readout" || p.Job.Machine.Delivers == "g92" {
		return nil
	}
	var out []fold.Known
	for _, f := range kit.LengthFacts(p) {
		if f != kit.ZDatum(p) {
			out = append(out, fold.Known{ID: f})
		}
	}
	return out
}

func lengthsPage(p *fold.Plan) fold.Page {
	if p.Job.Machine.Probe == nil {
		return fold.Page{Why: "Every Z stands on these. A length older than its last gripping is a crash by the difference.",
			Act:     "Measure again every tool that you have re-gripped; type the length of each.",
			Read:    "From the spindle's gauge line to the tip, as in the control's tool table. Without one, all from the same tool.",
			Caution: "SPINDLE STOPPED while a tool is touched."}
	}
	return fold.Page{Why: "Every Z stands on these. A length older than its last gripping is a crash by the difference.",
		Act:     probeWords(p),
		Read:    "From the spindle's gauge line to the tip, as in the control's tool table.",
		Caution: "SPINDLE STOPPED. Never start the spindle with the probe fitted: lock its command off."}
}

// toolKeys are the job's words by which a tool is the one that was measured; its name and what it cuts are not.
func toolKeys(p *fold.Plan) (out []string) {
	for _, n := range kit.ToolNumbers(p) {
		for _, k := range []string{"dia", "point", "ball", "corner", "stickout"} {
			out = append(out, fmt.Sprintf("tools.%d.%s", n, k))
		}
	}
	return out
}
