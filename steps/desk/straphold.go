package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
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

// StrapHolds computes the straps at the torque that was read, or at the job's when it is 0.
func StrapHolds(p *fold.Plan, read unit.Torque) (h strapHold) {
	ground := clearance.NewGround(support(p)...)
	var straps []hold.Strap
	var tips [][2]float64
	for _, c := range p.Setup.Clamps {
		at, ok := Tip(p, c)
		d, err := hold.BoltDiameter(c.Bolt)
		if !ok || err != nil {
			h.notes = append(h.notes, fmt.Sprintf("Clamp %q is not computed: its tip does not lie on the part, or its bolt %q is not understood.", c.Name, c.Bolt))
			continue
		}
		s := hold.Strap{Bolt: unit.Length(d), Torque: c.Torque, K: strapK, Heel: unit.Length(c.Heel), Tip: unit.Length(c.Tip), Mu: friction(p).Low}
		if read > 0 {
			s.Torque = read
		}
		f, err := s.Force()
		if err != nil {
			h.notes = append(h.notes, fmt.Sprintf("Clamp %q is not computed: %v.", c.Name, err))
			continue
		}
		straps, tips = append(straps, s), append(tips, [2]float64{at.X, at.Y})
		h.Rows = append(h.Rows, fold.Row{Label: "clamp " + c.Name, Text: fmt.Sprintf("bolt %s, tip %s (at least %s), sideways %s", newtons(p, float64(f.Bolt)), newtons(p, float64(f.Tip)), newtons(p, float64(f.TipLow)), newtons(p, float64(f.SideLow)))})
		if f.Reversed {
			h.named = "strap-lever-reversed"
			words := fmt.Sprintf("Clamp %q: %.0f %% of its bolt's force goes into the heel block. Set the bolt nearer the part: %s instead of %s at the tip.", c.Name, 100*f.HeelShare, newtons(p, float64(f.Swapped)), newtons(p, float64(f.Tip)))
			h.checks = append(h.checks, fold.Check{Limit: fold.Limit{ID: "straps.lever." + slug(c.Name), Why: fmt.Sprintf("clamp %q has its bolt nearer the part than the heel", c.Name), Class: fold.Soft}, Count: true, Got: 1, Verdict: fold.Fail, Words: words})
			h.next = words
		}
		if foot := ground.Footing(clearance.Point{X: at.X, Y: at.Y}, 0); len(p.Job.Fixture.Support) > 0 && foot < -1e-3 {
			h.named = "strap-over-hollow"
			words := fmt.Sprintf("The tip of clamp %q, as drawn at X %s Y %s, stands over a hollow of the fixture card, %s from solid. %s", c.Name, p.Num(at.X), p.Num(at.Y), p.Len(-foot), strapBow(p, c, at, float64(f.Tip), ground))
			h.checks = append(h.checks, fold.Check{Limit: fold.Limit{ID: "straps.solid." + slug(c.Name), Why: fmt.Sprintf("the tip of clamp %q presses above solid fixture", c.Name), Class: fold.Hard}, Count: true, Got: 1, Verdict: fold.Fail, Words: words})
			h.next = words + " Move it in the job and on the table."
		}
	}
	if len(straps) > 0 {
		strapsAgainstDrill(p, straps, tips, &h)
	}
	return h
}

