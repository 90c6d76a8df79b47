package reuse

import (
	"math"
	"slices"
	"testing"

	"fliptrue/calc/asmade"
	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

// Spacing 119.9986 as made at 45 %, now (120.0628, 0.0110), 4 K warmer; expansion over the machine's 60.3e-6, humidity
// 0.2 % at 60 % (sheet maker's text, verified copy). Computed here.
func TestScale(t *testing.T) {
	u := frame.Cov2{{1e-6 / 2, 0}, {0, 1e-6 / 2}}
	_, q, cov, err := frame.TwoBores(frame.Vec{}, frame.Vec{X: 120.0628, Y: 0.0110}, frame.Vec{X: 119.9986}, u, u)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spacing now", q*119.9986, 120.062801, 1e-6)
	near(t, "q - 1", (q-1)*1e4, 5.3501, 1e-4)
	heat, err := growth.Since(growth.Temp{C: 20, Read: true}, growth.Temp{C: 24, Read: true}).Heat("fixture", growth.Coef{Low: 72e-6,
		Nominal: 72e-6, High: 72e-6}, 11.7e-6)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "heat", heat.Value*1e4, 2.412, 1e-9)
	s := Scale{Q: q, U: math.Sqrt(cov[3][3]), Heat: heat, Damp: asmade.Even(0.2 / 100 / 60), Made: growth.Air{C: 20, RH: 45, Read: true}}
	p, err := s.Split()
	if err != nil || !p.Damp {
		t.Fatalf("%+v %v", p, err)
	}
	near(t, "rest", p.Rest*1e4, 2.938, 1e-3)
	near(t, "percent of humidity more", p.More, 8.8, 0.05)
	near(t, "humidity now", p.RH, 53.8, 0.05)
	near(t, "u of q", s.U, 0.001/119.9986, 1e-9)
	near(t, "u of the rest", p.U, math.Hypot(s.U, 60.3e-6/math.Sqrt(3)), 1e-9)
	if p.Verdict != budget.Pass {
		t.Errorf("%+v", p)
	}
	for rh, want := range map[float64]bool{54: true, 60: true, 52: true, 50: true, 45: false, 30: false} {
		if got, err := s.Between(p, growth.Air{C: 24, RH: rh, Read: true}); err != nil || got != want {
			t.Errorf("at %g %%: moisture %v %v", rh, got, err)
		}
	}
	if _, err := s.Between(p, growth.Air{}); err == nil {
		t.Error("no hygrometer, and moisture is told")
	}
	dry := p
	dry.Rest = -2.5 * 0.2 / 100 / 60 // 2.5 % less than on the day it was made, both hygrometers the same: within their halves
	if got, _ := s.Between(dry, growth.Air{RH: 45, Read: true}); !got {
		t.Error("a little dryer is moisture")
	}
	s.Q = 1.0015
	if p, _ = s.Split(); p.Verdict != budget.Fail {
		t.Errorf("%+v", p)
	}
	s.Q = 0.9985
	if p, _ = s.Split(); p.Verdict != budget.Fail || p.Damp {
		t.Errorf("shrunk below dry: %+v", p)
	}
	s.Made.Read = false
	if p, _ = s.Split(); p.Damp {
		t.Errorf("%+v", p)
	}
	for _, bad := range []Scale{{}, {Q: 1}, {Q: -1, U: 1}, {Q: math.NaN(), U: 1}, {Q: 1, U: math.Inf(1)}} {
		if _, err := bad.Split(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// A plate that grew by heat and humidity gives both back.
func TestSplitComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		made, now := rapid.Float64Range(5, 95).Draw(t, "made"), rapid.Float64Range(5, 95).Draw(t, "now")
		dT, alpha := rapid.Float64Range(-10, 10).Draw(t, "dT"), rapid.Float64Range(1e-6, 80e-6).Draw(t, "alpha")
		heat := growth.Growth{Value: alpha * dT}
		q := 1 + alpha*dT + asmade.Acrylic.At(now) - asmade.Acrylic.At(made)
		p, err := Scale{Q: q, U: 1e-6, Heat: heat, Damp: asmade.Acrylic, Made: growth.Air{RH: made, Read: true}}.Split()
		if err != nil || math.Abs(p.RH-now) > 1e-6 || math.Abs(p.More-(now-made)) > 1e-6 {
			t.Fatalf("%+v %v, want %g", p, err, now)
		}
	})
}

// D expected 7.990273, found 7.9952: +0.0049 after scale, +0.0092 raw.
func TestBoreWorn(t *testing.T) {
	w, err := frame.BoreGrown(7.9952, 7.986, 1.00053501, 0.001, 0.001, 1e-5)
	if err != nil {
		t.Fatalf("%+v %v", w, err)
	}
	near(t, "expected", w.Want, 7.990273, 1e-6)
	near(t, "rest", w.Off, 0.004927, 1e-6)
}

