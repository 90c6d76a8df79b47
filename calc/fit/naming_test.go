package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"
)

// chipTrial is a bore of six (or n) hits with probe scatter s and a chip on one of them.
func chipTrial(rng *rand.Rand, n int, s, chip float64) ([]Point, int) {
	bad := rng.IntN(n)
	ps := make([]Point, n)
	for i := range ps {
		d := 3.009 + s*rng.NormFloat64()
		if i == bad {
			d -= chip
		}
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ps[i] = Point{50.012 + d*cos, 30.007 + d*sin}
	}
	return ps, bad
}

type rates struct{ named, wrong, clean, notChip float64 }

func nameRates(t testing.TB, n int, s, chip float64, probe budget.Spread, trials int) (r rates) {
	rng := rand.New(rand.NewPCG(uint64(n), math.Float64bits(s+chip)))
	for range trials {
		ps, bad := chipTrial(rng, n, s, chip)
		got, err := NameHit(ps, Bore, probe)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case got.Index >= 0 && got.Index != bad:
			r.wrong++
		case got.Index >= 0:
			r.named++
			if !got.LikeChip {
				r.notChip++
			}
		case got.Verdict == Clean:
			r.clean++
		}
	}
	k := float64(trials)
	return rates{r.named / k, r.wrong / k, r.clean / k, r.notChip / k}
}

// How often a chip is named, and that a wrong name is practically never given. The
// shares expected for a known s_probe were simulated by an independent program; ±0.06
// covers the sampling of both and that here a name also wants the runner-up out of family.
func TestNamingRates(t *testing.T) {
	for _, c := range []struct{ s, chip, named float64 }{{.001, .012, .82}, {.002, .012, .33}, {.001, .020, .99}, {.002, .020, .70}} {
		r := nameRates(t, 6, c.s, c.chip, budget.Spread{S: c.s, Dof: math.Inf(1)}, 3000)
		t.Logf("6 hits, s %.3f, chip %.3f: named %.3f, wrong %.4f, unseen %.3f", c.s, c.chip, r.named, r.wrong, r.clean)
		if math.Abs(r.named-c.named) > 0.06 || r.wrong > 0.01 {
			t.Errorf("6 hits, s %.3f, chip %.3f: named %.3f (expected about %.2f), wrong %.4f", c.s, c.chip, r.named, c.named, r.wrong)
		}
	}
	for _, n := range []int{5, 8, 12} {
		for _, chip := range []float64{.006, .012, .030} {
			r := nameRates(t, n, .001, chip, known, 1000)
			t.Logf("%d hits, s 0.001, chip %.3f: named %.3f, wrong %.4f, not like a chip %.3f", n, chip, r.named, r.wrong, r.notChip)
			if r.wrong > 0.01 || r.notChip > 0 {
				t.Errorf("%d hits: wrong %.4f, not like a chip %.3f", n, r.wrong, r.notChip)
			}
		}
	}
	// good hits stay clean 99 % of the time, also when s_probe has few degrees of freedom
	for _, dof := range []float64{math.Inf(1), 8} {
		rng := rand.New(rand.NewPCG(11, 5))
		clean, named := 0, 0
		const trials = 3000
		for range trials {
			s := 0.001
			if !math.IsInf(dof, 1) {
				ss := 0.0
				for range int(dof) {
					ss += sq(0.001 * rng.NormFloat64())
				}
				s = math.Sqrt(ss / dof)
			}
			ps, _ := chipTrial(rng, 6, 0.001, 0)
			got, _ := NameHit(ps, Bore, budget.Spread{S: s, Dof: dof})
			if got.Verdict == Clean {
				clean++
			}
			if got.Index >= 0 {
				named++
			}
		}
		share := float64(clean) / trials
		t.Logf("good hits, dof %v: clean %.4f, named %d of %d", dof, share, named, trials)
		if math.Abs(share-0.99) > 0.006 {
			t.Errorf("good hits, dof %v: clean %.4f, want 0.99", dof, share)
		}
	}
}

