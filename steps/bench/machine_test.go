package bench

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// kindPlan is the example job with one more setup of that kind, walked alone.
func kindPlan(t testing.TB, kind string) *fold.Plan {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), "../../jobs/testdata/lid.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	j.Setups = append([]jobs.Setup{{Name: kind, Kind: kind, Finds: "probe"}}, j.Setups...)
	p, err := steps.NewPlan(j, kind, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Over 200 benches the sweep finds the lean it was not told, within twice its stated
// guard, or says that the head is out of tram.
func TestTramSetupWalks(t *testing.T) {
	p := kindPlan(t, "tram")
	released, out, beyond, said := 0, 0, 0, 0
	for seed := uint64(1); seed <= 200; seed++ {
		w := NewWorld(p, seed, Usual(p))
		k := NewWalk(p, w, nil)
		if _, err := k.Until(windows(t)); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		st := k.State()
		spindle, travel, _ := w.Leans()
		for _, f := range st.Facts {
			if f.ID == "tram" {
				for i, want := range []float64{spindle.X, spindle.Y} {
					said++
					if math.Abs(f.Value[i]-want) > 1.96*math.Sqrt(f.Cov[i][i]) {
						beyond++
					}
				}
			}
		}
		if st.Released {
			released++
			if c, ok := st.Fact("tram/column"); !ok || math.Hypot(c.Value[0]-travel.X, c.Value[1]-travel.Y) > 3e-5 {
				t.Errorf("seed %d: Z travel %v, true %v", seed, c.Value, travel)
			}
		} else {
			out++
		}
	}
	t.Logf("%d released, %d held; %d of %d tilts farther off than their 95 %%", released, out, beyond, said)
	if released < 180 {
		t.Errorf("only %d of 200 walks were released", released)
	}
	if beyond > said/8 {
		t.Errorf("%d of %d tilts lie outside their 95 %%", beyond, said)
	}
}

func TestBallSetupWalks(t *testing.T) {
	p := kindPlan(t, "ball")
	released := 0
	var worst float64
	for seed := uint64(1); seed <= 200; seed++ {
		w := NewWorld(p, seed, Usual(p))
		k := NewWalk(p, w, nil)
		if _, err := k.Until(windows(t)); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		st := k.State()
		if !st.Released {
			continue
		}
		released++
		f, _ := st.Fact("ball")
		// The fact says by how much a probed centre is off, which is the other way than the ball stands.
		truth := w.Truth().Probe
		d := math.Max(math.Abs(f.Value[0]-w.ball.rx), math.Max(math.Abs(f.Value[2]+truth.X), math.Abs(f.Value[3]+truth.Y)))
		worst = math.Max(worst, d)
		if d > 0.004 {
			t.Errorf("seed %d: ball %v, true radius %.4f, place %v", seed, f.Value, w.ball.rx, truth)
		}
	}
	t.Logf("%d of 200 released, worst difference %.4f", released, worst)
	if released < 180 {
		t.Errorf("only %d of 200 walks were released", released)
	}
}
