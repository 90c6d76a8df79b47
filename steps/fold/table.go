package fold

import (
	"cmp"
	"slices"
	"strings"
)

// MishapID names something that happened to the setup.
type MishapID string

// Cell is what a mishap does to a fact.
type Cell byte

const (
	Untouched Cell = '.'
	V         Cell = 'V' // void
	R         Cell = 'R' // void until a recheck passes
	D         Cell = 'D' // printed R: has no act of its own, comes back with the facts it stands on
)

// Where says which begun setups of a record a mishap reaches that was declared in one of them.
type Where int

const (
	ThisSetup Where = iota // the part as it lies here
	OnFixture              // setups on the same fixture
	OfTool                 // the lengths of that tool, everywhere
	OnMachine              // every setup
)

func (w Where) String() string { return [...]string{"setup", "fixture", "tool", "machine"}[w] }

// Mishap is one row of the table: what a person may declare, and what a step raises by itself.
type Mishap struct {
	ID       MishapID
	Words    string            // as the person would say it
	Where    Where             // how far it reaches among the setups of a record
	Question string            // asked first, "" for none
	PerTool  bool              // the length cell concerns only the tool named
	Inner    bool              // raised by steps only, never offered
	Of       FactID            // offered only where the plan has that fact; "" everywhere
	AtOnce   bool              // a step that raises it does so from its first reading on, and again at its end
	Failing  bool              // raised only by a round that does not pass
	Since    int               // the walk from which on it is raised
	Also     MishapID          // that is raised together with it
	Cells    string            // one a column, in the order of the table's Columns, a blank between
	Others   map[FactID]StepID // where the recheck is another than the fact's own
	Caution  string            // before anything else when it is declared: what keeps hands and part whole
	Opens    string            // the kind of setup that goes on from there, "" for none: see Log.Open
	Tall     string            // of such a one: what is done at once, in the tallest letters
	Card     []string          // and what is never done, line by line; it is read before anything is asked

	table *Table
}

// Table is what each mishap does to each fact. Cells hold the net effect, live dependence included.
type Table struct {
	Columns  []FactID          // the last ones are acts that must be done again
	Rows     []Mishap          // in the order in which they are offered
	Rechecks map[FactID]StepID // each fact's own recheck

	columns map[FactID]int
}

// NewTable is a table ready for use. It panics where a row has not one cell a column: that is
// a mistake of the program.
func NewTable(t Table) *Table {
	t.columns = map[FactID]int{}
	for i, c := range t.Columns {
		t.columns[c] = i
	}
	for i := range t.Rows {
		if m := &t.Rows[i]; len(m.Cells) != 2*len(t.Columns)-1 {
			panic("steps: mishap " + string(m.ID) + " has not one cell a column")
		}
		t.Rows[i].table = &t
	}
	return &t
}

// Mishap is the row of that id.
func (t *Table) Mishap(id MishapID) (*Mishap, bool) {
	for i := range t.Rows {
		if t.Rows[i].ID == id {
			return &t.Rows[i], true
		}
	}
	return nil, false
}

// Offered are the mishaps a person may declare of any setup, in table order.
func (t *Table) Offered() []Mishap {
	return t.offered(func(m *Mishap) bool { return m.Of == "" && m.Opens == "" })
}

// Offered are those that a person may declare of this setup: what happens to any, and its own.
func (p *Plan) Offered() []Mishap {
	all := p.house.Mishaps.offered(func(m *Mishap) bool {
		return (m.Of == "" || slices.Contains(p.facts, m.Of)) && (m.Opens == "" || p.opens(m))
	})
	slices.SortStableFunc(all, func(a, b Mishap) int { return cmp.Compare(b.Tall, a.Tall) }) // what is urgent first
	return all
}

func (t *Table) offered(is func(*Mishap) bool) (out []Mishap) {
	for i := range t.Rows {
		if m := &t.Rows[i]; !m.Inner && is(m) {
			out = append(out, *m)
		}
	}
	return out
}

// names lists what may be declared.
func (t *Table) names() string {
	var out []string
	for _, m := range t.offered(func(*Mishap) bool { return true }) {
		out = append(out, string(m.ID))
	}
	return strings.Join(out, " ")
}

// Cell is the effect on a fact; things not in the table are untouched.
func (m *Mishap) Cell(f FactID) Cell {
	if i, ok := m.table.columns[f.Column()]; ok {
		return Cell(m.Cells[2*i])
	}
	return Untouched
}

// Hits says that the mishap, declared of that tool, concerns the fact at all.
func (m *Mishap) Hits(f FactID, tool string) bool {
	if m.Cell(f) == Untouched {
		return false
	}
	if m.PerTool && f.Column() == "length" {
		if strings.HasPrefix(string(m.ID), "probe-") {
			return f.Thing() == "probe"
		}
		return tool == "" || f.Thing() == tool
	}
	return true
}

// Recheck is the step that lifts the mishap's R from the fact, "" for none.
func (m *Mishap) Recheck(f FactID) StepID {
	if m.Cell(f) != R {
		return ""
	}
	if s, ok := m.Others[f.Column()]; ok {
		return s
	}
	return m.table.Rechecks[f.Column()]
}

// tool is the tool that a mishap names as the plan's facts name it: "T3" is "3". One
// that the plan does not have, or none, is "": any of them may be the one.
func (p *Plan) tool(name string) string {
	name = strings.TrimLeft(strings.ToUpper(strings.TrimSpace(name)), "T")
	if name != "" && slices.Contains(p.facts, FactID("length/"+name)) {
		return name
	}
	return ""
}

// Mishap is the row of that id.
func (p *Plan) Mishap(id MishapID) (*Mishap, bool) { return p.house.Mishaps.Mishap(id) }
