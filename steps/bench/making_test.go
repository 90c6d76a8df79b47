package bench_test

import (
	"math"
	"slices"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Each mistake of making a fixture, and of one that comes back, is stopped or named; without one the setup is released.
func TestLifeOfAFixtureCatches(t *testing.T) {
	for kind, n := range map[string]uint64{"fixture": 12, "reuse": 12} {
		p := shipped(t, kind, nil)
		for seed := range n {
			r, err := bench.Auto(p, bench.Options{Seed: seed + 1})
			if err != nil || r.State != "released" || len(r.Named) > 0 {
				t.Errorf("%s, seed %d, nothing wrong: %v %s at %v, named %q", kind, seed+1, err, r.State, r.HeldAt, r.Named)
			}
		}
		for _, m := range bench.OwnMistakes(kind) {
			caught, named := 0, 0
			const of = 4
			for seed := uint64(1); seed <= of; seed++ {
				r, err := bench.Auto(p, bench.Options{Seed: seed, Mistake: m.Name})
				if err != nil {
					t.Fatal(err)
				}
				if len(r.Walk.Failed) > 0 || r.State != "released" {
					caught++
				}
				for _, f := range r.Walk.Failed {
					if m.NamedBy(f.Named) || f.Answer {
						named++
						break
					}
				}
			}
			t.Logf("%-8s %-18s %6g %-8s caught %d of %d, named %d", kind, m.Name, m.Size, m.Unit, caught, of, named)
			if caught < of {
				t.Errorf("%s: %s was caught in %d of %d", kind, m.Name, caught, of)
			}
		}
	}
}

// How often the part zero lies within twice what the making says it is known within, and what of an error that it does not
// see arrives in the second side.
func TestPartZeroAsMade(t *testing.T) {
	p := shipped(t, "fixture", nil)
	in, all := 0, 0
	for seed := uint64(1); seed <= 40; seed++ {
		r, err := bench.Auto(p, bench.Options{Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		f, ok := facts.Placed.By(r.Walk.State().Fact)
		truth, _ := r.Walk.World.MadeFixture()
		if !ok {
			continue
		}
		for _, x := range []struct{ d, u float64 }{{float64(f.VX) - truth.Zero.X, math.Sqrt(f.Cov.Var("vx"))}, {float64(f.VY) - truth.Zero.Y, math.Sqrt(f.Cov.Var("vy"))}} {
			if all++; math.Abs(x.d) <= 2*x.u {
				in++
			}
		}
	}
	t.Logf("part zero: %d of %d within 2 u", in, all)
	if in < all*9/10 {
		t.Errorf("%d of %d within 2 u", in, all)
	}
}

// A pad that stands in, unseen by the card, moves the second side by as much.
func TestSecondSideOnAFixtureThatWasMade(t *testing.T) {
	p := shipped(t, "fixture", nil)
	j := *p.Job
	side2, err := steps.NewPlan(&j, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	quiet := bench.Effects{}
	errorOn := func(mistake string) bench.Pair {
		made := bench.NewWorld(p, 3, quiet)
		if mistake != "" {
			if err := made.Make(mistake, 0.02); err != nil {
				t.Fatal(err)
			}
		}
		f, ok := made.MadeFixture()
		if !ok {
			t.Fatal("no fixture")
		}
		c := j.Fixture.Pocket.Clearance
		j.Fixture.AsMade.PartZero = jobs.Point{X: 30 + c, Y: 24 - c} // a card of the drawing, the part on its pads
		w := bench.NewWorld(side2, 3, quiet)
		w.On(made)
		z := w.Truth().PartZero
		b := w.Truth().Bore
		t.Logf("%q: part zero %v from bore %v, made %+v", mistake, z, b, f)
		return bench.Pair{X: z.X - b.X, Y: z.Y - b.Y}
	}
	sound, off := errorOn(""), errorOn("pad-off")
	if d := sound.X - off.X; math.Abs(d-0.02) > 1e-9 || math.Abs(sound.Y-off.Y) > 1e-9 {
		t.Errorf("arrives %.4f along X, %.4f along Y", d, sound.Y-off.Y)
	}
}

// Once the bolts were let go nothing read as made can be read as made again: what happens after that asks for none of it, but a crash,
// which may have damaged the plate; what happens before still does.
func TestAsMadeStandsOnceTheBoltsAreLetGo(t *testing.T) {
	p := shipped(t, "fixture", nil)
	asMade := []fold.StepID{"finish", "bores", "pads", "heights", "edge"}
	for at, kept := range map[fold.StepID]bool{"spring": false, "fit": true, "card": true} {
		for _, m := range []fold.MishapID{"fixture-tapped", "temperature-moved", "left-alone", "rehomed", "power-lost", "spindle-crash"} {
			k := bench.NewWalk(p, bench.NewWorld(p, 3, bench.Usual(p)), nil)
			if there, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == at }); !there || err != nil {
				t.Fatal(at, err)
			}
			if err := k.Declare(m, ""); err != nil {
				t.Fatal(m, err)
			}
			asked := ""
			for _, w := range k.State().Way {
				if slices.Contains(asMade, w.Step) {
					asked += " " + string(w.Step)
				}
			}
			if want := !kept || m == "spindle-crash"; want != (asked != "") {
				t.Errorf("%s before %s: asked again:%s", m, at, asked)
			}
			if _, err := k.Until(nil); err != nil || !k.State().Released {
				t.Errorf("%s before %s: %v, held at %v: %s", m, at, err, k.HeldAt, k.Words)
			}
		}
	}
}
