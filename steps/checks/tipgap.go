package checks

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"fliptrue/calc/fit"
	"fliptrue/calc/skim"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// GapLimits are those of the look under a tip.
var GapLimits = []fold.LimitRow{
	{ID: "tip.gap", Why: "height of the tip against the control", How: "{3}: a rule tells it; a length of another reference shows from there on, a drill's point against its full diameter does not", Class: fold.Never, Unit: unit.KLength, Max: judge.Fixed(3), Min: false},
	{ID: "tip.block", Why: "height of the tip by the block", How: "{0.3}, half of what is left of the depth that throws the part: the smaller", Class: fold.Never, Unit: unit.KLength, Max: blockLimit, Min: false},
}

// blockLimit is the most a tip may stand off before anything is cut.
func blockLimit(p *fold.Plan) float64 {
	most := p.Sensible(skim.GapMost)
	h := desk.Hold(p, desk.AsFound{})
	if h.Why != "" {
		return most
	}
	g, err := skim.GapLimit(float64(h.Ends.Low.Retention.Ceiling), float64(h.Ends.Low.Ceiling.Least), p.Setup.Cut.Ap)
	if err != nil {
		return skim.FeelerLeast // the hold-down says what is to be done
	}
	return math.Min(most, g.Most)
}

// blockUnder is the gap that the second look is made at, mm: a block or a drill's shank of 10.
const blockUnder = 10

// Gap is the look under a tool's tip at the first height that it is jogged to with its own length:
// a length of another reference is as good a number as any, and only there it shows, from 3 mm on.
type Gap struct {
	p       *fold.Plan
	tool    int
	z       float64  // where it is jogged to, program coordinates
	highest string   // what it is clear of
	at      kit.Spot // on the part's top
	others  bool     // no tool has cut yet: they were all typed by one convention
	block   func() fold.Limit
}

// TipGap is that of one tool, false where no control moves a tool by its length, or the tool is not known.
func TipGap(p *fold.Plan, tool int, others bool, on func(fold.FactID) bool) (Gap, bool) {
	if _, known := p.Job.Tools[tool]; !known || p.Job.Machine.Delivers == "readout" {
		return Gap{}, false
	}
	g := Gap{p: p, tool: tool, others: others}
	g.block = sync.OnceValue(func() fold.Limit {
		l := p.Limit("tip.block")
		if others { // a drill: its hole's depth is at stake
			l.Max = math.Min(l.Max, p.Limit("drill.depth").Max)
		}
		return l
	})
	g.z, g.highest = desk.ClearHeight(p, on, kit.Thickness(p))
	for _, s := range kit.Spots(p) {
		if s.Axis == fit.AxisZ {
			g.at = s
			break
		}
	}
	return g, true
}

// Want is the gap that the control's numbers make there, mm.
func (g Gap) Want(v fold.View) float64 { return g.z - PartTop(g.p, v) }

// PartTop is how high the part's top stands now, in program coordinates.
func PartTop(p *fold.Plan, v fold.View) float64 {
	if s, ok := facts.Seat.Perhaps(v); ok && s.DZ > 0 {
		return desk.SeatZ(p) + float64(s.DZ)
	}
	return desk.SeatZ(p) + kit.ThicknessNow(p, v)
}

// low is the height of the second look, program coordinates, and the gap that it should leave.
func (g Gap) low(v fold.View) (z, want float64) {
	top := PartTop(g.p, v)
	z = math.Min(g.z, kit.Even(g.p, top+blockUnder, 0.1, 0.01))
	return z, z - top
}

// Asks are both looks: by a rule from the height that is clear of everything, then by a block. By the fourth walk the
// way down to the block is looked at, and the block alone is typed: it tells all that a rule does.
func (g Gap) Asks(v fold.View) []fold.Ask {
	if g.p.Short() {
		block := g.blockAsk(v)
		block.Do = append(slices.Clone(g.Ask(v).Do), block.Do...)
		return []fold.Ask{block}
	}
	asks := []fold.Ask{g.Ask(v)}
	if _, wrong := g.Off(v); wrong && !v.Has("near") {
		return asks
	}
	return append(asks, g.blockAsk(v))
}

// gapFar is how far from what the control says a gap is read once more before it is judged, mm: what is nearer is a tool's
// length more likely than a slip of the keys (estimate).
const gapFar = 6.0

func (g Gap) blockAsk(v fold.View) fold.Ask {
	n := fmt.Sprint(g.tool)
	z, want := g.low(v)
	return fold.Ask{Field: "near", Since: kit.SinceNear, Label: "gap under the tip of T" + n + " now, by block or drill shank",
		Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "block", Of: "tool/" + n + g.at.Of[len("part-top"):], Dir: "gap"}, Blind: true,
		Window: kit.Around(want, gapFar, "the tip by the control"),
		Do: []fold.Act{{Do: "jog", Of: "tool/" + n, Dir: "z", Amount: z,
			Words: fmt.Sprintf("At that place, lowest feed: jog down to W Z%s. Stop where a block of %s no longer goes under, whatever the control "+
				"shows. Tip and holder stay clear of all that stands.",
				kit.Signed(g.p, z), g.p.Len(want-g.block().Max))}}}
}

