package lsq

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", name, got, want, tol)
	}
}

// By hand: 0, 1, 2, 0 over 0 to 3. Normal equations 4a + 6b = 3, 6a + 14b = 5: a 0.6, b 0.1, residuals -0.6, 0.3, 1.2,
// -0.9, squares 2.7. Computed here.
func TestLine(t *testing.T) {
	s, err := Solve([][]float64{{1, 0}, {1, 1}, {1, 2}, {1, 3}}, []float64{0, 1, 2, 0}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "height", s.X[0], 0.6, 1e-12)
	near(t, "slope", s.X[1], 0.1, 1e-12)
	near(t, "chi2", s.Chi2, 2.7, 1e-12)
	near(t, "s", s.S(), math.Sqrt(1.35), 1e-12)
	near(t, "var height", s.Cofactor[0][0], 0.7, 1e-12)
	near(t, "var slope", s.Cofactor[1][1], 0.2, 1e-12)
	near(t, "between", s.Cofactor[0][1], -0.3, 1e-12)
	near(t, "leverage of an end", s.Leverage[0], 0.7, 1e-12)
	near(t, "var at 3", s.Var([]float64{1, 3}), 0.7, 1e-12)
	if odd := s.Odd(); !slices.Equal(odd, []int{3}) {
		t.Errorf("odd %v", odd)
	}
	near(t, "off the line of the others", s.Off(3), -3, 1e-12) // 0 where y = x says 3
	near(t, "its standard residual", s.Standard[3], -0.9/math.Sqrt(0.3), 1e-12)
}

