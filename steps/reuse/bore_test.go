package reuse_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// aroundPins are touches of two pins of diameter d from outside by a ball of radius 1: the same ways, a ball farther out.
func aroundPins(d, x, y, per float64) (in []typed) {
	for _, w := range touches(d+4, x, y) { // d/2 + 1 from the middle instead of d/2 - 1
		if w[0] != "mark" {
			var v float64
			fmt.Sscan(w[1], &v)
			w[1] = fmt.Sprintf("%.8f", v/per)
		}
		in = append(in, w)
	}
	return in
}

// A fixture on pins: the ball is outside of them, and its radius comes off twice. By hand: pins of 7.986 grown by 5.350e-4 are 7.99027;
// 7.9952 is 0.00493 beyond that, in inches as in millimetres.
func TestPinsAreTouchedFromOutside(t *testing.T) {
	for name, u := range map[string]struct {
		sys unit.System
		per float64
	}{"mm": {unit.Metric, 1}, "inch": {unit.Imperial, 25.4}} {
		p := season(t, func(j *jobs.Job) { worked(j); j.Unit, j.Fixture.AsMade.Bore.Kind = u.sys, "pin" })
		for _, c := range []struct {
			d, off float64
			want   fold.Verdict
			named  string
		}{{7.9952, 0.004927, fold.Pass, ""}, {8.004, 0.013727, fold.Fail, "bore-worn"}, {7.970, -0.020273, fold.Fail, "bore-worn"}} {
			o := judged(t, p, "scale", []fold.Known{ball, backAt(24, 55), looked}, aroundPins(c.d, 120.0628, 0.0110, u.per)...)
			w, _ := facts.WornBore.Read(known(o, facts.WornBore.ID))
			near(t, name+" pin beyond its size", w.Rest, c.off, 2e-6)
			if got := fold.Worst(o.Checks); got != c.want || o.Named != c.named {
				t.Errorf("%s, %g: %v %q %+v", name, c.d, got, o.Named, o.Checks)
			}
			if c.want != fold.Pass && !strings.HasPrefix(o.Next[0].Words, "Pin 1 is ") {
				t.Errorf("%q", o.Next[0].Words)
			}
		}
	}
}

// Wear at its limit of 0.010 is judged with what is known: u of a diameter by four hits of 0.001 and a ball by eight of them is
// 0.001·√(1 + 1/2) = 0.001225, with 0.0005 of the card 0.001323 and 0.00003 of the scale: the guard is 0.00218.
func TestWearAtItsLimit(t *testing.T) {
	p := season(t, worked)
	const want = 7.990273
	for _, c := range []struct {
		off  float64
		want fold.Verdict
	}{{0.0077, fold.Pass}, {0.0079, fold.NotProven}, {-0.0079, fold.NotProven}, {0.0121, fold.NotProven}, {0.0123, fold.Fail}, {-0.0123, fold.Fail}} {
		o := judged(t, p, "scale", []fold.Known{ball, backAt(24, 55), looked}, touches(want+c.off, 120.0628, 0.0110)...)
		k := o.Checks[1]
		if k.Verdict != c.want || k.Limit.ID != "reuse.bore" {
			t.Errorf("%+.4f: %+v", c.off, k)
		}
		near(t, "guard", k.Guard, 1.645*math.Sqrt(1.5e-6+0.25e-6+0), 2e-5)
		if worn := o.Named == "bore-worn"; worn != (c.want == fold.Fail) || len(o.Next) > 0 == (c.want == fold.Pass) {
			t.Errorf("%+.4f: named %q, next %v", c.off, o.Named, o.Next)
		}
	}
}

