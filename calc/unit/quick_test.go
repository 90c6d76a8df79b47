package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is read quickly is what the exact ratios make of it, to the last bit; what is refused is never read so.
func TestQuickIsExact(t *testing.T) {
	quickly := 0
	rapid.Check(t, func(rt *rapid.T) {
		k, sys := anyKind.Draw(rt, "kind"), anySystem.Draw(rt, "system")
		text := rapid.StringMatching(`-?[0-9]{0,9}(\.[0-9]{0,9})?(mm|in|thou|um|deg|N|lbf|Nm|mNm|MPa|psi|C|F|min|s|x)?`).Draw(rt, "text")
		q, ok := quick(text, k, sys)
		if !ok {
			return
		}
		quickly++
		n, bad := parse(text, k, sys)
		if bad != nil {
			rt.Fatalf("%q as %v is read as %v and is refused: %s", text, k, q.Value, bad.what)
		}
		if math.Float64bits(n.Value) != math.Float64bits(q.Value) || n != q {
			rt.Fatalf("%q as %v: %+v quickly, exactly %+v", text, k, q, n)
		}
	})
	least := 10
	if testing.Short() { // a fifth of the draws
		least = 1
	}
	if quickly < least {
		t.Errorf("only %d were read quickly", quickly)
	}
}

// Where one more rounding would show: each of these is a bit off when the unit's factor is taken as a float64.
func TestQuickRoundsOnce(t *testing.T) {
	differ := 0
	for i := range 20000 {
		text := Format(float64(i)*0.00254, KLength, Imperial, 0)
		q, ok := quick(text, KLength, Imperial)
		n, bad := parse(text, KLength, Imperial)
		if !ok || bad != nil || q != n {
			t.Fatalf("%s in: %v %v, exactly %v", text, q, ok, n)
		}
		if q.Value != float64(i)/10000*25.4 {
			differ++
		}
	}
	if differ < 100 {
		t.Errorf("only %d of the numbers tell one rounding from two", differ)
	}
}
