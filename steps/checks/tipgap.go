package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// GapLimits are those of the look under a tip.
var GapLimits = []fold.LimitRow{
	{ID: "tip.gap", Why: "the tip stands as high as the control believes", How: "{3}: a rule tells it; a length of another reference shows from there on, a drill's point against its full diameter does not", Class: fold.Never, Unit: unit.KLength, Max: judge.Fixed(3), Min: false},
}

// tipGap is the look under a tool's tip at the first height that it is jogged to with its own length:
// a length of another reference is as good a number as any, and only there it shows, from 3 mm on.
type tipGap struct {
	p       *fold.Plan
	tool    int
	z       float64  // where it is jogged to, program coordinates
	highest string   // what it is clear of
	at      kit.Spot // on the part's top
	others  bool     // no tool has cut yet: they were all typed by one convention
}

// TipGap is that of one tool, false where no control moves a tool by its length, or the tool is not known.
func TipGap(p *fold.Plan, tool int, others bool, on func(fold.FactID) bool) (tipGap, bool) {
	if _, known := p.Job.Tools[tool]; !known || p.Job.Machine.Delivers == "readout" {
		return tipGap{}, false
	}
	g := tipGap{p: p, tool: tool, others: others}
	g.z, g.highest = desk.ClearHeight(p, on)
	for _, s := range kit.Spots(p) {
		if s.Axis == fit.AxisZ {
			g.at = s
			break
		}
	}
	return g, true
}

// want is the gap that the control's numbers make there, mm.
func (g tipGap) Want(v fold.View) float64 {
	top := desk.SeatZ(g.p) + kit.Thickness(g.p)
	if s, ok := v.Perhaps("seat"); ok && len(s.Value) > 0 && s.Value[0] > 0 {
		top = desk.SeatZ(g.p) + s.Value[0]
	}
	return g.z - top
}

func (g tipGap) Ask() fold.Ask {
	n := fmt.Sprint(g.tool)
	return fold.Ask{Field: "gap", Since: kit.SinceTipGap, Label: "gap under the tip of T" + n + ", to the part's top", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "rule", Of: "tool/" + n + g.at.Of[len("part-top"):], Dir: "gap"},
		Do: []fold.Act{{Do: "jog", Of: "tool/" + n, Dir: "z", Amount: g.z, Words: fmt.Sprintf("Spindle stopped, feed hold in hand: jog to W Z%s, clear of %s, only then X%s Y%s. Come down slowly: if the tip comes near anything, stop.",
			kit.Signed(g.p, g.z), g.highest, kit.Signed(g.p, g.at.At.X), kit.Signed(g.p, g.at.At.Y))}}}
}

// off is how much higher the tip stands than it should, once it was looked at.
func (g tipGap) Off(v fold.View) (d float64, wrong bool) {
	got, ok := v.Num("gap", unit.KLength)
	if !ok {
		return 0, false
	}
	d = got - g.Want(v)
	return d, judge.Judged(g.p.Limit("tip.gap"), math.Abs(d), 0).Verdict == fold.Fail
}

// seen is a length as a rule shows it.
func (g tipGap) seen(v float64) string {
	step := 0.1
	if g.p.Job.Unit == unit.Imperial {
		step = 0.01 * float64(unit.Inch)
	}
	return unit.Show(v, unit.KLength, g.p.Job.Unit, step)
}

// check holds what was seen against the control's numbers; true when nothing may be cut like this.
func (g tipGap) Check(v fold.View, o *fold.Outcome) bool {
	if !v.Has("gap") {
		return false
	}
	d, wrong := g.Off(v)
	c := judge.Judged(g.p.Limit("tip.gap"), math.Abs(d), 0)
	if wrong {
		way := "higher"
		if d < 0 {
			way = "lower"
		}
		c.Words = fmt.Sprintf("The tip of T%d stands %s %s than the control believes: %s instead of %s over the part.", g.tool, g.seen(math.Abs(d)), way, g.seen(g.Want(v)+d), g.seen(g.Want(v)))
		o.Named = "length-convention"
		o.Next = append(o.Next, fold.Act{Do: "measure", Of: "tools", Words: "Raise Z. Its length is not from the spindle's gauge line to the tip, or another length is active. Measure it again, and every tool whose length was typed the same way."})
		for _, n := range kit.ToolNumbers(g.p) {
			if n == g.tool || g.others {
				o.Next = append(o.Next, fold.Act{Do: "declare", Of: "tool-pulled", Dir: fmt.Sprint(n)})
			}
		}
	}
	o.Checks = append(o.Checks, c)
	return wrong
}

// page puts its words on the page while it is asked.
func (g tipGap) Page(v fold.View, pg *fold.Page) {
	pg.Why = "No typed number shows a length of another reference; the first height that the control drives it to does, if it is off by more than " + g.p.Len(g.p.Limit("tip.gap").Max) + "."
	pg.Rows, pg.Hands = nil, ""
	pg.Act = "Look under the tip before anything turns."
	pg.Read = "By a rule or blocks between tip and part, to half a millimetre: what is seen, not what should be."
	if g.p.Job.Unit == unit.Imperial {
		pg.Read = "By a rule or blocks between tip and part, to 1/32: what is seen, not what should be."
	}
	pg.Caution = "SPINDLE STOPPED while a hand is under the tool."
}
