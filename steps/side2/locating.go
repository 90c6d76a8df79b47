package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// locating finds the locating bore, pin or square, and the second one when the job wants it.
type locating struct {
	p       *fold.Plan
	first   kit.Target
	second  *kit.Target
	probed  bool
	kicks   bool // an edge finder runs
	fitting kit.Fitting
}

// bore is that as a step.
func bore(p *fold.Plan) *fold.Spec {
	l := locating{p: p, probed: kit.ByProbe(p), kicks: p.Setup.Finds == "edge finder"}
	if l.first, l.second = kit.Targets(p); !readsSecond(p) {
		l.second = nil
	}
	var ok bool
	if l.fitting, ok = kit.Fittings[p.Setup.Finds]; !ok {
		l.fitting = kit.Fittings["probe"]
	}
	return &fold.Spec{
		Title: "locating " + l.first.Name, Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"),
			fold.AsRead(append([]fold.FactID{"skew"}, kit.Finder(p).Stands()...)...), fold.IfThere("offset")), Makes: []fold.FactID{"bore"},
		Bare: BoreCovered(p),
		Keys: []string{"setups." + p.Setup.Name + ".hits", "setups." + p.Setup.Name + ".finds"},
		Pause: &fold.Pause{Heading: l.fitting.Heading, Lost: "From here a tap costs bore, floor and offset.",
			Ask: func(fold.View) fold.Ask { return l.boltsSnug() }},
		Asks: l.asks, Judge: l.judge, Page: l.page,
	}
}

// boltsSnug asks whether the fixture is tight, before its place is found.
func (l locating) boltsSnug() fold.Ask {
	a := fold.Ask{Label: "fixture bolts that turn when tried with the wrench", Kind: fold.Count,
		What: fold.What{By: "count", Of: "fixture-bolts", Dir: "loose"}, Want: "0",
		WantWhy: "A loose bolt lets the fixture move.", Hint: "Tighten all and declare the fixture tapped.",
		Do: []fold.Act{{Do: "fit", Of: l.fitting.Of, Words: l.fitting.Words}}}
	a.Shows, a.Cure = "bolts-snug", []fold.Act{{Do: "tighten", Of: "fixture", Words: "Tighten all bolts, alternately. It may have moved: " +
		"the edge is read again."}, {Do: "declare", Of: "fixture-tapped"}}
	if l.kicks { // before the spindle turns
		a.Do = append(a.Do, fold.Act{Do: "wipe", Of: l.first.Of, Words: "Wipe the " + l.first.Name + "."})
		if l.second != nil {
			a.Do = append(a.Do, fold.Act{Do: "wipe", Of: l.second.Of, Words: "Wipe the " + l.second.Name + "."})
		}
	}
	return a
}

func (l locating) asks(v fold.View) []fold.Ask {
	fd := kit.Finder(l.p)
	asks := fd.Asks(v, l.first)
	if l.probed {
		mark := []fold.Ask{kit.MarkAsk()}
		mark[0].Since = kit.SinceMark
		if kit.MarkWrong(v, &fold.Outcome{}) {
			return mark // before any hit
		}
		asks = append(mark, asks...)
	}
	if _, grows := fd.(kit.Sweeper); l.second == nil || grows && !allTaken(v, asks) {
		return asks // the first one is swept until it stands still
	}
	return append(asks, fd.Asks(v, *l.second)...)
}

