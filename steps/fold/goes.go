package fold

import "slices"

// Goes counts the earlier looks at what still stands as it stood that could not tell: open says so of each. A look is a round, and
// within one each time that one of these fields was read again.
// What the step stands on was not read or made anew since; then it would be another thing that is looked at.
func (v View) Goes(open func(View) bool, fields ...string) (n int) {
	if v.Round == nil {
		return 0
	}
	since := Seq(0)
	if sp, ok := v.Plan.Spec(v.Round.Step); ok {
		for _, need := range sp.Needs {
			if f, stands := v.facts[need.Fact]; stands && (need.Rests == AsItWas || need.Rests == AtOnce) {
				since = max(since, f.Last)
			}
		}
	}
	looked := func(r *Round, earlier []*Round) {
		if r.First > since && open(v.In(r, earlier)) {
			n++
		}
	}
	for i, r := range v.Earlier {
		for _, before := range r.replaced(fields) {
			looked(before, v.Earlier[:i])
		}
		looked(r, v.Earlier[:i])
	}
	for _, before := range v.Round.replaced(fields) {
		looked(before, v.Earlier)
	}
	return n
}

// replaced are the round as it was before each time that one of these fields was read again. Fields read again one after the other
// are one look.
func (r *Round) replaced(fields []string) (out []*Round) {
	times := 0
	for _, f := range fields {
		t, _ := r.Get(f)
		times = max(times, len(t.Before))
	}
	for k := range times {
		out = append(out, r.Of(func(t Taken) (Taken, bool) {
			if k < len(t.Before) && slices.Contains(fields, t.Field) {
				t.Value, t.Before, t.seqs = t.Before[k], nil, nil
			}
			return t, true
		}))
	}
	return out
}
