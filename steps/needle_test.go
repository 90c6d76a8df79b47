package steps_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// TestNeedleAlone: a fixture that was tapped by the needle, whatever way the dial stands in its holder, lies within the
// limit, and both bores say where it truly lies; none of its numbers was typed while it was tapped.
func TestNeedleAlone(t *testing.T) {
	t.Parallel()
	for _, l := range fold.Levels {
		worst, held := 0.0, 0
		for seed := uint64(1); seed <= 60; seed++ {
			p := practicePlan(t, "S").AtLevel(l)
			w := bench.NewWorld(p, seed, bench.Usual(p))
			k := bench.NewWalk(p, w, nil)
			if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "floor" }); err != nil || !ok {
				t.Fatalf("%v, seed %d: %v, held at %v: %s", l, seed, err, k.HeldAt, k.Words)
			}
			st := k.State()
			b, ok := facts.Bore.By(st.Fact)
			k4, _ := st.Fact("bore")
			if !ok || len(k4.Cov) != 4 {
				t.Fatalf("%v: bore %+v", l, k4)
			}
			off := math.Abs(float64(b.Theta) - w.Truth().SkewDeg*math.Pi/180)
			if u := math.Sqrt(k4.Cov[2][2]); off > 2*u {
				held++
			}
			worst = math.Max(worst, off)
			if d := math.Abs(b.Scale - w.Truth().Scale); d > 3*math.Sqrt(k4.Cov[3][3]) {
				t.Errorf("%v, seed %d: scale off by %.1f of a million, stated %.1f", l, seed, 1e6*d, 1e6*math.Sqrt(k4.Cov[3][3]))
			}
		}
		if held > 9 || worst > 0.1e-3 { // 5 % of 60 are 3; 9 are beyond 3 s of that
			t.Errorf("%v: %d of 60 beyond twice the stated uncertainty, worst %.3f mrad", l, held, 1e3*worst)
		}
	}
}

// TestTapWithoutJog: with the needle risen at the far end the edge there is nearer, and the advice says which way, by how
// much and where the needle goes; a tap that went the wrong way has the needle's sense tried by a jog.
func TestTapWithoutJog(t *testing.T) {
	p := practicePlan(t, "S").AtLevel(fold.Proven)
	o := outcome(t, p, "square", nil, [2]string{"s2", "0.100"})
	if len(o.Next) == 0 || o.Next[0].Dir != "away" || math.Abs(o.Next[0].Amount-0.1) > 1e-6 || math.Abs(o.Next[0].Needle.To) > 1e-6 {
		t.Fatalf("next %+v", o.Next)
	}
	if o = outcome(t, p, "square", nil, [2]string{"s2", "-0.100"}); o.Next[0].Dir != "toward you" || !strings.Contains(o.Next[0].Words, "RISE") {
		t.Errorf("next %+v", o.Next)
	}
	if got := asked(p, "square", nil); len(got) != 1 || got[0] != "s2" {
		t.Errorf("asked %v", got)
	}
}
