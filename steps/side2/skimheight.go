package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	calc "fliptrue/calc/skim"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The height of side 2 is measured on the first cut itself: the skimmed face against the
// fixture's rim, in one mounting of the instrument. What no length that was typed can show is in it.

// HeightLimits are those of the first cut, and of a witness cut.
var HeightLimits = []fold.LimitRow{
	{ID: "skim.height", Why: "height of the cut against the program", How: "0.2 of the thickness allowance", Class: fold.Hard, Unit: unit.KLength, Max: judge.ThickShare(calc.HeightShare), Min: false},
	{ID: "cut.register", Why: "register as a witness cut shows it", How: "the allowance", Class: fold.Hard, Unit: unit.KLength, Max: judge.Share(1), Min: false},
	{ID: "cut.size", Why: "size of the outline, each side", How: "the allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(1), Min: false},
}

// firstCut is what the skim is measured with.
type firstCut struct {
	p      *fold.Plan
	tool   string
	raises bool    // the control has a page that raises all
	raise  float64 // left in for the first skim
	face   jobs.Point
	rim    jobs.Point
	apart  float64
}

func firstCutOf(p *fold.Plan, raises bool) firstCut {
	c := firstCut{p: p, tool: fmt.Sprint(p.Setup.Cut.Tool), raises: raises, apart: math.Inf(1)}
	if raises {
		c.raise = kit.Even(p, calc.Raise, 0.05, 0.002)
	}
	z, _ := kit.PartZero(p)
	for _, s := range kit.Spots(p) {
		if s.Field[0] != 'z' {
			continue
		}
		for _, r := range kit.Rim(p) {
			if d := math.Hypot(z.X+s.At.X-r.X, z.Y+s.At.Y-r.Y); d < c.apart {
				c.apart, c.face, c.rim = d, jobs.Point{X: s.At.X, Y: s.At.Y}, r
			}
		}
	}
	return c
}

// words are those of the skim itself.
func (c firstCut) words() string {
	if c.raises {
		return "Skim a safe corner, the raise still in. Nothing cut: start from a pass one depth lower. Note the program Z of the pass that cut."
	}
	return "One shallow skim in a safe corner; note its program Z."
}

// section is what lies under the cutter, and how much of the program's depth the first skim leaves.
func (c firstCut) section(v fold.View, raised bool) *fold.Section {
	s, _ := facts.Screws.Perhaps(v)
	cut := desk.DeckSection(c.p, float64(s.Head))
	if cut == nil || !raised || c.raise <= 0 || v.Has("lowered") {
		return cut
	}
	low := c.p.Setup.Cut.Lowest + c.raise
	for i := range cut.Levels {
		if cut.Levels[i].Role == fold.RoleNext {
			cut.Levels[i].Role = fold.RoleLater
		}
	}
	for i := range cut.Solids {
		if o := &cut.Solids[i]; o.Role == fold.RoleNext {
			o.Lo = low
		}
	}
	cut.Levels = append(cut.Levels, fold.Height{Name: "first skim", Z: low, Role: fold.RoleNext})
	return cut
}

// page are the words while the first cut is measured.
func (c firstCut) page(v fold.View, pg *fold.Page) {
	pg.Why = "The skimmed face over the rim shows what every length and height before it has left."
	pg.Act = "Measure the skimmed face against the fixture's rim, then take the raise out."
	pg.Read = "Machine Z at the trigger, both touches in one mounting of the probe."
	if c.p.Job.Machine.Probe == nil {
		pg.Read = "The gauge's reading from the rim, the face wiped."
	}
	if v.Has("rim") {
		pg.Read = "What the control shows for that shift or wear." // the raise, read once more
	}
	if h, _, ok, err := c.height(v); ok && err == nil && !v.Has("finished") && c.judged(v, h).Verdict != fold.Pass {
		pg.Read = "Of the program's own listing, the face that is left there in the end."
	}
	if c.p.Short() && !v.Has("pass") {
		pg.Read = "Of the program's own listing or W Z as it cut, the pass that took off material."
	} else if c.p.Short() && c.p.Job.Machine.Probe != nil && !v.Has("kept") {
		pg.Read = "How the cutter makes room for the probe: out of its collet its length is new."
	}
	if len(raiseOut(c.p)) > 0 {
		pg.Act = "Measure the skimmed face against the fixture's rim."
	}
	pg.Caution = "SPINDLE STOPPED, its command off, while hands are in."
}

// judged is the height against its limit. Of a cutter that left its collet it says nothing: its length is new.
func (c firstCut) judged(v fold.View, h calc.Height) fold.Check {
	k := judge.Of(c.p.Limit("skim.height"), math.Abs(h.D), h.Guard)
	k.Largest = h.Largest.Name
	if k.Verdict == fold.Pass && fold.SameAnswer(v.Text("kept"), kept[1]) {
		k.Verdict = fold.NotProven
	}
	return k
}

// kept are the answers to how the cutter made room for the probe.
var kept = []string{"in its holder, length kept", "it left its collet", "it stayed in"}

// asks are those after a skim whose screws held: where the pass was programmed, then face and rim.
func (c firstCut) asks(v fold.View) []fold.Ask {
	p := c.p
	length := func(field, label, by, of, dir, axis string) fold.Ask {
		return fold.Ask{Field: field, Since: kit.SinceHeight, Label: label, Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: by, Of: of, Dir: dir, Axis: axis}}
	}
	pass := length("pass", "program Z of the pass that skimmed, no raise counted in", "eye", "program/pass", "z", "z")
	pass.Window = c.passWindow(v)
	finished := length("finished", "program Z of the finished face at that place", "eye", "program/pass", "finished", "z")
	expected := pass.Window.Want
	if x, ok := v.Num("pass", unit.KLength); ok {
		expected = x
	}
	under := expected - p.Setup.Cut.Ap
	if low := p.Setup.Cut.Lowest; low > under {
		under = low
	}
	finished.Window = kit.Around(under, 3, "the face under the skim")
	asks := []fold.Ask{pass, finished}
	if h, _, ok, err := c.height(v); p.Short() && (!ok || err != nil || c.judged(v, h).Verdict == fold.Pass) {
		asks = asks[:1] // how much is left decides nothing while the height is right
	}
	if p.Job.Machine.Probe == nil {
		over := length("over", "skimmed face over the rim, by depth gauge", "depth gauge", c.of(), "over-rim", "z")
		over.Window = kit.Around(c.overRim(v, expected), kit.OverFloor, "the pass over the card's rim")
		over.Do = []fold.Act{{Do: "look", Of: "part", Words: "Spindle stopped, drive off, raise Z. Gauge or dial from the rim onto the skimmed " +
			"face; lower than the rim is minus."}}
		return append(append(asks, over), c.finer(v, length)...)
	}
	how := fold.Ask{Field: "kept", Since: kit.SinceHeight, Label: "the cutter, to make room for the probe", Kind: fold.Choice, Options: kept,
		What: fold.What{By: "eye", Of: "tool/" + c.tool, Dir: "kept"}}
	face := length("face", "skimmed face: W X "+kit.Signed(p, c.face.X)+" Y "+kit.Signed(p, c.face.Y), "probe", c.of(), "z-", "z")
	face.Do = []fold.Act{{Do: "fit", Of: "probe", Words: "Spindle stopped, its command off. Probe in, chips brushed off. Touch the skimmed " +
		"face, then the rim beside it."}}
	rim := length("rim", "rim of the fixture beside it", "probe", "rim@"+kit.Place(c.rim.X)+","+kit.Place(c.rim.Y), "z-", "z")
	rim.Window = kit.RimNow(p, v, c.rim, kit.Refitted)
	if f, ok := v.Num("face", unit.KLength); ok {
		rim.Window = kit.Closer(rim.Window, kit.Touched(p, v, f-c.overRim(v, expected), kit.OverFloor, "the face and the pass"))
	} else if rim.Window != nil {
		face.Window = kit.Touched(p, v, rim.Window.Want+c.overRim(v, expected), rim.Window.Half, "the rim and the pass")
	}
	return append(asks, how, face, rim)
}