// An edge finder's size is known to some microns, which count twice: what it leaves open is asked by hand, nothing else is.
func TestAnEdgeFinderLeavesWearToTheHand(t *testing.T) {
	p := season(t, func(j *jobs.Job) {
		worked(j)
		j.Setups[0].Finds, j.Machine.Probe, j.Machine.Finder = "edge finder", nil, &jobs.EdgeFinder{Dia: 2, Repeat: 0.002}
	})
	sp, _ := p.Spec("scale")
	by := func(d float64, more ...typed) (asked bool, o fold.Outcome) {
		v := fold.Trial(p, "scale", when, []fold.Known{backAt(24, 55), looked}, append(touches(d, 120.0628, 0.0110)[1:], more...)...)
		for _, a := range sp.Asks(v) {
			asked = asked || a.Field == "by-hand"
		}
		if stopped := sp.Page(v).Caution == kit.StoppedYet; stopped != asked {
			t.Errorf("%g: asked by hand %v, the caution is %q", d, asked, sp.Page(v).Caution)
		}
		return asked, sp.Judge(v)
	}
	for _, c := range []struct {
		d     float64
		asked bool
		want  fold.Verdict
	}{{7.9905, false, fold.Pass}, {7.9952, true, fold.NotProven}, {8.03, false, fold.Fail}} {
		if asked, o := by(c.d); asked != c.asked || o.Checks[1].Verdict != c.want {
			t.Errorf("%g: asked %v %+v", c.d, asked, o.Checks[1])
		}
	}
	for hand, want := range map[string]fold.Verdict{"7.992": fold.Pass, "8.006": fold.Fail} {
		asked, o := by(7.9952, typed{"by-hand", hand})
		if o.Checks[1].Verdict != want || !asked {
			t.Errorf("by hand %s: asked %v %+v", hand, asked, o.Checks[1])
		}
	}
	_, gauge := by(7.9952, typed{"by-hand", "7.992"})
	p = season(t, func(j *jobs.Job) {
		worked(j)
		j.Setups[0].Finds, j.Machine.Probe, j.Machine.Finder = "edge finder", nil, &jobs.EdgeFinder{Dia: 2, Repeat: 0.002}
		j.Fixture.AsMade.Bore.Kind = "pin"
	})
	sp, _ = p.Spec("scale")
	_, mic := by(7.9952+4, typed{"by-hand", "7.992"})
	// 0.003/√3 of a micrometer and 0.0005 of the card; a bore gauge was set in the same micrometer, and counts twice.
	near(t, "pin by hand, guard", mic.Checks[1].Guard, 1.645*math.Sqrt(3e-6+0.25e-6), 2e-5)
	near(t, "bore by hand, guard", gauge.Checks[1].Guard, 1.645*math.Sqrt(6e-6+0.25e-6), 2e-5)
}

// A sound fixture is stopped by its size in at most 1 of 100, on pins as in bores, by a probe as by an edge finder.
func TestASoundBoreIsNotStopped(t *testing.T) {
	const n = 100
	for name, edit := range map[string]func(*jobs.Job){"bores": nil, "pins": func(j *jobs.Job) { j.Fixture.AsMade.Bore.Kind = "pin" },
		"edge finder": func(j *jobs.Job) {
			j.Setups[0].Finds, j.Machine.Probe, j.Machine.Finder = "edge finder", nil, &jobs.EdgeFinder{Dia: 5, Repeat: 0.002}
		}} {
		p, stopped := season(t, edit), 0
		for seed := uint64(1); seed <= n; seed++ {
			r, err := bench.Auto(p, bench.Options{Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range r.Walk.Failed {
				if f.Limit == "reuse.bore" {
					stopped++
					break
				}
			}
		}
		t.Logf("%s: %d of %d", name, stopped, n)
		if stopped > n/100 {
			t.Errorf("%s: %d of %d sound fixtures are stopped by their size", name, stopped, n)
		}
	}
}

// Records of the third walk keep their verdicts: the size is exact, and a pin is reckoned as a bore.
func TestEarlierWalksKeepTheSizeOfABore(t *testing.T) {
	for kind, far := range map[string]bool{"bore": false, "pin": true} {
		p := season(t, func(j *jobs.Job) { j.Fixture.AsMade.Bore.Kind = kind })
		r, err := bench.Auto(p, bench.Options{Seed: 2})
		if err != nil || r.State != "released" {
			t.Fatal(r.State, err)
		}
		for _, walk := range []string{"3", "4"} {
			es := append([]jobs.Event{}, r.Walk.Events...)
			for i := range es {
				if es[i].Begin != "" {
					e := fold.Begin(es[i].Begin, es[i].Cards, es[i].By)
					e.At = es[i].At
					e.Cards["walk"] = walk
					es[i] = e
				}
			}
			st := fold.Fold(p, es)
			ss, _ := st.Step("scale")
			for _, c := range ss.Outcome.Checks {
				if c.Limit.ID != "reuse.bore" {
					continue
				}
				if old := walk == "3"; old != (c.Guard == 0) || (c.Got > 1) != (old && far) {
					t.Errorf("%s, walk %s: %+v", kind, walk, c)
				}
			}
			if len(ss.Outcome.Checks) == 0 {
				t.Errorf("%s, walk %s: nothing was judged", kind, walk)
			}
		}
	}
}
