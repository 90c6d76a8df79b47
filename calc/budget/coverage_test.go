package budget

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Monte Carlo with a fixed seed: errors are drawn from what the lines claim to be, by other means than Combine uses, and
// counted. A line of few degrees of freedom gets a new estimate of its u in each trial, as at the machine.
func TestCoverage(t *testing.T) {
	type truth struct {
		shape Shape
		size  float64 // true standard deviation, or half-width
		dof   int     // 0: known
	}
	trials := 40000
	if testing.Short() {
		trials = 10000
	}
	// Four standard deviations of the count: 0.0044 of 40 000.
	tol := 4 * math.Sqrt(0.95*0.05/float64(trials))
	cases := []struct {
		name  string
		lines []truth
		slack float64 // what the method itself is off by, where it is an approximation
	}{
		{"normal", []truth{{Normal, 2, 0}, {Normal, 1, 0}}, 0},
		{"normal, 3 dof", []truth{{Normal, 1, 3}}, 0},
		{"normal, 1 dof", []truth{{Normal, 1, 1}}, 0},
		{"rectangle", []truth{{Rectangular, 5, 0}}, 0},
		{"rectangle in charge", []truth{{Rectangular, 30, 0}, {Normal, 5.4, 0}}, 0},
		{"rectangle in charge, rest 5 dof", []truth{{Rectangular, 10, 0}, {Normal, 3, 5}}, 0.006}, // covers 0.959: on the safe side
		{"trapezoid", []truth{{Rectangular, 30, 0}, {Rectangular, 12, 0}, {Normal, 2, 0}}, 0},
		{"three rectangles", []truth{{Rectangular, 30, 0}, {Rectangular, 20, 0}, {Rectangular, 5, 0}, {Normal, 2, 0}}, 0.002},
		{"rectangle in charge, rest 1 dof", []truth{{Rectangular, 10, 0}, {Normal, 3, 1}}, 0.03}, // covers 0.97
		{"triangle", []truth{{Triangular, 10, 0}, {Normal, 1, 0}}, 0},
		{"many small rectangles", []truth{{Rectangular, 5, 0}, {Rectangular, 5, 0}, {Rectangular, 5, 0}, {Rectangular, 5, 0}, {Rectangular, 5, 0}, {Normal, 1, 0}}, 0.005},
		{"two of few dof", []truth{{Normal, 1, 4}, {Normal, 1, 6}}, 0.008},
	}
	for _, c := range cases {
		rng := rand.New(rand.NewPCG(20, 26))
		lines := make([]Line, len(c.lines))
		inside, below := 0, 0
		fixed := true
		var r Result
		for trial := range trials {
			err := 0.0
			for i, q := range c.lines {
				l := Line{Shape: q.shape, Value: q.size, Coef: 1}
				switch q.shape {
				case Normal:
					err += q.size * rng.NormFloat64()
					if q.dof > 0 {
						fixed = false
						ss := 0.0
						for range q.dof {
							z := rng.NormFloat64()
							ss += z * z
						}
						l.Value = q.size * math.Sqrt(ss/float64(q.dof))
						l.Dof = float64(q.dof)
					}
				case Rectangular:
					err += q.size * (2*rng.Float64() - 1)
				case Triangular:
					err += q.size * (rng.Float64() - rng.Float64())
				}
				lines[i] = l
			}
			if trial == 0 || !fixed {
				r = Combine(lines)
			}
			if math.Abs(err) <= r.U {
				inside++
			}
			if err <= r.Guard {
				below++
			}
		}
		near(t, c.name+": inside U", float64(inside)/float64(trials), 0.95, tol+c.slack)
		near(t, c.name+": below guard", float64(below)/float64(trials), 0.95, tol+c.slack)
	}
}

