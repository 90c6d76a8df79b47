package steps

import "fmt"

// Stray is something in the record that no step asks for: a field misspelt by
// hand, or a waiver of a limit that does not stand. It is not used, and not a
// fault: a record once written must never be refused for what a later reading made pointless.
type Stray struct {
	Seq  Seq
	What string
}

// strays lists what was taken in a round without being asked, and waivers of nothing.
func (r *Round) strays(setup string, res *result) []Stray {
	var out []Stray
	asked := map[string]bool{}
	for _, a := range res.asks {
		asked[a.Field] = true
	}
	for _, t := range r.Taken {
		if !asked[t.Field] {
			out = append(out, Stray{t.Seq, fmt.Sprintf("%s/%s/%d/%s is not asked here", setup, r.Step, r.No, t.Field)})
		}
	}
	if !res.complete {
		return out
	}
	limits := map[string]bool{}
	for _, c := range res.outcome.Checks {
		limits[c.Limit.ID] = true
	}
	for _, w := range r.Waivers {
		if !limits[w.Limit] {
			out = append(out, Stray{w.Seq, fmt.Sprintf("%s/%s/%d has no limit %s to waive", setup, r.Step, r.No, w.Limit)})
		}
	}
	return out
}
