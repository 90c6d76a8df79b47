package kit_test

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The lean of the spindle steps the walls of both sides by twice its slope times their height along the axis of the
// flip, and by nothing across it: worked by hand for a part 10 thick.
func TestKinkOfALeaningSpindle(t *testing.T) {
	tram := fold.Known{ID: "tram", Value: []float64{-0.0001, 0.0003}}
	offset := fold.Known{ID: "offset", Value: []float64{10, 20, 0, 0, 0, 0, 10, 20, 1, 0, 0, 0}, Cov: [][]float64{{0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}, Dof: 30}
	for flip, want := range map[string][2]float64{"x": {0.002, 0}, "y": {0, 0.006}} {
		j := &jobs.Job{Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: kit.SecondSide, Flip: flip, Z0: "floor"}}}
		j.Part.Size = [3]float64{96, 64, 10}
		p, err := (&fold.House{Kinds: []*fold.Kind{{Name: kit.SecondSide}}, Limits: judge.LimitRows}).Plan(j, "s", nil)
		if err != nil {
			t.Fatal(err)
		}
		fs := kit.RegisterOf(p, func(id fold.FactID) (fold.Known, bool) {
			f, ok := map[fold.FactID]fold.Known{"tram": tram, "offset": offset}[id]
			return f, ok
		}, true)
		if len(fs) != 4 {
			t.Fatalf("%d features of a part that lists none, want its corners", len(fs))
		}
		for _, f := range fs {
			if math.Abs(f.Kink[0]-want[0]) > 1e-12 || math.Abs(f.Kink[1]-want[1]) > 1e-12 {
				t.Errorf("flipped about %s: the kink is %v, want %v", flip, f.Kink, want)
			}
		}
	}
}

// The worst feature is that of the largest error, kink and guard together; what is judged is error and kink.
func TestWorstFeature(t *testing.T) {
	i, axis, value, guard := kit.WorstFeature([]kit.FeatureError{
		{Error: [2]float64{0.020, -0.021}, Guard: [2]float64{0.005, 0.005}},
		{Error: [2]float64{0.010, -0.012}, Kink: [2]float64{0, 0.015}, Guard: [2]float64{0.004, 0.004}},
		{Error: [2]float64{0.022, 0}, Guard: [2]float64{0.006, 0.001}}})
	if i != 1 || axis != 1 || math.Abs(value-0.027) > 1e-12 || guard != 0.004 {
		t.Errorf("feature %d, axis %d: %g with %g, want 1, 1: 0.027 with 0.004", i, axis, value, guard)
	}
}

