package bench

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// ideal is a world that is as drawn: no effect is on.
func ideal(t testing.TB, edit func(*jobs.Job)) *World { return NewWorld(lid(t, edit), 7, Effects{}) }

// reads asks the world for one length.
func reads(t testing.TB, w *World, q fold.What) float64 {
	t.Helper()
	s, err := w.Read(fold.Ask{Kind: fold.Reading, Unit: unit.KLength, What: q})
	if err != nil {
		t.Fatal(err)
	}
	n, err := unit.Parse(s, unit.KLength, w.plan.Job.Unit)
	if err != nil {
		t.Fatalf("%+v reads %q: %v", q, s, err)
	}
	return n.Value
}

func does(t testing.TB, w *World, acts ...fold.Act) {
	t.Helper()
	for _, a := range acts {
		if err := w.Do(a); err != nil {
			t.Fatal(err)
		}
	}
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9f, want %.9f", what, got, want)
	}
}

// digits is what nine decimals of a reading can hide.
const digits = 1e-9

// Travel x -400..0, y -250..0; the card reaches from 0,-15 to 141.02,84.02: its middle
// 70.51,34.51 lies at -200,-125, so bore 1 stands at -271,-160, whole millimetres. The
// table is at -298, the floor 12 above it, the rim 12 above that.
func TestIdealReadings(t *testing.T) {
	w := ideal(t, nil)
	const bx, by, floor = -271, -160, -286
	const r = 0.991 // the card's trigger radius; the bore's is 4
	r60 := 4 - r
	for _, c := range []struct {
		q    fold.What
		want float64
	}{
		{fold.What{By: "probe", Of: "bore", Dir: "0", Axis: "x"}, bx + 3.009},
		{fold.What{By: "probe", Of: "bore", Dir: "0", Axis: "y"}, by},
		{fold.What{By: "probe", Of: "bore", Dir: "60", Axis: "x"}, bx + r60/2},
		{fold.What{By: "probe", Of: "bore", Dir: "60", Axis: "y"}, by + r60*math.Sqrt(3)/2},
		{fold.What{By: "probe", Of: "bore", Dir: "y-", Axis: "y"}, by - 3.009},
		{fold.What{By: "probe", Of: "bore2", Dir: "180", Axis: "x"}, bx + 120 - 3.009},
		// the pocket's clearance of 0.02 toward left and away
		{fold.What{By: "probe", Of: "part-left@27", Dir: "x+", Axis: "x"}, bx + 45 - 0.02 - r},
		{fold.What{By: "probe", Of: "part-left@27", Dir: "x+", Axis: "y"}, by + 20 + 0.02 + 27},
		{fold.What{By: "probe", Of: "part-right@27", Dir: "x-", Axis: "x"}, bx + 45 - 0.02 + 96 + r},
		{fold.What{By: "probe", Of: "part-front@48", Dir: "y+", Axis: "y"}, by + 20 + 0.02 - r},
		{fold.What{By: "probe", Of: "part-rear@48", Dir: "y-", Axis: "y"}, by + 20 + 0.02 + 64 + r},
		{fold.What{By: "probe", Of: "floor@93,52", Dir: "z-", Axis: "z"}, floor + 98.234},
		{fold.What{By: "probe", Of: "rim@-5,0", Dir: "z-", Axis: "z"}, floor + 12 + 98.234},
		{fold.What{By: "probe", Of: "part-top@48,32", Dir: "z-", Axis: "z"}, floor + 16.02 + 98.234},
		{fold.What{By: "control", Of: "tool/3", Dir: "length"}, 76.117},
		{fold.What{By: "touch", Of: "tool/probe", Dir: "length"}, 98.234},
		{fold.What{By: "readout", Of: "spindle", Axis: "x"}, bx},
		{fold.What{By: "dial", Of: "edge@60"}, 0},
		{fold.What{By: "probe", Of: "ring", Dir: "x+", Axis: "x"}, -200 + ringSize/2 - r},
		{fold.What{By: "probe", Of: "ring/180", Dir: "y-", Axis: "y"}, -125 - ringSize/2 + r},
	} {
		near(t, c.q.By+" "+c.q.Of+" "+c.q.Dir+" "+c.q.Axis, reads(t, w, c.q), c.want, digits)
	}
}

