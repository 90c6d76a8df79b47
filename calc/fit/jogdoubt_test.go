package fit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Reading times cos(angle), printed tables of lever dials: 10° 0.98, 20° 0.94, 30° 0.87, 40° 0.77, 50° 0.64, 60° 0.50 (from memory).
func TestQuestionedScale(t *testing.T) {
	for _, c := range []struct {
		v       float64
		angle   Value
		suspect bool
	}{{1, Value{}, false}, {-1, Value{}, false}, {0.94, Value{}, false}, {1.06, Value{}, false}, {0.92, Value{}, true}, {1.08, Value{}, true},
		{0.5, Value{}, true}, {0.45, Value{}, true}, // half of the skew, and passed before
		{0.5, Known(deg60), false}, {0.87, Known(math.Pi / 6), false}, {1, Known(deg60), true}, {0.5, Known(math.Pi / 6), true}, {math.NaN(), Value{}, true}} {
		if got := (Scale{V: c.v}).Questioned(c.angle, 0); got != c.suspect {
			t.Errorf("scale %g, angle %v: questioned %v", c.v, c.angle, got)
		}
	}
	if (Scale{V: math.Cos(64.9 * math.Pi / 180)}).Questioned(Known(deg60), 0) || !(Scale{V: 0.93*math.Cos(65*math.Pi/180) - 1e-6}).Questioned(Known(deg60), 0) {
		t.Error("60° judged by eye may be 65°, and no more")
	}
	for a, printed := range map[float64]float64{10: 0.98, 20: 0.94, 30: 0.87, 40: 0.77, 50: 0.64, 60: 0.50} {
		if (Scale{V: printed}).Questioned(Known(a*math.Pi/180), 0) {
			t.Errorf("printed %g at %g° is questioned", printed, a)
		}
	}
	least, most := NeedleMoves(-0.2, Value{}, 0)
	if math.Abs(least-0.2/1.07) > 1e-12 || math.Abs(most-0.2/0.93) > 1e-12 {
		t.Errorf("needle moves %g to %g", least, most)
	}
}

const deg60 = math.Pi / 3

// A dial that reads truly by its stated angle is never questioned; a jog that slipped by a fifth always is.
func TestQuestionedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stated := rapid.Float64Range(0, 1.1).Draw(t, "stated")
		design := rapid.Float64Range(0, 0.3).Draw(t, "design")
		truth := stated + rapid.Float64Range(-0.08, 0.08).Draw(t, "off")
		v := math.Cos(truth) / math.Cos(design)
		if (Scale{V: v}).Questioned(Known(stated), design) {
			t.Fatalf("true scale %g at %g stated %g", v, truth, stated)
		}
		if flat := (Scale{V: rapid.SampledFrom([]float64{0.8, 1.2, -0.8, -1.2}).Draw(t, "slipped")}); !flat.Questioned(Value{}, 0) {
			t.Fatalf("%+v", flat)
		}
	})
}
