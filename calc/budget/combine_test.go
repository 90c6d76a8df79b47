package budget

import (
	"math"
	"testing"
)

var inf = math.Inf(1)

// near fails when got and want differ by more than tol.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tol)
	}
}

// Lines of a register budget in micrometres, 100 mm from the bore with a lever of 70 mm.
var (
	skew = 15.631660e-6 * 70e3
	bare = []Line{
		N("bore", 2*math.Sqrt(2.0/6), 30), R("machine", 5), R("probe", 3), N("skew", skew, inf), R("heat", 70e-6*100e3),
	}
	open = []Line{
		R("side-1 pickup", 5), N("bore", 2*math.Sqrt(2.0/6), 30), R("machine side 1", 5), R("machine side 2", 5), R("probe", 3),
		N("skew", skew, inf), R("heat", 7), R("squareness", 5.4), R("cutter", 6), R("moisture", 7.56),
	}
)

func with(lines []Line, more ...Line) []Line {
	return append(append([]Line(nil), lines...), more...)
}

// The expected numbers were computed here by an independent program: Simpson's rule over the trapezoid and
// its own incomplete beta function, bisection. 0: not computed there.
func TestCombineWorked(t *testing.T) {
	cases := []struct {
		name        string
		lines       []Line
		u, U, guard float64
		largest     string
	}{
		{"floating 30", with(bare, R("clearance", 30)), 18.171332065, 31.658440846, 28.604881927, "clearance"},
		{"against walls 5", with(bare, R("clearance", 5)), 6.207305564, 11.975540420, 10.213084690, "heat"},
		{"machine and fixture only", with(bare, R("squareness", 5.4)), 6.318014643, 0, 10.402529916, "heat"},
		{"release, against walls", with(open, R("clearance", 5)), 9.796351822, 19.200646282, 16.113660876, "moisture"},
		{"release, floating 30", with(open, R("clearance", 30)), 19.688452852, 35.927806864, 31.596898851, "clearance"},
		{"release, floating 50", with(open, R("clearance", 50)), 30.347462975, 52.823830288, 47.709908858, "clearance"},
		{"one rectangle, rest 5.4", []Line{N("rest", 5.4, inf), R("clearance", 30)}, math.Sqrt(300 + 5.4*5.4), 1.7343819030675636 * math.Sqrt(300+5.4*5.4), 0, "clearance"},
		{"six hits, own s, 3 dof", []Line{N("bore", 2*math.Sqrt(2.0/6), 3)}, 1.154700538, 3.674772462, 2.353363435 * 1.154700538, "bore"},
	}
	for _, c := range cases {
		r := Combine(c.lines)
		near(t, c.name+" u", r.Std, c.u, 1e-6)
		// The other program's Simpson steps leave 1e-8 of probability, 2e-6 of these quantiles.
		const tol = 3e-6
		if c.U > 0 {
			near(t, c.name+" U", r.U, c.U, tol)
		}
		if c.guard > 0 {
			near(t, c.name+" guard", r.Guard, c.guard, tol)
		}
		near(t, c.name+" k", r.K, r.U/r.Std, 1e-12)
		if r.Largest.Name != c.largest {
			t.Errorf("%s: largest %q, want %q", c.name, r.Largest.Name, c.largest)
		}
	}
	r := Combine(with(bare, R("clearance", 30)))
	near(t, "share of clearance", r.Share, 0.9085476828, 1e-9)
}

// Simple closed answers: a rectangle alone holds 95 % in 0.95 of its half-width, two equal ones make a
// triangle whose 95 % point is 2a(1-√0.05).
func TestCombineClosed(t *testing.T) {
	near(t, "rectangle U", Combine([]Line{R("a", 3)}).U, 0.95*3, 1e-6)
	near(t, "rectangle guard", Combine([]Line{R("a", 3)}).Guard, 0.90*3, 1e-6)
	want := 2 * 3 * (1 - math.Sqrt(0.05))
	near(t, "two rectangles U", Combine([]Line{R("a", 3), R("b", 3)}).U, want, 1e-6)
	tri := Line{Name: "t", Shape: Triangular, Value: 6, Coef: 1}
	near(t, "triangle U", Combine([]Line{tri}).U, want, 1e-6)
	near(t, "triangle u", Combine([]Line{tri}).Std, 6/math.Sqrt(6), 1e-12)
	near(t, "normal U", Combine([]Line{N("n", 1, inf)}).U, 1.959963984540054, 1e-10)
	near(t, "normal guard", Combine([]Line{N("n", 1, inf)}).Guard, 1.6448536269514722, 1e-10)
	near(t, "negative coefficient", Combine([]Line{R("a", 3).Times(-2)}).U, 0.95*6, 1e-6)
}

