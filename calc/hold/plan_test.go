package hold

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"fliptrue/calc/unit"
)

func deg(d float64) unit.Angle { return unit.Angle(d * math.Pi / 180) }

// 0.5 / tan(A/2) times the diameter. The two inch rows are published worked values,
// verified copies, to their last digit; the rest computed here.
func TestDrillPoint(t *testing.T) {
	near(t, "7/8 in at 118, in", float64(PointLength(7.0/8*unit.Inch, deg(118)))/25.4, 0.2629, 5e-5)
	near(t, "number 37 at 118, in", float64(PointLength(0.104*unit.Inch, deg(118)))/25.4, 0.031, 5e-4)
	for a, f := range map[float64]float64{60: 0.866025, 82: 0.575184, 90: 0.5, 118: 0.300430, 120: 0.288675, 130: 0.233154, 135: 0.207107, 140: 0.181985} {
		near(t, "point factor", float64(PointLength(1, deg(a))), f, exact)
	}
	near(t, "1.6 at 118", float64(PointLength(1.6, deg(118))), 0.48068849522204826, exact)
	near(t, "1.6 at 135", float64(PointLength(1.6, deg(135))), 0.3313708498984761, exact)
	near(t, "2.4 at 118", float64(PointLength(2.4, deg(118))), 0.7210327428330723, exact)
}

// Computed here.
func TestBlindHole(t *testing.T) {
	b := Blind{Drill: 1.6, Point: deg(118), Pitch: 0.4, Thread: 5, Lead: 3, Base: 10, From: 3}
	d, err := b.Depth()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "full depth, lead 3", float64(d.Full), 6.7, exact)
	near(t, "tip depth, lead 3", float64(d.Tip), 7.180688495222048, exact)
	near(t, "floor left, lead 3", float64(d.Left), 2.819311504777952, exact)
	near(t, "tip from Z zero", float64(d.TipZ), -10.180688495222048, exact)
	b.Lead = 0
	e, _ := b.Depth()
	near(t, "full depth, second tap", float64(e.Full), 7.1, exact)
	near(t, "floor left, second tap", float64(e.Left), 2.4193115047779523, exact)
	b.Relief, b.Thread = 1, 4
	f, _ := b.Depth()
	near(t, "the same below a relief", float64(f.Tip), 7.580688495222048, exact)
	b.Base = 8
	if g, _ := b.Depth(); g.Enough || math.Abs(float64(g.Left)-0.4193115) > 1e-6 {
		t.Errorf("a floor of 0.42 is enough: %+v", g)
	}
	if !e.Enough {
		t.Error("a floor of 2.4 is not enough")
	}
}

func TestThroughHole(t *testing.T) {
	h := Through{Drill: 2.4, Point: deg(118), Relief: 1, ReliefDia: 4.5, ThreadMinor: 1.567}
	d, err := h.Depth()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tip below the seat", float64(d.Tip), 0.9210327428330722, exact)
	near(t, "relief left", float64(d.Left), 0.07896725716692776, exact)
	near(t, "opening if the tip stopped there", float64(d.ShyOpening), 0.6657117929402073, exact)
	h.Seat = -14
	e, _ := h.Depth()
	near(t, "tip Z, finished top", float64(e.TipZ), -14.921032742833072, exact)
	h.Relief = 0.5
	f, _ := h.Depth()
	near(t, "point enters the thread by", float64(f.Enters), 1.4014323105896886, exact)
	near(t, "room per side", float64(f.SideRoom), 0.08278384470515565, exact)
	if !d.Enough || f.Enough {
		t.Errorf("enough %v, %v; want true, false", d.Enough, f.Enough)
	}
	if n, _ := Pecks(7.2, 2.4, 1); n != 3 {
		t.Errorf("%d pecks, want 3", n)
	}
}

