package rescue

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

// The lid after a thread let go (demonstration): three X faces' touches, three Y. Computed here and by a
// general-purpose least-squares library.
func lidTouches() []Touch {
	return []Touch{{Face: fit.XMinus, At: 12, Along: 10, Found: 12.028},
		{Face: fit.XMinus, At: 12, Along: 54, Found: 12.015},
		{Face: fit.XPlus, At: 84, Along: 32, Found: 84.022},
		{Face: fit.YMinus, At: 8, Along: 20, Found: 7.959},
		{Face: fit.YMinus, At: 8, Along: 76, Found: 7.979},
		{Face: fit.YPlus, At: 56, Along: 48, Found: 55.969}}
}

func TestFindAgain(t *testing.T) {
	m, err := Find(lidTouches(), false)
	if err != nil || m.Sized || !math.IsInf(m.Dof, 1) || m.Odd != nil {
		t.Fatalf("%+v %v", m, err)
	}
	near(t, "tx", m.Motion.Shift.X, 0.032342, 1e-6)
	near(t, "ty", m.Motion.Shift.Y, -0.047013, 1e-6)
	near(t, "turn, mrad", 1e3*float64(m.Motion.Turn), 0.333596, 1e-6)
	near(t, "turn, deg", float64(m.Motion.Turn)*180/math.Pi, 0.019114, 1e-6)
	near(t, "s", m.S, 0.000903, 1e-6)
	for _, c := range []struct{ at, moved, u frame.Vec }{
		{frame.Vec{}, frame.Vec{X: 0.0323, Y: -0.0470}, frame.Vec{X: 0.0026, Y: 0.0033}},
		{frame.Vec{X: 96, Y: 64}, frame.Vec{X: 0.0110, Y: -0.0150}, frame.Vec{X: 0.0026, Y: 0.0033}},
		{frame.Vec{X: 48, Y: 32}, frame.Vec{X: 0.0217, Y: -0.0310}, frame.Vec{X: 0.0017, Y: 0.0017}}} {
		d, u := m.At(c.at)
		near(t, "moved X", d.X, c.moved.X, 6e-5)
		near(t, "moved Y", d.Y, c.moved.Y, 6e-5)
		near(t, "u X", u.X, c.u.X, 5.1e-5)
		near(t, "u Y", u.Y, c.u.Y, 5.1e-5)
		if g := m.Guard(math.Max(u.X, u.Y)); g > 0.0055 {
			t.Errorf("guard %g", g)
		}
	}
	// With the size of the faces as fourth unknown: what the first answer leaves is partly the cutter's.
	s, err := Find(lidTouches(), true)
	if err != nil || !s.Sized {
		t.Fatalf("%+v %v", s, err)
	}
	near(t, "size, by hand the mean of 0.00025 in X and 0 in Y", s.Size, 0.000125, 1e-9)
	near(t, "tx with size told", s.Motion.Shift.X, 0.0324, 2e-4)
	old := frame.Placement{Offset: frame.Vec{X: -223.015, Y: -139.141}}
	middle := frame.Vec{X: 48, Y: 32}
	o := ToOffset(old, m, true, middle)
	near(t, "O' X, control turns", o.Place.Offset.X, -222.983, 5.1e-4)
	near(t, "O' Y", o.Place.Offset.Y, -139.188, 5.1e-4)
	near(t, "rotation, deg", float64(o.Place.Rotation)*180/math.Pi, 0.019114, 1e-6)
	o = ToOffset(old, m, false, middle)
	near(t, "O' X, control does not turn", o.Place.Offset.X, -222.993, 5.1e-4)
	near(t, "O' Y", o.Place.Offset.Y, -139.172, 5.1e-4)
	if o.Place.Rotation != 0 {
		t.Error("a control that does not turn was told to")
	}
	l := o.Left(frame.Vec{X: 96, Y: 64})
	near(t, "left at the far corner X", l.X, -0.0107, 5e-5)
	near(t, "left at the far corner Y", l.Y, 0.0160, 5e-5)
	corners := []frame.Vec{{X: 48, Y: 32}, {X: 96}, {X: 96, Y: 64}, {Y: 64}}
	j, err := o.Judge(corners, 0.05)
	if err != nil || j.Axis != 1 || j.Verdict != budget.Pass {
		t.Errorf("%+v %v", j, err)
	}
	near(t, "worst of the corners", j.Value, 0.0160, 5e-5)
	if j, _ = o.Judge([]frame.Vec{{X: 96, Y: 64}, {X: 95, Y: 64}}, 0.05); j.Place != 0 {
		t.Errorf("a place a little better counts: %+v", j)
	}
	if j, _ = o.Judge(corners, ReentryStep); j.Verdict == budget.Pass {
		t.Errorf("the step at re-entry passes: %+v", j)
	}
	if _, err := o.Judge(nil, 0.05); err == nil {
		t.Error("nothing was judged")
	}
}

