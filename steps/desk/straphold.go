package desk

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// strapK is the torque coefficient of a clamp's bolt: steel, bare or oiled (Bickford, verified copy).
const strapK = 0.20

// feedShare is the feed per turn of a small drill in diameters, where the job gives none
// (common practice, from memory).
const feedShare = 0.02

// strapHold is what the straps do: their forces, and whether they hold against the drill.
type strapHold struct {
	checks []fold.Check
	Rows   []fold.Row
	notes  []string
	named  string
	next   string
}

// strapped are straps that are computed, with where they press.
type strapped struct {
	straps  []hold.Strap
	tips    [][2]float64
	earlier bool // of a record of the first two walks: slip and turning each by itself
}

// StrapHolds computes the straps at the torque that was read, or at the job's when it is 0.
func StrapHolds(p *fold.Plan, read unit.Torque, w AsFound) (h strapHold) {
	ground := clearance.NewGround(support(p)...)
	on := strapped{earlier: w.Earlier}
	for _, c := range p.Setup.Clamps {
		at, ok := Tip(p, c)
		d, err := hold.BoltDiameter(c.Bolt)
		if !ok || err != nil {
			h.notes = append(h.notes, fmt.Sprintf("Clamp %q is not computed: its tip does not lie on the part, or its bolt %q is not understood.",
				c.Name, c.Bolt))
			continue
		}
		s := hold.Strap{Bolt: unit.Length(d), Torque: c.Torque, K: strapK, Heel: unit.Length(c.Heel), Tip: unit.Length(c.Tip),
			Mu: friction(p).Low}
		if read > 0 {
			s.Torque = read
		}
		f, err := s.Force()
		if err != nil {
			h.notes = append(h.notes, fmt.Sprintf("Clamp %q is not computed: %v.", c.Name, err))
			continue
		}
		on.straps, on.tips = append(on.straps, s), append(on.tips, [2]float64{at.X, at.Y})
		h.drawn(p, c, at, f, ground)
	}
	if len(on.straps) > 0 {
		h.againstDrill(p, on)
	}
	return h
}

// PlacedStrap is a strap of the job with where it presses.
type PlacedStrap struct {
	Tip   [2]float64
	Force hold.StrapForce
}

// Straps are the job's that can be computed, at the torque that was read, or at their own when it is 0.
func Straps(p *fold.Plan, read unit.Torque) (out []PlacedStrap) {
	for _, c := range p.Setup.Clamps {
		at, ok := Tip(p, c)
		d, err := hold.BoltDiameter(c.Bolt)
		if !ok || err != nil {
			continue
		}
		s := hold.Strap{Bolt: unit.Length(d), Torque: c.Torque, K: strapK, Heel: unit.Length(c.Heel), Tip: unit.Length(c.Tip),
			Mu: friction(p).Low}
		if read > 0 {
			s.Torque = read
		}
		if f, err := s.Force(); err == nil {
			out = append(out, PlacedStrap{[2]float64{at.X, at.Y}, f})
		}
	}
	return out
}

// drawn judges one strap as it is drawn: its lever, and what it presses above.
func (h *strapHold) drawn(p *fold.Plan, c jobs.Clamp, at jobs.Point, f hold.StrapForce, ground clearance.Ground) {
	h.Rows = append(h.Rows, fold.Row{Label: "clamp " + c.Name, Text: fmt.Sprintf("bolt %s, tip %s (at least %s), sideways %s",
		newtons(p, float64(f.Bolt)), newtons(p, float64(f.Tip)), newtons(p, float64(f.TipLow)), newtons(p, float64(f.SideLow)))})
	fails := func(id, why string, class fold.Class, words string) {
		k := judge.So(fold.Limit{ID: id + slug(c.Name), Why: why, Class: class}, false, words)
		k.Got = 1
		h.checks = append(h.checks, k)
	}
	if f.Reversed {
		h.named = "strap-lever-reversed"
		h.next = fmt.Sprintf("Clamp %q: %.0f %% of its bolt's force goes into the heel block. Set the bolt nearer the part: %s instead of %s at "+
			"the tip.",
			c.Name, 100*f.HeelShare, newtons(p, float64(f.Swapped)), newtons(p, float64(f.Tip)))
		fails("straps.lever.", fmt.Sprintf("clamp %q has its bolt nearer the part than the heel", c.Name), fold.Soft, h.next)
	}
	if foot := ground.Footing(clearance.Point{X: at.X, Y: at.Y}, 0); len(p.Job.Fixture.Support) > 0 && foot < -1e-3 {
		h.named = "strap-over-hollow"
		words := fmt.Sprintf("The tip of clamp %q, as drawn at X %s Y %s, stands over a hollow of the fixture card, %s from solid. %s",
			c.Name, p.Num(at.X), p.Num(at.Y), p.Len(-foot), strapBow(p, c, at, float64(f.Tip), ground))
		fails("straps.solid.", fmt.Sprintf("the tip of clamp %q presses above solid fixture", c.Name), fold.Hard, words)
		h.next = words + " Move it in the job and on the table."
	}
}