// The two coordinates of a hit belong to one touch; a coordinate asked again is a new one.
func TestOneTouch(t *testing.T) {
	p := lid(t, nil)
	e := Usual(p)
	e.Noise, e.Readout, e.Lobes, e.Backlash, e.ProbeBias, e.Squareness, e.Radius = 0.01, 0, 0, 0, 0, 0, 0
	w := NewWorld(p, 3, e)
	c, d := w.datum("bore")
	m := w.shown(w.onFixture(c))
	seen := map[float64]bool{}
	for i := 0; i < 20; i++ {
		x := reads(t, w, fold.What{By: "probe", Of: "bore", Dir: "60", Axis: "x"})
		y := reads(t, w, fold.What{By: "probe", Of: "bore", Dir: "60", Axis: "y"})
		// on the ray at 60 degrees from about the middle, out by about the noise along it
		at := xy{x, y}.sub(m)
		if out := at.long() - (d/2 - w.ball.rx); math.Abs(out) > 0.05 {
			t.Errorf("hit %d stands %.4f off its circle", i, out)
		}
		if seen[x] {
			t.Errorf("hit %d is the touch before", i)
		}
		seen[x] = true
	}
}

// An edge turned by 1 mrad about bore 1 rises by 0.1 over 100; a lever at 60 degrees
// shows twice that; a jog of +0.200 takes 0.400 off.
func TestDial(t *testing.T) {
	for _, sense := range []float64{1, -1} {
		w := ideal(t, nil)
		w.fixture.turn = 1e-3
		w.dial.sense = sense / 2
		i0 := reads(t, w, fold.What{By: "dial", Of: "edge@10"})
		i1 := reads(t, w, fold.What{By: "dial", Of: "edge@110"})
		near(t, "rise", i1-i0, sense*0.2, 1e-6) // sine for angle: 2e-8
		jog := reads(t, w, fold.What{By: "dial", Of: "edge@110", Dir: "jog+0.200"})
		near(t, "jog", jog-i1, -sense*0.4, digits)
	}
}

// The dial stands at the right end: tapped AWAY by 0.1, that end moves by 0.1 along Y and the left one stays.
func TestTap(t *testing.T) {
	w := ideal(t, nil)
	low, high := fold.What{By: "dial", Of: "edge@0"}, fold.What{By: "dial", Of: "edge@120"}
	a0, a1 := reads(t, w, low), reads(t, w, high)
	does(t, w, fold.Act{Do: "tap", Of: "fixture@right", Dir: "away", Amount: 0.1})
	b1, b0 := reads(t, w, high), reads(t, w, low)
	near(t, "right end", b1-a1, 0.1, 1e-6)
	near(t, "left end", b0-a0, 0, 1e-6)
	near(t, "turn", w.fixture.turn, 0.1/120, 1e-12)
	does(t, w, fold.Act{Do: "tap", Of: "fixture@left", Dir: "toward you", Amount: 0.1})
	near(t, "turn again", w.fixture.turn, 0.2/120, 1e-6)
	if err := w.Do(fold.Act{Do: "tap", Of: "fixture@left", Dir: "up", Amount: 1}); err == nil {
		t.Error("tapped up")
	}
}

// Without an edge the fixture is squared from bore to bore, 120 apart.
func TestTapByBores(t *testing.T) {
	w := ideal(t, func(j *jobs.Job) { j.Fixture.AsMade.Edge = nil })
	across := func() float64 {
		return reads(t, w, fold.What{By: "probe", Of: "bore2", Dir: "0", Axis: "y"}) - reads(t, w, fold.What{By: "probe", Of: "bore", Dir: "0", Axis: "y"})
	}
	near(t, "before", across(), 0, digits)
	does(t, w, fold.Act{Do: "tap", Of: "fixture@right", Dir: "toward you", Amount: 0.1})
	near(t, "tapped", across(), -0.1, 1e-6)
}