// Any motion of a part whose faces were cut larger by any amount comes back; the new offset leaves
// nothing where the control turns, and nothing at the middle where it does not, whatever rotation was in before.
func TestMotionComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, a float64) float64 { return rapid.Float64Range(-a, a).Draw(t, name) }
		true_ := frame.Motion{Turn: unit.Angle(f("turn", 3e-4)), Shift: frame.Vec{X: f("tx", 0.3), Y: f("ty", 0.3)}}
		size := f("size", 0.02)
		var ts []Touch
		touch := func(face fit.Direction, at, along, stock float64) {
			p := frame.Vec{X: at + face.Sign()*(size+stock), Y: along}
			if !face.AlongX() {
				p = frame.Vec{X: along, Y: at + face.Sign()*(size+stock)}
			}
			q := true_.Apply(p)
			got := Touch{Face: face, At: at, Along: q.Y, Found: q.X, Stock: stock}
			if !face.AlongX() {
				got.Along, got.Found = q.X, q.Y
			}
			ts = append(ts, got)
		}
		touch(fit.XMinus, 12, 10, 0)
		touch(fit.XMinus, 12, 54, 0.2)
		touch(fit.XPlus, 84, 32, 0)
		touch(fit.YMinus, 8, 20, 0)
		touch(fit.YMinus, 8, 76, 0)
		touch(fit.YPlus, 56, 48, 0.1)
		m, err := Find(ts, true)
		if err != nil || !m.Sized || math.Abs(m.Size-size) > 3e-4 {
			t.Fatalf("%+v %v", m, err)
		}
		for _, p := range []frame.Vec{{}, {X: 96, Y: 64}} {
			d, _ := m.At(p)
			if e := d.Sub(true_.Move(p)); e.Len() > 3e-4 { // touched at the place where it now lies: second order
				t.Fatalf("at %v off by %v", p, e)
			}
		}
		old := frame.Placement{Offset: frame.Vec{X: f("ox", 300), Y: f("oy", 300)}, Rotation: unit.Angle(f("rot", 0.02))}
		c := frame.Vec{X: f("cx", 50), Y: f("cy", 50)}
		turned, straight := ToOffset(old, m, true, c), ToOffset(old, m, false, c)
		if straight.Place.Rotation != old.Rotation {
			t.Fatal("turned")
		}
		if e := straight.Left(c); e.Len() > 1e-9 {
			t.Fatalf("left at the middle: %v", e)
		}
		for _, p := range []frame.Vec{{}, {X: 96, Y: 64}, {X: -20, Y: 3}} {
			if e := turned.Left(p); e.Len() > 1e-9 {
				t.Fatalf("left at %v: %v", p, e)
			}
			want := frame.Motion{Turn: m.Motion.Turn}.Move(p.Sub(c))
			if e := straight.Left(p).Sub(want); e.Len() > 1e-9 {
				t.Fatalf("left at %v: %v, want %v", p, straight.Left(p), want)
			}
		}
	})
}