// Rest of a bore over 8 uses: single points silent, the average calls, the bound keeps 0.010 up to use 16.
func TestRun(t *testing.T) {
	r := Run{Use: []float64{1, 2, 3, 4, 5, 6, 7, 8}, Rest: []float64{.4e-3, -.6e-3, .9e-3, 1.6e-3, 1.2e-3, 2.5e-3, 2.9e-3, 3.6e-3},
		Limit: BoreMost}
	signs, last, err := r.Look()
	if err != nil || !slices.Equal(signs, []Sign{CreepOut}) || last != 16 {
		t.Errorf("%v %d %v", signs, last, err)
	}
	r.Limit = 0.0052
	if signs, last, _ = r.Look(); !slices.Contains(signs, Forecast) || last != 0 {
		t.Errorf("%v %d", signs, last)
	}
	r.Limit = 0.0055 // the next use keeps it, the one after does not
	if signs, last, _ = r.Look(); !slices.Contains(signs, Forecast) || last != 9 {
		t.Errorf("%v %d", signs, last)
	}
	r.Limit = 0.0060 // the next two keep it
	if signs, last, _ = r.Look(); slices.Contains(signs, Forecast) || last != 10 {
		t.Errorf("%v %d", signs, last)
	}
	r.Limit = 0
	if signs, last, _ = r.Look(); slices.Contains(signs, Forecast) || last != 0 {
		t.Errorf("%v %d", signs, last)
	}
	quiet := Run{Use: []float64{1, 2, 3, 4, 5, 6}, Rest: []float64{1e-3, -1e-3, 1e-3, -1e-3, 1e-3, -1e-3}, Limit: 0.001}
	if signs, _, err = quiet.Look(); err != nil || signs != nil {
		t.Errorf("no slope, no forecast: %v %v", signs, err)
	}
	still := Run{Use: quiet.Use, Rest: make([]float64, 6), Limit: 0.001}
	if signs, _, err = still.Look(); err != nil || signs != nil {
		t.Errorf("%v %v", signs, err)
	}
	jump := Run{Use: []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, Rest: []float64{0, 1e-4, 0, 1e-4, 0, 9e-3, 0, 1e-4, 0, 1e-4, 0, 1e-4}}
	if signs, _, _ = jump.Look(); !slices.Contains(signs, PointOut) {
		t.Errorf("%v", signs)
	}
	if _, _, err := (Run{Use: []float64{1, 2}, Rest: []float64{1, 2}}).Look(); err == nil {
		t.Error("two uses were judged")
	}
	if _, _, err := (Run{Use: []float64{1, 1, 1, 1, 1}, Rest: []float64{1, 2, 3, 4, 5}}).Look(); err == nil {
		t.Error("one use was judged")
	}
}

func TestRecut(t *testing.T) {
	worn := Run{Use: []float64{1, 2, 3, 4, 5, 6, 7, 8}, Rest: []float64{.4e-3, -.6e-3, .9e-3, 1.6e-3, 1.2e-3, 2.5e-3, 2.9e-3, 3.6e-3}}
	quiet := Run{Use: worn.Use, Rest: []float64{1, -1, 1, -1, 1, -1, 1, -1}}
	base := State{Bore: quiet, Floor: quiet, Line: quiet, Scale: budget.Pass, Crazed: 1, Corrections: []float64{-1, 1, 1}}
	for _, c := range []struct {
		name string
		with func(*State)
		want []Why
	}{
		{"keep", func(*State) {}, nil},
		{"bore", func(s *State) { s.Bore = worn }, []Why{BoreRun}},
		{"floor", func(s *State) { s.Floor = worn }, []Why{FloorRun}},
		{"line", func(s *State) { s.Line = worn }, []Why{LineRun}},
		{"grown", func(s *State) { s.Scale = budget.Fail }, []Why{Grown}},
		{"damp", func(s *State) { s.Scale, s.Moisture = budget.Fail, true }, nil},
		{"not proven", func(s *State) { s.Scale = budget.NotProven }, nil},
		{"crazed", func(s *State) { s.Crazed = 2 }, []Why{Crazed}},
		{"again", func(s *State) { s.Corrections = []float64{-1, 1, 2, 3} }, []Why{SameAgain}},
		{"again, minus", func(s *State) { s.Corrections = []float64{-1, -2, -3} }, []Why{SameAgain}},
		{"back at last", func(s *State) { s.Corrections = []float64{1, 1, -1} }, nil},
		{"twice only", func(s *State) { s.Corrections = []float64{1, 1} }, nil},
		{"to and fro", func(s *State) { s.Corrections = []float64{1, -1, 1} }, nil},
		{"short", func(s *State) { s.Floor = Run{} }, []Why{TooFewToSay}},
	} {
		s := base
		c.with(&s)
		if got, err := s.Recut(); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: %v %v, want %v", c.name, got, err, c.want)
		}
	}
	if _, err := (State{Bore: Run{Use: []float64{1, 1, 1, 1, 1}, Rest: []float64{1, 2, 3, 4, 5}}}).Recut(); err == nil {
		t.Error("a run of one use was read")
	}
}

// 1.3 x 29.06 mN m: 37.8 mN m, 96 g on 40 mm.
func TestProof(t *testing.T) {
	p, err := ToProof(29.1, 40)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "torque", float64(p.Torque), 37.83, 1e-9)
	near(t, "pull", float64(p.Pull), 0.94575, 1e-9)
	near(t, "grams", p.Grams, 96.4, 0.05)
	if _, err := ToProof(29.1, 0); err == nil {
		t.Error("a key without arm was taken")
	}
}

func TestCycles(t *testing.T) {
	for _, c := range []struct {
		c       Cycles
		proofs  int
		left    int
		limited bool
	}{{Cycles{Life: AcrylicCycles}, 0, 10, true}, {Cycles{4, 2, AcrylicCycles}, 1, 3, true}, {Cycles{9, 2, AcrylicCycles}, 1, 0, true},
		{Cycles{90, 2, NutBarCycles}, 1, 0, false}} {
		if left, limited, err := c.c.Left(c.proofs); left != c.left || limited != c.limited || err != nil {
			t.Errorf("%+v: %d %v %v", c, left, limited, err)
		}
	}
	for _, bad := range []Cycles{{-1, 0, 0}, {0, -1, 0}, {0, 0, -1}} {
		if _, _, err := bad.Left(0); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	if _, _, err := (Cycles{}).Left(-1); err == nil {
		t.Error("-1 proofs were taken")
	}
}