func TestStrap(t *testing.T) {
	s := Strap{Bolt: 6, Torque: 2000, K: 0.2, Heel: 20, Tip: 30, Mu: 0.15}
	f, err := s.Force()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bolt", float64(f.Bolt), 1666.6666666666665, exact)
	near(t, "tip", float64(f.Tip), 666.6666666666665, exact)
	near(t, "friction of one face", float64(f.Side), 99.99999999999997, exact)
	near(t, "bolt moved toward the part", float64(f.Swapped), 999.9999999999999, exact)
	near(t, "share into the heel", f.HeelShare, 0.6, exact)
	if !f.Reversed || !strings.Contains(f.Name(), "60 % of its force goes into the heel block") {
		t.Errorf("reversed %v, %q", f.Reversed, f.Name())
	}
	s.Heel, s.Tip = 30, 20
	if g, _ := s.Force(); g.Reversed || g.Name() != "" {
		t.Errorf("a good lever is called reversed: %+v", g)
	}
}

func TestStrapsHoldADrill(t *testing.T) {
	d, err := Drilling{Dia: 2.4, Point: deg(118), Feed: 0.05, Kc11: 100, Mc: 0.2, Wear: 1.3}.Load()
	if err != nil {
		t.Fatal(err)
	}
	// By hand: kc = 100 (0.025 sin 59°)^-0.2 · 1.3 = 280.4 MPa; torque = kc·0.05·2.4²/8.
	near(t, "drill torque by hand, N mm", float64(d.Torque), 10.09, 0.05)
	near(t, "thrust by hand, N", float64(d.Thrust), 7.21, 0.05)
	near(t, "lift by hand, N", float64(d.Lift), 9.71, 0.05)
	s := Strap{Bolt: 6, Torque: 1000, K: 0.2, Heel: 30, Tip: 20, Mu: 0.15}
	h, err := HoldDrill([]Strap{s, s}, [][2]float64{{4, 32}, {92, 32}}, d)
	if err != nil || !h.Enough {
		t.Errorf("two straps of 500 N do not hold a 2.4 drill: %+v %v", h, err)
	}
	if h, _ := HoldDrill([]Strap{s}, [][2]float64{{4, 32}}, d); h.Turn != 0 || h.Enough {
		t.Errorf("one strap resists turning: %+v", h)
	}
	if _, err := HoldDrill([]Strap{s}, nil, d); err == nil {
		t.Error("a strap without a tip was taken")
	}
}

func TestScrewStack(t *testing.T) {
	s := Stack{Thread: m2(t), Length: 8, Washer: 0.3, Through: 2.5, Relief: 1, Depth: 5}
	e, err := s.Engage()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "engaged", float64(e.Engaged), 4.2, exact)
	near(t, "in diameters", e.Diameters, 2.1, exact)
	near(t, "longest screw", float64(s.Longest()), 8.8, exact)
	for _, c := range []struct {
		name string
		edit func(*Stack)
		want string
	}{
		{"too long", func(s *Stack) { s.Length = 10 }, "bottoms"},
		{"too short", func(s *Stack) { s.Length = 3.5 }, "engages no thread"},
		{"shallow hole", func(s *Stack) { s.Hole = 6 }, "drill deeper"},
		{"negative washer", func(s *Stack) { s.Washer = -0.3 }, "washer is -0.3"},
		{"no length", func(s *Stack) { s.Length = 0 }, "screw length is 0"},
		{"NaN", func(s *Stack) { s.Through = unit.Length(math.NaN()) }, "finite"},
	} {
		q := s
		c.edit(&q)
		if _, err := q.Engage(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	s.Hole = 6.2
	if _, err := s.Engage(); err != nil {
		t.Error(err)
	}
}

func TestHeadBelowCut(t *testing.T) {
	top, margin, err := HeadCut{Seat: -5.5, Head: 2, Washer: 0.3, Lowest: -2.2}.Margin()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "top of head", float64(top), -3.2, exact)
	near(t, "margin", float64(margin), 0.85, exact)
}