// Swept about an axis 0.010 beside the bore the wall is 0.010 nearer on that side
// and farther on the other: readings 0.020 apart.
func TestSweep(t *testing.T) {
	w := ideal(t, nil)
	w.dial.sense = -1
	w.hand.spindle = xy{-271 + 0.010, -160}
	sweep := func(dir string) float64 { return reads(t, w, fold.What{By: "dial", Of: "bore", Dir: dir}) }
	near(t, "x", sweep("0")-sweep("180"), 0.020, 1e-8)
	near(t, "y", sweep("90")-sweep("270"), 0, 1e-8)
	near(t, "jog", sweep("jog+0.100")-sweep("0"), 0.1, 1e-8) // the wall comes nearer, the needle rises
	does(t, w, fold.Act{Do: "move", Of: "spindle", Dir: "x", Amount: -0.010})
	near(t, "moved", sweep("0")-sweep("180"), 0, 1e-8)
}

// A chip of 0.05 under NEAR RIGHT (corner 1): the near edge stands high, the far one on the
// floor; the diagonal with the chip is still, the other rocks by the chip.
func TestChipUnderCorner(t *testing.T) {
	w := ideal(t, nil)
	top := func(at string) float64 {
		return reads(t, w, fold.What{By: "probe", Of: "part-top@" + at, Dir: "z-", Axis: "z"})
	}
	before := top("96,0")
	w.part.chip, w.part.corner = 0.05, 1
	near(t, "chip corner", top("96,0")-before, 0.05, digits)
	near(t, "across", top("0,64")-before, 0, digits)
	near(t, "middle", top("48,32")-before, 0.025, digits)
	near(t, "rock 1", reads(t, w, fold.What{By: "dial", Of: "part", Dir: "rock-1", Axis: "z"}), 0.05, digits)
	near(t, "rock 2", reads(t, w, fold.What{By: "dial", Of: "part", Dir: "rock-2", Axis: "z"}), 0, digits)
	if s, _ := w.Read(fold.Ask{Kind: fold.Count, What: fold.What{By: "feeler", Of: "part", Dir: "corners"}}); s != "1" {
		t.Errorf("%s strips pull out, want 1", s)
	}
	does(t, w, fold.Act{Do: "seat", Of: "part"})
	near(t, "seated again", top("96,0")-before, 0, digits)
}

// Keyed as it stands, the ideal world cuts where the features are; 0.010 beside, 0.010 off;
// a fixture turned by 1 mrad leaves -y, +x thousandths.
func TestTrueError(t *testing.T) {
	w := ideal(t, nil)
	key := func(x, y float64) {
		does(t, w, fold.Act{Do: "key", Of: "offset", Dir: "x", Amount: x}, fold.Act{Do: "key", Of: "offset", Dir: "y", Amount: y})
	}
	const ox, oy = -271 + 45 - 0.02, -160 + 20 + 0.02
	key(ox, oy)
	for n, e := range w.TrueError() {
		near(t, n+" x", e.X, 0, digits)
		near(t, n+" y", e.Y, 0, digits)
	}
	key(ox+0.010, oy)
	near(t, "beside", w.TrueError()["hinge bore"].X, -0.010, digits)
	w.fixture.turn = 1e-3
	z := w.Truth().PartZero
	key(z.X, z.Y)
	e := w.TrueError()["far corner"] // at 96, 64
	near(t, "turned x", e.X, -0.064, 1e-4)
	near(t, "turned y", e.Y, 0.096, 1e-4)
	does(t, w, fold.Act{Do: "key", Of: "offset", Dir: "rotation", Amount: 1e-3})
	e = w.TrueError()["far corner"]
	near(t, "rotated", math.Hypot(e.X, e.Y), 0, digits)
}