func drawLines(t *rapid.T) []Line {
	n := rapid.IntRange(1, 8).Draw(t, "n")
	lines := make([]Line, n)
	for i := range lines {
		lines[i] = Line{
			Shape: Shape(rapid.IntRange(0, 2).Draw(t, "shape")),
			Value: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-6, 30)).Draw(t, "value"),
			Dof:   rapid.SampledFrom([]float64{0, 1, 2, 3, 4.5, 12, 30, 1000, inf}).Draw(t, "dof"),
			Coef:  rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-2, -1e-3), rapid.Float64Range(1e-3, 2)).Draw(t, "coef"),
		}
	}
	return lines
}

func TestCombineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := drawLines(t)
		r := Combine(lines)
		if !(r.Guard <= r.U) || !(r.U >= 0) || math.IsInf(r.U, 0) || !(r.Share >= 0 && r.Share <= 1+1e-12) {
			t.Fatalf("%+v", r)
		}
		if r.Std > 0 && !(r.K > 1 && r.Guard > 0 && r.Share >= 1/float64(len(lines))-1e-12) {
			t.Fatalf("%+v", r)
		}
		if q := Combine(lines); q != r {
			t.Fatal("not the same twice")
		}
		// the unit does not matter
		scaled := make([]Line, len(lines))
		for i, l := range lines {
			scaled[i] = l.Times(1e-3)
		}
		if q := Combine(scaled); math.Abs(q.U*1e3-r.U) > 1e-6*r.U || math.Abs(q.Guard*1e3-r.Guard) > 1e-6*r.Guard {
			t.Fatalf("scaled by 1e-3: %+v, was %+v", q, r)
		}
		// the order does not matter
		back := make([]Line, len(lines))
		for i, l := range lines {
			back[len(lines)-1-i] = l
		}
		if q := Combine(back); math.Abs(q.U-r.U) > 1e-8*r.U {
			t.Fatalf("backwards: U %v, was %v", q.U, r.U)
		}
	})
}

// A line that grows never makes Std smaller, nor U and Guard by more than the 1 % that the change of rule takes;
// while no rectangle is in charge before or after, never at all. All degrees of freedom infinite: Welch-Satterthwaite is not monotone.
func TestMonotone(t *testing.T) {
	charge := func(r Result, lines []Line) bool {
		for _, l := range lines {
			u := l.Std()
			if l.Shape == Triangular {
				u /= math.Sqrt2
			}
			if l.Shape != Normal && u > r.Std/2*(1-1e-12) {
				return true
			}
		}
		return false
	}
	rapid.Check(t, func(t *rapid.T) {
		lines := drawLines(t)
		for i := range lines {
			lines[i].Dof = inf
		}
		before := Combine(lines)
		was := charge(before, lines)
		i := rapid.IntRange(0, len(lines)-1).Draw(t, "which")
		lines[i].Value += rapid.Float64Range(0, 10).Draw(t, "more")
		after := Combine(lines)
		least := 1.0
		if was || charge(after, lines) {
			least = 0.99
		}
		if after.Std < before.Std*(1-1e-12) || after.U < before.U*least*(1-1e-9) || after.Guard < before.Guard*least*(1-1e-9) {
			t.Fatalf("grew %+v\nbefore %+v\nafter  %+v", lines[i], before, after)
		}
	})
}

func BenchmarkCombine(b *testing.B) {
	for _, c := range []struct {
		name  string
		lines []Line
	}{
		{"t", with(open, R("clearance", 5))},
		{"few dof", []Line{N("bore", 1, 3), N("skew", 0.5, 5)}},
		{"trapezoid", with(bare, R("clearance", 30))},
		{"trapezoid, few dof", []Line{N("bore", 2, 3), N("skew", 0.5, 5), R("clearance", 30), R("heat", 7)}},
		{"trapezoid, release", with(open, R("clearance", 50))},
		{"trapezoid, 1 dof", []Line{N("bore", 2, 1), R("clearance", 30), R("heat", 7)}},
		{"rectangles only", []Line{R("clearance", 30), R("heat", 7)}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Combine(c.lines)
			}
		})
	}
}