// passWindow is where the program's pass stands that skims under the raise: as deep as is planned, but no deeper than its lowest one.
func (c firstCut) passWindow(v fold.View) *fold.Window {
	z := checks.PartTop(c.p, v) - c.p.Setup.Cut.Ap - c.raise
	if low := c.p.Setup.Cut.Lowest; low > z {
		return kit.Around(low, 2, "the lowest pass of the program")
	}
	return kit.Around(z, 2, "a first cut of the planned depth")
}

// overRim is how high the face of a pass should stand over the rim.
func (c firstCut) overRim(v fold.View, pass float64) float64 {
	return pass + v.Len("raised") - desk.SeatZ(c.p) - kit.RimHeight(c.p)
}

func (c firstCut) of() string {
	return "skimmed/" + c.tool + "@" + kit.Place(c.face.X) + "," + kit.Place(c.face.Y)
}

// back is how the cutter comes in again: without a probe it never went out.
func (c firstCut) back() string {
	if kit.Probes(c.p) {
		return "Probe out, the cutter in again. "
	}
	return "Gauge off the table. "
}

// height is how much higher than programmed the cutter cut, as read so far.
func (c firstCut) height(v fold.View) (h calc.Height, d calc.Decision, ok bool, err error) {
	return c.heightBy(v, c.looks(v, v.Goes(func(v fold.View) bool {
		h, _, ok, err := c.heightBy(v, c.looks(v, 0))
		return ok && err == nil && c.judged(v, h).Verdict == fold.NotProven
	}, touches...)))
}

