package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// drillPlan is how deep each drill goes, in how many pecks, and what is left under it.
type drillPlan struct {
	Rows   []fold.Row
	Checks []fold.Check
	Notes  []string
}

// CoreDrill is the drill of a matched thread: of several the narrowest.
func CoreDrill(p *fold.Plan) (n int, t jobs.Tool, ok bool) {
	ds := Drills(p)
	for _, k := range ds {
		if d := p.Job.Tools[k]; !ok || d.Dia < t.Dia {
			n, t, ok = k, d, true
		}
	}
	return n, t, ok && len(ds) > 1
}

// DrillPlan is made at the desk and shown on the drill page. Depths count along the hole;
// W Z is the tip's height in the program. Typing a full depth for a tip depth shortens a
// thread by the point, and nobody sees it: both are shown.
func DrillPlan(p *fold.Plan) (d drillPlan) {
	th, s := p.Job.Fixture.Threads, p.Setup.Screws
	thread, err := hold.ThreadNamed(s.Thread)
	known := err == nil
	hs, err := hold.HolesOf(thread)
	sized := known && err == nil
	over := p.Job.Part.Size[2] + p.Job.Part.Skin[1] // solid over the seat before side 2 is cut
	if t, ok := OpeningDrill(p); ok && t.Point < 180 {
		d.opening(p, t, thread, known, over)
		if sized {
			d.row("as a hole for "+thread.Name, fmt.Sprintf("%s (%s: fine %s, medium %s)", holeFit(t.Dia, thread, hs),
				map[bool]string{false: "ISO 273", true: "number drills"}[thread.Unified], p.Len(float64(hs.Fine)), p.Len(float64(hs.Medium))))
		}
	}
	if n, t, ok := CoreDrill(p); ok && p.Setup.HoldDown == "M" && known {
		d.matched(p, n, t, thread, hs, sized, over)
	}
	if th.Kind == "insert" {
		d.Notes = append(d.Notes, "The hole for an insert follows its maker's sheet: no published table of such holes is known here.")
	}
	return d
}

// holeFit says how wide a hole is for a screw.
func holeFit(hole float64, thread hold.Thread, hs hold.Holes) string {
	switch dia := hole + 1e-9; {
	case dia < float64(thread.D):
		return "narrower than the screw"
	case dia < float64(hs.Fine):
		return "narrower than the fine series"
	case dia < float64(hs.Medium):
		return "fine"
	case dia < float64(hs.Coarse), hs.Coarse == 0:
		return "medium"
	case dia < float64(hs.Coarse)*1.15:
		return "coarse"
	}
	return "wider than the coarse series"
}

// pecking is how deep a peck is in a material, in diameters; 1 where the table does not say.
func pecking(p *fold.Plan, material string) float64 {
	if m, err := p.Job.Library().Like(material); err == nil && m.Peck > 0 {
		return m.Peck
	}
	return 1
}

// opening is the hole through the part, over so much that is solid.
func (d *drillPlan) opening(p *fold.Plan, t jobs.Tool, thread hold.Thread, known bool, over float64) {
	th := p.Job.Fixture.Threads
	h := hold.Through{Drill: unit.Length(t.Dia), Point: unit.Angle(t.Point * math.Pi / 180), Relief: unit.Length(th.Relief),
		ReliefDia: unit.Length(th.ReliefDia), Seat: unit.Length(SeatZ(p))}
	if known {
		h.ThreadMinor = thread.D1
	}
	if h.ReliefDia == 0 {
		h.ReliefDia = unit.Length(2 * t.Dia)
	}
	d.row("tool "+NumberOf(p, t)+" through the part", fmt.Sprintf("%s at %g deg", p.Len(t.Dia), t.Point))
	if r, err := h.Depth(); err == nil {
		d.depths(p, r.Tip, 0.2, r.TipZ)
		if r.Left >= 0 {
			d.row("left under the point", p.Len(float64(r.Left)))
		} else {
			d.Notes = append(d.Notes, fmt.Sprintf("The point enters the thread at %s across, %s from its flanks: make the relief deeper than %s.",
				p.Len(float64(r.Enters)), p.Len(float64(r.SideRoom)), p.Len(float64(r.Tip))))
		}
	} else {
		d.depths(p, unit.Length(TipBelowSeat(t)), 0.2, unit.Length(SeatZ(p)-TipBelowSeat(t)))
		d.Notes = append(d.Notes, "The fixture card gives no relief under the part: the point must have room there.")
	}
	deep := over + TipBelowSeat(t)
	d.pecks(p, deep, t.Dia, pecking(p, p.Job.Part.Material))
	if t.Flute > 0 && t.Flute < deep {
		d.Checks = append(d.Checks, fold.Check{Limit: fold.Limit{ID: "drill.flute", Why: "depth drilled against the drill's flutes",
			Max: t.Flute, Class: fold.Hard, Unit: unit.KLength}, Got: deep, Verdict: fold.Fail,
			Words: fmt.Sprintf("Flutes of %s do not lift chips from %s deep: take a longer drill.", p.Len(t.Flute), p.Len(deep))})
	}
}

