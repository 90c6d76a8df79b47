package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The raise of the first skim: so much stays in after the air pass, and comes out once the height is proven.

// raised is the ask for the raise as it stands before the first skim: left in, or, in a record of an earlier walk, out.
func (c firstCut) raised(v fold.View, was fold.Ask, air string) fold.Ask {
	if !v.Walks(3) {
		return was
	}
	was.What.Dir = "raise"
	was.Do = []fold.Act{{Do: "raise", Of: "shift-page", Amount: c.raise, Words: "Hands out, door shut. " + air + " Then set it to Z" +
		kit.Signed(c.p, c.raise) + ": so much stays in for the first skim. Read what the control shows there."}}
	return was
}

// want is what the page of the raise is to show before the skim.
func (c firstCut) want(v fold.View) float64 {
	if v.Walks(3) {
		return c.raise
	}
	return 0
}

func (c firstCut) rightly(v fold.View) bool {
	return math.Abs(v.Len("raised")-c.want(v)) <= kit.Keyed(c.p)/2
}

// left judges the raise before the skim; true when nothing may be cut like this.
func (c firstCut) left(v fold.View, o *fold.Outcome) bool {
	p, x := c.p, v.Len("raised")
	if !v.Walks(3) {
		return c.zero("raised", x, o)
	}
	k := judge.Of(fold.Limit{ID: "raised.left", Why: "raise for the first skim, off by", Max: kit.Keyed(p) / 2, Class: fold.Never,
		Unit: unit.KLength}, math.Abs(x-c.raise), 0)
	if !c.rightly(v) {
		k.Verdict = fold.Fail
		k.Words = fmt.Sprintf("The control shows %s; for the first skim %s is left in.", p.Len(x), p.Len(c.raise))
		o.Next = append(o.Next, fold.Act{Do: "raise", Of: "shift-page", Amount: c.raise, Words: "Set it to Z" + kit.Signed(p, c.raise) +
			", then read it again."}, fold.Act{Do: "again", Of: "raised"})
	}
	o.Checks = append(o.Checks, k)
	return k.Verdict != fold.Pass
}

// zero judges a page that has to read nothing.
func (c firstCut) zero(field string, x float64, o *fold.Outcome) bool {
	k := fold.Check{Limit: fold.Limit{ID: "raised.zero", Why: "raise of the air pass still keyed in", Class: fold.Never, Unit: unit.KLength},
		Got: math.Abs(x), Verdict: fold.Pass}
	if x != 0 {
		k.Verdict = fold.Fail
		if k.Words = "The raise of the air pass is still in: the cut would stand off by " + c.p.Len(math.Abs(x)) + "."; field == "lowered" {
			k.Words = "The raise of the first skim is still in, by " + c.p.Len(math.Abs(x)) + "."
		}
		o.Next = append(o.Next, fold.Act{Do: "cancel", Of: "shift", Words: "Set that Z shift or wear back to zero, then read its page again."},
			fold.Act{Do: "again", Of: field})
	}
	o.Checks = append(o.Checks, k)
	return x != 0
}

// out judges that the raise of the first skim is out.
func (c firstCut) out(v fold.View, o *fold.Outcome) {
	if x, ok := v.Num("lowered", unit.KLength); ok {
		c.zero("lowered", x, o)
	}
}

// lowered asks for the raise to come out, once the height is proven.
func (c firstCut) lowered() fold.Ask {
	return fold.Ask{Field: "lowered", Since: kit.SinceHeight, Label: "that Z shift or wear, read again", Kind: fold.Echo, Unit: unit.KLength,
		Blind: true, What: fold.What{By: "eye", Of: "shift-page", Dir: "x", Axis: "z"},
		Do: []fold.Act{{Do: "cancel", Of: "shift", Words: c.back() + "Take the raise of the first skim out; read what the control shows there."}}}
}

// raiseOut takes the raise out where nobody reads it back: left in, the side comes out thick, and no more than that.
func raiseOut(p *fold.Plan) []fold.Act {
	if !p.Short() || p.Reads(fold.FirstUse) || checks.Presets(p) {
		return nil
	}
	return []fold.Act{{Do: "cancel", Of: "shift", Words: "Spindle stopped, its command off. " + firstCutOf(p, true).back() +
		"Z shift or wear of the first skim back to zero. Then shut the door."}}
}