// heightBy is the height with a guard of that factor.
func (c firstCut) heightBy(v fold.View, factor float64) (h calc.Height, d calc.Decision, ok bool, err error) {
	p := c.p
	pass, ok1 := v.Num("pass", unit.KLength)
	s := calc.Skim{RimHeight: kit.RimHeight(p), Apart: c.apart}
	ok2 := false
	if p.Job.Machine.Probe != nil {
		f, read1 := v.Num("face", unit.KLength)
		r, read2 := v.Num("rim", unit.KLength)
		s.Face, s.Rim, ok2 = f, r, read1 && read2
		s.Touch, _ = judge.ProbeS(p)
		s.Refitted = fold.SameAnswer(v.Text("kept"), kept[1])
	} else {
		s.Face, ok2 = v.Num("over", unit.KLength)
		s.Touch = 0.003 // a depth gauge of 0.01 divisions (common practice, from memory)
		if c.p.Short() && v.Has("dialrim") && v.Has("dialface") {
			s.Face, s.Rim, s.Touch = v.Len("dialface"), v.Len("dialrim"), dialZ(p)
		}
	}
	if !ok1 || !ok2 {
		return h, d, false, nil
	}
	s.Programmed = pass + v.Len("raised") - desk.SeatZ(p)
	s.Tilt = c.tilt(v)
	if h, err = s.Height(); err != nil {
		return h, d, true, err
	}
	h.Guard *= factor / budget.OneSided // of a rectangle it is more than is needed
	left := math.Inf(1)                 // above its finished height
	if f, ok := v.Num("finished", unit.KLength); ok {
		left = pass + v.Len("raised") - f
	}
	return h, h.Decide(calc.Plan{Allowance: p.Limit("skim.height").Max / calc.HeightShare, Cutters: 2, Left: left, Raised: v.Len("raised")}),
		true, nil
}

// tilt is how far the floor may lean under the cut, as a ratio: as it was measured, and its guard; what was not may lean to its limit.
func (c firstCut) tilt(v fold.View) float64 {
	p := c.p
	most := p.Limit("floor.tilt").Max / math.Max(math.Max(p.Job.Part.Size[0], p.Job.Part.Size[1]), 1)
	f, ok := facts.Floor.In(v)
	if !ok || !v.Walks(4) || f.TiltX == 0 && f.TiltY == 0 {
		return most
	}
	x := flooringOf(p)
	return math.Hypot(float64(f.TiltX), float64(f.TiltY)) + budget.OneSided*x.tiltU(v)
}

// check judges it; true when the raise may not come out like this.
func (c firstCut) check(v fold.View, o *fold.Outcome) bool {
	p := c.p
	h, d, ok, err := c.height(v)
	if err != nil {
		*o = kit.Cannot(p, "skim", err, *o)
	}
	if !ok || err != nil {
		return !ok
	}
	k := c.judged(v, h)
	way := "HIGH: it cut too little"
	if h.D < 0 {
		way = "LOW: it cut too deep"
	}
	o.Lines = append(o.Lines, fold.Row{Label: "cutter stands high by", Value: h.D, Guard: h.Guard, Unit: unit.KLength, Signed: true, Big: true,
		Verdict: k.Verdict})
	if k.Verdict == fold.Pass {
		o.Checks = append(o.Checks, k)
		return false
	}
	k.Words = fmt.Sprintf("The cutter stands %s %s. ", p.Len(math.Abs(h.D)), way)
	act := d.Act
	if k.Verdict == fold.NotProven {
		act = calc.Measure
	}
	switch act {
	case calc.TooThin:
		k.Words += "The face lies under its finished height: no correction brings that back."
		o.Next = append(o.Next, fold.Act{Do: "stop", Of: "part", Words: "Stop. " + k.Words +
			" Decide by the drawing; accept it by typing the number, or end here."})
	case calc.TouchCutter:
		k.Words += "That is no offset: its length is wrong."
		o.Named = "tool-pulled"
		o.Next = append(o.Next, fold.Act{Do: "measure", Of: "tools", Words: "Raise Z. " + k.Words +
			" Touch the cutter anew; the other tools were typed the same way: look at them too."},
			fold.Act{Do: "declare", Of: "tool-pulled", Dir: c.tool})
	case calc.Measure:
		k.Words += "Not proven: " + k.Largest + " is the largest doubt."
		o.Next = append(o.Next, c.lookAgain(v, k.Words)...)
	default:
		by := -h.D
		word := "UP"
		if by < 0 {
			word = "DOWN"
		}
		o.Next = append(o.Next, fold.Act{Do: "key", Of: "length/" + c.tool, Dir: "by", Amount: by,
			Words: fmt.Sprintf("Length entry or wear of T%s: its tip %s by %s. Read it back. Nothing else changes; the raise goes in again for the "+
				"next skim.", c.tool, word, p.Len(math.Abs(by)))}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, k)
	return true
}