// A face cut while the part was already moving is named; scatter beyond what was stated widens.
func TestCutTooLate(t *testing.T) {
	ts := append(lidTouches(), Touch{Face: fit.YPlus, At: 56, Along: 20, Found: 55.959}, Touch{Face: fit.XPlus, At: 84, Along: 54,
		Found: 84.014})
	if m, err := Find(ts, true); err != nil || m.Odd != nil {
		t.Fatalf("quiet: %+v %v", m, err)
	}
	ts[4].Found += 0.03
	m, err := Find(ts, true)
	if err != nil || !slices.Contains(m.Odd, 4) || m.Dof != 4 {
		t.Fatalf("%+v %v", m, err)
	}
	near(t, "cut too late by", m.OddBy[slices.Index(m.Odd, 4)], 0.03, 0.006)
	q, _ := Foresee(ts, true)
	if !(m.Cov[0][0] > 4*q.Cov[0][0]) || !(m.Guard(1) > 2) {
		t.Errorf("not widened: %g, foreseen %g", m.Cov[0][0], q.Cov[0][0])
	}
	near(t, "foreseen: nothing moved", q.Motion.Shift.Len(), 0, 1e-9)
	if q.S > 1e-9 || q.Odd != nil {
		t.Errorf("%+v", q)
	}
}

func TestStockWidens(t *testing.T) {
	near(t, "finished", Touch{}.u(), 0.003, 0)
	near(t, "with stock", Touch{Stock: 0.1}.u(), math.Sqrt(0.003*0.003+0.02*0.02/3), 1e-12)
	near(t, "own u", Touch{U: 0.001}.u(), 0.001, 0)
	near(t, "X- with stock stands further out", Touch{Face: fit.XMinus, At: 12, Found: 11.9, Stock: 0.1}.off(), 0, 1e-12)
	near(t, "X+ too", Touch{Face: fit.XPlus, At: 12, Found: 12.1, Stock: 0.1}.off(), 0, 1e-12)
}

func TestFindRefuses(t *testing.T) {
	good := lidTouches()
	for name, bad := range map[string][]Touch{
		"none": nil, "two": good[:2], "one axis": {good[0], good[1], good[2]}, "no lever": {good[0], good[0], good[3]},
		"no such face": {{Face: fit.ZMinus}, good[1], good[3]}, "nan": {{Face: fit.XPlus, Found: math.NaN()}, good[1], good[3]},
		"u below 0": {{Face: fit.XPlus, U: -1}, good[1], good[3], good[4], good[5]},
	} {
		for _, size := range []bool{false, true} {
			if m, err := Find(bad, size); err == nil {
				t.Errorf("%s was taken: %+v", name, m)
			}
		}
	}
	if m, err := Find([]Touch{good[0], good[1], good[3]}, true); err != nil || m.Sized || m.S != 0 {
		t.Errorf("three touches: %+v %v", m, err)
	}
}

// The same motion from two sources agrees; off by 0.03 it does not, and the step is told.
func TestCompare(t *testing.T) {
	a, _ := Find(lidTouches(), false)
	places := []frame.Vec{{X: 48, Y: 32}, {X: 96, Y: 64}}
	c, err := Compare(a, a, places)
	if err != nil || !c.Agree || c.Chi2 != 0 || c.Step != 0 {
		t.Errorf("%+v %v", c, err)
	}
	b := a
	b.Motion.Shift.X += 0.03
	if c, _ = Compare(a, b, places); c.Agree {
		t.Errorf("%+v", c)
	}
	near(t, "step", c.Step, 0.03, 1e-12)
	b = a
	b.Motion.Turn += 3e-4
	c, _ = Compare(a, b, places)
	near(t, "step of a turn", c.Step, 3e-4*96, 2e-5)
	if c.Place != 1 {
		t.Errorf("%+v", c)
	}
	// Independent: χ² of a shift with a diagonal covariance is (d/u)² of each axis added.
	var d, e Moved
	d.Cov = [3][3]float64{{4e-6, 0, 0}, {0, 1e-6, 0}, {0, 0, 1e-10}}
	e.Cov = d.Cov
	e.Motion = frame.Motion{Shift: frame.Vec{X: 0.004, Y: -0.003}, Turn: 2e-5}
	c, err = Compare(d, e, nil)
	near(t, "chi2", c.Chi2, 16.0/8+9.0/2+4.0/2, 1e-6)
	if err != nil || !c.Agree {
		t.Errorf("%+v %v", c, err)
	}
	e.Motion.Shift.Y = -0.005 // χ² 16.5 above 11.34
	if c, _ = Compare(d, e, nil); c.Agree {
		t.Errorf("%+v", c)
	}
	if _, err := Compare(Moved{}, Moved{}, nil); err == nil {
		t.Error("exactly known motions were compared")
	}
}

