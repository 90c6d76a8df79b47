package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// holeMargin is how far inside the part a drill keeps from the jaws, mm: half of a clearance hole for M5.
const holeMargin = 3.0

// drillsInside says that a program goes down inside the part only: its depth is no matter of the jaws.
func drillsInside(p *fold.Plan, role string, box []float64) bool {
	if role != "drill" {
		return false
	}
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	x, y := 0.0, 0.0
	if byMiddle(p) {
		x, y = -w/2, -h/2
	}
	return box[0] >= x+holeMargin && box[3] <= x+w-holeMargin && box[1] >= y+holeMargin && box[4] <= y+h-holeMargin
}

// lowest are the lowest z beside the jaws, and that of what is drilled inside the part: by what was read in
// the programs or by the job. from is "" where neither says; drilled is not a number without holes.
func lowest(p *fold.Plan, v fold.View) (z, drilled float64, from string) {
	z, drilled = math.Inf(1), math.NaN()
	for _, id := range checks.ProgramFacts(p) {
		f, ok := facts.Program.Of(id.Thing()).In(v)
		if !ok || len(f.Box) < 6 {
			continue
		}
		if v.Walks(3) && drillsInside(p, id.Thing(), f.Box) {
			drilled = f.Box[2]
			continue
		}
		z, from = math.Min(z, f.Box[2]), "the programs"
	}
	if from != "" {
		return z, drilled, from
	}
	if l := p.Setup.Cut.Lowest; p.Setup.Cut.Tool > 0 && !math.IsNaN(l) {
		return l, drilled, "the job"
	}
	return 0, drilled, ""
}

// underTool is the block that lay under the tool at the touches on the top.
func underTool(v fold.View) float64 {
	t, _ := facts.Top.In(v)
	return float64(t.Block)
}

// jaws measures the jaw top and holds the lowest cut and the tool's reach against it.
func jaws(p *fold.Plan) *fold.Spec {
	reads := checks.ReadsAt(p, desk.WhileCut)
	return &fold.Spec{
		Title: "clear of jaws",
		Needs: fold.Needs(fold.Live("seat"),
			fold.AsRead(append([]fold.FactID{"offset", "echo", "top", kit.ZDatum(p)}, checks.ProgramFacts(p)...)...),
			fold.IfThere(checks.CutterLengths(p)...)),
		Makes: []fold.FactID{"deck"},
		Keys:  []string{"setups." + p.Setup.Name + ".vise.jaw"}, Former: []string{"setups." + p.Setup.Name + ".vise", "setups." + p.Setup.Name +
			".cut", "tools"},
		Asks:  func(v fold.View) []fold.Ask { return append(jawsAsks(p, v), reads.Asks(v)...) },
		Judge: func(v fold.View) fold.Outcome { return judgeJaws(p, v, reads) },
		Page: func(v fold.View) fold.Page {
			path, _ := reads.Shapes(v)
			return fold.Page{Why: "The last contour of side 1 is where cutters meet jaws.",
				Act:  "Touch the top of the fixed jaw. Clear the table and count.",
				Read: kit.ReadZ(p) + " Counts as seen.", Caution: "SPINDLE STOPPED while you reach in.", Scene: kit.StockPicture(p, v, path...)}
		},
	}
}

// jawPlace is where the fixed jaw is touched.
func jawPlace(p *fold.Plan) string {
	x, y := math.Round(p.Job.Part.Size[0]/2), math.Round(p.Job.Part.Size[1]+4)
	if p.Setup.Vise.Jaw == "toward" {
		y = -4
	}
	return "jaw-top@" + kit.Place(x) + "," + kit.Place(y)
}

