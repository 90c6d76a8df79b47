package unit

// Apart prints a value and the limit it was held against, as Show does with a step, and
// with one digit more for both, or as many as it takes, where they differ and would print alike:
// "0.0504 mm" of "0.0500 mm" says why it failed. Equal ones, and what differs by less than is
// printed of anything, stay alike.
func Apart(v, limit float64, k Kind, sys System, step float64) (value, bound string) {
	if !(step > 0) {
		step = Step(k, sys)
	}
	value, bound = Show(v, k, sys, step), Show(limit, k, sys, step)
	for n := 0; value == bound && n < maxPlaces; n++ {
		step /= 10
		if a, b := Show(v, k, sys, step), Show(limit, k, sys, step); a != b {
			return a, b
		}
	}
	return value, bound
}