func TestReach(t *testing.T) {
	r := Reach{Dia: 1, Flute: 8, Shank: 3.175, Free: 12}
	s, err := r.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ball of 1.0: I", s.I, 0.02010619298297468, 1e-12)
	near(t, "flute, mm/N", s.Flute, 0.014147106052612915, exact)
	near(t, "shank, mm/N", s.Shank, 0.0008339663229494913, exact)
	near(t, "total, mm/N", s.Total, 0.014981072375562407, exact)
	near(t, "stress, MPa/N", float64(s.StressPerN), 159.15494309189532, exact)
	near(t, "breaks at, N", float64(s.Break), 6.283185307179587, exact)
	near(t, "slenderness", s.Slender, 8, exact)
	r.Flute /= 2
	half, _ := r.Stiffness()
	near(t, "half the flute, mm/N", half.Flute, 0.0017683882565766144, exact)
	near(t, "times stiffer", s.Flute/half.Flute, 8, exact)
	d, _ := BallDiameter(1, 0.05)
	near(t, "ball at 0.05", float64(d), 0.43588989435406733, exact)
	c, _ := Scallop(1, 0.08)
	near(t, "scallop, um", float64(c)*1000, 1.6025682249155015, exact)
	near(t, "runout for 0.02 a tooth", float64(Runout(0.02)), 0.01, exact)
	if _, err := Scallop(1, 1.1); err == nil {
		t.Error("a stepover wider than the ball was taken")
	}
	ok := Plunge{Ap: 0.2, Depth: 5, Flute: 10, Dia: 3.175, Shank: 3.175, Stickout: 20}
	if f, err := ok.Faults(); err != nil || len(f) != 0 {
		t.Errorf("%v %v", f, err)
	}
	for _, p := range []Plunge{
		{Ap: 12, Depth: 5, Flute: 10, Dia: 3, Shank: 3, Stickout: 20},
		{Ap: 1, Depth: 9.8, Flute: 10, Dia: 3, Shank: 6, Stickout: 20},
		{Ap: 1, Depth: 9.8, Flute: 10, Dia: 3, Shank: 3, Stickout: 20},
		{Ap: 1, Depth: 9.8, Flute: 3, Neck: 2.8, Reach: 15, Dia: 3, Shank: 6, Stickout: 10},
	} {
		if f, _ := p.Faults(); len(f) != 1 {
			t.Errorf("%+v: %v", p, f)
		}
	}
}

func TestTighteningOrder(t *testing.T) {
	four := [][2]float64{{6, 6}, {90, 6}, {90, 58}, {6, 58}}
	if got := TightenOrder(four); !reflect.DeepEqual(got, []int{0, 2, 1, 3}) {
		t.Errorf("four: %v, want 1-3-2-4", got)
	}
	six := [][2]float64{{0, 0}, {40, 0}, {80, 0}, {80, 30}, {40, 30}, {0, 30}}
	if got := TightenOrder(six); !reflect.DeepEqual(got, []int{1, 4, 0, 3, 2, 5}) {
		t.Errorf("six: %v, want the middle pair first", got)
	}
	for n := range 4 {
		if got := TightenOrder(four[:n]); len(got) != n {
			t.Errorf("%d screws: %v", n, got)
		}
	}
	s := Stages(58.119464)
	for i, want := range []float64{23, 41, 58} {
		near(t, "stage, mN m", math.Round(float64(s[i])), want, 0)
	}
}

func TestInsert(t *testing.T) {
	j := example(t)
	j.Insert = &Insert{PullOut: 300}
	if _, err := j.Working(); err == nil || !strings.Contains(err.Error(), "source") {
		t.Errorf("an insert without a source: %v", err)
	}
	j.Insert.Source, j.Shear = "three pulled out of scrap, least", 0
	if p, err := j.Working(); err != nil || p.Governs != "strip" || math.Abs(float64(p.F)-300/3.9) > exact {
		t.Errorf("insert: %+v %v", p, err)
	}
}