// drillEnd is a drill against the straps at one end of what is known.
type drillEnd struct {
	load hold.DrillLoad
	held hold.StrapHold
}

// againstDrill holds the straps against the heaviest drill, at both ends of the
// part's specific force and of the friction.
func (h *strapHold) againstDrill(p *fold.Plan, on strapped) {
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil || !part.Kc11.Known() {
		h.notes = append(h.notes, fmt.Sprintf("The straps are not held against drilling: no specific cutting force of %s is known; give it in "+
			"the job's materials.", p.Job.Part.Material))
		return
	}
	t, ok := OpeningDrill(p)
	if !ok {
		h.notes = append(h.notes, "The straps are not held against drilling: the job has no drill with its point angle.")
		return
	}
	if t.Feed == 0 {
		t.Feed = feedShare * t.Dia
		h.notes = append(h.notes, fmt.Sprintf("The drill's feed is not in the job: %s a turn is reckoned with.", p.Len(t.Feed)))
	}
	mu := friction(p)
	low, err := on.held(t, part, part.Kc11.High, mu.Low)
	if err == nil {
		var high drillEnd
		if high, err = on.held(t, part, part.Kc11.Low, mu.High); err == nil {
			h.judge(p, t, len(on.straps), low, high)
			return
		}
	}
	h.notes = append(h.notes, "The straps are not held against drilling: "+err.Error()+".")
}

// held is the drill against the straps at a specific force of the part and a friction.
func (s strapped) held(t jobs.Tool, part hold.Material, kc, mu float64) (e drillEnd, err error) {
	d := hold.Drilling{Dia: unit.Length(t.Dia), Point: unit.Angle(t.Point * math.Pi / 180), Feed: unit.Length(t.Feed), Kc11: kc, Mc: part.Mc,
		Wear: hold.WornEdge}
	if e.load, err = d.Load(); err != nil {
		return e, err
	}
	set := slices.Clone(s.straps)
	for i := range set {
		set[i].Mu = mu
	}
	if s.earlier {
		e.held, err = hold.HoldDrill(set, s.tips, e.load)
	} else {
		e.held, err = hold.DrillHeld(set, s.tips, e.load)
	}
	return e, err
}

// judge holds lift and torque of the drill against the straps.
func (h *strapHold) judge(p *fold.Plan, t jobs.Tool, straps int, low, high drillEnd) {
	h.Rows = append(h.Rows, fold.Row{Label: "drill " + p.Len(t.Dia), Text: fmt.Sprintf("presses %s, turns %s, lifts %s at breakthrough",
		newtons(p, float64(low.load.Thrust)), Torque(p, float64(low.load.Torque)), newtons(p, float64(low.load.Lift)))})
	ends := func(l fold.Limit, got, sf, best float64) fold.Check {
		l.Max = sf * got / hold.StrapFactor
		return judge.Ends(l, got, sf >= hold.StrapFactor, best >= hold.StrapFactor)
	}
	lift := ends(fold.Limit{ID: "straps.lift", Why: "drill's pull, against half the straps", Class: fold.Hard, Unit: unit.KForce},
		float64(low.load.Lift), low.held.Lift, high.held.Lift)
	lift.Words = fmt.Sprintf("The straps hold it down %.1f times (2 asked).", low.held.Lift)
	turn := ends(fold.Limit{ID: "straps.turn", Why: "drill's torque, against half the straps", Class: fold.Soft, Unit: unit.KTorque},
		float64(low.load.Torque), low.held.Turn, high.held.Turn)
	turn.Words = fmt.Sprintf("They keep it from turning %.1f times (2 asked).", low.held.Turn)
	if straps == 1 {
		turn.Words = "One strap resists no turning: only the pocket's walls do, within their clearance. Fit a second strap."
	}
	for _, c := range []fold.Check{lift, turn} {
		h.checks = append(h.checks, c)
		if !c.Verdict.OK() && h.next == "" {
			h.next = c.Words + " More torque within what the bolt bears, a second strap, or a lighter feed."
		}
	}
	h.notes = append(h.notes, "Forces of the drill and the straps are estimates (factor 2). The lift at breakthrough is an upper one.")
}