// registered is what facts make of the far corner, 96 64, of a part of 10 at two walls, left and toward you, found with a bore at 10 20.
func registered(t *testing.T, edit func(*jobs.Job), walk int, fs ...fold.Known) kit.FeatureError {
	t.Helper()
	j := &jobs.Job{Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: kit.SecondSide, Flip: "x", Z0: "floor", Against: []string{"left", "toward"}}}}
	j.Part.Size, j.Part.Features = [3]float64{96, 64, 10}, []jobs.Feature{kit.Feature("far", 96, 64)}
	made := unit.Temperature(20)
	j.Fixture.AsMade.Temperature = &made
	j.Fixture.Material = "acrylic-cast"
	if edit != nil {
		edit(j)
	}
	p, err := (&fold.House{Kinds: []*fold.Kind{{Name: kit.SecondSide}}, Limits: judge.LimitRows}).Plan(j, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	fs = append(fs, fold.Known{ID: "offset", Value: []float64{10, 20, 0, 0, 0, 0, 10, 20, 1, 0, 0, 0}, Cov: [][]float64{{0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}, Dof: 30})
	out := kit.RegisterAs(p, func(id fold.FactID) (fold.Known, bool) {
		for _, f := range fs {
			if f.ID == id {
				return f, true
			}
		}
		return fold.Known{}, false
	}, true, walk)
	return out[0]
}

func line(f kit.FeatureError, axis int, name string) float64 {
	for _, l := range f.Lines[axis] {
		if l.Name == name {
			return math.Abs(l.Value * l.Coef)
		}
	}
	return 0
}

func close6(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// The part's motion of the shift test is added as it was found: 0.010 to the right, 0.020 toward you, and 1e-4 counter-clockwise about
// the part zero moves the far corner by -1e-4*64 along X and +1e-4*96 along Y. Its covariance goes with it.
func TestShiftReachesTheRegister(t *testing.T) {
	still := registered(t, nil, 3)
	cov := [][]float64{{1e-6, 0, 0}, {0, 4e-6, 0}, {0, 0, 1e-10}}
	moved := registered(t, nil, 3, fold.Known{ID: "shift", Value: []float64{0.010, -0.020, 1e-4}, Cov: cov, Dof: 7})
	close6(t, "X", moved.Error[0]-still.Error[0], 0.010-1e-4*64)
	close6(t, "Y", moved.Error[1]-still.Error[1], -0.020+1e-4*96)
	close6(t, "u along X", line(moved, 0, "shift test"), math.Sqrt(1e-6+64*64*1e-10))
	close6(t, "u along Y", line(moved, 1, "shift test"), math.Sqrt(4e-6+96*96*1e-10))
}

// What side 1 cut beyond the drawing, and how well it was measured and picked up, reaches the far corner at two walls: the whole of it.
func TestSide1ReachesTheRegister(t *testing.T) {
	drawn := registered(t, nil, 3)
	width := func(id fold.FactID, w, off, u float64) fold.Known {
		return fold.Known{ID: id, Value: []float64{w, off}, Cov: [][]float64{{u * u}}}
	}
	cut := registered(t, nil, 3, width("part/width-x", 96.030, 0.030, 0.002), width("part/width-y", 63.980, -0.020, 0.004))
	dx, dy := cut.Error[0]-drawn.Error[0], cut.Error[1]-drawn.Error[1]
	// A cutter too small by 0.015 a side leaves the wall that far outside, and the feature, placed from the wall, that far in.
	close6(t, "X", math.Abs(dx), 0.015)
	close6(t, "Y", math.Abs(dy), 0.010)
	if math.Signbit(dx) == math.Signbit(dy) {
		t.Errorf("too wide and too narrow go the same way: %g %g", dx, dy)
	}
	if was := line(drawn, 0, "machine, side 1 cutter"); was > 0 && line(cut, 0, "machine, side 1 cutter") >= was {
		t.Error("a width that was measured leaves the cutter in doubt as before")
	}
	edges := fold.Known{ID: "part/edges", Value: []float64{-1, -1}, Cov: [][]float64{{9e-6, 0}, {0, 25e-6}}}
	picked := registered(t, nil, 3, edges)
	x, y := line(picked, 0, "side-1 pickup"), line(picked, 1, "side-1 pickup")
	close6(t, "pickup along X", x, 0.003)
	close6(t, "pickup along Y", y, 0.005)
}

// The fixture's heat: nothing read is 10 K of it, a thermometer leaves 1 K and the range of its expansion times what it is warmer by.
func TestHeatReachesTheRegister(t *testing.T) {
	id := func(temp, measured float64) fold.Known {
		return fold.Known{ID: "identity", Value: []float64{temp, 0.6, measured, 1}}
	}
	room, same, warm := registered(t, nil, 3, id(20, 0)), registered(t, nil, 3, id(20, 1)), registered(t, nil, 3, id(28, 1))
	close6(t, "10 K against 1 K", line(room, 0, "heat"), 10*line(same, 0, "heat"))
	// Half of the correction by temperature is in doubt where one bore alone was read: 8 K, eight times half of what 1 K is.
	close6(t, "8 K warmer", line(warm, 0, "growth by one bore"), 8*0.5*line(same, 0, "heat"))
	unread := fold.Known{ID: "identity", Value: []float64{20, 0, 0, 1}}
	close6(t, "an earlier walk, nothing read", line(registered(t, nil, 2, unread), 0, "heat"), line(same, 0, "heat"))
	if was := registered(t, nil, 2, id(20, 0)); math.Abs(line(was, 0, "heat")-line(same, 0, "heat")) > 1e-9 {
		t.Error("an earlier walk counted one room as a thermometer")
	}
}
