package inspect

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/chart"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// correct and leave are the two answers about the card.
const correct, leave = "correct the card", "leave it alone"

// verdict holds the mismatch against the allowance, and decides whether the fixture's card is corrected.
func verdict(p *fold.Plan) *fold.Spec {
	live := []fold.FactID{facts.Benched.ID, facts.Mismatch.ID}
	for _, x := range []struct {
		f  fold.FactID
		on bool
	}{{facts.Walls.ID, p.Setup.Inspect.Wall[0] > 0}, {facts.FloorLeft.ID, p.Setup.Inspect.Floor[0] > 0},
		{facts.Edged.ID, len(holesOf(p)) > 0}, {facts.Outside.ID, !p.Setup.Inspect.Short}, {facts.Finish.ID, p.Setup.Inspect.Finish != nil}, {facts.Mated.ID, p.Setup.Inspect.Mate != nil}} {
		if x.on {
			live = append(live, x.f)
		}
	}
	return &fold.Spec{
		Title: "verdict", Needs: fold.Needs(fold.Live(live...), fold.IfThere(facts.Seat.ID)),
		Makes: []fold.FactID{facts.Corrected.ID, facts.Inspected.ID},
		Keys:  []string{"allowance", "part"}, Record: true,
		Asks:  func(v fold.View) []fold.Ask { return verdictAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeVerdict(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "A card corrected after every part chases their scatter and makes the next ones worse.",
				Act:  "Say what becomes of the part, and what of the card.",
				Read: "What is known of the fixture. The turn is given as it shows at the worst feature.", Scene: drawn(p, nil)}
			if cs, err := weighed(p, v); err == nil {
				pg.Rows = charted(p, cs)
			}
			return pg
		},
	}
}

// weighed are the components, where all of it is known.
func weighed(p *fold.Plan, v fold.View) ([]component, error) {
	f, ok1 := facts.Mismatch.In(v)
	b, ok2 := facts.Benched.In(v)
	if !ok1 || !ok2 {
		return nil, nil
	}
	return weigh(p, f, b, grewIn(p, v), len(spoils(p, v)) > 0, v.Walks(4))
}

// grewIn is what the part's growth makes, as the second side of this record measured it.
func grewIn(p *fold.Plan, v fold.View) grew {
	f, read := facts.Seat.In(v)
	return grewOf(p, f, read && v.Walks(4))
}

func verdictAsks(p *fold.Plan, v fold.View) []fold.Ask {
	asks := []fold.Ask{{Field: "fate", Label: "the part is", Kind: fold.Choice, Options: []string{"kept", "mended", "scrapped"},
		What: fold.What{By: "eye", Of: "part", Dir: "fate"}}}
	cs, _ := weighed(p, v)
	for _, c := range cs {
		if c.does.By != 0 {
			return append(asks, fold.Ask{Field: "card", Label: "the fixture's card, as the rule has it", Kind: fold.Choice,
				Options: []string{correct, leave}, What: fold.What{By: "eye", Of: "card", Dir: "correct"}})
		}
	}
	return asks
}

