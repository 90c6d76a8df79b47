package budget

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
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

// gonum's matrix product is the reference for J C Jᵀ.
func TestAtAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 5).Draw(t, "n"), rapid.IntRange(1, 3).Draw(t, "m")
		num := rapid.Float64Range(-10, 10)
		cov, jac := square(n), make([][]float64, m)
		c, j := mat.NewDense(n, n, nil), mat.NewDense(m, n, nil)
		for i := range n {
			for k := 0; k <= i; k++ {
				v := num.Draw(t, "cov")
				cov[i][k], cov[k][i] = v, v
				c.Set(i, k, v)
				c.Set(k, i, v)
			}
		}
		for i := range jac {
			jac[i] = make([]float64, n)
			for k := range jac[i] {
				jac[i][k] = num.Draw(t, "jac")
				j.Set(i, k, jac[i][k])
			}
		}
		var want mat.Dense
		want.Product(j, c, j.T())
		got := At(jac, cov)
		for i := range got {
			for k := range got[i] {
				if math.Abs(got[i][k]-want.At(i, k)) > 1e-9 {
					t.Fatalf("at %d,%d: %v, gonum %v", i, k, got[i][k], want.At(i, k))
				}
			}
		}
	})
}

func TestCovarianceHelpers(t *testing.T) {
	a, b := [][]float64{{4, 1}, {1, 9}}, [][]float64{{16}}
	s := Beside(a, b)
	if s[0][1] != 1 || s[2][2] != 16 || s[0][2] != 0 || len(s) != 3 {
		t.Errorf("beside: %v", s)
	}
	if c := Sum(a, a); c[0][1] != 2 || c[1][1] != 18 {
		t.Errorf("sum: %v", c)
	}
	if l := Axis("y", a, 1, 5); l.Value != 3 || l.Dof != 5 || l.Coef != 1 {
		t.Errorf("axis: %+v", l)
	}
	// x and y fully correlated cancel in their difference
	c := At([][]float64{{1, -1}}, [][]float64{{4, 4}, {4, 4}})
	if c[0][0] != 0 {
		t.Errorf("difference of equals: %v", c)
	}
}