func TestNamingHarmless(t *testing.T) {
	quiet := budget.Spread{S: 0.0003, Dof: math.Inf(1)}
	rng := rand.New(rand.NewPCG(1, 2))
	ps, bad := chipTrial(rng, 6, 0.0003, 0.008)
	n, err := NameHit(ps, Bore, quiet)
	if err != nil || n.Verdict != Harmless || n.Index != bad {
		t.Errorf("chip of 0.008: verdict %v, hit %d (bad %d), %v", n.Verdict, n.Index, bad, err)
	}
	if n.Shift > 0.0034 {
		t.Errorf("chip of 0.008 moved the centre by %.4f, more than a third", n.Shift)
	}
	ps, _ = chipTrial(rng, 4, 0.0003, 0.008)
	if n, _ := NameHit(ps, Bore, quiet); n.Verdict != Harmless || n.Index != -1 {
		t.Errorf("four hits, chip of 0.008: verdict %v, index %d", n.Verdict, n.Index)
	}
	// below 0.005, or below 4 s_probe, no name is given however clear the case
	ps, _ = chipTrial(rng, 6, 0.0001, 0.004)
	if n, _ := NameHit(ps, Bore, budget.Spread{S: 0.0001, Dof: math.Inf(1)}); n.Verdict != Harmless || n.Index != -1 {
		t.Errorf("chip of 0.004: verdict %v, index %d", n.Verdict, n.Index)
	}
	// an oval bore: nothing to name
	oval := make([]Point, 8)
	for i := range oval {
		sin, cos := math.Sincos(math.Pi / 4 * float64(i))
		oval[i] = Point{4.03 * cos, 3.97 * sin}
	}
	if n, _ := NameHit(oval, Bore, quiet); n.Verdict != Unnamed || n.Index != -1 {
		t.Errorf("oval bore: verdict %v, index %d", n.Verdict, n.Index)
	}
}

// With nothing known about the probe only a gross outlier is named.
func TestNamingUnknownProbe(t *testing.T) {
	n, err := NameHit(six, Bore, budget.Spread{})
	if err != nil || n.Verdict != Named || n.Index != 2 {
		t.Errorf("six hits, one 0.059 short: verdict %v, index %d, %v", n.Verdict, n.Index, err)
	}
	rng := rand.New(rand.NewPCG(4, 4))
	named, wrong := 0, 0
	for range 300 {
		ps, bad := chipTrial(rng, 12, 0.001, 0.03)
		switch n, _ := NameHit(ps, Bore, budget.Spread{}); n.Index {
		case bad:
			named++
		case -1:
		default:
			wrong++
		}
	}
	t.Logf("12 hits, chip of 30 s, unknown probe: named %d of 300, wrong %d", named, wrong)
	if named < 270 || wrong > 0 {
		t.Errorf("12 hits, unknown probe: named %d of 300, wrong %d", named, wrong)
	}
	falsely := 0
	for range 300 {
		ps, _ := chipTrial(rng, 12, 0.001, 0)
		if n, _ := NameHit(ps, Bore, budget.Spread{}); n.Index >= 0 {
			falsely++
		}
	}
	if falsely > 6 {
		t.Errorf("good hits named in %d of 300", falsely)
	}
	if n, _ := NameHit(ggs, Bore, budget.Spread{}); n.Index != -1 {
		t.Errorf("Gander, Golub, Strebel: hit %d named", n.Index)
	}
}

func BenchmarkName24(b *testing.B) {
	ps, _ := chipTrial(rand.New(rand.NewPCG(1, 1)), 24, 0.001, 0.02)
	for b.Loop() {
		if _, err := NameHit(ps, Bore, known); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCircle1000(b *testing.B) {
	ps := scatteredCircle(1000, Point{50, 30}, 4, 2*math.Pi, 0.002, 1)
	for b.Loop() {
		if _, err := ToCircle(ps); err != nil {
			b.Fatal(err)
		}
	}
}

func scatteredCircle(n int, c Point, r, arc, s float64, seed uint64) []Point {
	rng := rand.New(rand.NewPCG(seed, 1))
	ps := make([]Point, n)
	for i := range ps {
		sin, cos := math.Sincos(arc * rng.Float64())
		d := r + s*rng.NormFloat64()
		ps[i] = Point{c.X + d*cos, c.Y + d*sin}
	}
	return ps
}
