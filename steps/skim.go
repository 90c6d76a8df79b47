package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// afterLoad asks what shows that every screw still holds: paint lines and softness.
func (p *Plan) afterLoad() []Ask {
	n := len(p.Setup.Screws.At)
	return []Ask{
		{Field: "lines", Label: "paint lines unbroken across head and part", Kind: Count, What: What{By: "eye", Of: "paint-lines"}, Want: fmt.Sprint(n),
			WantWhy: "A turned line is a screw that has let go.", Hint: "Stop. Tighten in order; if it turns soft it counts 0."},
		counted("soft", "screws that went soft when tried again", "soft-screws", "", "0", "A soft screw holds nothing.", "Take it out; mend or retire its thread."),
	}
}

// loadSlips is the act after a screw that let go under load.
func (p *Plan) loadSlips(v View, o *Outcome) {
	if v.Int("soft") > 0 {
		o.Named = "soft-thread"
	}
	if v.Int("soft") > 0 || v.Int("lines") != len(p.Setup.Screws.At) {
		o.Next = append(o.Next, Act{Do: "reopen", Of: "screws", Words: "Stop here. Mend the thread or fit an insert, then all screws again in order; the shift test follows."})
	}
}

// skim takes one shallow cut and looks at the screws after this first load.
func skim(p *Plan) *Spec {
	tool := fmt.Sprint(p.Setup.Cut.Tool)
	gap, gapped := p.tipGap(p.Setup.Cut.Tool, false, func(f FactID) bool { return f != "clamps" }) // the straps are off
	raises := !p.presets()                                                                         // a preset control has no page for it
	z, highest := p.clearHeight(func(f FactID) bool { return f != "clamps" })                      // the straps are off
	how := "nothing below"
	if raises {
		how = "raise it all by the control's common Z shift or the tool's wear, its lowest cut over"
	}
	air := "Air pass, feed hold in hand: " + how + " W Z" + p.signed(z) + ", clear of " + highest + "."
	raised := Ask{Field: "raised", Since: sinceRaised, Label: "that Z shift or wear, after the air pass", Kind: Echo, Unit: unit.KLength, Blind: true, What: What{By: "eye", Of: "shift-page", Dir: "x", Axis: "z"},
		Do: []Act{{Do: "look", Of: "shift-page", Words: "Hands out, door shut. " + air + " Then take the raise out again and read what stands on the control's page."}}}
	return &Spec{
		Title: "skim", AsRead: []FactID{"deck"}, Seen: []FactID{"seat"}, Live: []FactID{"screws"}, Lifts: []FactID{"screws"}, Makes: []FactID{"skimmed"}, Raises: []MishapID{"probe-refitted"},
		Pause: &Pause{Heading: "AFTER THIS YOU CANNOT GET THE STOCK BACK", Lost: "Stop if the pitch changes, a screw head moves, or chips turn to powder or melt.",
			Ask: func(View) Ask {
				a := Ask{Label: "tool number in the spindle", Kind: Count, What: What{By: "eye", Of: "spindle", Dir: "tool"}, Want: tool,
					WantWhy: "Another tool cuts another depth; a probe is thrown.", Hint: "Probe out. Fit " + p.toolName(tool) + "."}
				if p.Setup.Cut.Tool == 0 {
					a.Want, a.WantWhy, a.Hint = "", "", ""
				}
				in := "Probe OUT. " + p.cutterName() + " in, its own length active."
				if !gapped && !raises { // nothing is asked before the skim
					in += " " + air
				}
				a.Do = []Act{{Do: "remove", Of: "probe", Words: in}}
				return a
			}},
		Asks: func(v View) []Ask {
			asks := p.afterLoad()
			first := ""
			var before []Ask // that anything is cut
			if gapped {      // before any program moves it
				before = append(before, gap.ask())
				if _, wrong := gap.off(v); wrong {
					return before
				}
				if first = "Hands out, door shut. "; !raises {
					first += air + " "
				}
			}
			if raises {
				if before = append(before, raised); v.Len(raised.Field) != 0 {
					return before
				}
			}
			asks = append(before, asks...)
			asks[len(asks)-2].Do = []Act{{Do: "skim", Of: "part", Words: first + "One shallow skim in a safe corner. Stop the spindle. Look, then try each screw at its working torque or angle."}}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			if gapped && gap.check(v, &o) {
				return o
			}
			if x, ok := v.Num(raised.Field, unit.KLength); ok {
				c := Check{Limit: Limit{ID: "raised.zero", Why: "the raise of the air pass is out again", Class: Never, Unit: unit.KLength}, Got: math.Abs(x), Verdict: Pass}
				if x != 0 {
					c.Verdict = Fail
					c.Words = "The raise of the air pass is still in: the cut would stand off by " + p.len(math.Abs(x)) + "."
					o.Next = append(o.Next, Act{Do: "cancel", Of: "shift", Words: "Set that Z shift or wear back to zero, then read its page again."}, Act{Do: "again", Of: raised.Field})
				}
				if o.Checks = append(o.Checks, c); x != 0 {
					return o
				}
			}
			p.loadSlips(v, &o)
			o.Facts = []Fact{{ID: "skimmed"}}
			o.Learned = "The screws held under the first load."
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "The first load shows a screw that only felt tight, while little is at stake.",
				Act:     "Skim once, shallow, in a safe corner. Stop, look, try the screws.",
				Read:    "Paint lines that are unbroken; screws that went soft.",
				Caution: "This tool does not stop the machine. Door shut, eye protection, out of the tool plane.",
				Scene:   p.scene(v, nil)}
			if gapped && v.Has("pause") && !v.Has("gap") {
				gap.page(v, &pg)
			}
			return pg
		},
	}
}
