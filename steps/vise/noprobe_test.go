package vise_test

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// noProbe is a first side in a shop that finds by that, and has no probe.
func noProbe(t testing.TB, finds string) *fold.Plan {
	return plan(t, func(j *jobs.Job, s *jobs.Setup) {
		j.Machine.Probe, s.Finds = nil, finds
		if finds == "edge finder" {
			j.Machine.Finder = &jobs.EdgeFinder{Dia: 10, Repeat: 0.005}
		}
	})
}

// No page of a shop without a probe speaks of one, and none locks a spindle that has to turn. The corner's pause said PROBE IN -
// SPINDLE LOCKED to an edge finder.
func TestNoProbeNoWordOfOne(t *testing.T) {
	probe, locked := regexp.MustCompile(`(?i)\bprobe\b|spindle mark`), regexp.MustCompile(`SPINDLE LOCKED`)
	for _, finds := range []string{"edge finder", "paper"} {
		p := noProbe(t, finds)
		for _, sp := range append(append([]*fold.Spec{}, p.Line...), p.Off...) {
			if sp.ID == "lengths" || sp.ID == "program" { // of every kind
				continue
			}
			v := fold.Trial(p, sp.ID, trial.When, over())
			pg := sp.Page(v)
			texts := []string{pg.Act, pg.Why, pg.Read, pg.Caution, pg.After}
			asks := sp.Asks(v)
			if sp.Pause != nil {
				asks = append(asks, sp.Pause.Ask(v))
				texts = append(texts, sp.Pause.Heading, sp.Pause.Lost)
			}
			for _, a := range asks {
				texts = append(texts, a.Label, a.WantWhy, a.Hint)
				for _, d := range a.Do {
					texts = append(texts, d.Words)
				}
			}
			for _, s := range texts {
				if probe.MatchString(s) || finds == "edge finder" && locked.MatchString(s) {
					t.Errorf("%s, %s: %q", finds, sp.ID, s)
				}
			}
		}
	}
}

// A seat face 1.7 in from Z0, keyed and kept with +, passed: nothing held it against the height that the program cuts it at.
func TestSeatFaceStandsAtZ0(t *testing.T) {
	p := plan(t, func(j *jobs.Job, _ *jobs.Setup) { j.Fixture.ID = "" })
	typed := func(z float64) fold.Outcome {
		v := [][2]string{{"x1", "96"}, {"x2", "96"}, {"y1", "64"}, {"y2", "64"}, {"wall", "2"}}
		for i := 1; i <= 4; i++ {
			v = append(v, [2]string{fmt.Sprintf("z%d", i), fmt.Sprint(z)})
		}
		fs := append(over(), fold.Known{ID: "cut"})
		for i := range fs {
			if fs[i].ID == "top" {
				fs[i].Value[5] = 10 // of block under the tool
			}
		}
		return judged(t, p, "sizes", fs, v...)
	}
	if c := checkOf(t, typed(-190.05), "after.height"); c.Verdict != fold.Pass || math.Abs(c.Got-0.05) > 1e-9 {
		t.Errorf("%+v", c)
	}
	o := typed(-190 + 1.7*25.4)
	c := checkOf(t, o, "after.height")
	if c.Verdict != fold.Fail || c.Limit.Class != fold.Hard || math.Abs(c.Got-43.18) > 1e-9 || len(o.Next) == 0 {
		t.Errorf("%+v %+v", c, o.Next)
	}
}

// What a tool over a block scatters by counts for heights, not what paper scatters by at a face: 0.010 was taken for both, or 0.001 of no probe.
func TestHeightsScatterAsTheirTouch(t *testing.T) {
	for finds, s := range map[string]float64{"edge finder": 0.003, "paper": 0.010} {
		p := noProbe(t, finds)
		at := [][2]string{{"block", "10"}}
		for i := 1; i <= 5; i++ {
			at = append(at, [2]string{fmt.Sprintf("z%d", i), "-190"})
		}
		datum := kit.ZDatum(p)
		o := judged(t, p, "top", []fold.Known{{ID: datum, Value: []float64{100}, Cov: [][]float64{{0}}}}, at...)
		f, ok := o.Fact("top")
		if !ok {
			t.Fatal(o.Checks)
		}
		top, _ := facts.Top.Read(f)
		// the lowest of a plane of four corners and the middle, at a corner: s * sqrt(1/5 + 1/4 + 1/4), common to all
		if u := math.Sqrt(top.Cov.Var("z0")); !(u < 1.2*s && u > 0.4*s) {
			t.Errorf("%s: u %.5f of a scatter of %.3f", finds, u, s)
		}
	}
}

// Two touches through paper differ by 0.014 of themselves (0.010 each): a limit of 0.010 doubted a stock that had not moved.
func TestStockCheckByPaper(t *testing.T) {
	p := noProbe(t, "paper")
	sp, _ := p.Spec("bore-check")
	for _, x := range p.Off {
		if x.Title == "stock check" {
			sp = x
		}
	}
	was := []fold.Known{{ID: "corner", Value: []float64{0, 0, 0, math.Pi / 2, -1, -1, -5, -6}}, {ID: "top", Value: []float64{-300, 0, 0, -300, -290, 10}}, {ID: kit.ZDatum(p), Value: []float64{100}}}
	for d, want := range map[float64]fold.Verdict{0.020: fold.Pass, 0.060: fold.Fail} {
		o := sp.Judge(fold.Trial(p, sp.ID, trial.When, was, [2]string{"x", fmt.Sprint(-5 + d)}, [2]string{"y", "-6"}, [2]string{"z", "-190"}))
		if c := checkOf(t, o, "check.stock.x"); c.Verdict != want || math.Abs(c.Limit.Max-3.5*math.Sqrt2*0.010) > 1e-12 {
			t.Errorf("moved %.3f: %+v", d, c)
		}
	}
}
