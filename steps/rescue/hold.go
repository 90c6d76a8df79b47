package rescue

import (
	"fmt"

	"fliptrue/calc/hold"
	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// ladder are the ways to hold it again, in the order in which they are tried; counts says that screws hold by it.
var ladder = []struct {
	way, act string
	counts   bool
}{
	{"the same screws, tried again", "Tighten crosswise to the working torque.", true},
	{"spare threads", "Drill through the part into the spare threads. Screws in, crosswise.", true},
	{"the next size in the same hole", "By hand in a pin vise: open the part, tap the torn hole one size up.", true},
	{"a longer screw, nut or bar below", "Longer screw with nut or bar below; it must not touch the table.", true},
	{"straps on finished faces", "Card or cork pads, tip over solid, top below the path. Count them on.", false},
	{"wedges, or the cavity filled", "Wax below 70 C or plaster against the thin wall. None under the seat.", false},
	{"tape or glue at the skirts", "Clean, dry faces. Test it on scrap first. Fumes: eye protection, fresh air.", false},
	{"a lighter cut alone", "Post the rest again with a smaller depth.", false},
}

func wayOf(v fold.View) int {
	for i, l := range ladder {
		if fold.SameAnswer(v.Text("way"), l.way) {
			return i
		}
	}
	return -1
}

// again holds it again and reckons the hold-down with what is left.
func again(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "hold it again", Needs: fold.Needs(fold.Live("decided"), facts.Lost.Live(), fold.AsLeft("screws")),
		Makes: []fold.FactID{facts.Screws.ID}, Keys: []string{"setups." + p.Setup.From + ".cut", "setups." + p.Setup.From + ".screws"},
		Asks:  func(v fold.View) []fold.Ask { return holdAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeHold(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "After a loss the rest must bear the loss of one more.", Act: "Hold it where it lies. Do not push it back.",
				Read:    "Screws that take their working torque. Straps count as drawn, glue by its test; wedges do not.",
				Caution: "SPINDLE STOPPED, its command off. A glued part lets go when it gets warm.", Scene: kit.Scene(p, v, nil)}
			for i, l := range ladder { // all until one is chosen, then that one
				if k := wayOf(v); k < 0 || k == i {
					pg.Rows = append(pg.Rows, fold.Row{Label: fmt.Sprintf("%d %s", i+1, l.way), Text: l.act})
				}
			}
			pg.Rows = append(pg.Rows, nextSize(p)...)
			return pg
		},
	}
}

func holdAsks(p *fold.Plan, v fold.View) []fold.Ask {
	f, _ := facts.Lost.In(v)
	lost := lostOf(p, f)
	way := fold.Ask{Field: "way", Label: "it is held again by", Kind: fold.Choice, What: fold.What{By: "eye", Of: "part", Dir: "held-again"}}
	for _, l := range ladder {
		way.Options = append(way.Options, l.way)
	}
	asks := []fold.Ask{way}
	k := wayOf(v)
	if k < 0 {
		return asks
	}
	act := fold.Act{Do: "hold", Of: "part", Words: ladder[k].act}
	if ladder[k].counts {
		for _, i := range lost {
			asks = append(asks, fold.Ask{Field: screwField(i), Label: screwPlace(p, i) + " now", Kind: fold.Choice, Options: []string{firm, turns},
				What: fold.What{By: "driver", Of: fmt.Sprintf("screw/%d", i+1), Dir: "again"}})
		}
	}
	soft := kit.Counted("soft", "other screws that went soft", "soft-screws", "", "0", "A soft screw holds nothing.",
		"Take stock again: look, then hold.")
	asks = append(asks, helpAsks(p, ladder[k].way)...)
	depth := length("depth", "deepest cut from now on, as posted", fold.What{By: "control", Of: "program", Dir: "depth"},
		kit.Around(p.Setup.Cut.Ap, p.Setup.Cut.Ap, "the planned cut"))
	head := length("head", "highest screw head over the part's face", fold.What{By: "gauge", Of: "screw-head", Dir: "height"},
		kit.Around(3, 3, "a screw's head"))
	if h, ok := desk.HeadHeight(p); ok {
		head.Window = kit.Around(h, h, "head and washer of the job")
	}
	first := len(asks)
	asks = append(asks, soft, depth)
	if len(p.Setup.Screws.At) > 0 {
		asks = append(asks, head)
	}
	at := min(first, 1)
	asks[at].Do = append(asks[at].Do, act)
	return asks
}

