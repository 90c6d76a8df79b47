package prove

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Format is what a record may carry and what is known of it by name: a line each, of the kind of
// setup and its hold-down plan ("-" without). Numbers in a name are #.
//
//	second-side T step bore              field bore hit#.x      option mount/arrow "toward you"
//	second-side T fact length/#          limit bore bore.size   lifts datum-check bore
//	all - mishap fixture-tapped          recheck part-bumped skew edge-check   card taken.bore
type Format map[string]bool

func (f Format) add(p *fold.Plan, what string, names ...string) {
	kind, plan := "all", "-"
	if p != nil {
		kind = p.Setup.Kind
		if p.Setup.HoldDown != "" {
			plan = p.Setup.HoldDown
		}
	}
	b := make([]byte, 0, 96)
	for _, s := range [3]string{kind, plan, what} {
		b = append(append(b, s...), ' ')
	}
	for i, s := range names {
		if i > 0 {
			b = append(b, ' ')
		}
		b = appendName(b, s)
	}
	if !f[string(b)] {
		f[string(b)] = true
	}
}

// appendName writes a name with # for each number in it.
func appendName(b []byte, s string) []byte {
	digit := func(i int) bool { return i < len(s) && s[i] >= '0' && s[i] <= '9' }
	for i := 0; i < len(s); i++ {
		switch {
		case !digit(i):
			b = append(b, s[i])
		case i > 0 && (digit(i-1) || s[i-1] == '.' && i > 1 && digit(i-2)):
		default:
			b = append(b, '#')
		}
		if digit(i) && i+2 < len(s) && s[i+1] == '.' && digit(i+2) {
			i++ // the point of a number
		}
	}
	return b
}

// Tables adds what stands whatever is walked: the table of mishaps with their rechecks, and the limits of any plan.
func (f Format) Tables(p *fold.Plan) {
	for i := range facts.Mishaps.Rows {
		m := &facts.Mishaps.Rows[i]
		f.add(nil, "mishap", string(m.ID))
		for _, c := range facts.Mishaps.Columns {
			if s := m.Recheck(c); s != "" {
				f.add(nil, "recheck", string(m.ID), string(c), string(s))
			}
		}
	}
	for _, c := range facts.Mishaps.Columns {
		f.add(nil, "column", string(c))
	}
	for _, r := range p.LimitTable() {
		f.add(nil, "limit", r.Label)
	}
}

// Plan adds the steps of a plan, with what they make and lift.
func (f Format) Plan(p *fold.Plan) {
	for _, list := range [][]*fold.Spec{p.Line, p.Off} {
		for _, s := range list {
			f.add(p, "step", string(s.ID))
			for _, id := range slices.Concat(s.Makes, s.Remakes()) {
				f.add(p, "fact", string(id))
			}
			for _, id := range s.Lifts() {
				f.add(p, "lifts", string(s.ID), string(id))
			}
		}
	}
}

// State adds what a State asks, has taken, holds against a limit, makes and names.
func (f Format) State(st *fold.State) {
	p := st.Plan()
	for i := range st.Facts {
		f.add(p, "fact", string(st.Facts[i].ID))
	}
	for i := range st.Steps {
		s := &st.Steps[i]
		for _, a := range s.Asks {
			f.add(p, "field", string(s.ID), a.Field)
			if a.Kind == fold.Choice {
				for _, o := range a.Options {
					f.add(p, "option", string(s.ID)+"/"+a.Field, fmt.Sprintf("%q", o))
				}
			}
			if a.Want != "" {
				f.add(p, "want", string(s.ID)+"/"+a.Field, fmt.Sprintf("%q", a.Want))
			}
		}
		for _, c := range s.Outcome.Checks {
			f.add(p, "limit", string(s.ID), c.Limit.ID)
		}
		if s.Outcome.Named != "" {
			f.add(p, "named", string(s.ID), s.Outcome.Named)
		}
	}
}

// Events adds the cards that records begin with beside job, machine and fixture.
func (f Format) Events(es []jobs.Event) {
	for _, e := range es {
		for k := range e.Cards {
			if room, _, _ := strings.Cut(k, "."); room != "job" && room != "machine" && room != "fixture" {
				f.add(nil, "card", k)
			}
		}
	}
}

// Lines are all of them, sorted.
func (f Format) Lines() []string { return slices.Sorted(maps.Keys(f)) }