// Of three equal rectangles two are convolved and the third stays in the rest, as a normal line of its u would.
func TestCombineEqualRectangles(t *testing.T) {
	three := Combine([]Line{R("a", 3), R("b", 3), R("c", 3)})
	two := Combine([]Line{R("a", 3), N("c", math.Sqrt(3), inf), R("b", 3)})
	near(t, "U", three.U, two.U, 1e-12)
	near(t, "guard", three.Guard, two.Guard, 1e-12)
	if three.Largest.Name != "a" {
		t.Errorf("of equals the first is named, got %q", three.Largest.Name)
	}
}

// EA-4/02 M:2022 (from memory): a dominant rectangle has k = 1.65 (supplement S9, digital multimeter); two dominant
// rectangles of 50 and 25 µm make a trapezoid with k = 1.83 (supplement S10, vernier calliper).
// The trapezoid's k is also computed from its formula (S10.12): (1-√((1-p)(1-β²)))/√((1+β²)/6).
func TestTrapezoidEA402(t *testing.T) {
	near(t, "S9 k", Combine([]Line{R("indication", 1), N("rest", 0.01, inf)}).K, 1.65, 0.005)
	r := Combine([]Line{R("mechanical effects", 50), R("resolution", 25), R("calibration", 0.8), N("temperature", 1.7, inf)})
	near(t, "S10 k", r.K, 1.83, 0.005)
	for _, b := range []float64{1, 5, 20, 49} {
		beta := (50 - b) / (50 + b)
		want := (1 - math.Sqrt(0.05*(1-beta*beta))) / math.Sqrt((1+beta*beta)/6)
		if b/50 < 0.05 {
			// The 95 % point lies under the flat top there, where the formula does not hold.
			continue
		}
		near(t, "trapezoid k", Combine([]Line{R("a", 50), R("b", b)}).K, want, 1e-6)
	}
}

// JCGM 100:2008, H.1 (end gauge; from memory): 25, 9.7, 2.9, 16.6 nm with 18, 25.6, 50, 2 dof give u = 32 nm,
// 16.7 effective degrees of freedom, and at 99 % k = 2.92, U = 93 nm. Tolerances are the rounding of the printed inputs.
func TestGUMEndGauge(t *testing.T) {
	r := Combine([]Line{N("standard", 25, 18), N("comparison", 9.7, 25.6), N("expansion", 2.9, 50), N("temperature difference", 16.6, 2)})
	near(t, "u", r.Std, 31.7, 0.05)
	near(t, "dof", r.Dof, 16.7, 0.1)
	k := TQuantile(0.995, math.Floor(r.Dof))
	near(t, "t99", k, 2.92, 0.005)
	near(t, "U99", k*r.Std, 93, 0.6)
}

// JCGM 100:2008, G.4.1, example (from memory): 0.25, 0.57, 0.82 % with 9, 4, 14 dof give 1.03 %, 19.0 dof and U95 = 2.2 %.
func TestGUMProduct(t *testing.T) {
	r := Combine([]Line{N("x1", 0.25, 9), N("x2", 0.57, 4), N("x3", 0.82, 14)})
	near(t, "u", r.Std, 1.03, 0.005)
	near(t, "dof", r.Dof, 19.0, 0.05)
	near(t, "U", r.U, 2.2, 0.05)
	near(t, "t95", r.K, 2.093, 0.001)
}

func TestCombineDegenerate(t *testing.T) {
	r := Combine(nil)
	if r.Std != 0 || r.U != 0 || r.Guard != 0 || r.Share != 0 || r.Largest.Name != "" {
		t.Errorf("no lines: %+v", r)
	}
	r = Combine([]Line{R("a", 0), N("b", 0, 3)})
	if r.Std != 0 || r.U != 0 || r.K != 0 || r.Largest.Name != "a" {
		t.Errorf("zero lines: %+v", r)
	}
	for _, v := range []float64{math.NaN(), inf, -1} {
		r := Combine([]Line{N("good", 1, inf), R("bad", v), R("big", 1e9)})
		if !math.IsInf(r.U, 1) || !math.IsInf(r.Guard, 1) || r.Largest.Name != "bad" {
			t.Errorf("value %v: %+v", v, r)
		}
		if Decide(0, r.Guard, AtMost, 1) != NotProven || Decide(1e12, r.Guard, AtMost, 1) != NotProven {
			t.Errorf("value %v: a verdict was given", v)
		}
	}
	// dof 0 is "not stated", as good as infinite
	near(t, "dof 0", Combine([]Line{N("a", 1, 0)}).U, 1.959963984540054, 1e-10)
}
