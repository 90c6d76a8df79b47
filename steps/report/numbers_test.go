package report

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// All lines of the budget are in the record, and they are the whole of it: shares add up to one, and the root of their
// squares is what the interval rests on.
func TestBudgetAddsUp(t *testing.T) {
	l, p := walked(t, "T", "")
	r := Make(l, p, About{})
	st := l.State(p)
	for i, f := range steps.Register(&st) {
		for a, ls := range f.Lines {
			b := r.Register[i].Budget[a]
			if len(b.Measured)+len(b.Assumed) != len(ls) || len(b.Assumed) == 0 {
				t.Errorf("%s: %d measured and %d assumed of %d lines", f.Name, len(b.Measured), len(b.Assumed), len(ls))
			}
			share, square := 0.0, 0.0
			for _, s := range append(b.Measured, b.Assumed...) {
				share, square = share+s.Share, square+s.U*s.U
			}
			// A 95 % interval is 1.65 to 2.6 standard uncertainties for any mix of few-reading lines and rectangles here.
			if k := f.U[a] / math.Sqrt(square); math.Abs(share-1) > 1e-12 || k < 1.6 || k > 2.7 {
				t.Errorf("%s: shares make %v, U is %.2f of them", f.Name, share, k)
			}
		}
	}
}

// How near a check is to its limit, by hand: a share of 1 is at the limit, from either side.
func TestNearness(t *testing.T) {
	for _, c := range []struct {
		got, guard, max float64
		min             bool
		want            float64
	}{{0.003, 0.003, 0.01, false, 0.6}, {-0.01, 0, 0.01, false, 1}, {4.2, 0, 4, true, 4 / 4.2}, {17.29, 0.09, 17, true, 17 / 17.2}, {0.02, 0.01, 0.01, false, 3}} {
		got := nearness(fold.Check{Got: c.got, Guard: c.guard, Limit: fold.Limit{Max: c.max, Min: c.min}})
		if got == nil || math.Abs(*got-c.want) > 1e-12 {
			t.Errorf("%+v: %v", c, got)
		}
	}
	for _, c := range []fold.Check{{Got: 1}, {Got: 0, Limit: fold.Limit{Max: 1, Min: true}}} {
		if got := nearness(c); got != nil {
			t.Errorf("%+v is near to nothing, not %v", c, *got)
		}
	}
}

// What a card keeps of a use is what was found, to a tenth of what is printed; what does not read is left out.
func TestUseComesBack(t *testing.T) {
	l, p := walked(t, "T", "")
	st := l.State(p)
	u := UseOf(&st)
	back := UseFrom(jobs.Change{Key: "lid.1", Values: u.Found()})
	for key, v := range u.fields() {
		got := back.fields()[key]
		if *v == nil || *got == nil || math.Abs(**v-**got) > 5.1e-5 {
			t.Errorf("%s: found %v, kept %v", key, *v, *got)
		}
	}
	tan := 0.03 / 100
	u.Skew = &tan
	if kept := UseFrom(jobs.Change{Values: u.Found()}); kept.Skew == nil || math.Abs(*kept.Skew-tan) > 1e-7 {
		t.Errorf("a skew of %v is kept as %v", tan, u.Found()["skew"])
	}
	odd := UseFrom(jobs.Change{Values: map[string]string{"skew": "much", "bore": "8 elephants", "lift": "0.002mm", "uses": "4"}})
	if odd.Skew != nil || odd.Dia != nil || odd.Lift == nil || *odd.Lift != 0.002 {
		t.Errorf("by hand: %+v", odd)
	}
}
