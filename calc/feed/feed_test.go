package feed

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

func job(t *testing.T) Job {
	t.Helper()
	r, err := RowOf("walnut-stabilised")
	if err != nil {
		t.Fatal(err)
	}
	return Job{Row: r, Cut: hold.Cut{Dia: 3, Teeth: 2, Ae: 3, Ap: 1, Kc11: 100, Mc: 0.2, Wear: 1.3, Corner: 2},
		Machine: Machine{RPM: [2]float64{5000, 60000}, Feed: 8000}}
}

// 150 to 400 m/min on 3 mm: 15915 to 42441 turns; slot, two teeth: 0.02 to 0.06 for each tooth. By hand.
func TestWindow(t *testing.T) {
	w, err := job(t).Window()
	if err != nil || !w.Open || !w.NoBreak {
		t.Fatalf("%+v %v", w, err)
	}
	near(t, "least turns", w.RPM[0], 150000/(math.Pi*3), 1e-6)
	near(t, "most turns", w.RPM[1], 400000/(math.Pi*3), 1e-6)
	near(t, "least for a tooth", w.Fz[0], 0.02, 1e-12)
	near(t, "most for a tooth", w.Fz[1], 0.06, 1e-12)
	near(t, "thins", w.Thins, 1, 0)
	lo, hi := w.Feeds(20000)
	near(t, "least feed", lo, 800, 1e-9)
	near(t, "most feed", hi, 2400, 1e-9)
	if w.RPMBy != [2]Side{ByRow, ByRow} || w.FzBy != [2]Side{ByRow, ByRow} {
		t.Errorf("%+v", w)
	}
}

func TestSides(t *testing.T) {
	for _, c := range []struct {
		name string
		with func(*Job)
		want func(Window) bool
	}{
		{"thin chips", func(j *Job) { j.Cut.Ae = 0.3 }, func(w Window) bool {
			return math.Abs(w.Thins-0.6) < 1e-12 && math.Abs(w.Fz[0]-0.02/0.6) < 1e-12 && math.Abs(w.Fz[1]-0.06/0.6) < 1e-12
		}},
		{"half the diameter is whole", func(j *Job) { j.Cut.Ae = 1.5 }, func(w Window) bool { return w.Thins == 1 }},
		{"a little over half too", func(j *Job) { j.Cut.Ae = 1.56 }, func(w Window) bool { return w.Thins == 1 }},
		{"larger cutter", func(j *Job) { j.Cut.Dia, j.Cut.Ae = 6, 6 }, func(w Window) bool {
			return math.Abs(w.Fz[0]-0.04) < 1e-12 && math.Abs(w.Fz[1]-0.12) < 1e-12 && math.Abs(w.RPM[0]-150000/(math.Pi*6)) < 1e-6
		}},
		{"small cutter rubs", func(j *Job) { j.Cut.Dia, j.Cut.Ae = 1, 0.1 }, func(w Window) bool {
			return w.FzBy[0] == ByRub && math.Abs(w.Fz[0]-RubChip/0.6) < 1e-12
		}},
		{"runout", func(j *Job) { j.Runout = 0.015 }, func(w Window) bool { return w.FzBy[0] == ByRunout && math.Abs(w.Fz[0]-0.03) < 1e-12 }},
		{"runout too large", func(j *Job) { j.Runout = 0.04 }, func(w Window) bool { return !w.Open }},
		{"slow spindle", func(j *Job) { j.Machine.RPM = [2]float64{1000, 24000} }, func(w Window) bool {
			return w.RPMBy == [2]Side{ByRow, BySpindle} && w.RPM[1] == 24000 && w.Open
		}},
		{"too slow a spindle", func(j *Job) { j.Machine.RPM = [2]float64{100, 5000} }, func(w Window) bool { return !w.Open }},
		{"fast spindle", func(j *Job) { j.Machine.RPM = [2]float64{20000, 60000} }, func(w Window) bool {
			return w.RPMBy[0] == BySpindle &&
				w.RPM[0] == 20000
		}},
		{"slow axes", func(j *Job) { j.Machine.Feed = 1000 }, func(w Window) bool {
			_, hi := w.Feeds(30000)
			return w.FzBy[1] == ByAxes && hi == 1000 && math.Abs(w.Fz[1]-1000/(2*w.RPM[0])) < 1e-12
		}},
		{"strong cutter", func(j *Job) { j.Break = 1000 }, func(w Window) bool { return w.FzBy[1] == ByRow && !w.NoBreak }},
	} {
		j := job(t)
		c.with(&j)
		w, err := j.Window()
		if err != nil || !c.want(w) {
			t.Errorf("%s: %+v %v", c.name, w, err)
		}
	}
}

// At the most of the feed the force, corner and safety factor in it, is what breaks the cutter.
func TestBreaks(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		j := job(t)
		j.Break = unit.Force(rapid.Float64Range(2, 60).Draw(rt, "break"))
		w, err := j.Window()
		if err != nil {
			rt.Fatal(err)
		}
		c := j.Cut
		c.Fz = unit.Length(w.Fz[1])
		l, err := c.Load()
		if err != nil {
			rt.Fatal(err)
		}
		f := BreakSF * c.Corner * float64(l.Fh)
		if w.FzBy[1] == ByBreak && math.Abs(f/float64(j.Break)-1) > 1e-6 || f > float64(j.Break)*(1+1e-9) {
			rt.Fatalf("force %g of %g: %+v", f, float64(j.Break), w)
		}
	})
	j := job(t)
	j.Break = 0.1
	if w, _ := j.Window(); w.Open || w.FzBy[1] != ByBreak {
		t.Errorf("%+v", w)
	}
}

func TestRefuses(t *testing.T) {
	if _, err := RowOf("unobtainium"); err == nil || !strings.Contains(err.Error(), "acrylic-cast, aluminium-6061-t6, bog-oak, phenolic-paper-xx, walnut-stabilised") {
		t.Error(err)
	}
	for _, r := range rows {
		if r.Valid() != nil || r.Flag != hold.Estimate || r.Heat == "" || r.Manner == "" {
			t.Errorf("%+v", r)
		}
		if _, err := (hold.Library{}).Named(r.Material); err != nil {
			t.Error(err)
		}
	}
	for name, spoil := range map[string]func(*Job){
		"no row": func(j *Job) { j.Row = Row{} }, "no source": func(j *Job) { j.Row.Source = "" },
		"chip falls":  func(j *Job) { j.Row.Chip = [2]float64{2, 1} },
		"speed falls": func(j *Job) { j.Row.Speed = [2]float64{2, 1} }, "no spindle": func(j *Job) { j.Machine.RPM = [2]float64{} },
		"spindle falls": func(j *Job) { j.Machine.RPM = [2]float64{2, 1} },
		"no axes":       func(j *Job) { j.Machine.Feed = 0 }, "no cutter": func(j *Job) { j.Cut = hold.Cut{} },
		"runout": func(j *Job) { j.Runout = -1 }, "break": func(j *Job) { j.Break = -1 },
		"nan": func(j *Job) { j.Runout = math.NaN() }, "nan break": func(j *Job) { j.Break = unit.Force(math.NaN()) },
	} {
		j := job(t)
		spoil(&j)
		if _, err := j.Window(); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}