func lid(t *testing.T) hold.Case {
	t.Helper()
	need := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	m2, err := hold.ThreadNamed("M2")
	need(err)
	class, err := hold.ClassNamed("A2-70")
	need(err)
	area, err := hold.BearingArea(5, 2.4)
	need(err)
	acrylic, err := hold.Library{}.Named("acrylic-cast")
	need(err)
	walnut, err := hold.Library{}.Named("walnut-stabilised")
	need(err)
	return hold.Case{
		Joint: hold.Joint{Thread: m2, Engaged: 4.2, Shear: 35, Bearing: area, Crush: 10, Class: class, K: 0.25, Factors: hold.Usual},
		Shear: acrylic.Shear, Crush: walnut.Crush, Mu: hold.HoldingMu, Kc11: walnut.Kc11,
		Seat: hold.Seat{Corners: [][2]float64{{-48, -32}, {48, -32}, {48, 32}, {-48, 32}}, Height: 16},
		Holding: hold.Holding{Screws: [][2]float64{{42, 26}, {42, -26}, {-42, 26}, {-42, -26}}, Forces: [][2]float64{{48, 32}, {-48, 32}, {-48,
			-32}, {48, -32}},
			Cut: hold.Cut{Dia: 3.175, Teeth: 2, Ae: 1, Ap: 0.2, Fz: 0.02, Helix: unit.Angle(math.Pi / 6), Kc11: 100, Mc: walnut.Mc, Wear: 1.3,
				Corner: 2}},
	}
}

