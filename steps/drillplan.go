package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// drillPlan is how deep each drill goes, in how many pecks, and what is left under it.
type drillPlan struct {
	rows   []Row
	checks []Check
	notes  []string
}

// coreDrill is the drill of a matched thread: of several the narrowest.
func (p *Plan) coreDrill() (n int, t jobs.Tool, ok bool) {
	ds := p.drills()
	for _, k := range ds {
		if d := p.Job.Tools[k]; !ok || d.Dia < t.Dia {
			n, t, ok = k, d, true
		}
	}
	return n, t, ok && len(ds) > 1
}

// drillPlan is made at the desk and shown on the drill page. Depths count along the hole;
// W Z is the tip's height in the program. Typing a full depth for a tip depth shortens a
// thread by the point, and nobody sees it: both are shown.
func (p *Plan) drillPlan() (d drillPlan) {
	th, s := p.Job.Fixture.Threads, p.Setup.Screws
	thread, err := hold.ThreadNamed(s.Thread)
	known := err == nil
	hs, err := hold.HolesOf(thread)
	sized := known && err == nil
	peck := 1.0
	if m, err := p.Job.Library().Like(p.Job.Part.Material); err == nil && m.Peck > 0 {
		peck = m.Peck
	}
	over := p.Job.Part.Size[2] + p.Job.Part.Skin[1] // solid over the seat before side 2 is cut
	if t, ok := p.openingDrill(); ok && t.Point < 180 {
		n := p.numberOf(t)
		h := hold.Through{Drill: unit.Length(t.Dia), Point: unit.Angle(t.Point * math.Pi / 180), Relief: unit.Length(th.Relief), ReliefDia: unit.Length(th.ReliefDia), Seat: unit.Length(p.seatZ())}
		if known {
			h.ThreadMinor = thread.D1
		}
		if h.ReliefDia == 0 {
			h.ReliefDia = unit.Length(2 * t.Dia)
		}
		d.row("tool "+n+" through the part", fmt.Sprintf("%s at %g deg", p.len(t.Dia), t.Point))
		if r, err := h.Depth(); err == nil {
			d.depths(p, r.Tip, 0.2, r.TipZ)
			if r.Left >= 0 {
				d.row("left under the point", p.len(float64(r.Left)))
			} else {
				d.notes = append(d.notes, fmt.Sprintf("The point enters the thread at %s across, %s from its flanks: make the relief deeper than %s.", p.len(float64(r.Enters)), p.len(float64(r.SideRoom)), p.len(float64(r.Tip))))
			}
		} else {
			d.depths(p, unit.Length(tipBelowSeat(t)), 0.2, unit.Length(p.seatZ()-tipBelowSeat(t)))
			d.notes = append(d.notes, "The fixture card gives no relief under the part: the point must have room there.")
		}
		d.pecks(p, over+tipBelowSeat(t), t.Dia, peck)
		if t.Flute > 0 && t.Flute < over+tipBelowSeat(t) {
			d.checks = append(d.checks, Check{Limit: Limit{ID: "drill.flute", Why: "depth drilled against the drill's flutes", Max: t.Flute, Class: Hard, Unit: unit.KLength}, Got: over + tipBelowSeat(t), Verdict: Fail,
				Words: fmt.Sprintf("Flutes of %s do not lift chips from %s deep: take a longer drill.", p.len(t.Flute), p.len(over+tipBelowSeat(t)))})
		}
		if sized {
			fit := "wider than the coarse series"
			switch dia := t.Dia + 1e-9; {
			case dia < float64(thread.D):
				fit = "narrower than the screw"
			case dia < float64(hs.Fine):
				fit = "narrower than the fine series"
			case dia < float64(hs.Medium):
				fit = "fine"
			case dia < float64(hs.Coarse), hs.Coarse == 0:
				fit = "medium"
			case dia < float64(hs.Coarse)*1.15:
				fit = "coarse"
			}
			d.row("as a hole for "+thread.Name, fmt.Sprintf("%s (%s: fine %s, medium %s)", fit, map[bool]string{false: "ISO 273", true: "number drills"}[thread.Unified], p.len(float64(hs.Fine)), p.len(float64(hs.Medium))))
		}
	}
	if n, t, ok := p.coreDrill(); ok && p.Setup.HoldDown == "M" && known {
		d.matched(p, n, t, thread, hs, sized, over)
	}
	if th.Kind == "insert" {
		d.notes = append(d.notes, "The hole for an insert follows its maker's sheet: no published table of such holes is known here.")
	}
	return d
}

// matched is the core hole through part and fixture.
func (d *drillPlan) matched(p *Plan, n int, t jobs.Tool, thread hold.Thread, hs hold.Holes, sized bool, over float64) {
	th := p.Job.Fixture.Threads
	lead := 4.0
	for _, l := range hold.Leads {
		if l.Tap == th.Tap {
			lead = l.Usual
		}
	}
	b := hold.Blind{Drill: unit.Length(t.Dia), Point: unit.Angle(t.Point * math.Pi / 180), Pitch: thread.P, Thread: unit.Length(th.Depth), Relief: unit.Length(th.Relief),
		Lead: lead, Base: unit.Length(p.Job.Fixture.AsMade.Floor.Under), From: unit.Length(-p.seatZ())}
	r, err := b.Depth()
	if err != nil {
		d.notes = append(d.notes, "The core hole is not computed: "+err.Error()+".")
		return
	}
	d.row(fmt.Sprintf("tool %d, core hole", n), fmt.Sprintf("%s at %g deg, %s tap (%g threads of lead)", p.len(t.Dia), t.Point, th.Tap, lead))
	d.depths(p, r.Tip, r.Full, r.TipZ)
	peck := 1.0
	if m, err := p.Job.Library().Like(p.Job.Fixture.Material); err == nil && m.Peck > 0 {
		peck = m.Peck
	}
	d.pecks(p, over+float64(r.Tip), t.Dia, peck)
	c := Judged(Limit{ID: "drill.floor", Why: "floor left under the core hole: what is missing of 1.5 mm", Class: Hard, Unit: unit.KLength}, math.Max(0, 1.5-float64(r.Left)), 0)
	if c.Verdict != Pass {
		c.Words = fmt.Sprintf("%s of floor is left under the core holes: shorter thread, or a bottoming tap.", p.len(float64(r.Left)))
	}
	d.checks = append(d.checks, c)
	d.row("floor left under it", p.len(float64(r.Left)))
	if sized && math.Abs(t.Dia-float64(hs.Tap)) > 0.05 {
		d.notes = append(d.notes, fmt.Sprintf("The tap drill of %s is %s; tool %d is %s.", thread.Name, p.len(float64(hs.Tap)), n, p.len(t.Dia)))
	}
}

