package bench

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// side1 is a first side of the example job.
func side1(t testing.TB, edit func(*jobs.Setup)) *fold.Plan {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), "../../jobs/testdata/lid.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	s := jobs.Setup{Name: "side1", Kind: "first-side", Z0: "top skin", Offset: "G55", Finds: "probe", Hits: 6, Stations: 7, Zero: "corner",
		Vise: jobs.Vise{Jaw: "away", JawTop: -11.5, Parallel: 20, Grip: 5, Stop: "left", Wall: 2, WallSpan: 40},
		Cut:  jobs.Cut{Tool: 3, Ae: 1, Ap: 0.5, Fz: 0.02, Lowest: -9}}
	if edit != nil {
		edit(&s)
	}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
	p, err := steps.NewPlan(j, "side1", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestFirstSideWalks(t *testing.T) {
	for name, edit := range map[string]func(*jobs.Setup){
		"corner, jaw away, stop left":    nil,
		"corner, jaw toward, stop right": func(s *jobs.Setup) { s.Vise.Jaw, s.Vise.Stop = "toward", "right" },
		"middle":                         func(s *jobs.Setup) { s.Zero = "centre" },
		"holes here":                     func(s *jobs.Setup) { s.HolesHere = true },
	} {
		released, held := 0, map[fold.StepID]int{}
		var worst float64
		const n = 50
		for seed := uint64(1); seed <= n; seed++ {
			p := side1(t, edit)
			w := NewWorld(p, seed, Usual(p))
			k := NewWalk(p, w, nil)
			if _, err := k.Until(windows(t)); err != nil {
				t.Fatalf("%s, seed %d: %v", name, seed, err)
			}
			st := k.State()
			if !st.Released {
				held[st.Cursor.Step]++
				if held[st.Cursor.Step] < 3 {
					t.Logf("%s, seed %d: held at %s: %s", name, seed, st.Cursor.Step, k.Words)
				}
				continue
			}
			released++
			of, _ := st.Fact("offset")
			truth, _ := w.SideOne()
			dx, dy, dz := of.Value[0]-truth.Zero.X, of.Value[1]-truth.Zero.Y, of.Value[2]-truth.Z0
			worst = max(worst, math.Abs(dx), math.Abs(dy))
			if math.Abs(dx) > 0.012 || math.Abs(dy) > 0.012 || math.Abs(dz) > 0.03 {
				t.Errorf("%s, seed %d: zero off by %.4f %.4f %.4f", name, seed, dx, dy, dz)
			}
			for id, want := range map[fold.FactID]float64{"part/width-x": truth.WidthX, "part/width-y": truth.WidthY, "part/thickness": truth.Thickness, "part/wall": truth.Wall, "part/spring": truth.Spring} {
				f, ok := st.Fact(id)
				if !ok || math.Abs(f.Value[0]-want) > 0.004 {
					t.Errorf("%s, seed %d: %s is %v, true %.4f", name, seed, id, f.Value, want)
				}
			}
		}
		t.Logf("%s: %d of %d released, worst place %.4f, held %v", name, released, n, worst, held)
		if released < n*9/10 {
			t.Errorf("%s: only %d of %d walks were released", name, released, n)
		}
	}
}

// windows complains of a reading that is asked without saying what is expected.
func windows(t *testing.T) func(*fold.State) bool {
	return func(st *fold.State) bool {
		if a, ok := st.Ask(st.Cursor.Field); ok && (a.Kind == fold.Reading || a.Kind == fold.Echo) && a.Window == nil {
			t.Errorf("%s %s is asked without a window", st.Cursor.Step, a.Field)
		}
		return false
	}
}

// A bump costs three touches when nothing moved, and the pickup when the stock did.
func TestBumpInTheVise(t *testing.T) {
	for _, moved := range []float64{0, 0.05} {
		p := side1(t, nil)
		w := NewWorld(p, 11, Usual(p))
		k := NewWalk(p, w, nil)
		past := func(st *fold.State) bool { _, ok := st.Fact("echo"); return ok }
		if ok, err := k.Until(past); err != nil || !ok {
			t.Fatal(ok, err)
		}
		if err := k.Declare("part-bumped", ""); err != nil {
			t.Fatal(err)
		}
		w.raw.stray += moved / w.raw.size.x // turned a little on the jaw
		w.fixture = w.fixture.about(xy{}, 0, xy{0, moved})
		st := k.State()
		if st.Way[len(st.Way)-1].Step == "" || st.Cursor.Step != "edge-check" {
			t.Errorf("way back %+v, asked is %s", st.Way, st.Cursor.Step)
		}
		readings := 0
		for _, b := range st.Way {
			readings += b.Readings
		}
		if readings > 10 {
			t.Errorf("the way back takes %d readings: %+v", readings, st.Way)
		}
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		st = k.State()
		if !st.Released {
			t.Errorf("moved %.3f: held at %s: %s", moved, st.Cursor.Step, k.Words)
		}
		ss, _ := st.Step("corner")
		if again := len(ss.Rounds) > 1; again != (moved > 0) {
			t.Errorf("moved %.3f: corner was picked up %d times", moved, len(ss.Rounds))
		}
		of, _ := st.Fact("offset")
		truth, _ := w.SideOne()
		if d := math.Hypot(of.Value[0]-truth.Zero.X, of.Value[1]-truth.Zero.Y); d > 0.02 {
			t.Errorf("moved %.3f: zero off by %.4f", moved, d)
		}
	}
}

// A first side without a probe can be finished, whatever finds the bores of side 2. With a dial or a pin it never could: faces were
// touched with a finder or through paper, and held to what a dial repeats.
func TestFirstSideWithoutAProbe(t *testing.T) {
	for _, finds := range []string{"edge finder", "paper", "dial", "pin"} {
		for seed := uint64(1); seed <= 3; seed++ {
			j := side1(t, func(s *jobs.Setup) { s.Finds = finds }).Job
			j.Machine.Probe = nil
			if finds != "paper" {
				j.Machine.Finder = &jobs.EdgeFinder{Dia: 10, Repeat: 0.005}
			}
			p, err := steps.NewPlan(j, "side1", nil)
			if err != nil {
				t.Fatal(err)
			}
			k := NewWalk(p, NewWorld(p, seed, Usual(p)), nil)
			if _, err := k.Until(nil); err != nil || !k.State().Released {
				t.Errorf("%s, seed %d: %v, held at %+v: %s", finds, seed, err, k.HeldAt, k.Words)
			}
		}
	}
}
