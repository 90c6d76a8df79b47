package bench_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// What can't be is refused at every ask there is, with the value and what it can be; what a bench
// measures is never.
func TestNoAskTakesWhatCantBe(t *testing.T) {
	asks := map[string]bool{}
	for _, w := range settings(t) {
		if w.much == 0 {
			continue
		}
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
		k.Watch = func(st *fold.State) {
			ss, _ := st.Step(st.Cursor.Step)
			if ss == nil {
				return
			}
			for _, a := range ss.Asks {
				name := w.tag + "/" + string(ss.ID) + "/" + a.Field
				if a.Kind == fold.Choice || a.Kind == fold.Text || asks[name] {
					continue
				}
				asks[name] = true
				b := w.plan.House().Bounds(w.plan, a)
				if !(b.Low < b.High) || math.IsInf(b.High-b.Low, 0) || b.Why == "" {
					t.Errorf("%s: bounds %+v", name, b)
				}
				for _, v := range []string{"1e7", "-1e7", "99999999", "-99999999"} {
					if _, err := st.Understand(a.Field, v); err == nil || len(err.Error()) < 20 {
						t.Errorf("%s takes %s: %v", name, v, err)
					}
				}
			}
		}
		if _, err := k.Until(nil); err != nil { // a reading of the bench's was refused
			t.Errorf("%s: %v", w.tag, err)
		}
	}
	if len(asks) < 350 {
		t.Errorf("%d asks", len(asks))
	}
}

// Values that a shop's program took once, at the ask that took them: on the screen and in a record.
func TestWhatCantBeIsRefusedWithWords(t *testing.T) {
	for _, c := range []struct {
		tag, step, field string
		bad              []string
	}{
		{"T", "threads", "turns", []string{"0", "9999"}},
		{"T", "straps", "torque", []string{"0", "-1", "-1000mNm", "25Nm"}},
		{"T", "screws", "head", []string{"-7.7", "0", "9999"}},
		{"T", "screws", "torque", []string{"-1", "25Nm"}},
		{"side 1", "stock", "t1", []string{"9999", "0", "-17"}},
		{"side 1", "stock", "w", []string{"-65", "0"}},
		{"side 1", "grip", "g", []string{"9999", "0", "-3"}},
		{"side 1", "sizes", "x1", []string{"-96", "0", "9999"}},
	} {
		var w walked
		for _, s := range settings(t) {
			if s.tag == c.tag || w.plan == nil && c.tag == "side 1" && s.much != 0 && s.plan.Setup.Kind == "first-side" {
				w = s
			}
		}
		if w.plan == nil {
			t.Fatal("no setting", c.tag)
		}
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
		if ok, err := k.Until(func(st *fold.State) bool {
			_, asked := st.Ask(c.field)
			return asked && string(st.Cursor.Step) == c.step
		}); err != nil || !ok {
			t.Errorf("%s/%s: not there: %v, at %v", c.step, c.field, err, k.State().Cursor)
			continue
		}
		st := k.State()
		for _, v := range c.bad {
			_, err := st.Understand(c.field, v)
			t.Log(err)
			if err == nil || !strings.Contains(err.Error(), "read it again") || !strings.Contains(err.Error(), " to ") {
				t.Errorf("%s/%s takes %s: %v", c.step, c.field, v, err)
			}
			a, _ := st.Ask(c.field)
			verb := jobs.Event{Answer: address(st, c.field), Value: v}
			if a.Kind == fold.Reading {
				verb = jobs.Event{Read: address(st, c.field), Value: v}
			}
			es := k.Events
			if !st.Cursor.Open {
				es = append(es[:len(es):len(es)], jobs.Event{Round: strings.TrimSuffix(address(st, ""), "/")})
			}
			after := fold.Fold(w.plan, append(es[:len(es):len(es)], verb))
			if len(after.Troubles) == 0 || !strings.Contains(after.Troubles[0].What, c.field) || after.Cursor.Step != st.Cursor.Step {
				t.Errorf("%s/%s is in the record as %s: %v, at %v", c.step, c.field, v, after.Troubles, after.Cursor)
			}
		}
	}
}

func address(st *fold.State, field string) string {
	c := st.Cursor
	return st.Setup + "/" + string(c.Step) + "/" + strconv.Itoa(c.Round) + "/" + field
}

// An M6 bolt: the ends by hand, proof load 19.5 kN, 0.2 of it times 6 mm (ISO 898-1, class 12.9).
func TestTheBoundOfABolt(t *testing.T) {
	for _, s := range settings(t) {
		if s.tag == "T" {
			b := s.plan.House().Bounds(s.plan, fold.Ask{Kind: fold.Reading, Unit: unit.KTorque, What: fold.What{By: "driver", Of: "clamps", Dir: "torque"}})
			if s.plan.Setup.Clamps[0].Bolt != "M6" || math.Abs(b.High-23400) > 1 || b.Low <= 0 {
				t.Errorf("%s: %+v", s.plan.Setup.Clamps[0].Bolt, b)
			}
		}
	}
}
