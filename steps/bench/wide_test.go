package bench

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fliptrue/steps/fold"
)

// Each effect alone does to the cut part what a hand computes; switched off none of them is there.
func TestWideByHand(t *testing.T) {
	p := lid(t, nil) // 96 x 64 x 16, pushed left and away
	alone := func(seed uint64, set func(*Effects)) *World {
		var e Effects
		set(&e)
		w := NewWorld(p, seed, e)
		w.hand.keyed["x"], w.hand.keyed["y"] = w.Truth().PartZero.X, w.Truth().PartZero.Y
		return w
	}
	for seed := uint64(1); seed < 9; seed++ {
		// Flat along the wall along Y the part has turned by 2 eps: along X a feature 96 off goes 2 eps 96 in Y.
		w := alone(seed, func(e *Effects) { e.Squareness, e.Bearing = 1e-4, 1 })
		far, by := w.errorAt(xy{96, 0}), w.errorAt(xy{})
		want := 0.0
		if w.lot.within("seat bears", 1) > 0 {
			want = -2 * w.square * 96
		}
		near(t, "turned by squareness", far.y-by.y, want, 1e-7)

		w = alone(seed, func(e *Effects) { e.SeatTurn = 1e-3 })
		far, by = w.errorAt(xy{96, 64}), w.errorAt(xy{})
		near(t, "turn, y over x", (far.y-by.y)/96, w.part.turn, 1e-6)
		near(t, "turn, x over y", (far.x-by.x)/64, -w.part.turn, 1e-6)
		if w.part.turn == 0 || w.part.shift.x < 0 || w.part.shift.y > 0 {
			t.Errorf("a part turned by %g stands %v off its walls, left and away", w.part.turn, w.part.shift)
		}

		w = alone(seed, func(e *Effects) { e.SeatLean = 1e-3 })
		near(t, "lean", w.errorAt(xy{50, 30}).x, -8*w.part.lean.tx, 1e-9)

		w = alone(seed, func(e *Effects) { e.Drift = 0.01 })
		near(t, "drift", w.errorAt(xy{10, 60}).y, -w.drifts(1).y, 1e-9)

		w = alone(seed, func(e *Effects) { e.SpindleGrowth = 0.01 })
		near(t, "thinner", w.Cut().Thick, -w.grows(1), 1e-9)

		w = alone(seed, func(e *Effects) { e.Lead = 0.01 })
		m := xy{-150, -60}
		near(t, "screws there and back", w.stand(w.shown(m)).sub(m).long(), 0, 5e-6)
		if w.leads(m).long() > 0.0142 {
			t.Errorf("screws are %v off", w.leads(m))
		}
	}
	w := NewWorld(p, 3, Usual(p))
	if w.leads(xy{9, 9}) != (xy{}) || w.drifts(1) != (xy{}) || w.part.turn != 0 || w.part.lean != (level{}) || w.swollen() != 1 || w.grows(1) != 0 {
		t.Error("the usual bench has effects of the wide one")
	}
}

// A slip changes one digit for a key beside it, and an answer for another one, in the share asked for.
func TestSlips(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		const v = "-271.048"
		got, n := mistyped(v, r), 0
		for i := range v {
			if got[i] != v[i] {
				n++
				if !slices.Contains([]byte(keypad[v[i]]), got[i]) {
					t.Errorf("%s for %s: no key beside it", got, v)
				}
			}
		}
		if n != 1 || len(got) != len(v) {
			t.Errorf("%s for %s", got, v)
		}
	}
	for k, s := range keypad { // what lies beside a key has that key beside it
		for _, o := range []byte(s) {
			if !slices.Contains([]byte(keypad[o]), k) {
				t.Errorf("%c lies beside %c and not the other way", o, k)
			}
		}
	}
	w := NewWorld(lid(t, nil), 1, Effects{WrongAnswer: 0.1})
	a := fold.Ask{Kind: fold.Choice, Options: []string{"yes", "no"}, Want: "yes"}
	wrong := 0
	for range 3000 {
		if w.slip(a, "yes") == "no" {
			wrong++
		}
	}
	if math.Abs(float64(wrong)/3000-0.1) > 0.017 { // three standard deviations
		t.Errorf("%d of 3000 answers are wrong", wrong)
	}
}

// The cut part shows what was left in: a clamp, a soft thread, a part end for end, a chip.
func TestCutPart(t *testing.T) {
	w := ideal(t, nil)
	w.hand.keyed["x"], w.hand.keyed["y"] = w.Truth().PartZero.X, w.Truth().PartZero.Y
	c := w.Cut()
	near(t, "as drawn", max(c.Register, math.Abs(c.Thick)), 0, 1e-6)
	w.part.chip, w.part.corner, w.hand.straps, w.hand.soft = 0.2, 0, 1, 2
	c = w.Cut()
	near(t, "thin over the chip", c.Thick, -0.2, 1e-6)
	if c.Clamps != 1 || c.Screws != 2 || c.Turned {
		t.Errorf("%+v", c)
	}
	w.part.turned = true
	if !w.Cut().Turned || w.Cut().Register < 50 {
		t.Errorf("end for end: %+v", w.Cut())
	}
}

// A part that lies end for end is touched where it would be touched the right way round: the face across stands there.
func TestTurnedPartIsTouched(t *testing.T) {
	for _, q := range []fold.What{{By: "probe", Of: "part-left@20", Dir: "x+", Axis: "x"}, {By: "probe", Of: "part-right@20", Dir: "x-", Axis: "x"},
		{By: "probe", Of: "part-front@30", Dir: "y+", Axis: "y"}, {By: "probe", Of: "part-rear@30", Dir: "y-", Axis: "y"}} {
		right, turned := ideal(t, nil), ideal(t, nil)
		turned.part.turned = true
		near(t, q.Of, reads(t, turned, q), reads(t, right, q), 1e-6)
	}
}