// Longley, NIST StRD, certified coefficients (verified copy of the widely printed set): the classic ill-conditioned one.
func TestLongley(t *testing.T) {
	x := [][]float64{
		{83.0, 234289, 2356, 1590, 107608, 1947}, {88.5, 259426, 2325, 1456, 108632, 1948}, {88.2, 258054, 3682, 1616, 109773, 1949},
		{89.5, 284599, 3351, 1650, 110929, 1950}, {96.2, 328975, 2099, 3099, 112075, 1951}, {98.1, 346999, 1932, 3594, 113270, 1952},
		{99.0, 365385, 1870, 3547, 115094, 1953}, {100.0, 363112, 3578, 3350, 116219, 1954}, {101.2, 397469, 2904, 3048, 117388, 1955},
		{104.6, 419180, 2822, 2857, 118734, 1956}, {108.4, 442769, 2936, 2798, 120445, 1957}, {110.8, 444546, 4681, 2637, 121950, 1958},
		{112.6, 482704, 3813, 2552, 123366, 1959}, {114.2, 502601, 3931, 2514, 125368, 1960}, {115.7, 518173, 4806, 2572, 127852, 1961},
		{116.9, 554894, 4007, 2827, 130081, 1962}}
	y := []float64{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551}
	rows := make([][]float64, len(x))
	for i, r := range x {
		rows[i] = append([]float64{1}, r...)
	}
	s, err := Solve(rows, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{-3482258.63459582, 15.0618722713733, -0.358191792925910e-01, -2.02022980381683, -1.03322686717359,
		-0.511041056535807e-01, 1829.15146461355} {
		near(t, "coefficient", s.X[i]/want, 1, 1e-8)
	}
	near(t, "residual standard deviation", s.S(), 304.854073561965, 1e-6)
	for i, want := range []float64{890420.383607373, 84.9149257747669, 0.0334910077722432} {
		near(t, "its standard deviation", s.S()*math.Sqrt(s.Cofactor[i][i])/want, 1, 1e-7)
	}
}

func TestRefuses(t *testing.T) {
	var un *UndeterminedError
	for name, rows := range map[string][][]float64{
		"one column twice":    {{1, 2, 2}, {1, 3, 3}, {1, 4, 4}, {1, 5, 5}},
		"too few":             {{1, 2, 3}, {1, 4, 5}},
		"a column of nothing": {{1, 1, 0}, {1, 2, 0}, {1, 3, 0}},
	} {
		if _, err := Solve(rows, make([]float64, len(rows)), nil); !errors.As(err, &un) || un.Column != 2 {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, c := range map[string]struct {
		rows [][]float64
		y, u []float64
	}{
		"nothing": {}, "ragged": {[][]float64{{1, 2}, {1}}, []float64{1, 2}, nil}, "no readings": {[][]float64{{1}}, nil, nil},
		"nan": {[][]float64{{1}}, []float64{math.NaN()}, nil}, "inf place": {[][]float64{{math.Inf(1)}}, []float64{1}, nil},
		"u 0": {[][]float64{{1}}, []float64{1}, []float64{0}}, "u short": {[][]float64{{1}, {1}}, []float64{1, 2}, []float64{1}},
		"u infinite": {[][]float64{{1}}, []float64{1}, []float64{math.Inf(1)}},
	} {
		if _, err := Solve(c.rows, c.y, c.u); err == nil || errors.As(err, &un) {
			t.Errorf("%s: %v", name, err)
		}
	}
	s, err := Solve([][]float64{{1, 0}, {1, 1}}, []float64{1, 2}, nil)
	if err != nil || s.Odd() != nil || s.Off(0) != 0 || s.S() != 0 || s.Dof != 0 {
		t.Errorf("exact: %+v %v", s, err)
	}
}

// Two readings of one thing and one of each of two others: which of the two is wrong cannot be told, and
// the others, which nothing checks, are never named.
func TestOddTied(t *testing.T) {
	s, err := Solve([][]float64{{1, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, []float64{1, 2, 3, 4}, []float64{1, 1, 1, 2})
	if err != nil || !slices.Equal(s.Odd(), []int{0, 1}) || s.Off(2) != 0 {
		t.Errorf("%+v %v", s, err)
	}
	near(t, "off the other", s.Off(0), -1, 1e-12)
	near(t, "u of one read once", math.Sqrt(s.Cofactor[2][2]), 2, 1e-12)
}

// Truth comes back; weights are one over the squares; the residual stands square on every column.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(1, 5).Draw(t, "k")
		n := k + rapid.IntRange(1, 6).Draw(t, "more")
		f := rapid.Float64Range(-50, 50)
		rows, y, u, truth := make([][]float64, n), make([]float64, n), make([]float64, n), make([]float64, k)
		for j := range truth {
			truth[j] = f.Draw(t, "x")
		}
		for i := range rows {
			rows[i] = make([]float64, k)
			for j := range rows[i] {
				rows[i][j] = f.Draw(t, "a")
				y[i] += rows[i][j] * truth[j]
			}
			u[i] = rapid.Float64Range(0.5, 3).Draw(t, "u")
		}
		s, err := Solve(rows, y, u)
		if err != nil {
			t.Skip()
		}
		if cond(s) > 1e3 {
			t.Skip()
		}
		for j := range truth {
			if math.Abs(s.X[j]-truth[j]) > 1e-6 {
				t.Fatalf("%v, want %v", s.X, truth)
			}
		}
		for i := range y {
			y[i] += rapid.Float64Range(-1, 1).Draw(t, "e")
		}
		s, _ = Solve(rows, y, u)
		trace := 0.0
		for j := range k {
			dot := 0.0
			for i := range rows {
				dot += rows[i][j] * s.Residuals[i] / (u[i] * u[i])
			}
			if math.Abs(dot) > 1e-7 {
				t.Fatalf("residual leans on column %d: %g", j, dot)
			}
		}
		for i := range rows {
			trace += s.Leverage[i]
			if h := s.Var(rows[i]) / (u[i] * u[i]); math.Abs(h-s.Leverage[i]) > 1e-8 {
				t.Fatalf("leverage %g, by the covariance %g", s.Leverage[i], h)
			}
		}
		if math.Abs(trace-float64(k)) > 1e-8 {
			t.Fatalf("leverages add up to %g, not %d", trace, k)
		}
	})
}

func cond(s Solution) float64 {
	m := 0.0
	for j := range s.X {
		m = math.Max(m, s.Cofactor[j][j])
	}
	return m
}

// An error names the reading by its number from 1.
func TestErrorsName(t *testing.T) {
	if _, err := Solve([][]float64{{1}, {1}}, []float64{1, math.NaN()}, nil); err == nil || !strings.Contains(err.Error(), "reading 2 (") {
		t.Error(err)
	}
	if _, err := Solve([][]float64{{1}, {math.NaN()}}, []float64{1, 2}, nil); err == nil || !strings.Contains(err.Error(), "place of reading 2 ") {
		t.Error(err)
	}
	if _, err := Solve([][]float64{{1, 1}, {2, 2}}, []float64{1, 2}, nil); err == nil || !strings.Contains(err.Error(), "2 readings do not tell unknown 2") {
		t.Error(err)
	}
}
