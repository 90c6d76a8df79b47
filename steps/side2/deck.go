package side2

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// headSlack is how much higher a head may stand than planned, mm (common practice, from memory).
const headSlack = 0.2

// strapless says that no straps hold the part first: it is held once, by screws in holes of side 1 or otherwise.
func strapless(p *fold.Plan) bool { return p.Setup.HoldDown != "T" && p.Setup.HoldDown != "M" }

// deck counts what may be left on the table: nothing.
func deck(p *fold.Plan) *fold.Spec { return Deck(p, "screws") }

// Deck is the same for a part that is held by what that fact says.
func Deck(p *fold.Plan, held fold.FactID) *fold.Spec {
	asRead := append([]fold.FactID{"echo"}, checks.ProgramFacts(p)...)
	if strapless(p) {
		asRead = append(asRead, "referenced")
	}
	reads := checks.ReadsAt(p, desk.WhileCut)
	if looksOnceMore(p) {
		asRead = append(asRead, "still")
	}
	return &fold.Spec{
		Title: "clear the deck", Needs: fold.Needs(fold.Live(held, "shift"), fold.AsRead(asRead...),
			fold.IfThere(append([]fold.FactID{"offset"}, checks.CutterLengths(p)...)...)), Makes: []fold.FactID{"deck"},
		Former: []string{"setups." + p.Setup.Name + ".cut"},
		Asks: func(v fold.View) []fold.Ask {
			return append(deckAsks(p), reads.Asks(v)...)
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			if v.Int("clamps") > 0 {
				o.Named = "clamp-left-on"
				o.Next = append(o.Next, fold.Act{Do: "unstrap", Of: "clamps", Words: "Take the clamp off, with heel block and bolt. Count again."},
					fold.Act{Do: "again", Of: "deck"})
			} else if v.Int("bolts") > 0 || v.Int("wrenches") > 0 || v.Int("dials") > 0 {
				o.Next = append(o.Next, fold.Act{Do: "clear", Of: "deck", Words: "Take it off the table. Count again."},
					fold.Act{Do: "again", Of: "deck"})
			}
			if a, ok := StillAsk(p); ok {
				checks.PageZero(p, v, &o, a.Field, a.Field, a.Unit)
			}
			headsClear(p, v, &o)
			cutClear(p, v, &o)
			reads.Pass(v, &o)
			desk.HoldDown(p, desk.ScrewsFound(p, v), &o)
			o.Facts = []fold.Known{{ID: "deck"}}
			o.Learned = "Nothing is left on the table but the part."
			return o
		},
		Page: func(v fold.View) fold.Page {
			k := desk.CutKeepOut(p)
			h := desk.Hold(p, desk.ScrewsFound(p, v))
			var rows []fold.Row
			if h.Why == "" {
				rows = h.CeilingRows(p)[:3]
			}
			path, _ := reads.Shapes(v)
			sc := kit.Scene(p, v, append(k.Marks(p), path...))
			s, _ := facts.Screws.Perhaps(v)
			sc.Cut = desk.DeckSection(p, float64(s.Head))
			return fold.Page{Why: "What is forgotten on the table is hit or thrown.",
				Act:     "Clear the table and count what is left.",
				Read:    "Counts as seen; of the control's page, the value that stands there.",
				Caution: "SPINDLE STOPPED while you reach in.", Rows: rows, Scene: sc}
		},
	}
}

// deckAsks count what lies on the table.
func deckAsks(p *fold.Plan) []fold.Ask {
	row := func(field, label, of, dir, why string) fold.Ask {
		a := kit.Counted(field, label, of, dir, "0", why, "Take it off the table and count again.")
		a.Form = "deck"
		return a
	}
	asks := []fold.Ask{row("clamps", "clamps on the table", "clamps", "table", "A clamp left in the path is thrown by the cutter."),
		row("bolts", "loose bolts", "loose-bolts", "", "A loose bolt wanders under the cutter."),
		row("wrenches", "wrenches", "wrenches", "", "A wrench on the table is thrown."),
		row("dials", kit.Loose(p), "dials", "", "The spindle starts with nothing else inside.")}
	if p.Level() != fold.Full && (!p.Reads(fold.FirstUse) || p.Short() && !p.Reads(fold.Irreplaceable)) { // one look, one count
		left := row("things", "things that are neither fixture, part nor its screws", "clamps", "table",
			"What is forgotten there is hit or thrown.")
		asks = []fold.Ask{kit.Mend(left, "clamp-left-on",
			fold.Act{Do: "unstrap", Of: "clamps", Words: "Take it off the table, clamps with heel block and bolt. Count again."})}
	}
	if a, ok := StillAsk(p); ok {
		asks = append(asks, a)
	}
	asks[0].Do = []fold.Act{{Do: "clear", Of: "deck", Words: "Clear the table. Look from the left, then from the right. Count."}}
	return asks
}

// StillAsk asks once more for what must not be active on the control's page: a program may have run
// since the offset was read back.
func StillAsk(p *fold.Plan) (fold.Ask, bool) {
	a, ok := checks.LeftAsk(p)
	if !ok {
		return a, false
	}
	a.Label, _, _ = strings.Cut(a.Label, " left active")
	a.Label, a.Field, a.Form = a.Label+" still active on the control's page", "rotation", "deck"
	if a.Unit == unit.KLength {
		a.Field = "shift"
	} else {
		a.Label, a.Since = a.Label+", deg", fold.Since{} // it was always asked
	}
	return a, true
}

// headsClear holds the lowest cut against the heads as they were measured.
func headsClear(p *fold.Plan, v fold.View, o *fold.Outcome) {
	if len(p.Setup.Screws.At) == 0 {
		o.Notes = append(o.Notes, "No screws: no heads to be cut.")
		return
	}
	measured := 0.0
	if s, ok := facts.Screws.Perhaps(v); ok {
		measured = float64(s.Head)
	}
	c, ok := desk.HeadRoom(p, measured)
	if !ok {
		o.Notes = append(o.Notes, "Room over the screw heads is not computed: the job does not say how low the program cuts over them.")
		return
	}
	beforeItTurns(c, o)
	o.Lines = append(o.Lines, fold.Row{Label: "room over the heads", Value: c.Got, Unit: unit.KLength, Big: true})
}

// beforeItTurns adds a check of the cut, and what to change where it does not pass.
func beforeItTurns(c fold.Check, o *fold.Outcome) {
	o.Checks = append(o.Checks, c)
	if !c.Verdict.OK() && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "round", Words: c.Words + " Change the program or the tool, and the job, before anything turns."})
	}
}

// cutClear holds the stated regions of the cut against what still stands, and the cutters
// against how deep they go.
func cutClear(p *fold.Plan, v fold.View, o *fold.Outcome) {
	k := desk.CutKeepOut(p)
	cs := k.Checks(p, "deck.keepout")
	reach, rows, notes := desk.ReachAll(p, desk.Found(v))
	for _, c := range append(cs, reach...) {
		beforeItTurns(c, o)
	}
	o.Lines = append(o.Lines, rows...)
	o.Notes = append(append(o.Notes, k.Notes...), notes...)
	if len(p.Setup.Cut.Regions) == 0 {
		o.Notes = append(o.Notes, "Keep-out of the cut is not computed: the job states no cut.regions. The program's own moves are judged where "+
			"the program is checked.")
	}
}
