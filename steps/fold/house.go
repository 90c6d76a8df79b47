package fold

import (
	"slices"

	"fliptrue/jobs"
)

// House is all that a program knows of setups: their kinds in order, what may happen to any of
// them, what the machine's card gives, and what the next part takes over. It is never changed.
type House struct {
	Kinds   []*Kind
	Mishaps *Table
	Cards   map[FactID]Card // facts that a card gives, with the keys behind them
	Next    Takeover
	Limits  []LimitRow             // of all kinds
	Bounds  func(*Plan, Ask) Bound // what a thing can be at all; nil for anything

	OffsetWord func(string) (string, bool) // a work offset as the control names it, and whether it is one
}

// Kind is a kind of setup: its steps in walk order, and those off the line in the order in which
// they are listed.
type Kind struct {
	Name   string
	Goal   FactID                 // the fact that the walk ends in
	After  FactID                 // made again and again after the end, "" for none
	Line   []Place                // in walk order
	Reads  map[StepID][]Worth     // what each field is asked for, nil where every level asks all
	Called map[string]string      // the mistakes that the table names, in words for the person
	Off    []Place                // calibrations and rechecks
	Out    *Out                   // how the part comes out of its place, nil where it does not
	Given  func(*Plan) []Known    // the facts that job and cards bring at the beginning, nil for none
	Hands  []FactID               // columns of the facts that other setups of the same record pick up
	Shows  []FactID               // columns that only a setup picks up which never makes such a fact itself
	Ended  func(*Plan) []MishapID // what the part before took with it, of facts that are taken over; nil for nothing

	// Writes is what a setup has to write to the fixture's card, nil for nothing; card reads the card as it is now.
	Writes func(st State, record string, card func() (jobs.Fixture, error)) (w jobs.Writeback, ok bool, err error)
	Holds  func(*Plan) *Hold // what holds the part where that are no screws; nil, or giving nil, where screws do

	Side string   // "side 1", as the person names what is cut in it; "" where nothing is
	Z0   []string // what its programs may have as Z0, in words; the first where the job says nothing and it is Raw
	Raw  bool     // the raw stock is clamped: no fixture lies under it

	OnLocator bool                // the part lies on what the fixture is found by, not against walls beside it
	Nominal   func(*Plan) []Known // what the desk takes for facts that only the machine shows, nil for none
	Foresees  func(*Plan) []Check // what the desk can judge of this kind alone, nil for none
}

// Hold is what holds a part, against the planned cut.
type Hold struct {
	Checks []Check
	Rows   []Row
	Notes  []string // what it rests on
	Advice string   // what would let the planned cut hold

	Deepest float64 // cut that holds, mm
	Why     string  // why it is not computed, "" where it is
}

// Holds is what holds the part where that are no screws, else nil.
func (p *Plan) Holds() *Hold {
	k := p.lies()
	if k == nil || k.Holds == nil {
		return nil
	}
	return k.Holds(p)
}

// Place is a step's place in a kind. Build gives nil where the job does not want the step.
type Place struct {
	ID     StepID
	Leg    string // name of the part of the walk that begins here, "" for that of the step before
	Plans  string // hold-down plans it is walked in, of "TMS"; "" for all
	From   Level  // the least level that walks it; Full is always
	Before StepID // in a list for Kind.With: the step that it goes before
	Build  func(*Plan) *Spec
}

// Out says how the part comes out of the place where it covers what is to be read.
type Out struct {
	Step   StepID   // the step that takes it out
	Sits   FactID   // that it sits
	Mishap MishapID // what the step raises
}

// Card is what a card says of a fact: editing the whole voids what was read with it, editing
// a figure only when the thing would be another one by its check. A smaller change is reckoned
// with, and Said says so.
type Card struct {
	Whole, Figures []string
	Same           func(p *Plan, was, now Known) bool
	Said           func(p *Plan, was, now Known) string
}

// Takeover says what of a mounting outlives one part.
type Takeover struct {
	Mishap  MishapID  // raised at the begin of a record that takes facts over
	Facts   []AnyFact // the facts taken, by their columns
	Must    []FactID  // without these nothing is taken
	Despite MishapID  // what it voided is taken all the same: the next part reads it first
}

// Kind is the kind of that name.
func (h *House) Kind(name string) (*Kind, bool) {
	i := slices.IndexFunc(h.Kinds, func(k *Kind) bool { return k.Name == name })
	if i < 0 {
		return nil, false
	}
	return h.Kinds[i], true
}

// hands says that a kind hands facts of that column over.
func (h *House) hands(kind string, column FactID) bool {
	k, ok := h.Kind(kind)
	return ok && slices.Contains(k.Hands, column)
}

// shows says that a kind hands facts of that column over to setups that make none.
func (h *House) shows(kind string, column FactID) bool {
	k, ok := h.Kind(kind)
	return ok && slices.Contains(k.Shows, column)
}

// build makes the steps of a list that the job's hold-down plan walks.
func build(p *Plan, places []Place) []*Spec {
	var out []*Spec
	for _, at := range places {
		if !at.walkedIn(p.Setup.HoldDown) || !p.Reads(at.From) {
			continue
		}
		if sp := at.Build(p); sp != nil {
			sp.ID, sp.Leg, sp.reads = at.ID, at.Leg, append(p.rows(p.kind.Reads[at.ID]), p.leaves(at.ID)...)
			sp.relate()
			out = append(out, sp)
		}
	}
	return out
}

// out is the step that takes the part out, nil where there is none.
func (p *Plan) out() *Spec {
	if p.kind.Out == nil {
		return nil
	}
	return p.specs[p.kind.Out.Step]
}

// rowOut is what taking the part out does to facts; there is a step that does it.
func (p *Plan) rowOut() *Mishap {
	m, ok := p.house.Mishaps.Mishap(p.kind.Out.Mishap)
	if !ok {
		panic("steps: mishap " + string(p.kind.Out.Mishap) + " is not in the table")
	}
	return m
}

func (at Place) walkedIn(plan string) bool {
	if at.Plans == "" {
		return true
	}
	for _, c := range at.Plans {
		if string(c) == plan {
			return true
		}
	}
	return false
}

// WritesCard says that such a setup writes to its fixture's card.
func (p *Plan) WritesCard() bool { return p.kind.Writes != nil }

// Revision is what the setup has to write to its fixture's card, by its kind: its Key is "#" and the place in the record. record
// names it on the card.
func Revision(st State, record string, card func() (jobs.Fixture, error)) (w jobs.Writeback, ok bool, err error) {
	if p := st.plan; p != nil && p.kind.Writes != nil && st.Begun {
		return p.kind.Writes(st, record, card)
	}
	return w, false, nil
}
