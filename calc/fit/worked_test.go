package fit

import (
	"errors"
	"math"
	"testing"

	"fliptrue/calc/budget"
)

// Worked examples, computed here by an independent program to more digits than are
// asserted. Tolerance 1e-6 of the unit shown, or half of the last digit given.
const tol = 1e-6

func deg(rad float64) float64 { return rad * 180 / math.Pi }
func rad(deg float64) float64 { return deg * math.Pi / 180 }

func TestRing(t *testing.T) {
	hits := Touches{XPlus: 211.5074, XMinus: 188.4892, YPlus: 111.5091, YMinus: 88.4905}
	r, err := ToRing(25.0006, 2, hits)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rx", r.RX, 0.9912, tol)
	near(t, "ry", r.RY, 0.9910, tol)
	near(t, "x", r.Center.X, 199.9983, tol)
	near(t, "y", r.Center.Y, 99.9998, tol)
	near(t, "travel x", r.Travel[0], 0.0088, tol)
	near(t, "travel y", r.Travel[1], 0.0090, tol)
	e := r.Center.Sub(Point{200.0010, 100})  // from the centre that a swept dial finds
	c180 := Point{200.0010 - e.X, 100 - e.Y} // the spindle turned: the ball on the other side
	e2, c := EccentricityFromTurn(r.Center, c180)
	near(t, "ex by turning", e2.X, e.X, tol)
	near(t, "centre by turning", c.X, 200.0010, tol)
	if r.Lobed {
		t.Error("0.0002 between the radii called lobed")
	}
	for _, c := range []struct {
		name string
		size float64
		h    Touches
		want RingMistake
	}{
		{"swapped", 25.0006, Touches{188.4892, 211.5074, 111.5091, 88.4905}, SwappedHits},
		{"radius typed", 12.5003, hits, SizeIsRadius},
		{"size 0.1 too large", 25.1006, hits, SizeTooLarge},
		{"twice the size", 50.0012, hits, SizeImplausible},
		{"size too small", 22, hits, BallTooSmall},
	} {
		_, err := ToRing(c.size, 2, c.h)
		var re *RingError
		if !errors.As(err, &re) || re.Mistake != c.want {
			t.Errorf("%s: %v, want mistake %d", c.name, err, c.want)
		}
	}
}

func TestSurface(t *testing.T) {
	near(t, "X+", Surface(12.3456, 0.9912, XPlus), 13.3368, tol)
	near(t, "X-", Surface(12.3456, 0.9912, XMinus), 11.3544, tol)
}

func TestCorner(t *testing.T) {
	c, err := ToCorner([]FaceHit{{Point{-1, 10}, XPlus}, {Point{-0.93, 50}, XPlus}, {Point{10, -1.01}, YPlus}, {Point{70, -0.92}, YPlus}}, EvenBall(0.991))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x", c.At.X, -0.026558, tol)
	near(t, "y", c.At.Y, -0.034039, tol)
	near(t, "skew", deg(c.Skew), 0.085944, tol)
	near(t, "lean", deg(c.Lean), -0.100268, tol)
	near(t, "interior", deg(c.Interior), 89.813789, tol)
	var d *DegenerateError
	if _, err := ToCorner([]FaceHit{{Point{0, 0}, XPlus}, {Point{0, 9}, XMinus}, {Point{1, 0}, YPlus}, {Point{9, 0}, YPlus}}, EvenBall(1)); !errors.As(err, &d) {
		t.Errorf("one face probed both ways: %v", err)
	}
	if _, err := ToCorner([]FaceHit{{Point{0, 0}, XPlus}, {Point{9, 0}, XPlus}, {Point{1, 0}, YPlus}, {Point{9, 0}, YPlus}}, EvenBall(1)); !errors.As(err, &d) || d.Why != Parallel {
		t.Errorf("parallel faces: %v", err)
	}
	if _, err := ToCorner([]FaceHit{{Point{0, 0}, XPlus}, {Point{1, 0}, YPlus}, {Point{9, 0}, YPlus}}, EvenBall(1)); !errors.As(err, &d) || d.Why != TooFew {
		t.Errorf("one hit on a face: %v", err)
	}
}