// strapsAgainstDrill holds the straps against the heaviest drill, at both ends of the
// part's specific force and of the friction.
func strapsAgainstDrill(p *fold.Plan, straps []hold.Strap, tips [][2]float64, h *strapHold) {
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil || !part.Kc11.Known() {
		h.notes = append(h.notes, fmt.Sprintf("The straps are not held against drilling: no specific cutting force of %s is known; give it in the job's materials.", p.Job.Part.Material))
		return
	}
	t, ok := OpeningDrill(p)
	if !ok {
		h.notes = append(h.notes, "The straps are not held against drilling: the job has no drill with its point angle.")
		return
	}
	feed := t.Feed
	if feed == 0 {
		feed = feedShare * t.Dia
		h.notes = append(h.notes, fmt.Sprintf("The drill's feed is not in the job: %s a turn is reckoned with.", p.Len(feed)))
	}
	mu := friction(p)
	var held [2]hold.StrapHold
	var load [2]hold.DrillLoad
	for i, end := range []struct{ kc, mu float64 }{{part.Kc11.High, mu.Low}, {part.Kc11.Low, mu.High}} {
		d := hold.Drilling{Dia: unit.Length(t.Dia), Point: unit.Angle(t.Point * math.Pi / 180), Feed: unit.Length(feed), Kc11: end.kc, Mc: part.Mc, Wear: hold.WornEdge}
		if load[i], err = d.Load(); err == nil {
			set := make([]hold.Strap, len(straps))
			for k, s := range straps {
				s.Mu = end.mu
				set[k] = s
			}
			held[i], err = hold.HoldDrill(set, tips, load[i])
		}
		if err != nil {
			h.notes = append(h.notes, "The straps are not held against drilling: "+err.Error()+".")
			return
		}
	}
	h.Rows = append(h.Rows, fold.Row{Label: "drill " + p.Len(t.Dia), Text: fmt.Sprintf("presses %s, turns %s, lifts %s at breakthrough", newtons(p, float64(load[0].Thrust)), Torque(p, float64(load[0].Torque)), newtons(p, float64(load[0].Lift)))})
	lift := fold.Check{Limit: fold.Limit{ID: "straps.lift", Why: "drill's pull, against half the straps", Max: held[0].Lift * float64(load[0].Lift) / hold.StrapFactor, Class: fold.Hard, Unit: unit.KForce},
		Got: float64(load[0].Lift), Verdict: verdict(hold.Decide(held[0].Lift >= hold.StrapFactor, held[1].Lift >= hold.StrapFactor))}
	lift.Words = fmt.Sprintf("The straps hold it down %.1f times (2).", held[0].Lift)
	turn := fold.Check{Limit: fold.Limit{ID: "straps.turn", Why: "drill's torque, against half the straps", Max: held[0].Turn * float64(load[0].Torque) / hold.StrapFactor, Class: fold.Soft, Unit: unit.KTorque},
		Got: float64(load[0].Torque), Verdict: verdict(hold.Decide(held[0].Turn >= hold.StrapFactor, held[1].Turn >= hold.StrapFactor))}
	turn.Words = fmt.Sprintf("They keep it from turning %.1f times (2).", held[0].Turn)
	if len(straps) == 1 {
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
		return fmt.Sprintf("How far it bows the part is not computed: no stiffness of %s is known (materials.%s.e).", p.Job.Part.Material, p.Job.Part.Material)
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
		return fmt.Sprintf("Where the part is %s thick there, it bows by far too much; where it is solid (%s), by %s.", p.Len(thin), p.Len(thick), p.Len(lo))
	}
	return fmt.Sprintf("It bows the part by %s where it is solid (%s), by %s where it is %s thick.", p.Len(lo), p.Len(thick), p.Len(hi), p.Len(thin))
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

// BeforeDrilling are all questions to answer while the part is still whole: straps, keep-out,
// drill plan, and whether the screws to come hold it in its seat.
func BeforeDrilling(p *fold.Plan, read unit.Torque, o *fold.Outcome) {
	h := StrapHolds(p, read)
	k := DrillKeepOut(p)
	d := DrillPlan(p)
	keep := k.Checks(p, "straps.keepout")
	o.Checks = append(o.Checks, h.checks...)
	o.Checks = append(o.Checks, keep...)
	o.Checks = append(o.Checks, d.Checks...)
	o.Lines = append(o.Lines, h.Rows...)
	for _, notes := range [][]string{h.notes, k.Notes, d.Notes} {
		o.Notes = append(o.Notes, notes...)
	}
	if o.Named == "" {
		o.Named = h.named
	}
	words := []string{h.next}
	for _, c := range append(keep, d.Checks...) {
		if !c.Verdict.OK() {
			words = append(words, c.Words)
		}
	}
	words = append(words, k.Moves(p)...)
	for _, w := range words {
		if w != "" {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: w})
		}
	}
	s := Hold(p, AsFound{})
	if s.Why == "" {
		c := s.Retention(p)
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, s.CeilingRows(p)[:2]...)
		if !c.Verdict.OK() {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: fmt.Sprintf("Do not drill: the screws will not hold a cut of %s. %s Change the job first.", p.Len(p.Setup.Cut.Ap), s.first())})
			o.Notes = append(o.Notes, "What would let it hold, in this order: "+s.advice()+".")
		}
	}
}

// deskStraps judges the straps as drawn.
func deskStraps(p *fold.Plan, d *Desk) {
	if len(p.Setup.Clamps) == 0 {
		return
	}
	h, pl := StrapHolds(p, 0), DrillPlan(p)
	d.HoldDown = append(d.HoldDown, h.Rows...)
	d.HoldDown = append(d.HoldDown, pl.Rows...)
	d.Findings = append(d.Findings, pl.Notes...)
	for _, c := range append(h.checks, pl.Checks...) {
		d.Checks = append(d.Checks, c)
		if !c.Verdict.OK() {
			d.Fails = d.Fails || c.Limit.Class != fold.Soft && c.Verdict == fold.Fail
			d.Findings = append(d.Findings, c.Words)
		}
	}
}
