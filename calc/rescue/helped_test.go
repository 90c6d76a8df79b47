package rescue

import (
	"testing"

	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

// A strap that presses as a screw does at the place of the lost one is that screw; one that presses nothing is nothing; and no strap
// ever makes it hold less, nor a stronger one less than a weaker one. A strap on the three that are left of the lid brings back what
// four held: 0.252 and 2.247 against 0.097 and 0.287.
func TestStrapsOnTop(t *testing.T) {
	c := lid(t)
	four, _ := Without(c)
	three, _ := Without(c, 0)
	low := four.Ends.Low.Preload.Low
	same, err := With(c, []Strap{{c.Holding.Screws[0], low}}, 0)
	if err != nil || same.Straps != 1 || same.Screws != 3 {
		t.Fatalf("%+v %v", same, err)
	}
	near(t, "slips above, a strap in the place of the screw", float64(same.Slips), float64(four.Slips), 1e-9)
	near(t, "thrown above", float64(same.Throws), float64(four.Throws), 1e-9)
	if none, err := With(c, []Strap{{c.Holding.Screws[0], 0}}, 0); err != nil || none.Straps != 0 || none.Throws != three.Throws {
		t.Errorf("a strap that presses nothing: %+v %v", none, err)
	}
	if off, err := With(c, []Strap{{[2]float64{500, 500}, low}}, 0); err != nil || off.Straps != 0 {
		t.Errorf("a strap beside the part: %+v %v", off, err)
	}
	if _, err := With(c, nil, 0, 1, 2, 3); err == nil {
		t.Error("nothing is left, and it holds")
	}
	if all, err := With(c, []Strap{{c.Holding.Screws[0], low}, {c.Holding.Screws[1], low}, {c.Holding.Screws[2], low}, {c.Holding.Screws[3], low}},
		0, 1, 2, 3); err != nil || all.Screws != 0 || all.Straps != 4 || all.Throws != four.Throws {
		t.Errorf("straps alone in the screws' places: %+v %v", all, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		at := [2]float64{rapid.Float64Range(6, 90).Draw(t, "x"), rapid.Float64Range(6, 58).Draw(t, "y")}
		f := unit.Force(rapid.Float64Range(1, 200).Draw(t, "force"))
		a, err := With(c, []Strap{{at, f}}, 0)
		b, err2 := With(c, []Strap{{at, 2 * f}}, 0)
		if err != nil || err2 != nil || a.Throws < three.Throws || b.Throws < a.Throws-1e-12 {
			t.Fatalf("three screws %g, with %v N %g, with twice that %g: %v %v", float64(three.Throws), f, float64(a.Throws), float64(b.Throws), err, err2)
		}
	})
}