func (d *drillPlan) row(label, text string) {
	d.rows = append(d.rows, Row{Label: label, Text: text})
}

func (d *drillPlan) depths(p *Plan, tip, full, z unit.Length) {
	d.row("tip below the seat", fmt.Sprintf("%s (full diameter %s), W Z %s", p.len(float64(tip)), p.len(float64(full)), p.num(float64(z))))
}

func (d *drillPlan) pecks(p *Plan, depth, dia, peck float64) {
	if k, err := hold.Pecks(unit.Length(depth), unit.Length(dia), peck); err == nil {
		d.row("pecks, drawn out fully", fmt.Sprintf("%d of %s at most", k, p.len(peck*dia)))
	}
}

// holePlaces are the drilling positions: in machine coordinates through the measured offset
// and the rotation in the control, or as the readout shows them, over the part as it lies.
func (p *Plan) holePlaces(get func(FactID) (Fact, bool)) (at []frame.Vec, readout bool, ok bool) {
	f, ok := get("offset")
	if !ok {
		return nil, false, false
	}
	o := readOffset(f)
	readout = p.Job.Machine.Delivers == "readout"
	for _, q := range p.Setup.Screws.At {
		w := vec(q)
		if readout {
			e := o.fix.Error(o.place, w)
			at = append(at, frame.Vec{X: w.X + e.X, Y: w.Y + e.Y})
		} else {
			at = append(at, o.place.Motion().Apply(w))
		}
	}
	return at, readout, true
}

// placeRows show them.
func (p *Plan) placeRows(get func(FactID) (Fact, bool)) []Row {
	at, readout, ok := p.holePlaces(get)
	if !ok {
		return []Row{{Label: "hole positions", Text: "once the offset is measured"}}
	}
	frameWord := "M"
	if readout {
		frameWord = "readout"
	}
	var rows []Row
	for i, q := range at {
		rows = append(rows, Row{Label: fmt.Sprintf("hole %d, %s", i+1, frameWord), Text: fmt.Sprintf("X %s  Y %s", unit.Signed(q.X, unit.KLength, p.Job.Unit, 0), unit.Signed(q.Y, unit.KLength, p.Job.Unit, 0))})
	}
	return rows
}

// placeAsks tick each hole of a machine that is driven by its readout: what is displayed
// over the hole is typed before it is drilled.
func (p *Plan) placeAsks(get func(FactID) (Fact, bool)) []Ask {
	at, readout, ok := p.holePlaces(get)
	if !ok || !readout {
		return nil
	}
	var asks []Ask
	for i, q := range at {
		for a, ax := range []string{"x", "y"} {
			want := []float64{q.X, q.Y}[a]
			k := Ask{Field: fmt.Sprintf("hole%d.%s", i+1, ax), Label: fmt.Sprintf("hole %d, %s as displayed", i+1, Capital(ax)), Kind: Reading, Unit: unit.KLength, Form: fmt.Sprintf("hole%d", i+1),
				What: What{By: "readout", Of: fmt.Sprintf("hole/%d", i+1), Axis: ax}, Window: around(want, math.Max(0.01, 2*p.keyed()), "the place of the hole")}
			if a == 0 {
				k.Do = []Act{{Do: "drive", Of: fmt.Sprintf("hole/%d", i+1), Words: fmt.Sprintf("Drive to hole %d, X %s Y %s, lock the slides. Type what is displayed, then drill it.", i+1, p.num(q.X), p.num(q.Y))}}
			}
			asks = append(asks, k)
		}
	}
	return asks
}

// placeChecks hold what was displayed against where each hole belongs.
func (p *Plan) placeChecks(v View, o *Outcome) {
	at, readout, ok := p.holePlaces(v.Fact)
	if !ok || !readout {
		return
	}
	l := p.Limit("drill.place")
	for i, q := range at {
		for a, ax := range []string{"x", "y"} {
			field := fmt.Sprintf("hole%d.%s", i+1, ax)
			if !v.Has(field) {
				continue
			}
			k := l
			k.ID += "." + field
			k.Why += fmt.Sprintf(", hole %d %s", i+1, Capital(ax))
			c := Judged(k, math.Abs(v.Len(field)-[]float64{q.X, q.Y}[a]), 0)
			if !c.Verdict.OK() {
				c.Words = fmt.Sprintf("Hole %d was drilled at %s %s, it belongs at %s.", i+1, Capital(ax), p.num(v.Len(field)), p.num([]float64{q.X, q.Y}[a]))
			}
			o.Checks = append(o.Checks, c)
		}
	}
}
