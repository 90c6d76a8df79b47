package fold

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"fliptrue/calc/unit"
)

// View is all that a step's functions may look at.
type View struct {
	Plan    *Plan
	Round   *Round     // the round in hand, nil before it is opened
	Earlier []*Round   // the step's earlier rounds, oldest first
	Pending []Happened // what a recheck has to lift
	Lost    []Happened // a step off the line: what took for good the facts that it makes

	walk     int                 // that the record was begun with; 0 asks all
	facts    map[FactID]Known    // stood when the first reading was taken
	was      map[FactID]Known    // a recheck: what it would lift, as it was
	standing map[FactID]bool     // of what it is whether they stand that counts: current when the round was opened
	spoiled  []Spoil             // of the whole record, where the step looks at it
	rounds   map[StepID][]*Round // of the whole setup: see WaivedAt
	look     *looks              // nil where nobody watches
}

// Fact returns a fact the step stands on. A void one is absent.
func (v View) Fact(id FactID) (Known, bool) {
	if !v.look.fact(id) {
		return Known{}, false
	}
	f, ok := v.facts[id]
	return f, ok
}

// Perhaps is a fact for what several steps share, such as a picture: one that this step stands on,
// or as it was where it lifts or remembers it; none where it does neither.
func (v View) Perhaps(id FactID) (Known, bool) {
	if f, ok := v.facts[id]; ok && v.look.may(id) {
		return f, true
	}
	f, ok := v.was[id]
	return f, ok
}

// get is what was taken at a field of the round.
func (v View) get(field string) (Taken, bool) {
	v.look.field(field)
	return v.Round.Get(field)
}

// In is the same view of another round, with the step's rounds before it.
func (v View) In(r *Round, earlier []*Round) View {
	return View{Plan: v.Plan, Round: r, Earlier: earlier, walk: v.walk, facts: v.facts}
}

// Recalled has what the step stands on stand as if the step were to lift it: for what compares with it.
func (v View) Recalled() View {
	return View{Plan: v.Plan, Round: v.Round, Earlier: v.Earlier, walk: v.walk, facts: v.facts, was: v.facts}
}

// Outside is a view outside any round, of facts that stand.
func Outside(p *Plan, facts map[FactID]Known) View { return View{Plan: p, facts: facts} }

// Trial is a view made by hand: what a step would look at with these facts, had these values been
// typed at its fields. A recheck would lift the same facts; none stood when the round was opened.
func Trial(p *Plan, step StepID, at time.Time, facts []Known, typed ...[2]string) View {
	r := &Round{Step: step, No: 1, at: map[string]int{}}
	for i, t := range typed {
		r.take(t[0], t[1], "keyed", Seq(i+1), at)
	}
	v := View{Plan: p, Round: r, facts: map[FactID]Known{}, was: map[FactID]Known{}, standing: map[FactID]bool{}}
	for _, f := range facts {
		v.facts[f.ID], v.was[f.ID] = f, f
	}
	for _, f := range p.facts {
		v.standing[f] = false
	}
	return v
}

// lacks are the facts that the step stands on and that did not stand when the round's
// first reading was taken; those it makes or lifts itself may be down.
func (v View) lacks(sp *Spec) []FactID {
	if v.Round == nil || v.Round.First == 0 {
		return nil
	}
	var out []FactID
	for _, f := range sp.Stands() {
		if _, ok := v.facts[f]; !ok && slices.Contains(v.Plan.facts, f) && !slices.Contains(sp.Makes, f) && !slices.Contains(sp.lifts, f) {
			out = append(out, f)
		}
	}
	return out
}

// Was returns a fact that the recheck would lift, as it was before.
func (v View) Was(id FactID) (Known, bool) {
	if l := v.look; l != nil && !slices.Contains(l.spec.lifts, id) && !slices.Contains(l.spec.may, id) {
		l.undeclared("the fact " + string(id) + " as it was, without lifting it")
		return Known{}, false
	}
	f, ok := v.was[id]
	return f, ok
}

// Standing says that a fact was current when this round was opened (for a Page:
// is current now). Asks and Judge may look only at what the Spec names in Sees.
func (v View) Standing(id FactID) bool {
	on, ok := v.standing[id]
	if l := v.look; !ok && l != nil && slices.Contains(v.Plan.facts, id) {
		l.undeclared("whether " + string(id) + " stands without saying so")
	}
	return on
}

// Has says that something was taken at a field.
func (v View) Has(field string) bool { _, ok := v.get(field); return ok }

// Waived says that a check which does not pass was waived, and is so still.
func (v View) Waived(c Check) bool {
	if v.Round == nil || c.Limit.Class == Never {
		return false
	}
	_, ok := v.Round.waiver(&c)
	return ok
}

// WaivedAt says that a step's newest round holds by a waiver: what did not pass there is in all that stands on it.
func (v View) WaivedAt(step StepID) bool {
	rs := v.rounds[step]
	return len(rs) > 0 && len(rs[len(rs)-1].Waivers) > 0
}

// Num is a taken number in internal units.
func (v View) Num(field string, k unit.Kind) (float64, bool) {
	t, ok := v.get(field)
	if !ok {
		return 0, false
	}
	return v.Plan.number(t.Value, k)
}

// Len is a taken length in mm, 0 when there is none.
func (v View) Len(field string) float64 { x, _ := v.Num(field, unit.KLength); return x }

// Text is a taken answer, trimmed.
func (v View) Text(field string) string {
	t, _ := v.get(field)
	return strings.TrimSpace(t.Value)
}

// Int is a taken count, -1 when there is none.
func (v View) Int(field string) int {
	n, err := strconv.Atoi(v.Text(field))
	if err != nil {
		return -1
	}
	return n
}

// PendingAny says that one of these mishaps has to be lifted.
func (v View) PendingAny(ids ...MishapID) bool {
	for _, h := range v.Pending {
		for _, id := range ids {
			if h.ID == id {
				return true
			}
		}
	}
	return false
}
