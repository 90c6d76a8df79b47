package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// lowestCut is the lowest z of the programs, by what was read in them or by the job; ok is false when neither says.
func lowestCut(p *fold.Plan, v fold.View) (z float64, from string, ok bool) {
	z = math.Inf(1)
	for _, f := range checks.ProgramFacts(p) {
		if g, has := v.Fact(f); has && len(g.Value) >= 6 {
			z, from = math.Min(z, g.Value[2]), "the programs"
		}
	}
	if from != "" {
		return z, from, true
	}
	if l := p.Setup.Cut.Lowest; p.Setup.Cut.Tool > 0 && !math.IsNaN(l) {
		return l, "the job", true
	}
	return 0, "", false
}

// underTool is the block that lay under the tool at the touches on the top.
func underTool(v fold.View) float64 {
	if t, ok := v.Fact("top"); ok && len(t.Value) > 5 {
		return t.Value[5]
	}
	return 0
}

// jaws measures the jaw top and holds the lowest cut and the tool's reach against it.
func jaws(p *fold.Plan) *fold.Spec {
	x := math.Round(p.Job.Part.Size[0] / 2)
	y := math.Round(p.Job.Part.Size[1] + 4)
	if p.Setup.Vise.Jaw == "toward" {
		y = -4
	}
	return &fold.Spec{
		Title: "clear of jaws", Needs: fold.Needs(fold.Live("seat"), fold.AsRead(append([]fold.FactID{"offset", "echo", "top", kit.ZDatum(p)}, checks.ProgramFacts(p)...)...), fold.IfThere(checks.CutterLengths(p)...)), Makes: []fold.FactID{"deck"},
		Keys: []string{"setups." + p.Setup.Name + ".vise", "setups." + p.Setup.Name + ".cut", "tools"},
		Asks: func(v fold.View) []fold.Ask {
			a := fold.Ask{Field: "jaw", Label: "top of the fixed jaw", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: kit.TouchBy(p), Of: "jaw-top@" + kit.Place(x) + "," + kit.Place(y), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(p, "z")}
			a.Do = []fold.Act{{Do: "wipe", Of: "vise", Words: "Wipe the top of the fixed jaw and touch it."}}
			if f, ok := v.Fact("offset"); ok {
				if l, ok := v.Fact(kit.ZDatum(p)); ok {
					a.Window = kit.Around(f.Value[2]+l.Value[0]+underTool(v)+p.Setup.Vise.JawTop, 2, "the jaw top of the job")
					a.Window.Slips = kit.Slips(p, v, "z", kit.BallRadius(p, v), nil)
				}
			}
			asks := []fold.Ask{a}
			if p.Setup.HolesHere {
				asks = append(asks, kit.Counted("under", "holes with a parallel or the vise's bed close under them", "parallels", "under-holes", "0", "The drill would go into it.", "Open, move the parallels, seat the stock again."))
			}
			w := kit.Counted("wrenches", "handles and wrenches left on vise and table", "wrenches", "", "0", "A wrench on the table is thrown.", "Take it off the table and count again.")
			d := kit.Counted("dials", "dials, probes and feelers left in", "dials", "", "0", "The spindle starts with nothing else inside.", "Take it out and count again.")
			w.Form, d.Form = "deck", "deck"
			return append(asks, w, d)
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			f, ok1 := v.Fact("offset")
			l, ok2 := v.Fact(kit.ZDatum(p))
			if !ok1 || !ok2 {
				kit.Refuse(&o, "jaws.offset", "there is an offset", fmt.Errorf("there is no offset to reckon from"))
				return o
			}
			top := v.Len("jaw") - l.Value[0] - underTool(v) - f.Value[2]
			c := judge.Judged(p.Limit("jaws.top"), math.Abs(top-p.Setup.Vise.JawTop), 0)
			if c.Verdict == fold.Fail {
				c.Words = fmt.Sprintf("The jaw top stands at Z %s, the job says %s: other parallels, or a wrong Z0.", p.Num(top), p.Num(p.Setup.Vise.JawTop))
				o.Named = "jaw-height"
				o.Next = append(o.Next, fold.Act{Do: "look", Of: "vise", Words: c.Words + " Look at both, then touch it again."}, fold.Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
			o.Lines = append(o.Lines, fold.Row{Label: "jaw top (W)", Value: top, Unit: unit.KLength, Signed: true, Big: true})
			low, from, known := lowestCut(p, v)
			if !known {
				o.Notes = append(o.Notes, "Room over the jaws is not computed: neither programs nor job say how low is cut.")
			} else {
				lim := p.Limit("jaws.room")
				room := low - top
				k := atLeastCheck(lim, room, lim.Max, 0)
				if k.Verdict == fold.Fail {
					k.Words = fmt.Sprintf("By %s the lowest cut goes to Z %s, %s over the jaw.", from, p.Num(low), p.Len(room))
					o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: k.Words + " Higher parallels, or a program that stays away from the jaws: then accept it by the number."})
				}
				o.Checks = append(o.Checks, k)
				o.Lines = append(o.Lines, fold.Row{Label: "room over the jaw", Value: room, Unit: unit.KLength, Signed: true})
				reachesDown(p, low, &o)
			}
			checks.ProgramsPass(p, v, desk.WhileCut, &o)
			o.Facts = []fold.Known{{ID: "deck"}}
			if o.Learned == "" {
				o.Learned = fmt.Sprintf("The jaw top stands at Z %s of the program; nothing is left on the table.", p.Num(top))
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			path, _ := checks.PassingShapes(p, v, desk.WhileCut)
			return fold.Page{Why: "The last contour of side 1 is where cutters meet jaws.", Act: "Touch the top of the fixed jaw. Clear the table and count.",
				Read: "Machine Z at the trigger; counts as seen.", Caution: "SPINDLE STOPPED while you reach in.", Scene: kit.StockPicture(p, v, path...)}
		},
	}
}

// reachesDown says what of the planned cut's tool does not reach down to the lowest cut.
func reachesDown(p *fold.Plan, low float64, o *fold.Outcome) {
	t, ok := p.Job.Tools[p.Setup.Cut.Tool]
	if !ok || t.Flute <= 0 || t.Shank <= 0 || t.Stickout <= 0 || p.Setup.Cut.Ap <= 0 {
		o.Notes = append(o.Notes, "Reach of the tool is not computed: the job does not give flute, shank and stick-out of the cut's tool.")
		return
	}
	depth := -low // the skin is faced away first
	if depth <= 0 {
		return
	}
	faults, err := hold.Plunge{Ap: unit.Length(p.Setup.Cut.Ap), Depth: unit.Length(depth), Flute: unit.Length(t.Flute), Neck: unit.Length(t.Neck), Reach: unit.Length(t.Flute),
		Dia: unit.Length(t.Dia), Shank: unit.Length(t.Shank), Stickout: unit.Length(t.Stickout)}.Faults()
	if err != nil {
		o.Notes = append(o.Notes, "Reach of the tool is not computed: "+err.Error()+".")
		return
	}
	c := fold.Check{Limit: fold.Limit{ID: "jaws.reach", Why: "the tool reaches as deep as it cuts", Class: fold.Soft}, Count: true, Got: float64(len(faults)), Verdict: fold.Pass}
	for _, f := range faults {
		c.Verdict = fold.Fail
		c.Words += "Tool " + fmt.Sprint(p.Setup.Cut.Tool) + ": " + f + ". "
	}
	if c.Verdict == fold.Fail && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "tool", Words: c.Words}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
}
