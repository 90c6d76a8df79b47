package steps

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

// lengthLimits are those of tool lengths (common practice, from memory).
var lengthLimits = []LimitRow{
	{"length.most", "tools reach no farther from the spindle's gauge line", "{200}, 3 times what sticks out: the larger", Soft, unit.KLength, fixed(200), false},
}

// toolNumbers are the job's tools in order.
func (p *Plan) toolNumbers() []int {
	var ns []int
	for n := range p.Job.Tools {
		ns = append(ns, n)
	}
	sort.Ints(ns)
	return ns
}

// toolName is a tool as the person finds it: its number with its name in the job.
func (p *Plan) toolName(number string) string {
	for _, n := range p.toolNumbers() {
		if fmt.Sprint(n) == number && p.Job.Tools[n].Name != "" {
			return "T" + number + " " + p.Job.Tools[n].Name
		}
	}
	return "T" + number
}

// cutterName is the tool of the cut, or just the cutter where the job names none.
func (p *Plan) cutterName() string {
	if p.Setup.Cut.Tool == 0 {
		return "Cutter"
	}
	return p.toolName(fmt.Sprint(p.Setup.Cut.Tool))
}

// gauged is where a tool's length can lie: it is longer than what sticks out of its holder.
func (p *Plan) gauged(number string) (label string, w *Window) {
	label = p.toolName(number)
	least, why := p.even(5, 5, 0.25), "a tool from the gauge line of the spindle"
	out, most := p.reaches(number)
	if out > 0 {
		label += ", sticking out " + p.len(out)
		least, why = out, "longer than the "+p.len(out)+" it sticks out; from the spindle's gauge line"
	}
	return label, around((most+least)/2, (most-least)/2, why)
}

// reaches are what a tool sticks out of its holder, 0 when that is not known, and the longest that it can be.
func (p *Plan) reaches(number string) (out, most float64) {
	for _, n := range p.toolNumbers() {
		if fmt.Sprint(n) == number {
			out = p.Job.Tools[n].Stickout
		}
	}
	return out, math.Max(p.Limit("length.most").Max, 3*out)
}

// possible holds a length against what one from the spindle's gauge line to the tip can be: no reason
// makes a tool shorter than it sticks out, yet a long one may be as long as it says. Without a tool table differences are lengths too.
func (p *Plan) possible(field, name, number string, x float64, o *Outcome) {
	if p.Job.Machine.Delivers == "readout" {
		return
	}
	out, most := p.reaches(number)
	c := Check{Limit: Limit{ID: "length.most." + number, Why: "a length from the spindle's gauge line to the tip", Max: most, Class: Never, Unit: unit.KLength}, Got: x, Verdict: Fail}
	switch {
	case x > most:
		c.Limit.Class, c.On = Soft, field
		c.Words = fmt.Sprintf("%s: %s is longer than most tools reach, %s. If it is not from the spindle's gauge line to the tip, it goes too deep by the whole difference.", name, p.num(x), p.num(most))
	case x <= 0:
		c.Words = fmt.Sprintf("%s: %s is no length from the spindle's gauge line to its tip.", name, p.num(x))
	case x < out:
		c.Words = fmt.Sprintf("%s: %s is shorter than it sticks out, %s.", name, p.num(x), p.num(out))
	default:
		return
	}
	if x <= most {
		c.Limit.ID, c.Limit.Max, c.Limit.Min = "length.least."+number, out, true
	}
	o.Checks = append(o.Checks, c)
	o.Next = append(o.Next, Act{Do: "measure", Of: "tools", Words: "Measure " + name + " again, from the spindle's gauge line to its tip."}, Act{Do: "again", Of: field})
	o.Named = "length-convention"
}

// lengthFacts are one a tool and, where there is a probe, its own last.
func (p *Plan) lengthFacts() []FactID {
	var out []FactID
	for _, n := range p.toolNumbers() {
		out = append(out, FactID(fmt.Sprintf("length/%d", n)))
	}
	if p.Job.Machine.Probe != nil {
		out = append(out, "length/probe")
	}
	return out
}

// zDatum is the length that the floor's Z stands on: the probe's, or the first tool's without a probe.
func (p *Plan) zDatum() FactID {
	if p.Job.Machine.Probe != nil {
		return "length/probe"
	}
	if ns := p.toolNumbers(); len(ns) > 0 {
		return FactID(fmt.Sprintf("length/%d", ns[0]))
	}
	return "length/probe"
}

// toolOf is the number of a length's tool, 0 for the probe's.
func toolOf(f FactID) int {
	n, _ := strconv.Atoi(f.Thing())
	return n
}

