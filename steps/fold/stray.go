package fold

import (
	"fmt"
	"slices"
)

// Stray is something in the record that no step asks for: a field misspelt by
// hand, or a waiver of a limit that does not stand. It is not used, and not a
// fault: a record once written must never be refused for what a later reading made pointless.
type Stray struct {
	Seq  Seq
	What string
}

// tooEarly says of a round that it was begun while a fact it stands on was down, and
// what to do; the cause is why what the step makes does not stand.
func (x *resolver) tooEarly(sp *Spec, r *Round, f FactID) (Stray, *Cause) {
	field, first := "", Seq(0)
	for _, t := range r.Taken {
		if t.By != BySelf && (first == 0 || t.Since < first) {
			field, first = t.Field, t.Since
		}
	}
	c := &Cause{Seq: r.First, Fact: f, Cell: V, Words: fmt.Sprintf("read before %s stood", f)}
	why := "was not there yet"
	if v, ok := x.version(f, r.First-1); ok {
		if cs := x.causes(f, v, r.First-1); len(cs) > 0 {
			c.Mishap, c.Words = cs[0].Mishap, fmt.Sprintf("read while %s was void: %s", f, cs[0].Words)
			why = fmt.Sprintf("was void (event %d, %s)", cs[0].Seq, cs[0].Words)
		}
	}
	todo := ""
	w := newWay(x)
	w.collect(f)
	steps := make([]*Spec, 0, len(w.steps))
	for s := range w.steps {
		steps = append(steps, s)
	}
	if steps = x.inTurn(steps); len(steps) > 0 {
		todo = "Do " + string(steps[len(steps)-1].ID) + " first. "
	}
	return Stray{r.First, fmt.Sprintf("%s/%s/%d/%s was read while %s, on which it stands, %s. Nothing of this round counts. %sRead %s again "+
		"in a new round",
		x.p.Setup.Name, sp.ID, r.No, field, f, why, todo, sp.ID)}, c
}

// strays lists what was taken in a round without being asked, and waivers of nothing.
func (r *Round) strays(setup string, res *result) []Stray {
	var out []Stray
	asks := func(field string) bool {
		of := func(a Ask) bool { return a.Field == field }
		return slices.ContainsFunc(res.asks, of) || slices.ContainsFunc(res.selves, of)
	}
	for i, t := range r.Taken {
		if i < len(res.asks) && res.asks[i].Field == t.Field { // most are taken in the order in which they are asked
			continue
		}
		if !asks(t.Field) {
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
