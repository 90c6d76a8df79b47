package bench

import (
	"math"
	"slices"
	"testing"

	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// cutAndInspected are the built-in job's second side and the inspection of its part.
func cutAndInspected(t testing.TB) []*fold.Plan {
	t.Helper()
	j, err := builtin.Job("inspect")
	if err != nil {
		t.Fatal(err)
	}
	return []*fold.Plan{plan(t, j, j.Setups[1].Name), plan(t, j, j.Setups[0].Name)}
}

// What the second side was off by is what the inspection finds: over many benches as often within its 95 % as it says.
func TestWhatWasCutIsWhatIsFound(t *testing.T) {
	ps := cutAndInspected(t)
	said, beyond := 0, 0
	n := uint64(60)
	if testing.Short() {
		n = 12
	}
	rigid := Usual(ps[0]) // what is not a shift and a turn, no step shows
	rigid.Moisture, rigid.PartHeat, rigid.Squareness, rigid.Growth, rigid.GrowthShare, rigid.Damp, rigid.Warmer = 0, 0, 0, 0, 0, 0, 0
	for seed := uint64(1); seed <= n; seed++ {
		rs, err := Chain(ps, Options{Seed: seed, Effects: &rigid})
		if err != nil {
			t.Fatal(err)
		}
		if len(rs) < 2 {
			continue
		}
		cut, found := rs[0], rs[1].Walk.State()
		if f, ok := found.Fact("stood"); !ok || f.Value[0] != 1 {
			t.Fatalf("seed %d: nothing was asked while it was screwed down: %v", seed, f)
		}
		m, ok := found.Fact("mismatch")
		if !ok {
			continue
		}
		size := ps[0].Job.Part.Size
		shift, turn, _, _, _, _ := rs[1].Walk.World.Finished()
		for name, e := range cut.TrueError {
			for _, at := range ps[0].Job.Part.Features {
				if at.Name != name {
					continue
				}
				x, y := at.At.X-size[0]/2, at.At.Y-size[1]/2
				if d := math.Hypot(shift.X-turn*y+e.X, shift.Y+turn*x+e.Y); d > 1e-4 {
					t.Errorf("seed %d: %s was cut %v off, the part says %.4f beside that", seed, name, e, d)
				}
			}
		}
		for i, want := range []float64{shift.X, shift.Y, turn} {
			if said++; math.Abs(m.Value[i]-want) > 1.96*math.Sqrt(m.Cov[i][i]) {
				beyond++
			}
		}
	}
	t.Logf("%d of %d beyond their 95 %%", beyond, said)
	if said < int(n) || float64(beyond) > 0.05*float64(said)+2.5*math.Sqrt(0.05*0.95*float64(said)) {
		t.Errorf("%d of %d numbers lie outside their 95 %%", beyond, said)
	}
}

// An error of one setup arrives in the next: side 1's offset in side 2's features, side 2's place in the finished part.
func TestAnErrorArrives(t *testing.T) {
	ps := cutAndInspected(t)
	off := Options{Seed: 3, Setup: func(k *Walk) {
		if k.World.onBench() == nil {
			k.World.part.feature.x += 0.02
		}
	}}
	clean, err1 := Chain(ps, Options{Seed: 3})
	bad, err2 := Chain(ps, off)
	if err1 != nil || err2 != nil || len(clean) < 2 || len(bad) < 2 {
		t.Fatal(err1, err2, len(clean), len(bad))
	}
	a, _ := clean[1].Walk.State().Fact("mismatch")
	b, _ := bad[1].Walk.State().Fact("mismatch")
	if d := b.Value[0] - a.Value[0]; math.Abs(d+0.02) > 0.003 || math.Abs(b.Value[1]-a.Value[1]) > 0.003 {
		t.Errorf("features 0.02 to the RIGHT: the part shows side 2 %.4f farther along X", d)
	}

	j := both(t)
	first, second := plan(t, j, "side1"), plan(t, j, "side2")
	w := NewWorld(first, 3, Usual(first))
	k := NewWalk(first, w, nil)
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatal(err, k.Words)
	}
	features := func(slip xy) xy {
		w.hand.keyed["x"], w.hand.keyed["y"] = w.hand.keyed["x"]+slip.x, w.hand.keyed["y"]+slip.y
		v := NewWorld(second, 3, Usual(second))
		v.Follow(w)
		w.hand.keyed["x"], w.hand.keyed["y"] = w.hand.keyed["x"]-slip.x, w.hand.keyed["y"]-slip.y
		return v.part.feature
	}
	d := features(xy{0.02, 0.01}).sub(features(xy{}))
	want := xy{-0.02, 0.01}
	if second.Setup.Flip == "x" {
		want = xy{0.02, -0.01}
	}
	if d.sub(want).long() > 1e-9 {
		t.Errorf("side 1 keyed in 0.02 and 0.01 off: its features lie %v beside, want %v, turned over about %s", d, want, second.Setup.Flip)
	}
	if f := features(xy{}); f.long() > 0.05 {
		t.Errorf("a sound side 1 puts its features %v off", f)
	}
}

// Fixture and cutter that moved in the cut are named while the part is still screwed down; the part then corrects no card.
func TestWhatMovedInTheCut(t *testing.T) {
	ps := cutAndInspected(t)
	for _, m := range []string{"moved-in-cut", "pulled-in-cut"} {
		for seed := uint64(1); seed <= 3; seed++ {
			rs, err := Chain(ps, Options{Seed: seed, Mistake: m, In: ps[1].Setup.Name})
			if err != nil {
				t.Fatal(err)
			}
			if len(rs) < 2 {
				t.Errorf("seed %d: side 2 held at %v: %s", seed, rs[0].HeldAt, rs[0].Walk.Words)
				continue
			}
			i := slices.IndexFunc(finishedMistakes, func(x Mistake) bool { return x.Name == m })
			if !slices.ContainsFunc(rs[1].Named, finishedMistakes[i].NamedBy) {
				t.Errorf("%s, seed %d: named %v", m, seed, rs[1].Named)
			}
		}
	}
}
