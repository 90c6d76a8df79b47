package batch

import (
	"errors"
	"math"
	"testing"

	"fliptrue/calc/chart"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

// k* = √(2c/(p W)): Taguchi's interval (from memory); numbers computed here.
func TestInterval(t *testing.T) {
	for _, c := range []struct {
		c, p, w, best float64
		every         int
	}{{2, .01, 300, 1.15, 1}, {2, .003, 60, 4.71, 5}, {2, .01, 3000, 0.37, 1}} {
		i, err := ToInterval(c.c, c.p, c.w)
		if err != nil || i.Every != c.every {
			t.Errorf("%+v %v", i, err)
		}
		near(t, "every", i.Best, c.best, 5e-3)
	}
	rapid.Check(t, func(t *rapid.T) { // no other whole number costs less
		c, p, w := rapid.Float64Range(0.1, 20).Draw(t, "c"), rapid.Float64Range(1e-4, 0.5).Draw(t, "p"), rapid.Float64Range(1, 5000).Draw(t, "w")
		i, err := ToInterval(c, p, w)
		if err != nil {
			t.Fatal(err)
		}
		k := float64(rapid.IntRange(1, 2000).Draw(t, "k"))
		if c/k+p*w*k/2 < i.Cost-1e-9 || math.Abs(c/float64(i.Every)+p*w*float64(i.Every)/2-i.Cost) > 1e-9 {
			t.Fatalf("%+v, but every %g costs %g", i, k, c/k+p*w*k/2)
		}
	})
	for _, bad := range [][3]float64{{0, .1, 1}, {1, 0, 1}, {1, .1, 0}, {1, 1, 1}, {math.NaN(), .1, 1}, {math.Inf(1), .1, 1}} {
		if _, err := ToInterval(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

func TestWarmUp(t *testing.T) {
	for m, want := range map[float64]float64{0: 0.020, 10: 0.0087, 30: 0.0016} {
		v, err := StillGrows(m)
		near(t, "still grows", v, want, 5e-5)
		if err != nil {
			t.Error(err)
		}
	}
	for _, bad := range []float64{-1, math.NaN()} {
		if _, err := StillGrows(bad); err == nil {
			t.Errorf("%g was taken", bad)
		}
	}
}

// Listed 1 in 25, 3 caught in 40 walks: 0.0615.
func TestLearned(t *testing.T) {
	for _, c := range []struct {
		r    Rate
		want float64
	}{{Rate{0.04, 40, 3, 0}, 0.061538}, {Rate{0.04, 40, 3, 0.5}, (1 + 6.0) / 65}, {Rate{0.04, 0, 0, 1}, 0.04}, {Rate{1, 2, 2, 0.1}, 1}} {
		v, err := c.r.Learned()
		near(t, "learned", v, c.want, 1e-6)
		if err != nil {
			t.Error(err)
		}
	}
	for _, bad := range []Rate{{Listed: -0.1}, {Listed: 1.1}, {Catch: 1.1}, {Catch: -0.1}, {Walks: -1}, {Caught: -1}, {Caught: 2, Walks: 1},
		{Listed: math.NaN()}} {
		if _, err := bad.Learned(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

func TestDrift(t *testing.T) {
	var few *chart.TooFewError
	if _, err := ToDrift([]float64{1, 2, 3, 4}, 0, 1, 0); !errors.As(err, &few) {
		t.Error(err)
	}
	quiet := []float64{2e-3, -1e-3, 1e-3, -2e-3, 1e-3, -1e-3}
	d, err := ToDrift(quiet, 0, 0.02, 0)
	if err != nil || d.Alarm != Quiet {
		t.Errorf("%+v %v", d, err)
	}
	near(t, "next, about the mean", d.Next, d.Trend.Guard(7), 1e-12)
	if d, _ = ToDrift(quiet, 0, d.Next*0.99, 0); d.Alarm != Stop {
		t.Errorf("next part not proven: %+v", d)
	}
	slope := []float64{.4e-3, -.6e-3, .9e-3, 1.6e-3, 1.2e-3, 2.5e-3, 2.9e-3, 3.6e-3}
	d, _ = ToDrift(slope, 0, 0.02, 0)
	if d.Alarm != LevelUp || !d.Trend.Real {
		t.Errorf("%+v", d)
	}
	near(t, "next, along the slope", d.Next, d.Trend.At(9)+d.Trend.Guard(9), 1e-12)
	if d, _ = ToDrift(slope, 0, 0.005, 0); d.Alarm != Stop {
		t.Errorf("%+v", d)
	}
	near(t, "against another target", func() float64 { e, _ := ToDrift(slope, 0.001, 0, 0); return e.Next }(), d.Next-0.001, 1e-12)
	if d, _ = ToDrift(make([]float64, 6), 0, 0.02, 0); d.Alarm != Quiet {
		t.Errorf("%+v", d)
	}
	if d, _ = ToDrift([]float64{0, 1e-4, 0, 1e-4, 0, 9e-3, 0, 1e-4, 0, 1e-4, 0, 1e-4}, 0, 0, 0); d.Alarm != Stop {
		t.Errorf("a point outside: %+v", d)
	}
	shifted := []float64{5e-3, 5.5e-3, 4.8e-3, 5.2e-3, 5.1e-3}
	if d, _ = ToDrift(shifted, 0, 0, 0); d.Alarm != LevelUp || d.Trend.Real {
		t.Errorf("off its target: %+v", d)
	}
	if _, err := ToDrift([]float64{1, 2, 3, 4, 5}, math.NaN(), 1, 0); err == nil {
		t.Error("no target was taken")
	}
}

// On a readout of 0.001 heights of -0.003, then -0.001 five times, have a moving range of 0.0004: by it the first stands outside, by the
// readings' own uncertainty of 0.0025 none does. What lies beyond three of that is outside all the same.
func TestNoLimitsNarrowerThanTheReading(t *testing.T) {
	same := []float64{-0.003, -0.001, -0.001, -0.001, -0.001, -0.001}
	if d, err := ToDrift(same, 0, 0, 0); err != nil || d.Alarm != Stop {
		t.Errorf("by its range alone: %+v %v", d, err)
	}
	if d, err := ToDrift(same, 0, 0, 0.0025); err != nil || d.Alarm != Quiet {
		t.Errorf("as well as it is read: %+v %v", d, err)
	}
	same[5] = -0.012
	if d, err := ToDrift(same, 0, 0, 0.0025); err != nil || d.Alarm != Stop {
		t.Errorf("0.011 off the others: %+v %v", d, err)
	}
}
