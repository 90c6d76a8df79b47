package unit

// Apart prints a value and the limit it was held against, as Show does with a step, and
// with one digit more for both, or as many as it takes, where they differ and would print alike:
// "0.0501 mm" of "0.0500 mm" says why it failed. Equal ones, and what differs by less than is
// printed of anything, stay alike.
func Apart(v, limit float64, k Kind, sys System, step float64) (value, bound string) {
	if !(step > 0) {
		step = Step(k, sys)
	}
	show := func(s float64) (string, string) { return Show(v, k, sys, s), Show(limit, k, sys, s) }
	value, bound = show(step)
	if v == limit {
		return value, bound
	}
	for s, n := step/10, 0; value == bound && n < maxPlaces; s, n = s/10, n+1 {
		if a, b := show(s); a != b {
			return a, b
		}
	}
	return value, bound
}
