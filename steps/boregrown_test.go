package steps_test

import (
	"fmt"
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// A damp month grows bore and fixture alike: by both bores the size is held against what the fixture has grown by. A bore that is
// worn, or wiped badly, is still not its size.
func TestBoreSizeByTheScaleOfBothBores(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Bore2 = true })
	a := p.Job.Fixture.AsMade
	const ball = 1.5
	facts := []fold.Known{{ID: "ball", Value: []float64{ball, ball, 0, 0}}, {ID: "identity", Value: []float64{20, 0.5, 1}},
		{ID: "skew", Value: []float64{0, 0}, Cov: [][]float64{{1e-12}}}}
	for _, c := range []struct {
		name        string
		grown, worn float64 // as a fraction; mm
		sound       bool
	}{
		{"as made", 0, 0, true},
		{"0.12 %, a damp month", 0.0012, 0, true},
		{"shrunk in a heated winter", -0.0012, 0, true},
		{"worn", 0, 0.010, false},
		{"grown and worn", 0.0012, 0.010, false},
		{"grown, and the bore filled up", 0.0012, -0.0096, false},
	} {
		var typed [][2]string
		for _, b := range []struct {
			pre string
			at  jobs.Point
			dia float64
			n   int
		}{{"", jobs.Point{}, a.Bore.Dia, p.Setup.Hits}, {"b2", a.Bore2.At, a.Bore.Dia, 4}} {
			r := (b.dia*(1+c.grown)+c.worn)/2 - ball
			for i := range b.n {
				at := 2 * math.Pi * float64(i) / float64(b.n)
				typed = append(typed, [2]string{fmt.Sprintf("%shit%d.x", b.pre, i+1), fmt.Sprintf("%.4f", -250+b.at.X*(1+c.grown)+r*math.Cos(at))},
					[2]string{fmt.Sprintf("%shit%d.y", b.pre, i+1), fmt.Sprintf("%.4f", -120+b.at.Y*(1+c.grown)+r*math.Sin(at))})
			}
		}
		o := outcome(t, p, "bore", facts, append(typed, [2]string{"pause", "0"}, [2]string{"mark", "toward you"})...)
		for _, k := range o.Checks {
			if k.Limit.ID == "bore.size" && (k.Verdict == fold.Pass) != c.sound {
				t.Errorf("%s: off by %.4f, limit %.4f: %v", c.name, k.Got, k.Limit.Max, k.Verdict)
			}
		}
		if verdictOf(t, o, "bore.size"); len(o.Facts) == 0 {
			t.Errorf("%s: no centre", c.name)
		}
	}
}