func judgeVerdict(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	f, ok := facts.Mismatch.In(v)
	if !ok {
		return o
	}
	cs, err := weighed(p, v)
	w, ferr := mismatch(f).Judge(features(p), float64(p.Job.Allowance))
	if err = errors.Join(err, ferr); err != nil {
		kit.Refuse(&o, "inspect.rule", reckoned, err)
		return o
	}
	at := "a corner"
	if len(p.Job.Part.Features) > 0 {
		at = p.Job.Part.Features[w.Place].Name
	}
	c := judge.Most(p.Limit("inspect.register"), w.Value, w.Guard)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("Worst at %s along %s. Sand it, mate it as it is, or scrap it; the number stays.", at,
			strings.ToUpper(kit.AxisName[w.Axis]))
		o.Named = "side-off"
		o.Next = []fold.Act{{Do: "look", Of: "part", Words: c.Words}}
	}
	o.Checks = []fold.Check{c}
	o.Lines = append([]fold.Row{{Label: "mismatch at the worst feature", Value: w.Value, Guard: w.Guard, Unit: unit.KLength, Big: true,
		Verdict: c.Verdict}}, charted(p, cs)...)
	if g := grewIn(p, v); g.Len() > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("Of this the part's growth since side 1 makes X %s, Y %s: that is not the fixture's.",
			kit.Signed(p, g.X), kit.Signed(p, g.Y)))
	}
	for i := range cs {
		o.Notes = append(o.Notes, cs[i].says(p))
		if cs[i].creeps {
			o.Notes = append(o.Notes, cs[i].name+" creeps from part to part: look for wear, heat or damp.")
		}
	}
	for _, s := range spoils(p, v) {
		o.Notes = append(o.Notes, fmt.Sprintf("Not counted for the card: in %s %s.", s.Setup, spoiledBy(p, s)))
	}
	o.Facts = []fold.Known{facts.Corrected.Is(taken(p, v, cs)), {ID: facts.Inspected.ID}}
	o.Learned = fmt.Sprintf("Side 2 stands within %s of side 1 at the worst feature, %s.", p.Len(w.Value+w.Guard), at)
	return o
}

// measuring are limits of how the part is measured: one of these waived, the numbers are in doubt. Waived here, the others are what
// the part is, and the fixture is to learn from it; nor does what happens at the machine now touch a part on the bench.
var measuring = []string{"inspect.warm", "inspect.scale", "inspect.odd", "stood.bore", "stood.far", "stood.tool"}

// spoils are what keeps a part from counting for the card.
func spoils(p *fold.Plan, v fold.View) []fold.Spoil {
	return slices.DeleteFunc(slices.Clone(v.Spoiled()), func(s fold.Spoil) bool {
		return s.Setup == p.Setup.Name && !slices.Contains(measuring, s.Limit)
	})
}

func spoiledBy(p *fold.Plan, s fold.Spoil) string {
	if m, ok := p.Mishap(s.Mishap); ok {
		return m.Words
	}
	return "the limit " + s.Limit + " was waived"
}

// taken is what is taken out of the card: nothing unless the person says so.
func taken(p *fold.Plan, v fold.View, cs []component) facts.CorrectionFact {
	g := grewIn(p, v)
	f := facts.CorrectionFact{GrewX: unit.Length(g.X), GrewY: unit.Length(g.Y)}
	if len(spoils(p, v)) > 0 {
		f.Out = 1
	}
	if !fold.SameAnswer(v.Text("card"), correct) {
		return f
	}
	for _, c := range cs {
		switch c.name {
		case "X":
			f.X = unit.Length(c.does.By)
		case "Y":
			f.Y = unit.Length(c.does.By)
		default:
			f.Turn = unit.Angle(c.does.By / lever(p))
		}
	}
	return f
}

// charted are today's part and the fixture's share, component by component, and the chart's limits where there are parts enough.
func charted(p *fold.Plan, cs []component) (out []fold.Row) {
	for _, c := range cs {
		name := c.name
		out = append(out, fold.Row{Label: "this part, " + name, Value: c.value, Guard: budget.OneSided * c.u, Unit: unit.KLength, Signed: true},
			fold.Row{Label: "fixture's share, " + name, Value: c.bias.B, Guard: budget.OneSided * c.bias.U, Unit: unit.KLength, Signed: true,
				Big: c.does.By != 0})
		text := fmt.Sprintf("%d of %d parts: too few to say", len(c.parts), chart.Enough)
		if len(c.parts) >= chart.Enough {
			text = kit.Signed(p, c.chart.Lower) + " to " + kit.Signed(p, c.chart.Upper)
		}
		if math.IsNaN(c.bias.B) {
			continue
		}
		out = append(out, fold.Row{Label: "chart, " + name, Text: text})
	}
	return out
}
