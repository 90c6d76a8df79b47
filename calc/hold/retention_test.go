package hold

import "testing"

// A lift that presses the part down is not counted on against prying: a down-cut tool tips it as much as
// straight flutes do, and one that lifts tips it more.
func TestDownwardLiftIsNotCountedOn(t *testing.T) {
	pry := func(change func(*Cut)) Retention {
		h := bench(t, 1)
		change(&h.Cut)
		r, err := h.Retention(seat84())
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	down, straight, up := pry(func(c *Cut) { c.Down = true }), pry(func(c *Cut) { c.Helix = 0 }), pry(func(*Cut) {})
	if down != straight {
		t.Errorf("a down-cut tool: %+v, straight flutes: %+v", down, straight)
	}
	if !(up.PryAll < straight.PryAll && up.PryLost < straight.PryLost && up.Extra > straight.Extra && up.Ceiling < straight.Ceiling) {
		t.Errorf("a lifting tool: %+v, straight flutes: %+v", up, straight)
	}
}