// matched is the core hole through part and fixture.
func (d *drillPlan) matched(p *fold.Plan, n int, t jobs.Tool, thread hold.Thread, hs hold.Holes, sized bool, over float64) {
	th := p.Job.Fixture.Threads
	lead := 4.0
	for _, l := range hold.Leads {
		if l.Tap == th.Tap {
			lead = l.Usual
		}
	}
	b := hold.Blind{Drill: unit.Length(t.Dia), Point: unit.Angle(t.Point * math.Pi / 180), Pitch: thread.P, Thread: unit.Length(th.Depth),
		Relief: unit.Length(th.Relief),
		Lead:   lead, Base: unit.Length(p.Job.Fixture.AsMade.Floor.Under), From: unit.Length(-SeatZ(p))}
	r, err := b.Depth()
	if err != nil {
		d.Notes = append(d.Notes, "The core hole is not computed: "+err.Error()+".")
		return
	}
	d.row(fmt.Sprintf("tool %d, core hole", n), fmt.Sprintf("%s at %g deg, %s tap (%g threads of lead)", p.Len(t.Dia), t.Point, th.Tap, lead))
	d.depths(p, r.Tip, r.Full, r.TipZ)
	d.pecks(p, over+float64(r.Tip), t.Dia, pecking(p, p.Job.Fixture.Material))
	c := judge.Of(fold.Limit{ID: "drill.floor", Why: "floor left under the core hole: what is missing of 1.5 mm", Class: fold.Hard,
		Unit: unit.KLength}, math.Max(0, 1.5-float64(r.Left)), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("%s of floor is left under the core holes: shorter thread, or a bottoming tap.", p.Len(float64(r.Left)))
	}
	d.Checks = append(d.Checks, c)
	d.row("floor left under it", p.Len(float64(r.Left)))
	if sized && math.Abs(t.Dia-float64(hs.Tap)) > 0.05 {
		d.Notes = append(d.Notes, fmt.Sprintf("The tap drill of %s is %s; tool %d is %s.", thread.Name, p.Len(float64(hs.Tap)), n, p.Len(t.Dia)))
	}
}

func (d *drillPlan) row(label, text string) {
	d.Rows = append(d.Rows, fold.Row{Label: label, Text: text})
}

func (d *drillPlan) depths(p *fold.Plan, tip, full, z unit.Length) {
	d.row("tip below the seat", fmt.Sprintf("%s (full diameter %s), W Z %s", p.Len(float64(tip)), p.Len(float64(full)), p.Num(float64(z))))
}

func (d *drillPlan) pecks(p *fold.Plan, depth, dia, peck float64) {
	if k, err := hold.Pecks(unit.Length(depth), unit.Length(dia), peck); err == nil {
		d.row("pecks, drawn out fully", fmt.Sprintf("%d of %s at most", k, p.Len(peck*dia)))
	}
}

// holePlaces are the drilling positions: in machine coordinates through the measured offset
// and the rotation in the control, or as the readout shows them, over the part as it lies.
func holePlaces(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) (at []frame.Vec, readout bool, ok bool) {
	f, ok := get("offset")
	if !ok {
		return nil, false, false
	}
	o := kit.ReadOffset(f)
	readout = p.Job.Machine.Delivers == "readout"
	for _, q := range p.Setup.Screws.At {
		w := kit.Vec(q)
		if readout {
			e := o.Fixture.Error(o.Place, w)
			at = append(at, frame.Vec{X: w.X + e.X, Y: w.Y + e.Y})
		} else {
			at = append(at, o.Place.Motion().Apply(w))
		}
	}
	return at, readout, true
}

