package fold

// An answer that nothing after it can mend ends the step there: the cure comes before any further field. An Ask
// with Want says its cure; what was given all the same is judged as ever.

// untilFatal leaves of the asks those up to the first answer that ends the step, with the rest of its form and what
// was given already; fatal is that ask, short says that something was left out. It holds since the third walk.
func (v View) untilFatal(all []Ask) (out []Ask, fatal *Ask, short bool) {
	if !v.Walks(3) || v.Round == nil {
		return all, nil, false
	}
	for i, a := range all {
		t, given := v.Round.Get(a.Field)
		if a.Want == "" || len(a.Cure) == 0 || !given || SameAnswer(v.Plan.house.meant(a, t.Value), a.Want) {
			continue
		}
		out = append(out, all[:i+1]...)
		for _, b := range all[i+1:] {
			if v.Has(b.Field) || a.Form != "" && b.Form == a.Form {
				out = append(out, b)
			}
		}
		return out, &all[i], len(out) < len(all)
	}
	return all, nil, false
}

// ended puts into an outcome what the answer shows and its cure, where the step itself says none.
func (a Ask) ended(o *Outcome) {
	if len(o.Next) == 0 {
		o.Next = append([]Act{}, a.Cure...)
	}
	if o.Named == "" {
		o.Named = a.Shows
	}
}