var (
	six  = []Point{{53.0220, 30.0070}, {51.5160, 32.6120}, {48.5375, 32.5609}, {47.0035, 30.0070}, {48.5070, 27.4003}, {51.5160, 27.4020}}
	four = []Point{{52.9610, 30.0070}, {50.0120, 33.0160}, {47.0030, 30.0070}, {50.0120, 26.9980}}
)

var known = budget.Spread{S: 0.001, Dof: math.Inf(1)}

func TestBoreOfSix(t *testing.T) {
	n, err := NameHit(six, Bore, known)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x", n.All.Center.X, 50.021971, tol)
	near(t, "y", n.All.Center.Y, 29.989457, tol)
	near(t, "D", Bore.Diameter(n.All, 0.991), 7.979885, tol)
	near(t, "s", n.All.S.V, 0.024279, tol)
	for i, want := range []float64{0.001137, 0.019311, -0.029772, 0.019580, 0.000869, -0.011125} {
		near(t, "residual", n.All.Residuals[i], want, tol)
	}
	for i, want := range []float64{0.029714, 0.022633, 0.001360, 0.022402, 0.029723, 0.027570} {
		near(t, "s without", n.Left[i].S, want, tol)
	}
	if n.Verdict != Named || n.Index != 2 || !n.LikeChip {
		t.Fatalf("verdict %v, hit %d; want hit 3 named as a chip", n.Verdict, n.Index+1)
	}
	near(t, "chi² all", n.Chi2, 1768.451, 0.02) // the example squares s rounded to 1e-6
	near(t, "chi² left", n.Chi2Left, 3.699, 0.002)
	near(t, "limit left", n.LeftLimit, 9.210340371976182, 1e-9)
	near(t, "limit all", n.Chi2Limit, 11.345, 5e-4)
	near(t, "runner-up", n.Runner.V, 16.5, 0.05)
	near(t, "x without", n.Without.Center.X, 50.012115, tol)
	near(t, "y without", n.Without.Center.Y, 30.006528, tol)
	near(t, "D without", Bore.Diameter(n.Without, 0.991), 7.999598, tol)
	near(t, "deviation", n.Deviation, -0.059340, tol)
	near(t, "angle", deg(n.Angle), 120, 0.02)
	near(t, "shift", n.Shift, math.Hypot(0.0099, 0.0171), 1e-4)
	// the same hits round a boss: short is no chip
	if n, _ := NameHit(six, Boss, known); n.Verdict != Named || n.LikeChip {
		t.Errorf("boss: verdict %v, like a chip %v; want named, not a chip", n.Verdict, n.LikeChip)
	}
}

func TestBoreOfFour(t *testing.T) {
	n, err := NameHit(four, Bore, known)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x", n.All.Center.X, 49.982150, tol)
	near(t, "y", n.All.Center.Y, 30.007, tol)
	near(t, "D", Bore.Diameter(n.All, 0.991), 7.970148, tol)
	for i, want := range []float64{-0.015224, 0.015074, -0.014924, 0.015074} {
		near(t, "residual", n.All.Residuals[i], want, tol)
	}
	if n.Verdict != Unnamed || n.Index != -1 || len(n.Candidates) != 2 || n.Candidates[0] != 0 || n.Candidates[1] != 2 {
		t.Errorf("verdict %v, index %d, candidates %v; want hits 1 or 3, not named", n.Verdict, n.Index, n.Candidates)
	}
	for _, c := range []struct {
		drop int
		x, d float64
	}{{0, 50.012, 8}, {2, 49.951390, 8.001221}} {
		f, err := ToCircle(append(append([]Point{}, four[:c.drop]...), four[c.drop+1:]...))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "x without", f.Center.X, c.x, tol)
		near(t, "D without", Bore.Diameter(f, 0.991), c.d, tol)
	}
	if n, err := NameHit(four[:3], Bore, known); err != nil || n.Verdict != NoStatement {
		t.Errorf("three hits: %v %v, want no statement", n.Verdict, err)
	}
}