// strapBow is what a tip over a hollow does to the part.
func strapBow(p *fold.Plan, c jobs.Clamp, at jobs.Point, force float64, ground clearance.Ground) string {
	m, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil || !m.Stiffness.Known() {
		return fmt.Sprintf("How far it bows the part is not computed: no stiffness of %s is known (materials.%s.e).", p.Job.Part.Material,
			p.Job.Part.Material)
	}
	span, _, held := ground.Span(clearance.Point{X: at.X, Y: at.Y})
	width := clampWidth(p, c)
	bow := func(thick, e float64) float64 {
		b := hold.Beam{Length: unit.Length(span), Width: unit.Length(width), Thick: unit.Length(thick), E: unit.Stress(e)}
		if b.Valid() != nil {
			return math.NaN()
		}
		s := hold.Fixed
		if !held {
			s = hold.Cantilever
		}
		return float64(b.Centre(s, unit.Force(force)))
	}
	thin, thick := p.Setup.Screws.Through, p.Job.Part.Size[2]
	lo, hi := bow(thick, m.Stiffness.High), bow(thin, m.Stiffness.Low)
	if !(hi > 0) {
		return "How far it bows the part is not computed: the span has no length."
	}
	if hi > thin/2 {
		return fmt.Sprintf("Where the part is %s thick there, it bows by far too much; where it is solid (%s), by %s.", p.Len(thin), p.Len(thick),
			p.Len(lo))
	}
	return fmt.Sprintf("It bows the part by %s where it is solid (%s), by %s where it is %s thick.", p.Len(lo), p.Len(thick), p.Len(hi),
		p.Len(thin))
}

// onPart is what of a clamp lies on the part.
func onPart(p *fold.Plan, c jobs.Clamp) (clearance.Outline, bool) {
	o, err := c.Outline.Convex()
	if err != nil {
		return o, false
	}
	part, err := clearance.Rectangle(0, 0, p.Job.Part.Size[0], p.Job.Part.Size[1])
	if err != nil {
		return o, false
	}
	return clearance.Common(o, part)
}

// clampWidth is the narrower side of what of a clamp lies on the part, mm.
func clampWidth(p *fold.Plan, c jobs.Clamp) float64 {
	o, ok := onPart(p, c)
	if !ok {
		return 10
	}
	b := o.Box()
	return math.Min(b.MaxX-b.MinX, b.MaxY-b.MinY)
}

// Tip is where a clamp presses: as the job says, or the middle of what of it lies on the part.
func Tip(p *fold.Plan, c jobs.Clamp) (jobs.Point, bool) {
	if c.TipAt != nil {
		return *c.TipAt, true
	}
	o, ok := onPart(p, c)
	if !ok {
		return jobs.Point{}, false
	}
	m := o.Centroid()
	return jobs.Point{X: m.X, Y: m.Y}, true
}

// deskStraps judges the straps as drawn.
func deskStraps(p *fold.Plan, d *Desk) {
	if len(p.Setup.Clamps) == 0 {
		return
	}
	h, pl := StrapHolds(p, 0, AsFound{}), DrillPlan(p)
	d.HoldDown = append(d.HoldDown, h.Rows...)
	d.HoldDown = append(d.HoldDown, pl.Rows...)
	d.Findings = append(d.Findings, pl.Notes...)
	d.judged(h.checks...)
	d.judged(pl.Checks...)
}
