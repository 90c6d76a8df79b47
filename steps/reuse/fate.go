package reuse

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/chart"
	calc "fliptrue/calc/reuse"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// fates are what becomes of it, in the order of facts.KeptFact.
var fates = []string{"used", "rested", "cut anew"}

// seen are the times that it came back, in their order, those left out of the trend not among them.
func seen(p *fold.Plan) []jobs.Seen {
	out := slices.DeleteFunc(slices.Clone(p.Job.Fixture.Seen), func(s jobs.Seen) bool { return s.LeftOut != "" })
	slices.SortStableFunc(out, func(a, b jobs.Seen) int { return a.Use - b.Use })
	return out
}

// today is this time as a row of its history.
func today(p *fold.Plan, get kit.Facts) (s jobs.Seen) {
	s.Use = p.Job.Fixture.Uses
	if f, ok := facts.WornBore.By(get); ok {
		s.Bore = f.Rest
	}
	if f, ok := facts.Scale.By(get); ok {
		s.Grown = f.Rest
	}
	if f, ok := facts.FloorNow.By(get); ok {
		s.Floor, s.Rim = float64(f.Form), float64(f.Rim)
	}
	if f, ok := facts.WornLine.By(get); ok {
		s.Line = unit.Slope(f.Rest)
	}
	return s
}

// runs are its quantities over its uses, this one last; uses of one number stand one behind the other.
func runs(p *fold.Plan, now jobs.Seen) (bore, floor, line calc.Run) {
	bore.Limit, floor.Limit = calc.BoreMost, calc.FloorMost
	last := -1.0
	for _, s := range append(seen(p), now) {
		use := float64(s.Use)
		if use <= last {
			use = last + 1
		}
		last = use
		for _, x := range []struct {
			r *calc.Run
			v float64
		}{{&bore, s.Bore}, {&floor, s.Floor}, {&line, float64(s.Line)}} {
			x.r.Use, x.r.Rest = append(x.r.Use, use), append(x.r.Rest, x.v)
		}
	}
	return bore, floor, line
}

// why are the reasons in words.
var why = map[calc.Why]string{calc.BoreRun: "bore 1 wears from use to use", calc.FloorRun: "the floor warps from use to use",
	calc.LineRun: "edge and bores part from use to use",
	calc.Grown:   "it has grown by what no air explains", calc.Crazed: "two bosses are cracked through",
	calc.SameAgain: "its parts were corrected three times the same way"}

// reasons are what speaks for cutting it anew; short says that too few times are known for a trend.
func reasons(p *fold.Plan, get kit.Facts) (out []string, short bool, err error) {
	var st calc.State
	st.Bore, st.Floor, st.Line = runs(p, today(p, get))
	if f, ok := facts.Scale.By(get); ok {
		st.Moisture = f.Moist == 1
		st.Scale = budget.Decide(max(f.Rest, -f.Rest), f.Guard, budget.AtMost, calc.RestMost)
	}
	if f, ok := facts.LookedAt.By(get); ok {
		st.Crazed = int(f.Crazed) + p.Job.Fixture.Threads.Crazed
	}
	found := map[calc.Why]bool{}
	for _, c := range corrections(p) {
		st.Corrections = c
		ws, err := st.Recut()
		if err != nil {
			return nil, false, err
		}
		for _, w := range ws {
			if w == calc.TooFewToSay {
				short = true
			} else if !found[w] {
				found[w] = true
				out = append(out, why[w])
			}
		}
	}
	return out, short, nil
}

// corrections are those taken out of the card, along X and along Y.
func corrections(p *fold.Plan) (out [2][]float64) {
	fs := slices.Clone(p.Job.Fixture.Found)
	slices.SortStableFunc(fs, func(a, b jobs.Found) int { return strings.Compare(a.At, b.At) })
	for _, f := range fs {
		for i, v := range [2]float64{f.Took.X, f.Took.Y} {
			if v != 0 {
				out[i] = append(out[i], v)
			}
		}
	}
	return out
}

// fate is what becomes of it.
func fate(p *fold.Plan) *fold.Spec {
	needs := fold.Needs(facts.Back.Live(), facts.LookedAt.Live(), facts.FloorNow.Live(), facts.DryFit.Live())
	if _, _, ok := targets(p); ok {
		needs = fold.Needs(needs, facts.Scale.Live(), facts.WornBore.Live())
		if _, edged := kit.EdgeOf(p); edged {
			needs = fold.Needs(needs, facts.WornLine.Live())
		}
	}
	if p.Job.Fixture.Threads.Kind != "none" && threadCount(p) > 0 {
		needs = fold.Needs(needs, facts.Reproved.Live())
	}
	return &fold.Spec{
		Title: "verdict", Needs: needs, Makes: []fold.FactID{facts.Kept.ID}, Record: true,
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "fate", Label: "the fixture is", Kind: fold.Choice, Options: fates,
				What: fold.What{By: "eye", Of: "fixture", Dir: "fate"}}}
		},
		Judge: func(v fold.View) fold.Outcome { return judgeFate(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "One reading is a day; a row of them is wear.", Act: "Say what becomes of it.",
				Read: "All of it again in one clamping: then it has a new card.", Scene: kit.Scene(p, v, nil)}
			if o := trend(p, v.Perhaps); len(o.Lines) > 0 {
				pg.Rows = o.Lines
				if len(o.Notes) > 0 {
					pg.Act += " " + o.Notes[0]
				}
			}
			return pg
		},
	}
}