// Out of square by 1e-4 both sides lean against each other: 2e-4 over half the width of 32.
func TestSquarenessDoubles(t *testing.T) {
	w := NewWorld(lid(t, nil), 7, Effects{})
	w.square = 1e-4
	w.middle = xy{-200, -125}
	z := w.Truth().PartZero
	does(t, w, fold.Act{Do: "key", Of: "offset", Dir: "x", Amount: z.X}, fold.Act{Do: "key", Of: "offset", Dir: "y", Amount: z.Y})
	e := w.TrueError()
	near(t, "over the half width", e["far corner"].X-e["hinge bore"].X, -2e-4*(64-52), 1e-8)
	near(t, "y", e["far corner"].Y, 0, 1e-8)
}

// A fixture 10 K above its day grows by (70-11.7) millionths a kelvin: the second bore stands 0.06996 farther.
func TestGrowth(t *testing.T) {
	w := ideal(t, nil)
	w.setWarmth(10)
	q := fold.What{By: "probe", Of: "bore2", Dir: "90", Axis: "x"}
	near(t, "second bore", reads(t, w, q), -271+120*(1+58.3e-5), digits)
	s, err := w.Read(fold.Ask{Kind: fold.Reading, Unit: unit.KTemperature, What: fold.What{By: "thermometer", Of: "fixture"}})
	if err != nil || s != "30.5" {
		t.Errorf("thermometer %q %v", s, err)
	}
}

func TestSeeds(t *testing.T) {
	p := lid(t, nil)
	say := func(seed uint64, e Effects) string {
		w := NewWorld(p, seed, e)
		var out []string
		for deg := 0; deg < 360; deg += 60 {
			for _, ax := range []string{"x", "y"} {
				out = append(out, strconv.FormatFloat(reads(t, w, fold.What{By: "probe", Of: "bore", Dir: strconv.Itoa(deg), Axis: ax}), 'g', -1, 64))
			}
		}
		return strings.Join(out, " ")
	}
	u := Usual(p)
	if a, b := say(5, u), say(5, u); a != b {
		t.Errorf("one seed, two worlds:\n%s\n%s", a, b)
	}
	if a, b := say(5, u), say(6, u); a == b {
		t.Error("two seeds, one world")
	}
	// switching one effect off leaves the others as they were
	off := u
	off.Skew = 0
	if a, b := NewWorld(p, 5, u), NewWorld(p, 5, off); a.ball.ecc != b.ball.ecc || a.growth != b.growth || a.fixture.at != b.fixture.at || b.fixture.turn != 0 {
		t.Errorf("%v and %v differ by more than the skew", a, b)
	}
}

func TestUnknownWords(t *testing.T) {
	w := ideal(t, nil)
	for _, q := range []fold.What{{By: "sextant", Of: "bore"}, {By: "probe", Of: "moon", Dir: "0", Axis: "x"}, {By: "probe", Of: "bore", Dir: "north", Axis: "x"},
		{By: "probe", Of: "part-left@27", Dir: "x-", Axis: "x"}, {By: "dial", Of: "moon@3"}, {By: "probe", Of: "bore", Dir: "0", Axis: "w"}} {
		if s, err := w.Read(fold.Ask{Kind: fold.Reading, Unit: unit.KLength, What: q}); err == nil {
			t.Errorf("%+v reads %q", q, s)
		}
	}
	if err := w.Do(fold.Act{Do: "juggle", Of: "clamps"}); err == nil || !strings.Contains(err.Error(), "juggle") {
		t.Errorf("juggled: %v", err)
	}
}