func jawsAsks(p *fold.Plan, v fold.View) []fold.Ask {
	a := fold.Ask{Field: "jaw", Label: "top of the fixed jaw", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: kit.TouchBy(p), Of: jawPlace(p), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(p, "z")}
	a.Do = []fold.Act{{Do: "wipe", Of: "vise", Words: "Wipe the top of the fixed jaw and touch it."}}
	if f, ok := facts.Offset.In(v); ok {
		if l, ok := facts.Length.Of(kit.ZDatum(p).Thing()).In(v); ok {
			a.Window = kit.Around(float64(f.Z)+float64(l.L)+underTool(v)+p.Setup.Vise.JawTop, 2, "the jaw top of the job")
			a.Window.Slips = kit.Slips(p, v, "z", kit.BallRadius(p, v), nil)
		}
	}
	asks := []fold.Ask{a}
	if p.Setup.HolesHere {
		asks = append(asks, kit.Counted("under", "holes with a parallel or the vise's bed close under them", "parallels", "under-holes", "0",
			"The drill would go into it.", "Open, move the parallels, seat the stock again."))
	}
	w := kit.Counted("wrenches", "handles and wrenches left on vise and table", "wrenches", "", "0", "A wrench on the table is thrown.",
		"Take it off the table and count again.")
	d := kit.Counted("dials", kit.Loose(p)+" left in", "dials", "", "0", "The spindle starts with nothing else inside.",
		"Take it out and count again.")
	w.Form, d.Form = "deck", "deck"
	return append(asks, w, d)
}

func judgeJaws(p *fold.Plan, v fold.View, reads *checks.Reads) fold.Outcome {
	var o fold.Outcome
	f, ok1 := facts.Offset.In(v)
	l, ok2 := facts.Length.Of(kit.ZDatum(p).Thing()).In(v)
	if !ok1 || !ok2 {
		kit.Refuse(&o, "jaws.offset", "work offset", fmt.Errorf("there is no offset to reckon from"))
		return o
	}
	top := fit.ZOffset(v.Len("jaw"), float64(l.L), underTool(v)) - float64(f.Z)
	low, drilled, from := lowest(p, v)
	into := v.Walks(3) && from != "" && low < top // what hurts is said first
	if into {
		roomOverJaw(p, v, low, top, from, &o)
	}
	jawHeight(p, top, &o)
	o.Lines = append(o.Lines, fold.Row{Label: "jaw top (W)", Value: top, Unit: unit.KLength, Signed: true, Big: true})
	if from == "" {
		o.Notes = append(o.Notes, "Room over the jaws is not computed: neither programs nor job say how low is cut.")
	} else {
		if !into {
			roomOverJaw(p, v, low, top, from, &o)
		}
		o.Lines = append(o.Lines, fold.Row{Label: "room over the jaw", Value: low - top, Unit: unit.KLength, Signed: true})
		judgeReach(p, v, low, &o)
	}
	roomUnderHoles(p, drilled, &o)
	reads.Pass(v, &o)
	o.Facts = []fold.Known{{ID: "deck"}}
	if o.Learned == "" {
		o.Learned = fmt.Sprintf("The jaw top stands at Z %s of the program; nothing is left on the table.", p.Num(top))
	}
	return o
}

// jawHeight holds the jaw top against the job's.
func jawHeight(p *fold.Plan, top float64, o *fold.Outcome) {
	c := judge.Off(p.Limit("jaws.top"), top, p.Setup.Vise.JawTop, 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("The jaw top stands at Z %s, the job says %s: other parallels, or a wrong Z0.", p.Num(top),
			p.Num(p.Setup.Vise.JawTop))
		if o.Named = "jaw-height"; len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "vise", Words: c.Words + " Look at both, then touch it again."}, fold.Act{Do: "round"})
		}
	}
	o.Checks = append(o.Checks, c)
}