// PlaceRows show them.
func PlaceRows(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) []fold.Row {
	at, readout, ok := holePlaces(p, get)
	if !ok {
		return []fold.Row{{Label: "hole positions", Text: "once the offset is measured"}}
	}
	frameWord := "M"
	if readout {
		frameWord = "readout"
	}
	var rows []fold.Row
	for i, q := range at {
		rows = append(rows, fold.Row{Label: fmt.Sprintf("hole %d, %s", i+1, frameWord),
			Text: fmt.Sprintf("X %s  Y %s", unit.Signed(q.X, unit.KLength, p.Job.Unit, 0), unit.Signed(q.Y, unit.KLength, p.Job.Unit, 0))})
	}
	return rows
}

// PlaceAsks tick each hole of a machine that is driven by its readout: what is displayed
// over the hole is typed before it is drilled.
func PlaceAsks(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) []fold.Ask {
	at, readout, ok := holePlaces(p, get)
	if !ok || !readout {
		return nil
	}
	var asks []fold.Ask
	for i, q := range at {
		for a, ax := range []string{"x", "y"} {
			want := []float64{q.X, q.Y}[a]
			k := fold.Ask{Field: fmt.Sprintf("hole%d.%s", i+1, ax), Label: fmt.Sprintf("hole %d, %s as displayed", i+1, fold.Capital(ax)),
				Kind: fold.Reading, Unit: unit.KLength, Form: fmt.Sprintf("hole%d", i+1),
				What: fold.What{By: "readout", Of: fmt.Sprintf("hole/%d", i+1), Axis: ax}, Window: kit.Around(want, math.Max(0.01, 2*kit.Keyed(p)),
					"the place of the hole")}
			if a == 0 {
				k.Do = []fold.Act{{Do: "drive", Of: fmt.Sprintf("hole/%d", i+1),
					Words: fmt.Sprintf("Drive to hole %d, X %s Y %s, lock the slides. Type what is displayed, then drill it.", i+1, p.Num(q.X),
						p.Num(q.Y))}}
			}
			asks = append(asks, k)
		}
	}
	return asks
}

// PlaceChecks hold what was displayed against where each hole belongs.
func PlaceChecks(p *fold.Plan, v fold.View, o *fold.Outcome) {
	at, readout, ok := holePlaces(p, v.Fact)
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
			k.Why += fmt.Sprintf(", hole %d %s", i+1, fold.Capital(ax))
			c := judge.Of(k, math.Abs(v.Len(field)-[]float64{q.X, q.Y}[a]), 0)
			if !c.Verdict.OK() {
				c.Words = fmt.Sprintf("Hole %d was drilled at %s %s, it belongs at %s.", i+1, fold.Capital(ax), p.Num(v.Len(field)),
					p.Num([]float64{q.X, q.Y}[a]))
			}
			o.Checks = append(o.Checks, c)
		}
	}
}

// Drills are the numbers of the job's drills, in order.
func Drills(p *fold.Plan) []int {
	var out []int
	for _, n := range kit.ToolNumbers(p) {
		if p.Job.Tools[n].Point > 0 {
			out = append(out, n)
		}
	}
	return out
}

// OpeningDrill is the drill that opens the part: of the drills the widest below the washer.
func OpeningDrill(p *fold.Plan) (jobs.Tool, bool) {
	var best jobs.Tool
	for _, n := range Drills(p) {
		if t := p.Job.Tools[n]; t.Dia > best.Dia {
			best = t
		}
	}
	return best, best.Dia > 0
}

// TipBelowSeat is how far the drill's tip goes below the seat plane so that its full
// diameter passes by 0.2 mm (common practice, from memory).
func TipBelowSeat(t jobs.Tool) float64 {
	return 0.2 + t.Dia/2/math.Tan(t.Point*math.Pi/360)
}

// NumberOf is a tool's number as typed, "" when it is not the job's.
func NumberOf(p *fold.Plan, t jobs.Tool) string {
	for _, n := range kit.ToolNumbers(p) {
		if p.Job.Tools[n] == t {
			return fmt.Sprint(n)
		}
	}
	return ""
}