// Four screws: may not slip above 0.252, may not leave above 2.247. Three left: 0.097 and 0.287. Two on a
// diagonal: 0.000. Computed here, independently of hold.
func TestWhatHolds(t *testing.T) {
	c := lid(t)
	four, err := Without(c)
	if err != nil || four.Screws != 4 || !four.Planned {
		t.Fatalf("%+v %v", four, err)
	}
	near(t, "four, slips above", float64(four.Slips), 0.252, 5e-4)
	near(t, "four, thrown above", float64(four.Throws), 2.247, 5e-4)
	three, err := Without(c, 0)
	if err != nil || three.Screws != 3 || three.Planned {
		t.Fatalf("%+v %v", three, err)
	}
	near(t, "three, slips above", float64(three.Slips), 0.097, 5e-4)
	near(t, "three, thrown above", float64(three.Throws), 0.287, 5e-4)
	two, err := Without(c, 0, 3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "two on a diagonal, slips above", float64(two.Slips), 0, 1e-9)
	if two.Throws >= three.Throws {
		t.Errorf("two screws throw the part above %g, three above %g", float64(two.Throws), float64(three.Throws))
	}
	if len(c.Holding.Screws) != 4 {
		t.Error("the case itself lost a screw")
	}
	for _, bad := range [][]int{{4}, {-1}, {1, 1}, {0, 1, 2, 3}} {
		if _, err := Without(c, bad...); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// M2.5 in the torn hole of an M2: 4.4772/3.4414 (shear areas of FED-STD-H28 for each mm) and 289.9 N over 3.7 at 17.5 MPa.
func TestNextSize(t *testing.T) {
	m2, _ := hold.ThreadNamed("M2")
	m25, _ := hold.ThreadNamed("M2.5")
	n, err := ToNextSize(m2, m25, 3.7, 17.5)
	if err != nil || !n.Cuts {
		t.Fatalf("%+v %v", n, err)
	}
	near(t, "carries", n.Times, 1.3010, 5e-5)
	near(t, "strips at", float64(n.Strip), 289.90, 5e-3)
	if n, err := ToNextSize(m25, m2, 3.7, 17.5); err != nil || n.Cuts || n.Times >= 1 {
		t.Errorf("%+v %v", n, err)
	}
	for _, bad := range [][2]float64{{0, 17.5}, {3.7, 0}, {-1, 17.5}, {math.NaN(), 1}} {
		if _, err := ToNextSize(m2, m25, unit.Length(bad[0]), unit.Stress(bad[1])); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if _, err := ToNextSize(m2, hold.Thread{Name: "M99"}, 3.7, 17.5); err == nil {
		t.Error("a thread without holes was taken")
	}
}

func TestSaveOrScrap(t *testing.T) {
	base := Case{Retention: budget.Pass, Value: 0.02, Guard: 0.01, Allowance: 0.05, Minutes: 60, Worth: 600}
	for _, c := range []struct {
		name string
		with func(*Case)
		want []Stop
	}{
		{"save", func(*Case) {}, nil},
		{"cannot be held", func(c *Case) { c.Retention = budget.NotProven }, []Stop{NoHold}},
		{"cleans up", func(c *Case) { c.Gouge, c.Stock = 0.2, 0.3 }, nil},
		{"does not clean up", func(c *Case) { c.Gouge, c.Stock = 0.2, 0.29 }, []Stop{Gouged}},
		{"face out", func(c *Case) { c.Outside = true }, []Stop{Gouged}},
		{"not found", func(c *Case) { c.Guard = 0.04 }, []Stop{NotFound}},
		{"not found, minus", func(c *Case) { c.Value = -0.06 }, []Stop{NotFound}},
		{"not worth it", func(c *Case) { c.Minutes = 700 }, []Stop{NotWorth}},
		{"irreplaceable", func(c *Case) { c.Minutes, c.Irreplaceable = 700, true }, nil},
		{"everything", func(c *Case) { *c = Case{Allowance: 0.05, Value: 1, Gouge: 1, Minutes: 2, Worth: 1} }, []Stop{NoHold, Gouged, NotFound,
			NotWorth}},
	} {
		k := base
		c.with(&k)
		if got, err := k.Stops(); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: %v %v, want %v", c.name, got, err, c.want)
		}
	}
	for _, bad := range []Case{{}, {Allowance: 1, Gouge: -1}, {Allowance: 1, Minutes: -1}, {Allowance: 1, Worth: -1}, {Allowance: 1,
		Stock: math.NaN()}} {
		if _, err := bad.Stops(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// Skipped to the last pass 0.3 stands where 0.1 was meant; a slot of 1.5 is 7.96 times the planned force.
func TestGoingOn(t *testing.T) {
	force := func(ap, ae unit.Length) float64 {
		l, err := hold.Cut{Dia: 3.175, Teeth: 1, Ae: ae, Ap: ap, Fz: 0.02, Kc11: 100, Mc: 0.2, Wear: 1.3, Corner: 1}.Load()
		if err != nil {
			t.Fatal(err)
		}
		return float64(l.Fh)
	}
	near(t, "planned, N", force(0.2, 1), 1.1986, 5e-5)
	near(t, "slot, N", force(1.5, 3.175), 9.5348, 5e-5)
	near(t, "times", force(1.5, 3.175)/force(0.2, 1), 7.955, 1e-3)
	o := ShownOffset(frame.Vec3{X: -226.015, Y: -74.141, Z: -140}, frame.Vec3{X: -3, Y: 65, Z: 18}, 50)
	near(t, "offset X", o.X, -223.015, 1e-9)
	near(t, "offset Y", o.Y, -139.141, 1e-9)
	near(t, "offset Z", o.Z, -208, 1e-9)
}

// An error names the reading by its number from 1.
func TestErrorsName(t *testing.T) {
	if _, err := Find([]Touch{{Face: fit.XPlus}, {Face: fit.XPlus, Along: math.NaN()}}, true); err == nil || !strings.Contains(err.Error(), "touch 2: place along it") {
		t.Error(err)
	}
	if _, err := Find([]Touch{{Face: fit.XPlus}, {Face: fit.ZMinus}}, true); err == nil || !strings.Contains(err.Error(), "touch 2 is on") {
		t.Error(err)
	}
	if _, err := Without(lid(t), 7); err == nil || !strings.Contains(err.Error(), "screw 8 is") {
		t.Error(err)
	}
}