// roomOverJaw judges how far the lowest cut keeps from the jaws.
func roomOverJaw(p *fold.Plan, v fold.View, low, top float64, from string, o *fold.Outcome) {
	room := low - top
	k := judge.Least(p.Limit("jaws.room"), room, 0)
	if k.Verdict == fold.Fail {
		k.Words = fmt.Sprintf("By %s the lowest cut goes to Z %s, %s over the jaw.", from, p.Num(low), p.Len(room))
		advice := " Higher parallels, or a program that stays away from the jaws: then accept it by the number."
		if v.Walks(3) {
			if advice = " Higher parallels, or a program that ends above the jaws."; room < 0 {
				k.Words = fmt.Sprintf("By %s the cutter goes %s INTO the jaw: its lowest cut is at Z %s.", from, p.Len(-room), p.Num(low))
			}
		}
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: k.Words + advice})
	}
	o.Checks = append(o.Checks, k)
}

// roomUnderHoles judges how far what is drilled through the part keeps from the vise's bed; without the
// height of the parallels the count of what lies close under the holes has to do.
func roomUnderHoles(p *fold.Plan, drilled float64, o *fold.Outcome) {
	if math.IsNaN(drilled) {
		return
	}
	h := p.Setup.Vise.Parallel
	if h <= 0 {
		o.Notes = append(o.Notes, "Room under the holes is what you saw: the job does not give the height of the parallels (vise.parallel).")
		return
	}
	bed := -p.Job.Part.Size[2] - p.Job.Part.Skin[1] - h
	k := judge.Least(p.Limit("jaws.under"), drilled-bed, 0)
	if k.Verdict == fold.Fail {
		k.Words = fmt.Sprintf("The drill goes to Z %s and the vise's bed lies at Z %s.", p.Num(drilled), p.Num(bed))
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: k.Words + " Higher parallels, or a program that drills less deep."})
		}
	}
	o.Checks = append(o.Checks, k)
	o.Lines = append(o.Lines, fold.Row{Label: "room under the holes", Value: drilled - bed, Unit: unit.KLength, Signed: true})
}

// reachesDown holds the planned cut's tool against the depth that it cuts to; why says that it can't be reckoned.
func reachesDown(p *fold.Plan, low float64, withNeck bool) (c fold.Check, ok bool, why string) {
	l := fold.Limit{ID: "jaws.reach", Why: "reach of the tool against its depth of cut", Class: fold.Soft}
	t, known := p.Job.Tools[p.Setup.Cut.Tool]
	if !known || t.Flute <= 0 || t.Shank <= 0 || t.Stickout <= 0 || p.Setup.Cut.Ap <= 0 {
		return fold.Check{Limit: l}, false, "Reach of the tool is not computed: the job does not give flute, shank and stick-out of the cut's " +
			"tool."
	}
	depth := -low // the skin is faced away first
	if depth <= 0 {
		return fold.Check{Limit: l}, false, ""
	}
	neck, reach := t.Neck, t.Flute // earlier walks took the neck's length for its diameter
	if withNeck {
		neck, reach = t.NeckDia, t.Flute+t.Neck
	}
	faults, err := hold.Plunge{Ap: unit.Length(p.Setup.Cut.Ap), Depth: unit.Length(depth), Flute: unit.Length(t.Flute),
		Neck: unit.Length(neck), Reach: unit.Length(reach),
		Dia: unit.Length(t.Dia), Shank: unit.Length(t.Shank), Stickout: unit.Length(t.Stickout)}.Faults()
	if err != nil {
		return fold.Check{Limit: l}, false, "Reach of the tool is not computed: " + err.Error() + "."
	}
	for i, f := range faults {
		faults[i] = fmt.Sprintf("Tool %d: %s.", p.Setup.Cut.Tool, f)
	}
	return judge.Faults(l, faults), true, ""
}

// judgeReach says what of the planned cut's tool does not reach down to the lowest cut.
func judgeReach(p *fold.Plan, v fold.View, low float64, o *fold.Outcome) {
	c, ok, why := reachesDown(p, low, v.Walks(3))
	if !ok {
		if why != "" {
			o.Notes = append(o.Notes, why)
		}
		return
	}
	if c.Verdict == fold.Fail && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "tool", Words: c.Words}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
}
