package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// pendingOn says that one of the mishaps to be lifted has an R on the fact.
func pendingOn(v fold.View, f fold.FactID) bool {
	for _, h := range v.Pending {
		if m, ok := v.Plan.Mishap(h.ID); ok && m.Hits(f, h.Tool) && m.Cell(f) == fold.R {
			return true
		}
	}
	return false
}

// lengthsDue are the lengths to be touched: all that are down; after a new homing or a
// retram one tool and the probe do for all.
func lengthsDue(p *fold.Plan, v fold.View) []fold.FactID {
	var out []fold.FactID
	tools := 0
	each := false
	for _, h := range v.Pending {
		each = each || (h.ID != "rehomed" && h.ID != "power-lost" && h.ID != "head-moved" && h.ID != "probe-refitted")
	}
	for _, f := range kit.LengthFacts(p) {
		if _, made := v.Was(f); !made || !pendingOn(v, f) {
			continue
		}
		if f.Thing() != "probe" {
			if tools++; tools > 1 && !each {
				continue
			}
		}
		out = append(out, f)
	}
	return out
}

// LengthCheck touches tools and probe once more on the same reference.
func LengthCheck(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "lengths check", Recheck: &fold.Recheck{Before: "square", Lifts: kit.LengthFacts(p)},
		Asks: func(v fold.View) []fold.Ask {
			var asks []fold.Ask
			for _, f := range lengthsDue(p, v) {
				asks = append(asks, askLengthAgain(p, v, f))
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			var change []float64
			for _, f := range lengthsDue(p, v) {
				w, ok := facts.Length.Of(f.Thing()).Was(v)
				x, read := v.Num("t"+f.Thing(), unit.KLength)
				if !ok || !read {
					continue
				}
				d := x - float64(w.L)
				change = append(change, d)
				judgeLengthAgain(p, f, d, &o)
			}
			if len(change) > 1 {
				o.Learned = fmt.Sprintf("Lengths are as before within %s.", p.Len(MaxAbs(change)))
			} else if len(change) == 1 {
				o.Learned = fmt.Sprintf("The length is as before within %s.", p.Len(MaxAbs(change)))
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A length that has changed unseen moves every Z by as much.",
				Act:     "Touch them once on the same reference.",
				Read:    "Length from the gauge line to the tip.",
				Caution: "SPINDLE STOPPED. Z first, slowly: a tool may sit lower than the table says."}
		},
	}
}

func askLengthAgain(p *fold.Plan, v fold.View, f fold.FactID) fold.Ask {
	a := fold.Ask{Field: "t" + f.Thing(), Label: kit.ToolName(p, f.Thing()) + " touched on the same reference: length", Kind: fold.Reading,
		Unit: unit.KLength, What: fold.What{By: "touch", Of: "tool/" + f.Thing(), Dir: "length"}}
	if f.Thing() == "probe" {
		a.Label = "probe touched on the same reference: length"
		a.Do = []fold.Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Touch it on the reference of the tools."}}
	}
	if w, was := facts.Length.Of(f.Thing()).Was(v); was {
		a.Window = kit.Around(float64(w.L), 0.05, "as before")
	}
	return a
}

// judgeLengthAgain holds by how much a length has changed.
func judgeLengthAgain(p *fold.Plan, f fold.FactID, d float64, o *fold.Outcome) {
	l, named := p.Limit("check.tool"), "tool-pulled"
	words := fmt.Sprintf("%s is %s by %s: it was PULLED, or sits otherwise. Take its length anew.", f.Thing(), longer(d), p.Len(math.Abs(d)))
	if f.Thing() == "probe" {
		l, named = p.Limit("check.probe"), "probe-refitted"
		words = fmt.Sprintf("The probe is %s by %s than it was: it sits otherwise in its collet. Take its length anew; what the control "+
			"has of the tools still stands.", longer(d), p.Len(math.Abs(d)))
	}
	l.ID += "." + f.Thing()
	c := judge.Of(l, math.Abs(d), 0)
	if c.Verdict == fold.Fail {
		c.Words, o.Named = words, named
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "lengths", Words: words})
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: f.Thing() + " changed by", Value: d, Unit: unit.KLength, Signed: true})
}

func longer(d float64) string {
	if d < 0 {
		return "shorter"
	}
	return "longer"
}

func MaxAbs(xs []float64) float64 {
	m := 0.0
	for _, x := range xs {
		m = math.Max(m, math.Abs(x))
	}
	return m
}