// goneNow are the screws that do not hold after all that was done.
func goneNow(p *fold.Plan, v fold.View) (out []int) {
	f, _ := facts.Lost.In(v)
	for _, i := range lostOf(p, f) {
		if !fold.SameAnswer(v.Text(screwField(i)), firm) {
			out = append(out, i)
		}
	}
	return out
}

func judgeHold(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	depth := v.Len("depth")
	gone := goneNow(p, v)
	n := len(p.Setup.Screws.At) - len(gone)
	if p.Holds() != nil {
		desk.HoldDown(p, desk.AsFound{}, &o)
	} else {
		heldBy(p, v, gone, depth, &o)
	}
	was, _ := facts.Screws.In(v)
	now := facts.ScrewsFact{N: float64(n), Head: unit.Length(v.Len("head")), Engaged: was.Engaged, Set: was.Set}
	o.Facts = []fold.Known{facts.Screws.Is(now)}
	if k := wayOf(v); k >= 0 && !ladder[k].counts && !helped(p, v) {
		o.Notes = append(o.Notes, fmt.Sprintf("Not counted: %s. The numbers are those of %d screws alone.", ladder[k].way, n))
	}
	if depth != p.Setup.Cut.Ap {
		o.Notes = append(o.Notes, fmt.Sprintf("The job says a cut of %s. Change it there too: the program is read against it.",
			p.Len(p.Setup.Cut.Ap)))
	}
	o.Learned = fmt.Sprintf("%d screws hold it; one more may let go.", n)
	if helped(p, v) {
		o.Learned = fmt.Sprintf("%d screws hold it, and %s.", n, ladder[wayOf(v)].way)
	}
	return o
}

// heldBy holds the cut against what is left, leaving the seat first.
func heldBy(p *fold.Plan, v fold.View, gone []int, depth float64, o *fold.Outcome) {
	left, why := leftHolds(p, v, gone)
	glue, stuck := glued(p, v)
	if s := strapsOn(p, v); len(s) > 0 {
		left, why = withStraps(p, v, gone, s)
	}
	fails := func() {
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "hold", Of: "part", Words: "Do not cut. Take the next way of the list, or a lighter cut."},
				fold.Act{Do: "round"})
			o.Named = "not-held"
		}
	}
	if stuck != "" {
		o.Notes = append(o.Notes, "The film does not count: "+stuck+".")
	}
	if glue > left.Throws || why != "" && glue > 0 { // the better of the two: they do not pull together
		heldByFilm(p, glue, depth, o, fails)
		return
	}
	if why != "" {
		o.Checks = append(o.Checks, desk.NotComputed(why))
		fails()
		return
	}
	one := func(id, what string, class fold.Class, low, high unit.Length) {
		l := fold.Limit{ID: id, Why: what, Max: float64(low), Class: class, Unit: unit.KLength}
		c := judge.Ends(l, depth, depth <= float64(low), depth <= float64(high))
		c.Words = fmt.Sprintf("%s hold up to %s, at best %s.", fold.Capital(counted(left)), p.Len(float64(low)), p.Len(float64(high)))
		if c.Verdict != fold.Pass {
			fails()
		}
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: what, Value: float64(low), Unit: unit.KLength, Verdict: c.Verdict, Big: id == "hold.retention"})
	}
	one("hold.retention", "leaves its seat above", fold.Never, left.Throws, left.Ends.High.Retention.Ceiling)
	one("hold.register", "slips above", fold.Hard, left.Slips, left.Ends.High.Ceiling.Least)
	o.Lines = append(o.Lines, fold.Row{Label: "deepest cut from now on", Value: depth, Unit: unit.KLength})
	o.Notes = append(o.Notes, desk.Estimate)
}

// nextSize is what the next thread carries in the torn hole, for a page.
func nextSize(p *fold.Plan) []fold.Row {
	old, err := hold.ThreadNamed(p.Setup.Screws.Thread)
	next, ok := hold.Next(old)
	if err != nil || !ok {
		return nil
	}
	base, err := p.Job.Library().Like(p.Job.Fixture.Material)
	if err != nil || !base.Shear.Known() || p.Job.Fixture.Threads.Depth <= 0 {
		return nil
	}
	n, err := calc.ToNextSize(old, next, unit.Length(p.Job.Fixture.Threads.Depth), unit.Stress(base.Shear.Low))
	if err != nil {
		return nil
	}
	text := fmt.Sprintf("%.3f times, strips at %s", n.Times, unit.Show(float64(n.Strip), unit.KForce, p.Job.Unit, 1))
	if !n.Cuts {
		text += "; its tap drill is smaller than the torn hole: it may hold less"
	}
	return []fold.Row{{Label: next.Name + " in the torn hole", Text: text}}
}