// lengths takes the lengths of the tools and of the probe, and how true those that cut run in their
// collets: of those only that are not current.
func lengths(p *Plan) *Spec {
	field := func(f FactID) string { return "t" + f.Thing() }
	name := func(f FactID) string {
		if f.Thing() == "probe" {
			return "probe"
		}
		return "T" + f.Thing()
	}
	sp := &Spec{
		Title: "tool lengths", Makes: p.lengthFacts(), Keys: []string{"tools"},
		Owns: func(f FactID, fld string) bool { return fld == field(f) || strings.HasPrefix(fld, field(f)+".") },
		Asks: func(v View) []Ask {
			var asks []Ask
			for _, f := range p.lengthFacts() {
				if _, ok := p.runoutLimit(toolOf(f)); ok && !v.Standing(f) {
					asks = append(asks, runoutWay())
					break
				}
			}
			for _, f := range p.lengthFacts() {
				if v.Standing(f) {
					continue
				}
				if l, ok := p.runoutLimit(toolOf(f)); ok && !SameAnswer(v.Text("runby"), notMeasured) {
					asks = append(asks, p.runoutAsk(f, toolOf(f), l))
					if c, ok := runsOut(v, f, l); ok && c.Verdict == Fail && !v.Waived(c) {
						return asks // it is gripped again, and its length is another then
					}
				}
				label, window := p.gauged(f.Thing())
				a := Ask{Field: field(f), Label: "length of " + label, Kind: Reading, Unit: unit.KLength,
					What: What{By: "control", Of: "tool/" + f.Thing(), Dir: "length"}, Window: window}
				if p.Job.Machine.Delivers == "readout" { // no tool table
					a.Label = "length of " + label + ", or its difference from the first tool"
					a.Window = around(0, 200, "a tool, or a difference of tools")
				}
				if f.Thing() == "probe" {
					a.Label = "length of the probe, touched on the same reference"
					a.What.By = "touch"
					a.Do = []Act{{Do: "fit", Of: "probe", Words: "Fit the probe, spindle mark to the front. Touch it on the same reference as the tools."}}
				}
				asks = append(asks, a)
				if f.Thing() == "probe" {
					b := a
					b.Field, b.Label, b.Do = field(f)+".2", "and once more", nil
					if x, ok := v.Num(a.Field, unit.KLength); ok {
						b.Window = around(x, 0.05, "the touch before")
					}
					asks = append(asks, b)
				}
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			var said []string
			for _, f := range p.lengthFacts() {
				run := p.runoutCheck(v, f, toolOf(f), &o)
				x, ok := v.Num(field(f), unit.KLength)
				if !ok {
					continue
				}
				olderThanRunout(v, field(f), name(f), &o)
				u := 0.005 / math.Sqrt(3)
				if y, ok := v.Num(field(f)+".2", unit.KLength); ok {
					c := Judged(p.Limit("length.repeat"), math.Abs(x-y), 0)
					c.Words = "The two touches differ: wipe the ball and the reference, touch again."
					o.Checks = append(o.Checks, c)
					if c.Verdict == Fail {
						o.Next = append(o.Next, Act{Do: "again", Of: field(f), Words: c.Words}, Act{Do: "again", Of: field(f) + ".2"})
					}
					x = (x + y) / 2
				}
				p.possible(field(f), name(f), f.Thing(), x, &o)
				o.Facts = append(o.Facts, Fact{ID: f, Value: []float64{x}, Cov: [][]float64{{u * u}}})
				said = append(said, name(f)+" "+p.num(x)+run)
			}
			if SameAnswer(v.Text("runby"), notMeasured) {
				o.Notes = append(o.Notes, "Runout is not measured: a chip in a collet makes one tooth cut for all, and walls thin. Listen at the skim.")
			}
			o.Learned = "Lengths: " + strings.Join(said, ", ") + "."
			return o
		},
	}
	sp.Page = func(v View) Page {
		for _, a := range sp.Asks(v) {
			if !v.Has(a.Field) {
				if a.What.Dir == "runout" {
					return runoutPage()
				}
				break
			}
		}
		if p.Job.Machine.Probe == nil {
			return Page{Why: "Every Z stands on these. A length older than its last gripping is a crash by the difference.",
				Act:     "Measure again every tool that you have re-gripped; type the length of each.",
				Read:    "From the spindle's gauge line to the tip, as in the control's tool table; without one, all from the same tool.",
				Caution: "SPINDLE STOPPED while a tool is touched."}
		}
		return Page{Why: "Every Z stands on these. A length older than its last gripping is a crash by the difference.",
			Act:     "Measure again every tool that you have re-gripped; type all lengths, touch the probe twice.",
			Read:    "From the spindle's gauge line to the tip, as in the control's tool table.",
			Caution: "SPINDLE STOPPED. Never start the spindle with the probe fitted: lock its command off."}
	}
	return sp
}
