package bench

import (
	"math"
	"slices"
	"testing"

	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// madeAndCut are the making of the built-in job's fixture and the second side that is cut on it.
func madeAndCut(t testing.TB) []*fold.Plan {
	t.Helper()
	j, err := builtin.Job("fixture")
	if err != nil {
		t.Fatal(err)
	}
	return []*fold.Plan{plan(t, j, "plate"), plan(t, j, "side2").AtLevel(fold.FirstUse)}
}

// beside is the largest amount by which side 2 is off what the walk knows of it.
func beside(r *Result) (most float64) {
	for _, f := range r.Features {
		e := r.TrueError[f.Name]
		most = max(most, math.Abs(e.X-f.Error.X), math.Abs(e.Y-f.Error.Y))
	}
	return most
}

// A second side on the fixture as it was made, by the card that its making wrote: the stated interval holds the truth.
func TestSecondSideOnTheCardThatWasWritten(t *testing.T) {
	ps := madeAndCut(t)
	in, n, seeds := 0, 0, uint64(60)
	if testing.Short() {
		seeds = 15
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		rs, err := Chain(ps, Options{Seed: seed})
		if err != nil || len(rs) < 2 || rs[1].State != "released" {
			t.Errorf("seed %d: %v, %d setups", seed, err, len(rs))
			continue
		}
		if z := rs[1].Walk.plan.Job.Fixture.AsMade; z.Revision == 0 || z.PartZero == ps[1].Job.Fixture.AsMade.PartZero {
			t.Fatalf("seed %d: side 2 goes by the card of the drawing: %+v", seed, z)
		}
		for _, f := range rs[1].Features {
			e := rs[1].TrueError[f.Name]
			for _, d := range []float64{math.Abs(e.X-f.Error.X) / f.U.X, math.Abs(e.Y-f.Error.Y) / f.U.Y} {
				if n++; d <= 1 {
					in++
				}
			}
		}
	}
	t.Logf("%d of %d within 95 %%", in, n)
	if float64(in) < 0.95*float64(n)-2.5*math.Sqrt(0.05*0.95*float64(n)) {
		t.Errorf("%d of %d within 95 %%", in, n)
	}
}

// A mistake in making the fixture is caught there, or it is there on the second side: caught, or in the part.
func TestAMistakeOfTheFixtureArrives(t *testing.T) {
	ps := madeAndCut(t)
	for _, m := range OwnMistakes("fixture") {
		for seed := uint64(1); seed <= 2; seed++ {
			rs, err := Chain(ps, Options{Seed: seed, Mistake: m.Name, In: "plate"})
			if err != nil {
				t.Fatal(err)
			}
			caught := func(r *Result) bool {
				return r.State != "released" || slices.ContainsFunc(r.Walk.Failed, func(f Failure) bool { return m.NamedBy(f.Named) || f.Answer })
			}
			if !slices.ContainsFunc(rs, caught) {
				t.Errorf("%s, seed %d: nowhere met in %d setups", m.Name, seed, len(rs))
			}
		}
	}
}

// What nothing in the making shows, or what happens to the fixture after it, arrives on the second side by its full size: there the
// bore's size gives a wrong ball away, and the rest is what the inspection of the part finds.
func TestWhatTheMakingDoesNotSeeArrives(t *testing.T) {
	ps := madeAndCut(t)
	made := func(do func(*World)) Options {
		return Options{Seed: 5, Setup: func(k *Walk) {
			if k.World.onTable() != nil {
				do(k.World)
			}
		}}
	}
	run := func(o Options) []*Result {
		t.Helper()
		rs, err := Chain(ps, o)
		if err != nil {
			t.Fatal(err)
		}
		if rs[0].State != "released" {
			t.Fatalf("the making was held at %v: %s", *rs[0].HeldAt, rs[0].Walk.Words)
		}
		return rs
	}
	still := 0.012
	sound := beside(run(Options{Seed: 5})[1])
	if sound > still {
		t.Fatalf("nothing wrong, and side 2 is %.4f beside what is known", sound)
	}

	// A ball that is larger than its card says, on the day of the making alone: pads agree with their bore, both are wrong.
	rs := run(made(func(w *World) { w.ball.rx, w.ball.ry = w.ball.rx+0.012, w.ball.ry+0.012 }))
	if d := rs[1].Walk.World.off.sub(run(Options{Seed: 5})[1].Walk.World.off); math.Abs(d.x-0.012) > 0.002 && math.Abs(d.x+0.012) > 0.002 {
		t.Errorf("a ball wrong by 0.012: the walls are off by %+v", d)
	}
	if !slices.ContainsFunc(rs[1].Walk.Failed, func(f Failure) bool { return f.Limit == "bore.size" }) {
		t.Errorf("a bore whose size was read wrong at making by 0.024 was not met: %+v", rs[1].Walk.Failed)
	}

	// By so little that its size shows nothing it arrives on the walls, and nowhere else.
	quiet := run(made(func(w *World) { w.ball.rx, w.ball.ry = w.ball.rx+0.0035, w.ball.ry+0.0035 }))
	if d := quiet[1].Walk.World.off.sub(run(Options{Seed: 5})[1].Walk.World.off); quiet[1].State != "released" ||
		math.Abs(math.Abs(d.x)-0.0035) > 0.001 || math.Abs(math.Abs(d.y)-0.0035) > 0.001 {
		t.Errorf("a ball wrong by 0.0035: side 2 %s, the walls are off by %+v", quiet[1].State, d)
	}

	// A pad that was filed after the card was written.
	first := true
	filed := Options{Seed: 5, Setup: func(k *Walk) {
		if k.World.onTable() == nil && first {
			first = false
			k.World.cut.pads[0] += 0.03
			k.World.On(k.World.cut.w)
		}
	}}
	if d := beside(run(filed)[1]); d < 0.02 {
		t.Errorf("a pad filed by 0.03 shows as %.4f", d)
	}

	// The inspection of the part finds it.
	j, err := builtin.Job("whole")
	if err != nil {
		t.Fatal(err)
	}
	ps = []*fold.Plan{plan(t, j, "plate"), plan(t, j, "side2"), plan(t, j, "bench")}
	clean := run(Options{Seed: 5})
	first = true
	off := run(filed)
	if len(clean) < 3 || len(off) < 3 {
		t.Fatalf("%d and %d setups", len(clean), len(off))
	}
	was, _ := clean[2].Walk.State().Fact("mismatch")
	is, _ := off[2].Walk.State().Fact("mismatch")
	if d := is.Value[0] - was.Value[0]; math.Abs(math.Abs(d)-0.03) > 0.005 || math.Abs(is.Value[1]-was.Value[1]) > 0.005 {
		t.Errorf("a pad filed by 0.03: the inspection finds %.4f more along X, %.4f along Y", d, is.Value[1]-was.Value[1])
	}
}