// Ask is the look by a rule.
func (g Gap) Ask(v fold.View) fold.Ask {
	n := fmt.Sprint(g.tool)
	return fold.Ask{Field: "gap", Since: kit.SinceTipGap, Label: "gap under the tip of T" + n + ", to the part's top", Kind: fold.Reading,
		Unit:   unit.KLength,
		What:   fold.What{By: "rule", Of: "tool/" + n + g.at.Of[len("part-top"):], Dir: "gap"},
		Window: kit.Around(g.Want(v), gapFar, "the tip by the control"),
		Do: []fold.Act{{Do: "jog", Of: "tool/" + n, Dir: "z", Amount: g.z,
			Words: fmt.Sprintf("Spindle stopped, feed hold in hand: jog to W Z%s, clear of %s, only then X%s Y%s. Come down slowly: if the tip "+
				"comes near anything, stop.",
				kit.Signed(g.p, g.z), g.highest, kit.Signed(g.p, g.at.At.X), kit.Signed(g.p, g.at.At.Y))}}}
}

// Off is how much higher the tip stands than it should, mm, once it was looked at.
func (g Gap) Off(v fold.View) (d float64, wrong bool) {
	if d, ok := g.byBlock(v); ok {
		return d, judge.Of(g.block(), math.Abs(d), 0).Verdict == fold.Fail
	}
	got, ok := v.Num("gap", unit.KLength)
	if !ok {
		return 0, false
	}
	d = got - g.Want(v)
	if near, read := v.Num("near", unit.KLength); read && judge.Of(g.p.Limit("tip.gap"), math.Abs(d), 0).Verdict == fold.Pass {
		_, want := g.low(v)
		return near - want, judge.Of(g.block(), math.Abs(near-want), 0).Verdict == fold.Fail
	}
	return d, judge.Of(g.p.Limit("tip.gap"), math.Abs(d), 0).Verdict == fold.Fail
}

// byBlock is that height where the block alone was typed.
func (g Gap) byBlock(v fold.View) (d float64, ok bool) {
	near, ok := v.Num("near", unit.KLength)
	_, want := g.low(v)
	return near - want, ok && g.p.Short() && !v.Has("gap")
}

// seen is a length as a rule shows it.
func (g Gap) seen(v float64) string {
	step := 0.1
	if math.Abs(v) < 1 {
		step = 0.01
	}
	if g.p.Job.Unit == unit.Imperial {
		step = 0.01 * float64(unit.Inch)
	}
	return unit.Show(v, unit.KLength, g.p.Job.Unit, step)
}

// Check holds what was seen against the control's numbers; true when nothing may be cut like this.
func (g Gap) Check(v fold.View, o *fold.Outcome) bool {
	block, blocked := g.byBlock(v)
	if !v.Has("gap") && !blocked {
		return false
	}
	got := v.Len("gap")
	d, wrong := got-g.Want(v), false
	if blocked {
		got, d = v.Len("near"), block
	}
	c := judge.Of(g.p.Limit("tip.gap"), math.Abs(d), 0)
	if near, read := v.Num("near", unit.KLength); read && c.Verdict == fold.Pass {
		o.Checks = append(o.Checks, c)
		_, want := g.low(v)
		got, d = near, near-want
		c = judge.Of(g.block(), math.Abs(d), 0)
	}
	if wrong = c.Verdict == fold.Fail; wrong {
		way := "higher"
		if d < 0 {
			way = "lower"
		}
		c.Words = fmt.Sprintf("The tip of T%d stands %s %s than the control believes. %s instead of %s over the part.", g.tool,
			g.seen(math.Abs(d)), way, g.seen(got), g.seen(got-d))
		if o.Named = "length-convention"; c.Limit.ID == "tip.block" {
			o.Named = "tool-pulled"
			c.Words = fmt.Sprintf("Under T%d fits %s, not %s: it stands %s %s than the control believes.", g.tool, g.seen(got), g.seen(got-d),
				g.seen(math.Abs(d)), way)
		}
		o.Next = append(o.Next, fold.Act{Do: "measure", Of: "tools", Words: "Raise Z. Its length is not from the spindle's gauge line to the " +
			"tip, or another length is active. Measure it again, and every tool whose length was typed the same way."})
		for _, n := range kit.ToolNumbers(g.p) {
			if n == g.tool || g.others {
				o.Next = append(o.Next, fold.Act{Do: "declare", Of: "tool-pulled", Dir: fmt.Sprint(n)})
			}
		}
	}
	o.Checks = append(o.Checks, c)
	return wrong
}

// Looking says that the next thing asked is one of the looks.
func (g Gap) Looking(v fold.View) bool {
	if g.p.Short() {
		return !v.Has("near")
	}
	if !v.Has("gap") {
		return true
	}
	_, wrong := g.Off(v)
	return v.Walks(3) && !wrong && !v.Has("near")
}

// Page puts its words on the page while it is asked.
func (g Gap) Page(v fold.View, pg *fold.Page) {
	if v.Has("gap") || g.p.Short() {
		pg.Why = "What a rule does not show still throws the part at the first cut."
		pg.Rows, pg.Hands = nil, ""
		pg.Act, pg.Now = "Measure the gap under the tip by a block before anything turns.", true
		pg.Read = "Gauge blocks, or a drill's shank by calliper: the largest that just slides under. What is there, not what should be."
		pg.Caution = "SPINDLE STOPPED while a hand is under the tool; hand off the jog wheel."
		return
	}
	pg.Why = "No typed number shows a length of another reference; the first height that the control drives it to does, if it is off " +
		"by more " +
		"than " + g.p.Len(g.p.Limit("tip.gap").Max) + "."
	pg.Rows, pg.Hands = nil, ""
	pg.Act, pg.Now = "Look under the tip before anything turns.", true
	pg.Read = "By a rule or blocks between tip and part, to half a millimetre. What is seen, not what should be."
	if g.p.Job.Unit == unit.Imperial {
		pg.Read = "By a rule or blocks between tip and part, to 1/32 in. What is seen, not what should be."
	}
	pg.Caution = "SPINDLE STOPPED while a hand is under the tool."
}
