package fold

// Goes counts the step's earlier rounds that looked at what still stands as it stood and could not tell: open says so of each.
// What the step stands on was not read or made anew since; then it would be another thing that is looked at.
func (v View) Goes(open func(View) bool) (n int) {
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
	for i, r := range v.Earlier {
		if r.First > since && open(v.In(r, v.Earlier[:i])) {
			n++
		}
	}
	return n
}
