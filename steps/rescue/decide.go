package rescue

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// rescueMinutes is what the rest of it takes at the mill (estimate).
const rescueMinutes = 35

const save, scrap = "save it", "scrap it"

// decide is save or scrap: five questions in this order, each with its number; the answer is the person's.
func decide(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "save or scrap", Needs: fold.Needs(fold.Live(facts.Lost.ID), fold.AsLeft("screws")), Makes: []fold.FactID{"decided"},
		Keys:  []string{"worth", "allowance"},
		Asks:  func(v fold.View) []fold.Ask { return decideAsks() },
		Judge: func(v fold.View) fold.Outcome { return judgeDecide(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Nothing gets worse overnight but moisture.", Act: "Read the five numbers. Then say.",
				Read:    "Held now; the mark; found again within; minutes against worth; yourself.",
				Caution: "Nothing is cut on what does not hold: that is never waived.", Rows: fiveRows(p, v), Scene: kit.Scene(p, v, nil)}
		},
	}
}

func decideAsks() []fold.Ask {
	return []fold.Ask{
		wants("fit", "you are awake, calm, and have the time", "hand", "fit", "Late and angry: screw it down and come back tomorrow.",
			"Screw it down as it is. Come back, and answer then."),
		{Field: "fate", Label: "the part: the numbers beside it, the answer yours", Kind: fold.Choice, Options: []string{save, scrap}, What: fold.What{By: "eye", Of: "part", Dir: "rescue"}, Want: save,
			WantWhy: "Then it ends here; its record keeps what happened.", Hint: "Begin the next blank, or finish this one by hand."},
	}
}

// leftHolds is what is left of the hold-down without those screws.
func leftHolds(p *fold.Plan, v fold.View, lost []int) (calc.Holds, string) {
	h := desk.Hold(p, found(p, v))
	if h.Why != "" {
		return calc.Holds{}, h.Why
	}
	if len(lost) >= len(p.Setup.Screws.At) {
		return calc.Holds{}, "no screw is left that holds"
	}
	left, err := calc.Without(h.C, lost...)
	if err != nil {
		return left, err.Error()
	}
	return left, ""
}

// found is what the setup before knew of its screws.
func found(p *fold.Plan, v fold.View) desk.AsFound {
	w := desk.ScrewsFound(p, v)
	w.Soft = 0 // which let go is known here
	return w
}

// foreseen is how well it can be found by six touches, at the worst feature: twice its standard uncertainty.
func foreseen(p *fold.Plan) (float64, error) {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	m, err := calc.Foresee([]calc.Touch{{Face: fit.XMinus, Along: 0.15 * h}, {Face: fit.XMinus, Along: 0.85 * h},
		{Face: fit.XPlus, At: w, Along: 0.5 * h},
		{Face: fit.YMinus, Along: 0.15 * w}, {Face: fit.YMinus, Along: 0.85 * w}, {Face: fit.YPlus, At: h, Along: 0.5 * w}}, true)
	worst := 0.0
	for _, f := range kit.Features(p) {
		_, u := m.At(kit.Vec(f.At))
		worst = max(worst, m.Guard(max(u.X, u.Y)))
	}
	return worst, err
}

// caseOf is what the decision rests on.
func caseOf(p *fold.Plan, v fold.View) (calc.Case, calc.Holds, string) {
	f, _ := facts.Lost.In(v)
	left, why := leftHolds(p, v, lostOf(p, f))
	c := calc.Case{Retention: budget.NotProven, Gouge: float64(f.Mark), Stock: float64(f.Stock), Allowance: float64(p.Job.Allowance),
		Minutes: rescueMinutes,
		Worth:   float64(p.Job.Worth), Irreplaceable: p.Job.Worth == 0}
	if why == "" && p.Setup.Cut.Ap <= float64(left.Throws) {
		c.Retention = budget.Pass
	}
	if g, err := foreseen(p); err == nil {
		c.Guard = g
	} else {
		c.Guard = math.Inf(1)
	}
	return c, left, why
}

func fiveRows(p *fold.Plan, v fold.View) []fold.Row {
	if _, ok := facts.Lost.In(v); !ok {
		return nil
	}
	c, left, why := caseOf(p, v)
	row := func(label string, value float64) fold.Row {
		return fold.Row{Label: label, Value: value, Unit: unit.KLength}
	}
	var rows []fold.Row
	if why != "" {
		rows = append(rows, fold.Row{Label: "1 held now", Text: why})
	} else {
		thrown, slips := row("1 leaves its seat above", float64(left.Throws)), row("  slips above", float64(left.Slips))
		thrown.Verdict, slips.Verdict = ends(p, p.Setup.Cut.Ap, float64(left.Throws)), ends(p, p.Setup.Cut.Ap, float64(left.Slips))
		rows = append(rows, fold.Row{Label: "1 screws that hold", Text: fmt.Sprintf("%d of %d", left.Screws, len(p.Setup.Screws.At))}, thrown,
			slips, row("  planned", p.Setup.Cut.Ap))
	}
	cost := fold.Row{Label: "4 minutes of rescue, against worth", Text: fmt.Sprintf("%.0f against %.0f", c.Minutes, c.Worth)}
	if c.Irreplaceable {
		cost.Text = fmt.Sprintf("%.0f; it can't be made again", c.Minutes)
	}
	return append(rows, row("2 mark", c.Gouge), row("  still to come off there", c.Stock), row("3 found again within, by 6 touches", c.Guard),
		row("  allowance", c.Allowance), cost)
}

func ends(p *fold.Plan, value, limit float64) fold.Verdict {
	return judge.Most(fold.Limit{Max: limit}, value, 0).Verdict
}

func judgeDecide(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	c, _, why := caseOf(p, v)
	o.Lines = fiveRows(p, v)
	f := judge.Most(p.Limit("rescue.found"), 0, c.Guard)
	if f.Verdict != fold.Pass {
		f.Words = fmt.Sprintf("Six touches find it within %s, and it may be off by %s: not enough.", p.Len(c.Guard), p.Len(c.Allowance))
	}
	o.Checks = append(o.Checks, f)
	if !c.Irreplaceable {
		k := judge.Most(judge.At(p.Limit("rescue.cost"), c.Worth), c.Minutes, 0)
		if k.Verdict != fold.Pass {
			k.Words = fmt.Sprintf("%.0f minutes for a part that is worth %.0f.", c.Minutes, c.Worth)
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: k.Words + " Say why it is worth it, or scrap it."})
		}
		o.Checks = append(o.Checks, k)
	}
	switch {
	case fold.SameAnswer(v.Text("fit"), no):
		o.Next = append(
			o.Next, fold.Act{Do: "wait", Of: "part", Words: "Screw it down as it is, cover it, lock the spindle. Come back tomorrow."},
			fold.Act{Do: "again", Of: "fit"})
	case fold.SameAnswer(v.Text("fate"), scrap):
		o.Named = "scrapped"
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: "It ends here. The record keeps it; begin the next blank."},
			fold.Act{Do: "again", Of: "fate"})
	}
	if why != "" {
		o.Notes = append(o.Notes, "Held now: "+why+".")
	}
	stops, err := c.Stops()
	if err != nil {
		o.Notes = append(o.Notes, fold.Capital(err.Error())+".")
	}
	if slices.Contains(stops, calc.Gouged) {
		o.Notes = append(o.Notes, fmt.Sprintf("The mark stays in the part: %s deep, with only %s still to come off there.",
			p.Len(c.Gouge), p.Len(c.Stock)))
	}
	o.Facts = []fold.Known{{ID: "decided"}}
	o.Learned = "It is to be saved. First it has to hold again."
	return o
}
