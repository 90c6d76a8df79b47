package bench

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
)

// Slips at the fields of a first side are named, each by what it looks like, and never corrected.
func TestSlipsAtTheFirstSideAreNamed(t *testing.T) {
	p := side1(t, nil)
	w := NewWorld(p, 3, Usual(p))
	k := NewWalk(p, w, nil)
	seen := map[string]bool{}
	slips := map[string]struct {
		make func(s string) string
		want string
	}{
		"corner a2.x": {func(s string) string { return strings.TrimPrefix(s, "-") }, "sign"},
		"corner b1.2": {tenfold, "decimal point"},
		"top z2":      {func(s string) string { return strings.TrimPrefix(s, "-") }, "sign"},
		"stock t2":    {tenfold, "decimal point"},
		"sizes x1":    {func(s string) string { return "3.7795" }, "inch"},
		"open t2":     {tenfold, "decimal point"},
	}
	for range 300 {
		st := k.State()
		if st.Released {
			break
		}
		if st.Cursor.Idle || st.Cursor.Decide {
			if err := k.turn(st); err != nil {
				t.Fatal(err)
			}
			continue
		}
		a, _ := st.Ask(st.Cursor.Field)
		good, err := k.Offer(st, a)
		if err != nil {
			t.Fatal(err)
		}
		key := string(st.Cursor.Step) + " " + a.Field
		if c, ok := slips[key]; ok && !seen[key] {
			seen[key] = true
			bad := c.make(good)
			e, err := st.Understand(a.Field, bad)
			if err != nil || !e.Far || len(e.Slips) == 0 || !strings.Contains(e.Slips[0].Words, c.want) || e.Value != bad {
				t.Errorf("%s: %q for %q: far %v, %+v, value %q, %v", key, bad, good, e.Far, e.Slips, e.Value, err)
			}
		}
		es, err := st.Take("bench", [2]string{a.Field, good})
		if err != nil {
			t.Fatal(err)
		}
		if err := k.Add(es...); err != nil {
			t.Fatal(err)
		}
	}
	if len(seen) != len(slips) {
		t.Errorf("seen only %v", seen)
	}
}

// tenfold is a number with its point one place to the right.
func tenfold(s string) string {
	whole, part, _ := strings.Cut(s, ".")
	return whole + part[:1] + "." + part[1:]
}

// A rotation left active is read again as 0 once it was cancelled, and a head that is too high goes with its screw.
func TestAdviceObeyedEndsReleased(t *testing.T) {
	for _, plan := range []string{"T", "M", "S"} {
		p := lid(t, func(j *jobs.Job) { j.Setups[0].HoldDown = plan })
		for _, m := range []string{"rotation-left-active", "screw-head-high", "collet-runout", "part-hot", "spindle-unmarked", "program-edited"} {
			r := auto(t, p, Options{Seed: 3, Mistake: m})
			if r.State != "released" || r.Walk.World.Wrong() || !slices.Contains(r.Named, m) {
				t.Errorf("%s, %s: %s, named %v, still there %v: %s", plan, m, r.State, r.Named, r.Walk.World.Wrong(), r.Walk.Words)
			}
		}
	}
}
