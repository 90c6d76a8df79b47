package rescue

import (
	"fmt"
	"slices"

	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

const firm, turns = "firm", "turns"

func screwField(i int) string { return fmt.Sprintf("screw%d", i+1) }

// screwPlace is a screw by its number and where it stands.
func screwPlace(p *fold.Plan, i int) string {
	at := p.Setup.Screws.At[i]
	return fmt.Sprintf("screw %d, at X %s Y %s", i+1, p.Len(at.X), p.Len(at.Y))
}

// toolStates are how the cutter is found, in the order of facts.LostFact.
var toolStates = []string{"as it was", "pulled from its collet", "broken"}

// look takes stock of what still holds and what was marred, before anything is tightened.
func look(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "what let go", Needs: fold.Live(facts.Stopped.ID), Makes: []fold.FactID{facts.Lost.ID},
		Asks:  func(v fold.View) []fold.Ask { return lookAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeLook(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "What still holds says what may be cut; what is marred says whether it is worth it.",
				Act:     "Z up by hand, a little at a time. Then test each screw at its working torque.",
				Read:    "A screw that turns below its torque counts as gone.",
				Caution: "SPINDLE STOPPED, its command off. Broken carbide: tweezers, eye protection.", Scene: kit.Scene(p, v, nil)}
			pg.Scene.Shapes = append(pg.Scene.Shapes, screwShapes(p, v)...)
			return pg
		},
	}
}

func lookAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	for i := range p.Setup.Screws.At {
		asks = append(asks, fold.Ask{Field: screwField(i), Label: screwPlace(p, i), Kind: fold.Choice, Options: []string{firm, turns},
			What: fold.What{By: "driver", Of: fmt.Sprintf("screw/%d", i+1), Dir: "holds"}})
	}
	tool := fold.Ask{Field: "tool", Label: "the cutter is", Kind: fold.Choice, Options: toolStates,
		What: fold.What{By: "eye", Of: "tool", Dir: "state"}}
	mark := length("mark", "deepest mark on the part; 0 for none", fold.What{By: "gauge", Of: "part", Dir: "mark"},
		kit.Around(0, 3, "a mark of the cutter"))
	asks = append(asks, tool, mark)
	if v.Len("mark") > 0 {
		asks = append(asks, length("stock", "stock that is still to come off there", fold.What{By: "gauge", Of: "part", Dir: "stock"},
			kit.Around(p.Job.Part.Skin[1], 5, "what side 2 takes off")))
	}
	asks = append(asks, fold.Ask{Field: "faces", Label: "a finished face is beyond its limits", Kind: fold.Choice, Options: []string{no, yes},
		What: fold.What{By: "eye", Of: "part", Dir: "faces"}})
	asks[0].Do = []fold.Act{{Do: "move", Of: "head", Words: "Z up by hand, a little at a time, until the tool is clear of the part."},
		{Do: "try", Of: "screws", Words: "Turn each screw to its working torque. Do not tighten."}}
	return asks
}

func judgeLook(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	f := facts.LostFact{Mark: unit.Length(v.Len("mark")), Stock: unit.Length(v.Len("stock"))}
	gone := 0
	for i := range p.Setup.Screws.At {
		if fold.SameAnswer(v.Text(screwField(i)), turns) {
			f.Screws += float64(int(1) << i)
			gone++
		}
	}
	f.Tool = float64(max(slices.IndexFunc(toolStates, func(s string) bool { return fold.SameAnswer(v.Text("tool"), s) }), 0))
	if f.Mark > 0 {
		l := judge.At(p.Limit("rescue.mark"), float64(f.Stock)-calc.StockSpare)
		c := judge.Most(l, float64(f.Mark), 0)
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("The mark is %s deep where %s are still to come off: it stays. Fill it, plug it, or design round it.",
				p.Len(float64(f.Mark)), p.Len(float64(f.Stock)))
			o.Named = "gouged"
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: "Accept it with the number, or scrap the part."})
		}
		o.Checks = append(o.Checks, c)
	}
	if fold.SameAnswer(v.Text("faces"), yes) {
		c := judge.So(fold.Limit{ID: "rescue.faces", Why: "finished faces within their limits", Class: fold.Soft}, false,
			"A finished face is out. Mate it, fill it or design round it: yours to say.")
		o.Named = "gouged"
		o.Checks = append(o.Checks, c)
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: c.Words})
	}
	if f.Tool > 0 {
		o.Notes = append(o.Notes, "The cutter's length is not what it was: measure it before the restart.")
	}
	if gone > 0 && o.Named == "" {
		o.Named = "thread-lost"
	}
	o.Facts = []fold.Known{facts.Lost.Is(f)}
	o.Learned = fmt.Sprintf("%d of %d screws still hold.", len(p.Setup.Screws.At)-gone, len(p.Setup.Screws.At))
	return o
}

// lostOf are the places of the screws that let go.
func lostOf(p *fold.Plan, f facts.LostFact) (out []int) {
	for i := range p.Setup.Screws.At {
		if int(f.Screws)&(1<<i) != 0 {
			out = append(out, i)
		}
	}
	return out
}

func screwShapes(p *fold.Plan, v fold.View) (out []fold.Shape) {
	z, _ := kit.PartZero(p)
	for i, q := range p.Setup.Screws.At {
		role := fold.RoleScrew
		if fold.SameAnswer(v.Text(screwField(i)), turns) {
			role = fold.RoleConflict
		}
		out = append(out, fold.Shape{Role: role, Name: fmt.Sprint(i + 1), Points: []fold.XY{{X: z.X + q.X, Y: z.Y + q.Y}}})
	}
	return out
}
