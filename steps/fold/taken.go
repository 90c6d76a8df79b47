package fold

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strings"
)

// The next blank on the same fixture, nothing moved: a new record begins with facts
// of the mounting taken over from the one before. They are void until a step has
// proven them; nothing of the part itself is taken over.

// takenPrefix heads the begin event's cards that hold facts taken over.
const takenPrefix = "taken."

// takenFact is how such a card is written; codec.go reads it.
type takenFact struct {
	Value []float64   `json:"value,omitempty"`
	Cov   [][]float64 `json:"cov,omitempty"`
	Dof   float64     `json:"dof,omitempty"`
}

// Taken are the cards by which the next record takes over what of this mounting still
// stands, to be added to those of its begin. The probe's length is taken although the
// walk itself took the probe out: it is touched again first. It is an error while the
// setup is not released or bore, floor or offset do not stand.
func (st *State) Taken() (map[string]string, error) {
	if !st.Released {
		return nil, fmt.Errorf("setup %q is not released; finish this part first, or begin the next one as usual", st.Setup)
	}
	out, next := map[string]string{}, st.plan.house.Next
	for _, f := range st.Facts {
		if next.of(f.ID) == nil || (f.Void != nil && f.Void.Mishap != next.Despite) {
			continue
		}
		b, err := json.Marshal(takenFact{f.Value, f.Cov, f.Dof})
		if err != nil {
			return nil, fmt.Errorf("fact %q can't be taken over: %w", f.ID, err)
		}
		out[takenPrefix+string(f.ID)] = string(b)
	}
	for _, f := range next.Must {
		if _, ok := out[takenPrefix+string(f)]; !ok {
			return nil, fmt.Errorf("%s does not stand any more; begin the next part as usual", f)
		}
	}
	return out, nil
}

// takenFacts reads them back; what can't be read is not taken over, and so is asked as usual.
// unread says of each such card why.
func takenFacts(p *Plan, cards map[string]string) (out []Known, unread []string) {
	next := p.house.Next
	for _, id := range p.facts { // in the plan's order
		text, ok := cards[takenPrefix+string(id)]
		of := next.of(id)
		if !ok || of == nil {
			continue
		}
		f, err := of.fromCard(text)
		if err != nil {
			unread = append(unread, fmt.Sprintf("%s does not read: %v. It is asked as usual, or copy the card from the record before.", takenPrefix+
				string(id), err))
			continue
		}
		f.ID = id
		for _, sp := range p.makers[id] {
			if slices.Contains(sp.Makes, id) && slices.Contains(p.Line, sp) {
				f.By = sp.ID
				break
			}
		}
		out = append(out, f)
	}
	for key := range cards {
		if id, ok := strings.CutPrefix(key, takenPrefix); ok && (next.of(FactID(id)) == nil || !slices.Contains(p.facts, FactID(id))) {
			unread = append(unread, key+" is nothing that this setup takes over; it is not used")
		}
	}
	sort.Strings(unread)
	return out, unread
}

// of is the type of a fact that is taken over, nil of one that is not.
func (t Takeover) of(id FactID) AnyFact {
	for _, name := range []FactID{id, id.Column()} {
		for _, f := range t.Facts {
			if f.Name() == name {
				return f
			}
		}
	}
	return nil
}
