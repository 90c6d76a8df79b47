package budget

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// One witness before and after, three readings each; computed here.
func TestPool(t *testing.T) {
	before, after := SpreadOf([]float64{12.0000, 12.0012, 12.0018}), SpreadOf([]float64{12.0075, 12.0090, 12.0090})
	p := Pool(before, after)
	near(t, "pooled s", p.S, 0.0008916277, 1e-9)
	near(t, "dof", p.Dof, 4, 0)
	near(t, "limit", CriticalT(0.05, 1, p.Dof)*p.S*math.Sqrt(2.0/3), 0.0020212, 1e-6)
	if SpreadOf([]float64{1}) != (Spread{}) || SpreadOf(nil) != (Spread{}) || Pool() != (Spread{}) {
		t.Error("too few readings know nothing")
	}
	if got := Pool(before, Spread{0.001, inf}, after); got != (Spread{0.001, inf}) {
		t.Errorf("infinite dof: %v", got)
	}
	if p.AtLeast(0.001).S != 0.001 || p.AtLeast(0.0001).S != p.S {
		t.Error("floor")
	}
}

func TestSpreadOfAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(-300, 300), 2, 20).Draw(t, "xs")
		want := stat.StdDev(xs, nil)
		if got := SpreadOf(xs).S; math.Abs(got-want) > 1e-10*(1+want) {
			t.Fatalf("s %v, gonum %v", got, want)
		}
	})
}

// Today's s is a check of the pooled one: F(3, 30) at 1 % is 4.51, a ratio of 2.124 of the standard deviations
// (tables in general use, from memory).
func TestRepeat(t *testing.T) {
	pooled := Spread{0.001, 30}
	for _, c := range []struct {
		s     float64
		worse bool
	}{{0.0005, false}, {0.0021, false}, {0.00215, true}} {
		got, worse := Repeat(Spread{c.s, 3}, pooled)
		if worse != c.worse {
			t.Errorf("s %v: worse %v", c.s, worse)
		}
		want := pooled
		if c.worse {
			want = Spread{c.s, 3}
		}
		if got != want {
			t.Errorf("s %v: works with %v, want %v", c.s, got, want)
		}
	}
	if got, w := Repeat(Spread{0.002, 3}, Spread{}); w || got.Dof != 3 {
		t.Error("nothing pooled yet: today's own")
	}
	if Worse(Spread{}, pooled, 0.01) || !Worse(Spread{0.001, 3}, Spread{0, 5}, 0.01) {
		t.Error("degenerate F test")
	}
}

func TestMeanOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(-400, 400), 1, 7).Draw(t, "xs")
		if got, want := MeanOf(xs), stat.Mean(xs, nil); math.Abs(got-want) > 1e-10 {
			t.Fatalf("mean %v, gonum %v", got, want)
		}
		for i := range xs {
			xs[i] = xs[0]
		}
		if MeanOf(xs) != xs[0] {
			t.Fatalf("of equal ones %v, not %v", MeanOf(xs), xs[0])
		}
	})
}
