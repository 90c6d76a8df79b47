package main

import (
	"slices"
	"testing"

	"fliptrue/steps/prove/mutate"
)

// some does each so many-th change only.
func some(step int) func(int, func(int) error) error {
	return func(n int, do func(int) error) error {
		for i := 0; i < n; i += step {
			if err := do(i); err != nil {
				return err
			}
		}
		return nil
	}
}

// A change that moves the offset by more than the allowance is never released, and each field that is
// released with harm has its reason.
func TestMutateReadings(t *testing.T) {
	c, j, err := readCase("../../"+mutated[0][0], "../../"+mutated[0][1])
	if err != nil {
		t.Fatal(err)
	}
	base, rs, err := mutate.Readings(c, some(11))
	if err != nil || !base {
		t.Fatal(base, err)
	}
	rs = slices.DeleteFunc(rs, func(r mutate.Result) bool { return r.State == "" })
	held, moved := 0, 0.0
	for _, r := range rs {
		if r.State == "held" {
			held++
		} else if moved = max(moved, r.Register); r.Register > float64(j.Allowance) {
			t.Errorf("%s %s: %s to %s moves the offset by %.3f and is released", r.Address, r.How, r.Was, r.Is, r.Register)
		}
	}
	if len(rs) < 100 || held < len(rs)/2 || held == len(rs) || moved == 0 {
		t.Errorf("%d changes, %d held, a released one moved the offset by up to %g", len(rs), held, moved)
	}
	if tb := readingTable(c.Name, base, rs, float64(j.Allowance)); len(tb.Missed) > 0 {
		t.Error(tb.Missed)
	}
}

// What is read back otherwise than the walk says is held, whatever the size; so is a part that moved by a twentieth.
func TestMutateCatches(t *testing.T) {
	c, _, err := readCase("../../"+mutated[0][0], "../../"+mutated[0][1])
	if err != nil {
		t.Fatal(err)
	}
	c.Events = slices.Clone(c.Events)
	want := map[string]bool{"offset/x": false, "shift/px": false}
	var pick []int
	_, rs, err := mutate.Readings(c, func(int, func(int) error) error { return nil })
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rs {
		if _, ok := want[r.Step+"/"+r.Field]; ok && r.How == "0.05" {
			pick = append(pick, i)
		}
	}
	_, rs, err = mutate.Readings(c, func(_ int, do func(int) error) error {
		for _, i := range pick {
			if err := do(i); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range pick {
		want[rs[i].Step+"/"+rs[i].Field] = true
		if rs[i].State != "held" {
			t.Errorf("%s: %s to %s is released", rs[i].Address, rs[i].Was, rs[i].Is)
		}
	}
	for n, seen := range want {
		if !seen {
			t.Errorf("no change of %s", n)
		}
	}
}

// After the release a key that the offset stands on takes it back, one that nothing was measured against does not.
func TestMutateCards(t *testing.T) {
	c, j, err := readCase("../../"+mutated[0][0], "../../"+mutated[0][1])
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"fixture.as-made.part-zero.0": "taken back", "job.setups.side2.flip": "taken back", "job.job": "released"}
	var pick []int
	_, ks, err := mutate.Cards(c, j, func(int, func(int) error) error { return nil })
	if err != nil {
		t.Fatal(err)
	}
	for i, k := range ks {
		if want[k.Key] != "" && k.Is != "-"+k.Was {
			pick = append(pick, i)
		}
	}
	base, ks, err := mutate.Cards(c, j, func(_ int, do func(int) error) error {
		for _, i := range pick {
			if err := do(i); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil || !base || len(pick) < 5 {
		t.Fatal(base, len(pick), err)
	}
	for _, i := range pick {
		if k := ks[i]; k.State != want[k.Key] && (k.State == "released" || want[k.Key] == "released") {
			t.Errorf("%s: %s to %s: %s, want %s", k.Key, k.Was, k.Is, k.State, want[k.Key])
		}
	}
}