// trend is what the runs say, as rows and one line of advice.
func trend(p *fold.Plan, get kit.Facts) (o fold.Outcome) {
	bore, floor, _ := runs(p, today(p, get))
	for _, x := range []struct {
		name string
		r    calc.Run
	}{{"bore wider is +", bore}, {"floor worse is +", floor}} {
		n := len(x.r.Rest)
		o.Lines = append(o.Lines, fold.Row{Label: "now, " + x.name, Value: x.r.Rest[n-1], Unit: unit.KLength, Signed: true, Big: true})
		c, err := chart.ToIndividuals(x.r.Rest)
		t, terr := chart.ToTrend(x.r.Use, x.r.Rest)
		if err != nil || terr != nil {
			o.Lines = append(o.Lines, fold.Row{Label: "its chart", Text: fmt.Sprintf("%d of %d times: too few to say", n, chart.Enough)})
			continue
		}
		o.Lines = append(o.Lines, fold.Row{Label: "its chart", Text: kit.Signed(p, c.Lower) + " to " + kit.Signed(p, c.Upper)})
		if t.Real {
			o.Lines = append(o.Lines, fold.Row{Label: "a use adds", Value: t.Slope, Unit: unit.KLength, Signed: true})
			_, last, _ := x.r.Look()
			o.Lines = append(o.Lines, fold.Row{Label: "keeps its limit up to use", Text: fmt.Sprint(last)})
		}
	}
	rs, short, err := reasons(p, get)
	switch {
	case err != nil:
		o.Notes = append(o.Notes, fold.Capital(err.Error())+".")
	case len(rs) > 0:
		o.Notes = append(o.Notes, "Cut it anew. "+sentences(rs))
	case moist(get):
		o.Notes = append(o.Notes, "Damp alone: rest it in dry air, or use it by both bores.")
	case short:
		o.Notes = append(o.Notes, "Nothing speaks against using it; a trend needs more times.")
	default:
		o.Notes = append(o.Notes, "Nothing speaks against using it.")
	}
	return o
}

// moist says that the rest of its growth is damp, and too much of it to be let be.
func moist(get kit.Facts) bool {
	f, ok := facts.Scale.By(get)
	return ok && f.Moist == 1 && max(f.Rest, -f.Rest) > calc.RestMost/2
}

func judgeFate(p *fold.Plan, v fold.View) fold.Outcome {
	o := trend(p, v.Fact)
	f := facts.KeptFact{Fate: float64(max(0, slices.IndexFunc(fates, func(s string) bool { return fold.SameAnswer(v.Text("fate"), s) })))}
	rs, _, err := reasons(p, v.Fact)
	if err != nil {
		kit.Refuse(&o, "reuse.runs", "its history can be read as a row", err)
		return o
	}
	if len(v.Spoiled()) > 0 {
		f.Out = 1
		o.Notes = append(o.Notes, "Not counted in its trend: a mishap or a waiver stands in this record.")
	}
	c := fold.Check{Limit: fold.Limit{ID: "reuse.recut", Why: "reasons to cut it anew", Class: fold.Hard}, Got: float64(len(rs)), Count: true,
		Verdict: fold.Pass}
	if len(rs) > 0 && f.Fate != 2 {
		c.Verdict, c.Words = fold.Fail, "Cut it anew. "+sentences(rs)
		o.Named = "recut-due"
		o.Next = []fold.Act{{Do: "look", Of: "fixture", Words: "Skim all pads, bores and edge in one clamping; that gives a new card."},
			{Do: "again", Of: "fate"}}
	}
	o.Checks = []fold.Check{c}
	o.Facts = []fold.Known{facts.Kept.Is(f)}
	o.Learned = fmt.Sprintf("%s is %s.", p.Job.Fixture.ID, fates[int(f.Fate)])
	return o
}

// sentences are reasons, one behind the other.
func sentences(rs []string) string {
	var out []string
	for _, r := range rs {
		out = append(out, fold.Capital(r)+".")
	}
	return strings.Join(out, " ")
}