func TestWidth(t *testing.T) {
	third := WallHit{10.0820, 40}
	w, err := ToWidth(Slot, WallHit{10.0120, 20}, WallHit{25.9980, 20}, &third, 0.991)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lean", deg(w.Lean.V), 0.200534, tol)
	near(t, "center", w.Center, 18.005, tol)
	near(t, "width", w.Width, 17.967902, tol)
	w, _ = ToWidth(Slot, WallHit{10.0120, 20}, WallHit{25.9980, 20}, nil, 0.991)
	near(t, "width without lean", w.Width, 17.968, tol)
	if w.Lean.Has {
		t.Error("lean from two hits")
	}
	web, _ := ToWidth(Web, WallHit{10.0120, 20}, WallHit{25.9980, 20}, nil, 0.991)
	near(t, "a slot taken for a web", w.Width-web.Width, 4*0.991, 1e-12)
	var we *WidthError
	if _, err := ToWidth(Slot, WallHit{10, 20}, WallHit{10.001, 20}, nil, 0.991); !errors.As(err, &we) {
		t.Errorf("same wall: %v", err)
	}
	if _, err := ToWidth(Web, WallHit{10, 20}, WallHit{11, 20}, nil, 0.991); !errors.As(err, &we) {
		t.Errorf("web thinner than nothing: %v", err)
	}
}

func TestZ(t *testing.T) {
	near(t, "offset", ZOffset(-187.456, 98.234, 0), -285.690, tol)
	near(t, "relative offset, reference tool 80 long", ZOffset(-187.456, 98.234-80, 0), -205.690, tol)
	near(t, "over a block", ZOffset(-187.456, 0, 10), -197.456, tol)
}

