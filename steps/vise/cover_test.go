package vise_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// judged is what a step makes of typed values, with facts given.
func judged(t testing.TB, p *fold.Plan, id fold.StepID, facts []fold.Known, values ...trial.Typed) fold.Outcome {
	t.Helper()
	return trial.Judged(t, p, id, append(kit.GivenFacts(p), facts...), values...)
}

var plan = trial.FirstSide

func checkOf(t testing.TB, o fold.Outcome, id string) fold.Check {
	t.Helper()
	for _, c := range o.Checks {
		if c.Limit.ID == id {
			return c
		}
	}
	t.Fatalf("no check %s in %+v", id, o.Checks)
	return fold.Check{}
}

// contacts are two a face on a corner whose side face leans and whose long face runs true.
func contacts(lean float64) [][2]string {
	x := func(y float64) string { return fmt.Sprintf("%.4f", -1-y*math.Tan(lean)) }
	return [][2]string{{"a1.x", x(13)}, {"a1.y", "13"}, {"a1.2", x(13)}, {"a2.x", x(51)}, {"a2.y", "51"}, {"a2.2", x(51)},
		{"b1.y", "-1"}, {"b1.x", "19"}, {"b1.2", "-1"}, {"b2.y", "-1"}, {"b2.x", "77"}, {"b2.2", "-1"}}
}

// A corner of 88.57 degrees: 1.6 mm of the finished edge is air (64 * tan 1.43 deg), and that
// passed. Leaning the other way the air is on the far side, less what the stock has to spare there.
func TestStockThatDoesNotCoverThePart(t *testing.T) {
	p := plan(t, nil)
	stock := []fold.Known{{ID: "stock", Value: []float64{97, 66, 17.3, 17.3, 17.3, 17.3, 17.3, 0}}}
	for _, c := range []struct {
		deg, air float64
		at       string
	}{{-1.43, 1.598, "FAR LEFT"}, {1.43, 0.598, "FAR RIGHT"}, {-0.02, 0.022, ""}, {0.02, 0, ""}} {
		o := judged(t, p, "corner", stock, contacts(c.deg*math.Pi/180)...)
		k := checkOf(t, o, "corner.cover")
		if want := fold.Verdict(fold.Fail); c.at != "" && k.Verdict != want || c.at == "" && k.Verdict != fold.Pass {
			t.Errorf("lean %.2f: %v", c.deg, k)
		}
		if math.Abs(k.Got-c.air) > 0.002 || !strings.Contains(k.Words, c.at) || k.Limit.Class != fold.Hard {
			t.Errorf("lean %.2f: %.4f of air, want %.4f at %s: %s", c.deg, k.Got, c.air, c.at, k.Words)
		}
		if sq := checkOf(t, o, "corner.square"); (sq.Verdict == fold.Pass) != (c.at == "") {
			t.Errorf("lean %.2f: square is %v", c.deg, sq)
		}
		if c.at != "" && len(o.Next) == 0 {
			t.Errorf("lean %.2f: nothing is said to do", c.deg)
		}
	}
}

// By the middle the skew of the jaw takes stock away at two ends.
func TestMiddleThatDoesNotCoverThePart(t *testing.T) {
	p := plan(t, func(_ *jobs.Job, s *jobs.Setup) { s.Zero = "centre" })
	for _, c := range []struct {
		turn float64 // of the third contact, mm over 29
		want fold.Verdict
	}{{0.01, fold.Pass}, {0.5, fold.Fail}} {
		third := fmt.Sprintf("%.3f", -1+c.turn)
		o := judged(t, p, "corner", nil, [2]string{"l", "-2"}, [2]string{"l.2", "-2"}, [2]string{"r", "97"}, [2]string{"r.2", "97"}, [2]string{"f", "-1"}, [2]string{"f.2", "-1"},
			[2]string{"k", "66"}, [2]string{"k.2", "66"}, [2]string{"t", third})
		if k := checkOf(t, o, "corner.cover"); k.Verdict != c.want {
			t.Errorf("turned %.3f: %+v", c.turn, k)
		}
	}
}