// An inch job is typed in inches.
func TestInches(t *testing.T) {
	w := NewWorld(lid(t, func(j *jobs.Job) { j.Unit = unit.Imperial }), 7, Effects{Readout: 0.00254})
	s, err := w.Read(fold.Ask{Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "touch", Of: "tool/probe", Dir: "length"}})
	if err != nil || s != "3.8675" { // 98.234/25.4 = 3.86748
		t.Errorf("%q %v", s, err)
	}
}

// Without a probe: an edge finder kicks off at half its size, a tool touches through paper
// of 0.1, a gauge pin slides in where the bore is.
func TestOtherInstruments(t *testing.T) {
	w := ideal(t, func(j *jobs.Job) {
		j.Machine.Probe = nil
		j.Machine.Finder = &jobs.EdgeFinder{Dia: 5, Repeat: 0.005}
	})
	for _, c := range []struct {
		q    fold.What
		want float64
	}{
		{fold.What{By: "finder", Of: "bore", Dir: "0", Axis: "x"}, -271 + 4 - 2.5},
		{fold.What{By: "finder", Of: "part-left@27", Dir: "x+", Axis: "x"}, -271 + 45 - 0.02 - 2.5},
		{fold.What{By: "paper", Of: "part-left@27", Dir: "x+", Axis: "x"}, -271 + 45 - 0.02 - 3.175/2 - 0.1},
		{fold.What{By: "pin", Of: "bore", Dir: "in", Axis: "x"}, -271},
		{fold.What{By: "pin", Of: "bore", Dir: "in", Axis: "y"}, -160},
		{fold.What{By: "gauge", Of: "pin-gauge"}, 7.99},
		{fold.What{By: "tool", Of: "floor@93,52", Dir: "z-", Axis: "z"}, -286 + 76.117},
	} {
		near(t, c.q.By+" "+c.q.Of, reads(t, w, c.q), c.want, digits)
	}
	p := lid(t, nil)
	w = NewWorld(p, 1, Usual(p))
	c, d := w.datum("bore")
	m, play := w.shown(w.onFixture(c)), (d-w.gaugePin())/2
	var before xy
	for range 10 {
		at := xy{reads(t, w, fold.What{By: "pin", Of: "bore", Dir: "in", Axis: "x"}), reads(t, w, fold.What{By: "pin", Of: "bore", Dir: "in", Axis: "y"})}.sub(m)
		if at.long() > play+0.001 {
			t.Errorf("the pin stands %.4f off with a play of %.4f", at.long(), play)
		}
		if at.dot(before) > 0.001*play { // the readout rounds
			t.Errorf("%v after %v: not from the other side", at, before)
		}
		before = at
	}
}

// A jog along Y is swept at Y+.
func TestSweepAlongY(t *testing.T) {
	w := ideal(t, nil)
	a := reads(t, w, fold.What{By: "dial", Of: "bore", Dir: "90"})
	b := reads(t, w, fold.What{By: "dial", Of: "bore", Dir: "yjog+0.100"})
	near(t, "jog", b-a, -0.1, 1e-8)
}

// Threads whose strength scatters by half strip now and then; usual ones never do.
func TestThreads(t *testing.T) {
	p := lid(t, nil)
	e := Usual(p)
	soft := func() (n int) {
		for seed := range uint64(200) {
			w := NewWorld(p, seed, e)
			does(t, w, fold.Act{Do: "screw", Of: "screws", Dir: "round-1"})
			n += w.hand.soft
			does(t, w, fold.Act{Do: "thread", Of: "holes"}, fold.Act{Do: "screw", Of: "screws", Dir: "round-1"})
			if w.hand.soft != 0 {
				t.Errorf("seed %d: soft after it was mended", seed)
			}
		}
		return n
	}
	if n := soft(); n != 0 {
		t.Errorf("%d usual threads went soft", n)
	}
	e.Thread = 0.5
	// below 0.25 lie 0.0668 of a normal about 1 with 0.5: 53 of 800, 3 standard deviations 21
	if n := soft(); n < 32 || n > 74 {
		t.Errorf("%d of 800 threads went soft, expected about 53", n)
	}
}
