package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Room kept over a screw head: for tool length and creep of the seat, and what must be left (common practice, from memory).
const (
	headUnknown = 0.05 + 0.1
	headRoom    = 0.5
)

// headSlack is how much higher a head may stand than planned, mm (common practice, from memory).
const headSlack = 0.2

// headHeight is head and washer by the job, over the part's face.
func (p *Plan) headHeight() (float64, bool) {
	s := p.Setup.Screws
	h := s.Head
	if h == 0 {
		if t, err := hold.ThreadNamed(s.Thread); err == nil {
			if hd, err := hold.HeadOf(t); err == nil {
				h = float64(hd.KMax)
			}
		}
	}
	if h == 0 {
		return 0, false
	}
	if s.Washer > 0 {
		h += s.WasherT
	}
	return h, true
}

// headTop is the z of a screw head's top in program coordinates, by the job or as measured when that is more.
func (p *Plan) headTop(measured float64) (float64, bool) {
	h, ok := p.headHeight()
	if !ok {
		return 0, false
	}
	s := p.Setup.Screws
	seat := s.Seat
	if seat == 0 {
		seat = s.Through
		if p.Setup.Z0 == "finished top" {
			seat -= p.Job.Part.Size[2]
		}
	}
	return seat + math.Max(h, measured), true
}

// deck counts what may be left on the table: nothing.
func deck(p *Plan) *Spec {
	asRead := append([]FactID{"echo"}, p.programFacts()...)
	if p.Setup.HoldDown == "S" {
		asRead = append(asRead, "referenced")
	}
	return &Spec{
		Title: "clear the deck", Live: []FactID{"screws", "shift"}, AsRead: asRead, Seen: append([]FactID{"offset"}, p.cutterLengths()...), Makes: []FactID{"deck"}, Keys: []string{"setups." + p.Setup.Name + ".cut"},
		Asks: func(v View) []Ask {
			row := func(field, label, of, dir, why string) Ask {
				a := counted(field, label, of, dir, "0", why, "Take it off the table and count again.")
				a.Form = "deck"
				return a
			}
			asks := []Ask{row("clamps", "clamps on the table", "clamps", "table", "A clamp left in the path is thrown by the cutter."),
				row("bolts", "loose bolts", "loose-bolts", "", "A loose bolt wanders under the cutter."),
				row("wrenches", "wrenches", "wrenches", "", "A wrench on the table is thrown."),
				row("dials", "dials, probes and feelers", "dials", "", "The spindle starts with nothing else inside.")}
			if a, ok := p.stillAsk(); ok {
				asks = append(asks, a)
			}
			asks[0].Do = []Act{{Do: "clear", Of: "deck", Words: "Clear the table. Look from the left, then from the right. Count."}}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			if v.Int("clamps") > 0 {
				o.Named = "clamp-left-on"
				o.Next = append(o.Next, Act{Do: "unstrap", Of: "clamps", Words: "Take the clamp off, with heel block and bolt. Count again."}, Act{Do: "again", Of: "deck"})
			} else if v.Int("bolts") > 0 || v.Int("wrenches") > 0 || v.Int("dials") > 0 {
				o.Next = append(o.Next, Act{Do: "clear", Of: "deck", Words: "Take it off the table. Count again."}, Act{Do: "again", Of: "deck"})
			}
			if a, ok := p.stillAsk(); ok {
				p.pageZero(v, &o, a.Field, a.Field, a.Unit)
			}
			measured := 0.0
			if s, ok := v.Fact("screws"); ok && len(s.Value) > 1 {
				measured = s.Value[1]
			}
			if top, ok := p.headTop(measured); ok && !math.IsNaN(p.Setup.Cut.Lowest) && p.Setup.Cut.Tool > 0 {
				room := p.Setup.Cut.Lowest - top - headUnknown
				c := Check{Limit: Limit{ID: "deck.head", Why: "room between the lowest cut and a screw head", Max: headRoom, Min: true, Class: Never, Unit: unit.KLength}, Got: room, Verdict: Pass}
				if room < headRoom {
					c.Verdict = Fail
					c.Words = fmt.Sprintf("The cutter comes within %s of a screw head.", p.len(room))
					o.Next = append(o.Next, Act{Do: "round", Words: c.Words + " Take lower heads, or change the program."})
				}
				o.Checks = append(o.Checks, c)
				o.Lines = append(o.Lines, Row{Label: "room over the heads", Value: room, Unit: unit.KLength, Big: true})
			} else {
				o.Notes = append(o.Notes, "Room over the screw heads is not computed: the job does not say how low the program cuts over them.")
			}
			p.cutClear(&o)
			p.programsPass(v, whileCut, &o)
			p.holdDown(p.screwsFound(v), &o)
			o.Facts = []Fact{{ID: "deck"}}
			o.Learned = "Nothing is left on the table but the part."
			return o
		},
		Page: func(v View) Page {
			k := p.cutKeepOut()
			h := p.holding(p.screwsFound(v))
			var rows []Row
			if h.why == "" {
				rows = h.ceilingRows(p)[:3]
			}
			path, _ := p.passingShapes(v, whileCut)
			return Page{Why: "What is forgotten on the table is hit or thrown.",
				Act:     "Clear the table and count what is left.",
				Read:    "Counts as seen; of the control's page, the value that stands there.",
				Caution: "SPINDLE STOPPED while you reach in.", Rows: rows, Scene: p.scene(v, append(k.marks(p), path...))}
		},
	}
}

// stillAsk asks once more for what must not be active on the control's page: a program may have run
// since the offset was read back.
func (p *Plan) stillAsk() (Ask, bool) {
	a, ok := p.leftAsk()
	if !ok {
		return a, false
	}
	a.Label, _, _ = strings.Cut(a.Label, " left active")
	a.Label, a.Field, a.Form = a.Label+" still active on the control's page", "rotation", "deck"
	if a.Unit == unit.KLength {
		a.Field = "shift"
	} else {
		a.Label, a.Since = a.Label+", deg", Since{} // it was always asked
	}
	return a, true
}

// cutClear holds the stated regions of the cut against what still stands, and the cutters
// against how deep they go.
func (p *Plan) cutClear(o *Outcome) {
	k := p.cutKeepOut()
	cs := k.checks(p, "deck.keepout")
	reach, rows, notes := p.reachAll()
	for _, c := range append(cs, reach...) {
		o.Checks = append(o.Checks, c)
		if !c.Verdict.OK() && len(o.Next) == 0 {
			o.Next = append(o.Next, Act{Do: "round", Words: c.Words + " Change the program or the tool, and the job, before anything turns."})
		}
	}
	o.Lines = append(o.Lines, rows...)
	o.Notes = append(append(o.Notes, k.notes...), notes...)
	if len(p.Setup.Cut.Regions) == 0 {
		o.Notes = append(o.Notes, "Keep-out of the cut is not computed: the job states no cut.regions. The program's own moves are judged where the program is checked.")
	}
}

// screwsFound is what the walk knows of the screws in place.
func (p *Plan) screwsFound(v View) (w asFound) {
	if s, ok := v.Fact("screws"); ok && len(s.Value) > 2 {
		w.engaged = s.Value[2]
	}
	return w
}
