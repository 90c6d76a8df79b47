package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"

	"pgregory.net/rapid"
)

func corners(l, w float64) []Point { return []Point{{0, 0}, {l, 0}, {l, w}, {0, w}} }

// risen is a part by differences of its heights, each of standard uncertainty u.
func risen(ds []Point3, u float64) (Motion, Rise, error) {
	var zs []Difference
	for _, d := range ds {
		zs = append(zs, Difference{Axis: AxisZ, At: Point{d.X, d.Y}, D: d.Z, Q: 1})
	}
	m, err := SolveMotion(zs, [3]float64{}, budget.Spread{S: u, Dof: 100})
	return m, Rise{X: m.TiltX, Y: m.TiltY, Cov: m.LiftCov}, err
}

// 0.300 on one corner of four: lift 0.075 and a lean of 0.150 from end to end each way, which
// a judge of X and Y alone never sees.
func TestOneCornerRisen(t *testing.T) {
	m, r, err := risen([]Point3{{0, 0, 0.300}, {96, 0, 0}, {96, 64, 0}, {0, 64, 0}}, 0.002)
	if err != nil || !m.Tilted {
		t.Fatalf("%+v %v", m, err)
	}
	lift, u := m.LiftAt(Point{48, 32})
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"lift", lift, 0.075}, {"lean X", r.X, -0.150 / 96}, {"lean Y", r.Y, -0.150 / 64},
		{"one corner is not a plane", m.Shifts[0].Residual - m.Shifts[1].Residual, 0.150}, {"u of lift", u, 0.001}} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
	d, us := r.Sideways(16) // at the top of 16 the lean is 0.025 and 0.0375 of motion in plan
	if math.Abs(d.X-0.025) > 1e-12 || math.Abs(d.Y-0.0375) > 1e-12 || !(us.X > 0) || !(us.Y > 0) {
		t.Errorf("sideways %v ± %v", d, us)
	}
	if over, _ := r.LeanOver(96, 64); math.Abs(over-0.150) > 1e-12 {
		t.Errorf("lean over the part %g", over)
	}
	all, _, _ := risen([]Point3{{0, 0, 0.4}, {96, 0, 0.4}, {96, 64, 0.4}, {0, 64, 0.4}}, 0.002)
	if math.Abs(all.Lift-0.4) > 1e-12 || math.Abs(all.TiltX)+math.Abs(all.TiltY) > 1e-15 {
		t.Errorf("all four: %+v", all)
	}
	one, _, err := risen([]Point3{{48, 32, 0.3}}, 0.002) // a dial alone: lift, and lean is not read
	if err != nil || one.Tilted || one.Lift != 0.3 {
		t.Errorf("%+v %v", one, err)
	}
	two, _, _ := risen([]Point3{{0, 0, 0.1}, {96, 0, 0.3}}, 0.002)
	if math.Abs(two.Lift-0.2) > 1e-12 || math.Abs(math.Sqrt(two.LiftCov[0][0])-0.002/math.Sqrt2) > 1e-12 {
		t.Errorf("two places: %+v", two)
	}
	_, along, _ := risen([]Point3{{0, 0, 0}, {96, 0, 0.1}, {96, 64, 0.1}, {0, 64, 0}}, 0.002)
	if over, u := along.LeanOver(96, 64); math.Abs(over-0.1) > 1e-12 || math.Abs(u-0.002) > 1e-12 {
		t.Errorf("leans along X by %g ± %g", over, u)
	}
	if line, _, err := risen([]Point3{{0, 0, 0.1}, {48, 32, 0.1}, {96, 64, 0.1}}, 0.002); err != nil || line.Tilted || math.Abs(line.Lift-0.1) > 1e-12 {
		t.Errorf("on one line: %+v %v", line, err)
	}
	for _, bad := range [][]Point3{nil, {{0, 0, math.NaN()}}} {
		if _, _, err := risen(bad, 0.002); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// Against a part turned in space by a small rotation and lifted: heights and the motion of a
// point above the plane in which the motion in plan is read.
func TestRiseOfASolid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(-1e-4, 1e-4).Draw(t, "about x"), rapid.Float64Range(-1e-4, 1e-4).Draw(t, "about y")
		lift := rapid.Float64Range(-0.1, 0.1).Draw(t, "lift")
		move := func(p Point3) Point3 { // about X, then about Y, exact
			sa, ca := math.Sincos(a)
			p = Point3{p.X, ca*p.Y - sa*p.Z, sa*p.Y + ca*p.Z}
			sb, cb := math.Sincos(b)
			return Point3{cb*p.X + sb*p.Z, p.Y, -sb*p.X + cb*p.Z + lift}
		}
		var ds []Point3
		for _, c := range append(corners(96, 64), Point{48, 32}) {
			ds = append(ds, Point3{c.X, c.Y, move(Point3{c.X, c.Y, 0}).Z})
		}
		m, r, err := risen(ds, 0.001)
		if err != nil {
			t.Fatal(err)
		}
		x, y, h := rapid.Float64Range(0, 96).Draw(t, "x"), rapid.Float64Range(0, 64).Draw(t, "y"), rapid.Float64Range(-30, 30).Draw(t, "h")
		low, high := move(Point3{x, y, 0}), move(Point3{x, y, h})
		if dz, _ := m.LiftAt(Point{x, y}); math.Abs(dz-low.Z) > 1e-5 {
			t.Fatalf("rise %g, of the solid %g", dz, low.Z)
		}
		d, _ := r.Sideways(h)
		if math.Abs(d.X-(high.X-low.X)) > 1e-6 || math.Abs(d.Y-(high.Y-low.Y)) > 1e-6 {
			t.Fatalf("sideways %v, of the solid %g %g", d, high.X-low.X, high.Y-low.Y)
		}
	})
}

// What is said to be uncertain is how it scatters.
func TestRiseUncertainty(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	const sets, u = 20000, 0.002
	places := []Point{{5, 5}, {90, 8}, {80, 60}, {10, 50}}
	var dz, dx, dy [2]float64 // scatter, said
	for range sets {
		ds := make([]Point3, len(places))
		for i, p := range places {
			ds[i] = Point3{p.X, p.Y, u * rng.NormFloat64()}
		}
		m, r, _ := risen(ds, u)
		z, uz := m.LiftAt(Point{96, 64})
		d, ud := r.Sideways(16)
		dz[0], dx[0], dy[0] = dz[0]+z*z/sets, dx[0]+d.X*d.X/sets, dy[0]+d.Y*d.Y/sets
		dz[1], dx[1], dy[1] = uz, ud.X, ud.Y
	}
	for i, c := range [][2]float64{dz, dx, dy} {
		if math.Abs(math.Sqrt(c[0])/c[1]-1) > 0.02 {
			t.Errorf("%d: scatters by %g, said %g", i, math.Sqrt(c[0]), c[1])
		}
	}
}
