package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A reading that is off on an edge that is straight is named with what it is off by, at three stations by the ends as read
// before, at more by the others alone; plain rounding to the dial's step names none.
func TestOutlyingNamesTheStation(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const step = 0.002
	for n := range 600 {
		stations := make([]float64, []int{3, 4, 5, 7}[n%4])
		run := Run{Scale: Scale{V: []float64{-1, 0.86}[n/4%2]}, Graduation: step, Axis: Known(0)}
		skew, at := (rng.Float64()-0.5)*0.4e-3, rng.IntN(len(stations))
		dial := func(x float64) float64 { return math.Round(skew*x/run.Scale.V/step) * step }
		for i := range stations {
			x := 120 * float64(i) / float64(len(stations)-1)
			run.Stations, run.Readings = append(run.Stations, x), append(run.Readings, dial(x))
		}
		before := [2]Value{Known(dial(0)), Known(dial(120))}
		if i, off, ok := run.Outlying(before); ok {
			t.Fatalf("%d stations, nothing wrong: station %d off by %.4f", len(stations), i, off)
		}
		by := math.Copysign(0.01+0.05*rng.Float64(), rng.Float64()-0.5)
		run.Readings[at] += by
		i, off, ok := run.Outlying(before)
		if !ok || i != at {
			t.Errorf("%d stations, %d off by %.3f: station %d, %v", len(stations), at, by, i, ok)
		} else if want := by * run.Scale.V; math.Abs(off-want) > 3*step {
			t.Errorf("%d stations, station %d off by %.4f, want %.4f", len(stations), at, off, want)
		}
		if _, _, named := run.Outlying([2]Value{}); len(stations) == 3 && named {
			t.Error("three stations alone can't name one")
		}
	}
}
