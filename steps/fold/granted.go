package fold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// A job may set a limit of its own. A tighter one holds as it is. A looser one is a waiver given
// beforehand: it wants a reason, holds only so far, and stands among the waivers. What may never be
// waived is not loosened so either.

// granted is what a job asks of a limit, and what it gets.
type granted struct {
	id     string
	holds  float64
	loose  bool   // it holds, and is looser than what is derived
	reason string // of the job
	not    string // why what it asks does not hold, "" where it does
	mute   bool   // a reason is all that it lacks
}

// loosest is how many times looser than derived a job may set a limit that has no rule of its own
// (common practice: past that the check says nothing any more).
const loosest = 10

// granted is what holds for a limit that the job sets, false where it sets none.
func (p *Plan) granted(r *LimitRow) (granted, bool) {
	v, ok := p.Job.Limits[r.ID]
	if !ok {
		return granted{}, false
	}
	asked := float64(v)
	if r.Unit != unit.KLength && p.Job.Unit == unit.Imperial {
		asked /= float64(unit.Inch) // the file reads every limit as a length; this one is none
	}
	g := granted{id: r.ID, holds: asked, reason: p.Job.Reasons[r.ID]}
	if r.Max == nil || p.walk > 0 && p.walk < bounding {
		return g, true // the step's own
	}
	derived := r.Max(p)
	if !r.looser(asked, derived) {
		return g, true
	}
	most := r.most(p, derived)
	switch {
	case r.Class == Never:
		g.holds, g.not = derived, "it may never be loosened; take it out of the job"
	case g.reason == "":
		g.holds, g.not, g.mute = derived, "looser wants a reason: write {value: ..., reason: why}", true
	case r.looser(asked, most):
		g.holds, g.not, g.loose = most, "looser it may not be; correct the job", r.looser(most, derived)
	default:
		g.loose = true
	}
	return g, true
}

// Granted says that the job sets the limit, and gets what it asks: no rule of the step's own is in its place.
func (p *Plan) Granted(id string) bool {
	for i := range p.house.Limits {
		if r := &p.house.Limits[i]; r.ID == id {
			g, ok := p.granted(r)
			return ok && g.not == ""
		}
	}
	return false
}

// looser says that a limit passes more than another.
func (r *LimitRow) looser(a, than float64) bool {
	if r.Min {
		return a < than*(1-1e-9)
	}
	return a > than*(1+1e-9)
}

// most is the loosest that a job may set.
func (r *LimitRow) most(p *Plan, derived float64) float64 {
	switch {
	case r.Most != nil && r.Min:
		return math.Min(derived, r.Most(p))
	case r.Most != nil:
		return math.Max(derived, r.Most(p))
	case r.Min:
		return derived / loosest
	}
	return derived * loosest
}

// Ungranted are the limits that the job sets and does not get, each with what holds and why: for the desk.
func (p *Plan) Ungranted() map[string]string {
	refused := map[string]string{}
	for i := range p.house.Limits {
		r := &p.house.Limits[i]
		if g, ok := p.granted(r); ok && g.not != "" {
			l := p.Limit(r.ID)
			refused[r.ID] = fmt.Sprintf("%s holds: %s", l.Shown(), g.not)
		}
	}
	return refused
}

// Unreasoned are the limits that the job sets looser and gives no reason for, each with what holds without one.
func (p *Plan) Unreasoned() map[string]string {
	mute := map[string]string{}
	for i := range p.house.Limits {
		if r := &p.house.Limits[i]; r.Max != nil {
			if g, ok := p.granted(r); ok && g.mute {
				mute[r.ID] = p.Limit(r.ID).Shown()
			}
		}
	}
	return mute
}

// grants adds to the State the limits that the job loosens: those that hold as waivers of the steps
// judged by them, those that do not as something that is not used.
func (st *State) grants(x *resolver) {
	for i := range x.p.house.Limits {
		r := &x.p.house.Limits[i]
		g, ok := x.p.granted(r)
		if !ok {
			continue
		}
		if g.not != "" {
			st.Strays = append(st.Strays, Stray{x.s.begun, fmt.Sprintf("limits.%s of the job: %s holds. It is not used as it stands: %s", r.ID,
				x.p.Limit(r.ID).Shown(), g.not)})
		}
		if !g.loose {
			continue
		}
		for _, ss := range st.Steps {
			if c := judgedBy(ss.Outcome.Checks, r.ID); c != nil && ss.Verdict != Void {
				w := Standing{Step: ss.ID, Limit: r.ID, Number: c.Limit.Shown(), Reason: g.reason + " (loosened in the job)", At: x.s.beganAt}
				st.Waivers = append(st.Waivers, w)
				break
			}
		}
	}
}

// judgedBy is the first check by a limit.
func judgedBy(cs []Check, limit string) *Check {
	for i := range cs {
		if cs[i].Limit.ID == limit {
			return &cs[i]
		}
	}
	return nil
}