func TestEnteredHoldDown(t *testing.T) {
	c := aluminium()
	n := Entered{Kind: "tape and glue", Side: 120, Up: 80, Source: "pulled off scrap after 10 min"}
	h, err := n.Against(c)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tape, slip", h.Slip, 120/25.60063999304007, exact)
	near(t, "tape, up", h.Up, 80/13.73874511006496, exact)
	c.Ap = h.Ceiling
	g, _ := n.Against(c)
	near(t, "at its ceiling", math.Min(g.Slip/1.5, g.Up/2), 1, 1e-9)
	n.Source = ""
	if _, err := n.Against(c); err == nil {
		t.Error("a capacity without a source was taken")
	}
}

func TestShearFromATest(t *testing.T) {
	r, err := ShearFromTest(m2(t), 4, 240.9006063221193, 0.25)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shear from the strip torque", r.Nominal, 35, 1e-9)
	if r.Flag != Given || r.Valid("shear") != nil {
		t.Errorf("%+v", r)
	}
	if _, err := ShearFromTest(m2(t), 0, 240, 0.25); err == nil {
		t.Error("no engaged thread was taken")
	}
}

func TestFarTooMuch(t *testing.T) {
	w := Beam{Length: 40, Width: 8, Thick: 2, E: 3200}
	near100, _ := Squeezed(w, Fixed, 100, 0.01) // 0.977, just under half the thickness
	near200, _ := Squeezed(w, Fixed, 200, 0.01)
	if near100.FarOver || !near200.FarOver {
		t.Errorf("wall: far over %v at %g, %v at %g", near100.FarOver, float64(near100.Bow), near200.FarOver, float64(near200.Bow))
	}
	p := Plate{Long: 120, Short: 80, Thick: 6, E: 2760}
	small, _ := p.Pressed(0.5) // 2.9
	large, _ := p.Pressed(0.53)
	if small.FarOver || !large.FarOver {
		t.Errorf("plate: far over %v at %g, %v at %g", small.FarOver, float64(small.Bow), large.FarOver, float64(large.Bow))
	}
	f, _ := Strap{Bolt: 6, Torque: 2000, K: 0.2, Heel: 20, Tip: 30, Mu: 0.15}.Force()
	near(t, "strap, low tip", float64(f.TipLow), 0.7*666.6666666666665, exact)
	near(t, "strap, low side", float64(f.SideLow), 70, exact)
	near(t, "strap, heel", float64(f.Heel), 1000, exact)
	enough := Plunge{Ap: 1, Depth: 9.5, Flute: 10, Dia: 3, Shank: 3, Stickout: 10}
	if q, _ := enough.Faults(); len(q) != 0 {
		t.Errorf("room of just 0.5: %v", q)
	}
	s := Stack{Thread: m2(t), Length: 10, Washer: 0.3, Through: 2.5, Relief: 1, Depth: 5}
	if _, err := s.Engage(); err == nil || !strings.Contains(err.Error(), "needs 6.2 of thread and there are 5") || !strings.Contains(err.Error(), "at most 8.8") {
		t.Errorf("%v", err)
	}
}

// Retention is judged on its own, at both ends.
func TestRetentionVerdict(t *testing.T) {
	for _, c := range []struct {
		ap   unit.Length
		want Verdict
	}{{2.2, Holds}, {2.3, NotProven}, {3.7, NotProven}, {3.8, Fails}} {
		e, err := lid(t, c.ap).Ends()
		if err != nil {
			t.Fatal(err)
		}
		if e.Retention != c.want {
			t.Errorf("ap %g: retention %v, want %v", float64(c.ap), e.Retention, c.want)
		}
	}
}

// A plate a thousand times longer than wide is a wide beam (Roark, case 8a and 1a, limit).
func TestWideBeamIsALongPlate(t *testing.T) {
	b := Beam{Length: 40, Width: 1, Thick: 2, E: 3200 / (1 - nu*nu)} // its sides can't give way
	for clamped, s := range map[bool]Support{true: Fixed, false: Simple} {
		p, err := Plate{Long: 40000, Short: 40, Thick: 2, E: 3200, Clamped: clamped}.Pressed(0.01)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "wide beam against long plate", float64(b.Uniform(s, 0.4)), float64(p.Bow), 0.002*float64(p.Bow))
	}
}
