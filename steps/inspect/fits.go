package inspect

import (
	"fmt"
	"math"

	calc "fliptrue/calc/inspect"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// outside measures the outer widths, for the next use and for growth.
func outside(p *fold.Plan) *fold.Spec {
	if p.Setup.Inspect.Short {
		return nil
	}
	width := func(field, label string, i int) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "micrometer", Of: "part",
			Dir: "width-" + field}, Window: kit.Around(p.Job.Part.Size[i], 0.3, "the drawing")}
	}
	return &fold.Spec{
		Title: "outside", Needs: facts.Benched.Live(), Makes: []fold.FactID{facts.Outside.ID}, Keys: []string{"part.size"},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{width("x", "width along X, on side 2", 0), width("y", "width along Y, on side 2", 1)}
		},
		Judge: func(v fold.View) fold.Outcome {
			f := facts.OutsideFact{X: unit.Length(v.Len("x")), Y: unit.Length(v.Len("y"))}
			o := fold.Outcome{Facts: []fold.Known{facts.Outside.Is(f)}}
			for i, x := range []unit.Length{f.X, f.Y} {
				o.Lines = append(o.Lines, fold.Row{Label: "beyond the drawing, " + [2]string{"X", "Y"}[i], Value: float64(x) - p.Job.Part.Size[i],
					Unit: unit.KLength, Signed: true})
			}
			o.Learned = fmt.Sprintf("It measures %s by %s outside.", p.Len(float64(f.X)), p.Len(float64(f.Y)))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Measured today, its growth is known tomorrow.", Act: "Measure across both pairs of faces, on side 2.",
				Read: "Micrometer, light ratchet.", Scene: drawn(p, nil)}
		},
	}
}

// goes are the ways a mating part goes on, the good ones first.
var goes = []string{"slides", "falls", "by force", "not"}

// mate tries the part that it goes into or over.
func mate(p *fold.Plan) *fold.Spec {
	m := p.Setup.Inspect.Mate
	if m == nil {
		return nil
	}
	return &fold.Spec{
		Title: "fit", Needs: fold.Needs(facts.Benched.Live(), facts.Mismatch.Live()), Makes: []fold.FactID{facts.Mated.ID},
		Keys: []string{"setups." + p.Setup.Name + ".inspect"},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "goes", Label: "its mate goes on: slides, falls, by force, not at all", Kind: fold.Choice, Options: goes,
				What: fold.What{By: "hand", Of: "mate", Dir: "goes"}},
				{Field: "rocks", Label: "it rocks on its mate", Kind: fold.Choice, Options: []string{no, yes}, What: fold.What{By: "hand", Of: "mate", Dir: "rocks"}}}
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			f, ok := facts.Mismatch.In(v)
			if !ok {
				return o
			}
			g, err := calc.Mate{Recess: m.Recess, Lip: m.Lip, Growth: m.Growth, Film: m.Film, Mismatch: math.Max(math.Abs(float64(f.DX)),
				math.Abs(float64(f.DY)))}.Gap()
			if err != nil {
				kit.Refuse(&o, "inspect.mate", reckoned, err)
				return o
			}
			fits := fold.SameAnswer(v.Text("goes"), goes[0]) || fold.SameAnswer(v.Text("goes"), goes[1])
			o.Checks = []fold.Check{judge.So(fold.Limit{ID: "inspect.fit", Why: "its mate goes on", Class: fold.Soft}, fits,
				"Its mate does not go on by hand. Scrape the lip where it shines; never press wood together."),
				judge.So(fold.Limit{ID: "inspect.rocks", Why: "it lies on its mate without rocking", Class: fold.Soft},
					fold.SameAnswer(v.Text("rocks"), no), "It rocks on its mate: scrape the two corners that bear.")}
			for _, c := range o.Checks {
				if c.Verdict != fold.Pass && len(o.Next) == 0 {
					o.Next = []fold.Act{{Do: "look", Of: "mate", Words: c.Words + " Try again, or accept it by its reason."}, {Do: "round"}}
				}
			}
			o.Lines = []fold.Row{{Label: "gap on the narrow side, at worst", Value: g.Worst, Unit: unit.KLength, Signed: true, Big: true},
				{Label: "and with 95 %", Value: g.By95, Unit: unit.KLength, Signed: true}}
			o.Facts = []fold.Known{{ID: facts.Mated.ID}}
			o.Learned = fmt.Sprintf("A gap of %s is left on the narrow side at worst, %s with 95 %%.", kit.Signed(p, g.Worst), kit.Signed(p, g.By95))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "What it is for decides.", Act: "Lay its mate on by its own weight, then push by thumb.",
				Read: "How it goes, and whether it rocks.", Caution: "Oily rags burn by themselves: flat to dry outdoors, or in a closed can with " +
					"water."}
		},
	}
}