func TestPlane(t *testing.T) {
	p, err := ToPlane([]Point3{{5, 5, 0}, {85, 5, 0.012}, {85, 55, 0.030}, {5, 55, 0.021}, {45, 30, 0.018}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a", p.A, -0.00140625, 1e-12)
	near(t, "b", p.B*1e3, 0.131250, tol)
	near(t, "c", p.C*1e3, 0.390000, tol)
	for i, want := range []float64{-0.0012, 0.0003, -0.0012, 0.0003, 0.0018} {
		near(t, "residual", p.Residuals[i], want, 1e-9)
	}
	near(t, "range", p.Range.V, 0.003, 1e-9)
	s := p.Shims([]Point{{0, 0}, {90, 0}, {90, 60}, {0, 60}})
	for i, want := range []float64{0.0352125, 0.0234, 0, 0.0118125} {
		near(t, "shim", s.Thick[i], want, 1e-9)
	}
	if s.DoNot || s.Unchecked {
		t.Errorf("shims refused: %+v", s)
	}
	// a chip under the middle: more bow than tilt
	p, _ = ToPlane([]Point3{{5, 5, 0}, {85, 5, 0.002}, {85, 55, 0.004}, {5, 55, 0.002}, {45, 30, 0.040}})
	if s := p.Shims([]Point{{0, 0}, {90, 0}, {90, 60}, {0, 60}}); !s.DoNot {
		t.Errorf("bowed surface shimmed: %+v", s)
	}
	if n := p.NamePoint(known); n.Verdict != Named || n.Index != 4 || !n.LikeChip {
		t.Errorf("naming: %+v, want point 5 high", n)
	}
	p, _ = ToPlane([]Point3{{0, 0, 0}, {80, 0, 0.01}, {0, 50, 0}})
	if s := p.Shims([]Point{{0, 0}, {80, 0}}); p.S.Has || p.Range.Has || !s.Unchecked || p.NamePoint(known).Verdict != NoStatement {
		t.Errorf("three points claim a check: %+v", p)
	}
}

var run = Run{Stations: []float64{0, 20, 40, 60, 80, 100, 120}, Readings: []float64{0, .003, .007, .009, .013, .015, .019},
	Closing: Known(.001), Graduation: 0.001}

func TestRun(t *testing.T) {
	r := run
	r.Scale = NeedleScale(YMinus, true, rad(30), 0)
	e, err := r.Edge()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Sxx", e.Sxx, 11200, tol)
	near(t, "slope", e.Slope*1e3, 0.155357, tol)
	near(t, "surface slope", e.SurfaceSlope*1e3, -0.134543, tol)
	near(t, "theta", e.Theta*1e3, -0.134543, tol)
	near(t, "theta", deg(e.Theta), -0.007708759, 1e-9)
	near(t, "rise", e.Rise, -0.016145, tol)
	near(t, "corrected", e.Corrected.V*1e3, -0.128357, tol)
	near(t, "s", e.S.V, 0.000528, tol)
	near(t, "form", e.Form.V, 0.001144, tol)
	near(t, "u fit", e.UFit*1e6, 4.319067, tol)
	near(t, "u drift", e.UDrift*1e6, 4.166667, tol)
	near(t, "u axis", e.UAxis*1e6, 14.433757, tol)
	near(t, "u theta", e.UTheta*1e6, 15.631660, tol)
	if e.Nick != -1 {
		t.Errorf("nick at station %d", e.Nick)
	}
	tap := tapOf(e, 0, 120)
	near(t, "tap", tap.move, 0.016145, tol)
	near(t, "needle", tap.needle, -0.018643, tol)
	if c, ok := e.CheckClosing(0.2e-3, 0.001); !ok || !c.OK {
		t.Errorf("closing of one graduation refused: %+v", c)
	}
	if c, _ := e.CheckClosing(0.01e-3, 0.001); c.OK {
		t.Errorf("closing beyond half of the permitted rise accepted: %+v", c)
	}

	r.Scale, err = JogScale(0.200, 0, 0.231, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "scale", r.Scale.V, -0.865801, tol)
	near(t, "u(scale)", r.Scale.Rel, 0.001767, tol)
	e, _ = r.Edge()
	near(t, "jog theta", e.Theta*1e3, -0.134508, tol)
	near(t, "jog theta", deg(e.Theta), -0.007707, tol)
	near(t, "jog rise", e.Rise, -0.016141, tol)
	near(t, "jog needle", tapOf(e, 0, 120).needle, -0.018643, tol)

	var se *ScaleError
	for _, after := range []float64{0, 0.5, 0.15} {
		if _, err := JogScale(0.2, 0, after, 0.001); !errors.As(err, &se) {
			t.Errorf("jog test 0 to %g: %v, want a ScaleError", after, err)
		}
	}
	if got := Judge(0.0161, 0.0019, 0.0318, 0.0019); got != Doubled {
		t.Errorf("0.0161 to 0.0318: %v, want doubled", got)
	}
	if got := Judge(0.0161, 0.0019, 0.0250, 0.0019); got != WrongWay {
		t.Errorf("0.0161 to 0.0250: %v, want wrong way", got)
	}
	for _, after := range []float64{0.0241, 0.002, -0.03, 0} {
		if got := Judge(0.0161, 0.0019, after, 0.0019); got != AsAdvised {
			t.Errorf("0.0161 to %g: %v", after, got)
		}
	}
	two := Run{Stations: []float64{0, 120}, Readings: []float64{0, 0.01}, Scale: Scale{V: -1}, Graduation: 0.01}
	if e, err = two.Edge(); err != nil || e.Form.Has || e.ClosingError.Has {
		t.Errorf("two stations: %+v %v", e, err)
	}
	near(t, "u fit of two", e.UFit, math.Sqrt2*0.01/math.Sqrt(12)/120, 1e-12)
}

func TestRunNick(t *testing.T) {
	r := run
	r.Scale = Scale{V: -1}
	for i := range r.Stations {
		r.Readings = append([]float64(nil), run.Readings...)
		r.Readings[i] += 0.02
		e, err := r.Edge()
		if err != nil {
			t.Fatal(err)
		}
		if e.Nick != i || math.Abs(e.NickDepth+0.02) > 0.003 {
			t.Errorf("nick of 0.02 at station %d: named %d, depth %.4f", i, e.Nick, e.NickDepth)
		}
	}
	r.Readings = make([]float64, 7) // all equal: the wanted result after squaring
	if e, err := r.Edge(); err != nil || e.Nick != -1 || e.Theta != 0 || !(e.UFit > 0) {
		t.Errorf("equal readings: %+v %v", e, err)
	}
}

func TestSweep(t *testing.T) {
	s, err := ToSweep([]float64{0, rad(90), rad(180), rad(270)}, []float64{0.030, 0.008, -0.018, 0}, 60)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tilt x", s.TiltX*1e3, 0.4, tol)
	near(t, "tilt y", s.TiltY*1e3, 0.066667, tol)
	near(t, "tilt x", deg(math.Atan(s.TiltX)), 0.022918, tol)
	near(t, "tilt y", deg(math.Atan(s.TiltY)), 0.003820, tol)
	total, az := s.Total()
	near(t, "total", total*1e3, 0.405518, tol)
	near(t, "azimuth", deg(az), 9.462322, tol)
	near(t, "per 300", s.TiltX*300, 0.12, tol)
	near(t, "redundancy", s.Redundancy.V, 0.004, 1e-12)
	near(t, "step", StepOver(s.TiltX, 20), 0.008, tol)
	near(t, "dish", Dish(s.TiltX, 25, 40), 0.00399999968, 1e-12)
	near(t, "lean", WallLean(s.TiltX, 10), 0.004, tol)
	near(t, "kink", Kink(s.TiltX, 10), 0.008, tol)
	near(t, "square", OutOfSquare(0.02/300, 54, 27), 0.0036, tol)
	near(t, "square", OutOfSquare(0.010/100, 54, 27), 0.0054, tol)
	if s, _ := ToSweep([]float64{0, 1, 2, 3}, []float64{0, 0, 0, 0}, 60); s.Redundancy.Has {
		t.Error("redundancy of four uneven readings")
	}
	if s, _ := ToSweep([]float64{0, 2, 4}, []float64{0, 1, 0}, 60); s.S.Has {
		t.Error("scatter of three readings")
	}
}

// Derived, computed here: 0.02 over a sweep of 200 diameter tilts by 1e-4.
func TestTramEffects(t *testing.T) {
	near(t, "dish at full width", Dish(1e-4, 25, 50), 0.0025, 1e-10)
	near(t, "dish at 40", Dish(-1e-4, 25, 40), 0.0010, 1e-10)
	near(t, "step at 40", StepOver(1e-4, 40), 0.0040, 1e-15)
}

func TestSwept(t *testing.T) {
	sc, err := JogScale(0.100, 0, 0.098, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "scale", sc.V, -1.020408, tol)
	s, err := ToSwept(Point{-312.4330, -158.2200}, SweptReadings{.014, -.010, .003, .001}, sc, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dx", s.Move.X, -0.012245, tol)
	near(t, "dy", s.Move.Y, -0.001020, tol)
	near(t, "x", s.Center.X, -312.445245, tol)
	near(t, "y", s.Center.Y, -158.221020, tol)
	near(t, "redundancy", s.Redundancy, 0, 1e-12)
}

func TestFinder(t *testing.T) {
	f := ToOppositeFaces(-150.012, -48.986, 96, false)
	near(t, "center", f.Center, -99.499, tol)
	near(t, "radius", f.Radius, 2.513, tol)
	f = ToOppositeFaces(10+2.5, 90-2.5, 80, true)
	near(t, "inside", f.Radius, 2.5, tol)
}

// The lever's cosine, against a published table that rounds or cuts to two digits:
// verified copy, tolerance 0.01; and its printed examples.
func TestCosineTable(t *testing.T) {
	for i, want := range []float64{0.98, 0.94, 0.87, 0.77, 0.64, 0.50} {
		near(t, "factor", NeedleScale(YPlus, true, rad(float64(10*(i+1))), 0).V, want, 0.01)
	}
	for i, want := range []float64{0.984808, 0.939693, 0.866025, 0.766044, 0.642788, 0.5} { // computed here
		near(t, "factor", NeedleScale(YPlus, true, rad(float64(10*(i+1))), 0).V, want, 5e-7)
	}
	for _, c := range [][3]float64{{0.2, 10, 0.196}, {0.2, 20, 0.188}, {0.2, 30, 0.174}} {
		near(t, "reading", c[0]*NeedleScale(YPlus, true, rad(c[1]), 0).V, c[2], 0.001)
	}
	near(t, "design angle", NeedleScale(YPlus, true, rad(12), rad(12)).V, 1, 1e-15)
}

func TestShiftOfOneWitness(t *testing.T) {
	ds, s, err := Differences([]Witness{{Axis: AxisX, Before: []float64{12.0000, 12.0012, 12.0018}, After: []float64{12.0075, 12.0090, 12.0090}}}, Reference{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "d", ds[0].D, 0.0075, 1e-9)
	near(t, "s", s.S, 0.000891628, 1e-9)
	near(t, "dof", s.Dof, 4, 0)
	near(t, "SE", s.S*math.Sqrt(ds[0].Q), 0.000728, tol)
	near(t, "limit", budget.CriticalT(0.05, 1, s.Dof)*s.S*math.Sqrt(ds[0].Q), 0.002021, tol)
}

func TestRigidMotion(t *testing.T) {
	// 7 witnesses: one X face, two Y faces, four quiet Z
	ds := []Difference{{AxisX, Point{0, 27}, 0.0015, 1}, {AxisY, Point{7, 0}, 0.0020, 1}, {AxisY, Point{77, 0}, 0.0090, 1},
		{AxisZ, Point{5, 5}, 0, 1}, {AxisZ, Point{79, 5}, 0, 1}, {AxisZ, Point{79, 49}, 0, 1}, {AxisZ, Point{5, 49}, 0, 1}}
	m, err := SolveMotion(ds, [3]float64{1, 1, 1}, budget.Spread{S: 0.0009, Dof: 14})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "critical t", m.Critical, 3.146, 5e-4)
	near(t, "one witness", m.Shifts[0].U, 0.001273, tol)
	near(t, "its limit", m.Shifts[0].Limit, 0.004005, tol)
	if m.Shifts[0].Real || m.Shifts[1].Real || !m.Shifts[2].Real || !m.AnyReal() {
		t.Errorf("real: %+v, want the right Y face only", m.Shifts)
	}
	near(t, "turn", m.Turn*1e3, 0.1, tol)
	near(t, "dx", m.Move.X, 0.0042, tol)
	near(t, "dy", m.Move.Y, 0.0013, tol)
	for _, c := range [][4]float64{{0, 0, .0042, .0013}, {84, 0, .0042, .0097}, {84, 54, -.0012, .0097}, {0, 54, -.0012, .0013}} {
		d, _ := m.At(Point{c[0], c[1]})
		near(t, "corner x", d.X, c[2], tol)
		near(t, "corner y", d.Y, c[3], tol)
	}
	d, u := m.At(Point{84, 0})
	near(t, "u", u.Y, 0.001341, tol)
	near(t, "g", m.Guard(u.Y), 0.002362, tol)
	near(t, "d+g", d.Y+m.Guard(u.Y), 0.012061864, 1e-8)
	near(t, "d-g", d.Y-m.Guard(u.Y), 0.007338136, 1e-8)
	if m.BadVerdict != Clean || !m.Lifted || !m.Tilted || m.LiftDOF != 1 {
		t.Errorf("lift: %+v", m)
	}
}

func TestFullTurn(t *testing.T) {
	for at := 1; at < 7; at++ {
		for _, turn := range []float64{0.4, -0.4, 1, -1} {
			r := append([]float64(nil), run.Readings...)
			for i := at; i < 7; i++ {
				r[i] += turn
			}
			if got, by, ok := FullTurn(r, 0.2, 0.4, 0.5, 1); !ok || got != at || by != turn {
				t.Errorf("turn of %g at %d: got %g at %d, %v", turn, at, by, got, ok)
			}
		}
	}
	for _, r := range [][]float64{run.Readings, {0, 0.1, 0.2, 0.3, 0.4}, {0, 0, 0.4, 0, 0}, {0, 0.4, 0.4}} {
		if _, _, ok := FullTurn(r, 0.2, 0.4, 0.5, 1); ok {
			t.Errorf("full turn seen in %v", r)
		}
	}
}
