package steps

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"fliptrue/calc/unit"
)

func init() {
	add(Step{ID: "lengths", Kinds: []string{secondSide}, Follows: "mount", Build: lengths})
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

// lengths takes the lengths of the tools and of the probe; of those only that are not current.
func lengths(p *Plan) *Spec {
	field := func(f FactID) string { return "t" + f.Thing() }
	name := func(f FactID) string {
		if f.Thing() == "probe" {
			return "probe"
		}
		return "T" + f.Thing()
	}
	return &Spec{
		Title: "tool lengths", Makes: p.lengthFacts(), Keys: []string{"tools"},
		Owns: func(f FactID, fld string) bool { return fld == field(f) || strings.HasPrefix(fld, field(f)+".") },
		Asks: func(v View) []Ask {
			var asks []Ask
			for _, f := range p.lengthFacts() {
				if v.Standing(f) {
					continue
				}
				a := Ask{Field: field(f), Label: "length of " + name(f), Kind: Reading, Unit: unit.KLength,
					What: What{By: "control", Of: "tool/" + f.Thing(), Dir: "length"}, Window: around(p.even(100, 100, 4), p.even(95, 95, 3.75), "a tool from the gauge line of the spindle")}
				if p.Job.Machine.Delivers == "readout" { // no tool table
					a.Label = "length of " + name(f) + ", or its difference from the first tool"
					a.Window = around(0, 200, "a tool, or a difference of tools")
				}
				if f.Thing() == "probe" {
					a.Label = "length of the probe, touched on the same reference"
					a.What.By = "touch"
					a.Do = []Act{{Do: "fit", Of: "probe", Words: "Fit the probe. Touch it on the same reference as the tools."}}
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
				x, ok := v.Num(field(f), unit.KLength)
				if !ok {
					continue
				}
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
				o.Facts = append(o.Facts, Fact{ID: f, Value: []float64{x}, Cov: [][]float64{{u * u}}})
				said = append(said, name(f)+" "+p.num(x))
			}
			o.Learned = "Lengths: " + strings.Join(said, ", ") + "."
			return o
		},
		Page: func(v View) Page {
			if p.Job.Machine.Probe == nil {
				return Page{Why: "Every Z stands on these. A length older than its last gripping is a crash by the difference.",
					Act:     "Bring the length of each tool, newer than its last gripping.",
					Read:    "From the spindle's gauge line to the tip, as in the control's tool table; without one, all from the same tool.",
					Caution: "SPINDLE STOPPED while a tool is touched."}
			}
			return Page{Why: "Every Z stands on these. A length older than its last gripping is a crash by the difference.",
				Act:     "Bring the length of each tool, newer than its last gripping, and touch the probe twice.",
				Read:    "From the spindle's gauge line to the tip, as in the control's tool table.",
				Caution: "SPINDLE STOPPED. Never start the spindle with the probe fitted: lock its command off."}
		},
	}
}