func (l locating) judge(v fold.View) fold.Outcome {
	fd := kit.Finder(l.p)
	var o fold.Outcome
	if l.probed && kit.MarkWrong(v, &o) {
		return o
	}
	f, ok := fd.Centre(v, l.first, &o)
	if !f.Has {
		return o
	}
	at, how := corrected(l.p, v, f.At)
	fact := fold.Known{ID: "bore", Value: []float64{at.X, at.Y, f.Dia}, Cov: [][]float64{{f.Cov[0][0], f.Cov[0][1]},
		{f.Cov[1][0], f.Cov[1][1]}}, Dof: f.Dof}
	o.Lines = append(o.Lines, fold.Row{Label: l.first.Name + " X (M)", Value: at.X, Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: l.first.Name + " Y (M)", Value: at.Y, Unit: unit.KLength, Signed: true, Big: true})
	o.Notes = append(o.Notes, "The centre is corrected once: "+how+".")
	o.Notes = append(o.Notes, kit.CardAge(l.p, v, "ball")...)
	if f.Turned != nil {
		fact.Value = append(fact.Value, 1, float64(f.Turned.Turn))
		fact.Cov = rows4(f.Turned.Cov)
		stopsAgree(l.p, v, &o, f.Turned)
		o.Lines = append(o.Lines, fold.Row{Label: "skew by the stops", Value: float64(f.Turned.Turn), Unit: unit.KSlope, Signed: true})
	}
	if l.second != nil {
		all, found := l.judgeSecond(v, f, &fact, &o)
		if !found {
			return o
		}
		ok = all && ok
	}
	o.Facts = []fold.Known{fact}
	if ok && o.Learned == "" {
		u := math.Sqrt(math.Max(f.Cov[0][0], f.Cov[1][1]))
		o.Learned = fmt.Sprintf("The %s stands at X %s Y %s, each within %s (95 %%).", l.first.Name, l.p.Num(at.X), l.p.Num(at.Y), l.p.Len(2*u))
	}
	return o
}

// judgeSecond finds the second one: scale and direction by both go into the fact. all says that all of it passes,
// found that there is one.
func (l locating) judgeSecond(v fold.View, f kit.Found, fact *fold.Known, o *fold.Outcome) (all, found bool) {
	fd := kit.Finder(l.p)
	g, ok2 := fd.Centre(v, *l.second, o)
	if !g.Has {
		return false, false
	}
	ok := !smallPin(v, o, [2]kit.Target{l.first, *l.second}, [2]float64{f.Dia, g.Dia}) && ok2
	skew2, q, cov, err := pickup.TwoBores(f.Centre, g.Centre, l.second.From, l.p.Job.Machine.Backlash)
	if err != nil {
		kit.CannotFind(l.p, *l.second, err, o)
		return false, false
	}
	agree(l.p, v, o, l.second, float64(skew2), cov)
	fact.Value = append(fact.Value, q, float64(skew2))
	fact.Cov = rows4(cov)
	o.Lines = append(o.Lines, fold.Row{Label: "scale", Text: fmt.Sprintf("%.6f", q)}, fold.Row{Label: "skew by both", Value: float64(skew2),
		Unit: unit.KSlope, Signed: true})
	return ok, true
}

func (l locating) page(v fold.View) fold.Page {
	fd := kit.Finder(l.p)
	act, read, caution := fd.Says(l.first)
	pg := fold.Page{Why: "The " + l.first.Name + " gives position, and only position. More readings than needed check themselves.", Act: act,
		Read: read, Caution: caution}
	if l.probed && !v.Has("mark") {
		pg.Why = "The ball runs a little off centre, on a known side. Turned half round it moves what is found by twice that."
		pg.Act, pg.Now = "Look how the spindle stands.", true
	}
	if l.kicks && !v.Has("pause") {
		pg.Caution = kit.StoppedYet
	}
	ps := kit.Hits(v, "", l.first.N)
	pg.Scene.Ring = ringPlot(l.p, ps, l.first)
	var marks []fold.Shape
	for i := 0; i < l.first.N; i++ {
		a := 2 * math.Pi * float64(i) / float64(l.first.N)
		role := fold.RoleNext
		if i < len(ps) {
			role = fold.RoleHit
		}
		marks = append(marks, fold.Shape{Role: role, Points: []fold.XY{{X: l.first.Dia / 2 * math.Cos(a), Y: l.first.Dia / 2 * math.Sin(a)}}})
		if role == fold.RoleNext {
			break
		}
	}
	pg.Scene.Shapes = kit.Scene(l.p, v, marks).Shapes
	return pg
}
