package steps

import "strings"

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

// Mishap is one row of the table: what a person may declare, and what a step raises by itself.
type Mishap struct {
	ID       MishapID
	Words    string            // as the person would say it
	Question string            // asked first, "" for none
	PerTool  bool              // the length cell concerns only the tool named
	Inner    bool              // raised by steps only, never offered
	AtOnce   bool              // a step that raises it does so from its first reading on, and again at its end
	cells    string            // one a column, in the order of Columns
	recheck  map[FactID]StepID // where the recheck is another than the fact's own
	Caution  string            // before anything else when it is declared: what keeps hands and part whole
}

// Cautions said of several mishaps (common practice).
const (
	stopFirst  = "E-STOP or feed hold. Wait until the spindle stands, raise the head clear. Then hands."
	standsStop = "Spindle stopped before a hand goes near."
)

// Columns are the facts of the mishap table in their order; the last ones are acts that must be done again.
var Columns = []FactID{"ball", "identity", "skew", "bore", "floor", "offset", "echo", "seat", "clamps", "baseline",
	"holes", "threads", "screws", "shift", "tram", "length", "program", "deck"}

// Mishaps is the table. Cells hold the net effect, live dependence included; common practice, from memory.
//
// D stands where the table of the trade has R but no act of its own: offset,
// echo and program check come back with bore, floor, echo and lengths.
var Mishaps = []Mishap{
	//                                                        b i s b f o e s c b h t s s t l p d
	{ID: "fixture-tapped", Words: "fixture tapped, or a fixture bolt retorqued", cells: ". . V V R V V V V V R . V V . . V V",
		Caution: standsStop + " Never tap with the part in: part out first."},
	{ID: "part-bumped", Words: "part bumped", cells: ". . R R R D D R R R R . R R . . D V",
		Question: "Can the fixture have moved too? If so declare that instead.",
		Caution:  "While cutting: " + stopFirst},
	{ID: "clamp-moved", Words: "clamp slipped, loosened or set elsewhere", cells: ". . . . . . . R V R R . R R . . V V",
		Caution: "While cutting: " + stopFirst + " No cut on a loose clamp."},
	{ID: "tool-pulled", Words: "tool pulled, or gripped again in its collet", PerTool: true, cells: ". . . . . . . . . . R . . . . V V V",
		Caution: "While cutting: " + stopFirst + " It may hang in the part."},
	{ID: "tool-broke", Words: "tool broke", PerTool: true, cells: ". . . . . . . R R R R R R R . V V V",
		Caution: stopFirst + " Shards cut: tweezers; magnifier in the pocket."},
	{ID: "probe-refitted", Words: "probe taken out and put back", PerTool: true, AtOnce: true, cells: "R . . . . . . . . . . . . . . R . .",
		Caution: "Spindle command locked off while the probe is in."},
	{ID: "probe-changed", Words: "probe bumped, or stylus changed", PerTool: true, cells: "V . . R R D D . . R . . . R . V D D",
		Caution: "Spindle command locked off: a cracked stylus flies.",
		recheck: map[FactID]StepID{"bore": "ball", "floor": "ball", "baseline": "ball", "shift": "ball"}},
	{ID: "spindle-crash", Words: "spindle crash", cells: "V . V V V V V V V V R R V V V V V V",
		Caution: "E-STOP. Wait until the spindle stands. Look before any axis moves; then Z up by hand, the tool clear of the part. Then hands."},
	{ID: "head-moved", Words: "head or column moved, or trammed again", cells: ". . R V V V V . . R . . . R V R V V",
		Caution: standsStop + " Hold the head before its bolts are loosened."},
	{ID: "rehomed", Words: "machine homed again", cells: ". . . R R D D . . . . . . . . R D .",
		Caution: "Homing moves axes over clamps: Z first."},
	{ID: "power-lost", Words: "power lost at the machine", cells: ". . . R R D V . . . R R . . . R D V",
		Question: "Is a tool in the part? Then declare a broken tool as well, until you have looked.",
		Caution:  "E-STOP in before power returns. A tool may be IN the part: do not home first. Raise Z by hand only after a look."},
	{ID: "offset-edited", Words: "offset edited at the control", cells: ". . . . . . V . . . R . . . . . D .",
		Caution:  "Feed hold; no cycle start until the offset is read back.",
		Question: "Before or after the last hole? After: the holes are untouched, their pin test is quick."},
	{ID: "program-reposted", Words: "program posted again or edited", cells: ". . . . . . . . . . . . . . . . V .",
		Caution: "No cycle start until the program is checked."},
	{ID: "temperature-moved", Words: "temperature moved", cells: ". . . R R D D . . R . . . . . R D .",
		Caution: "No cutting on until the part is proven: it has grown or shrunk."},
	{ID: "left-alone", Words: "left alone for over an hour, or door open that long", cells: ". . . R R D D . R R . . R R . R D V",
		Caution: standsStop + " Is anyone or anything in the machine? Look before any axis moves."},
	{ID: nextPart, Words: "the next part, on facts taken over", Inner: true, cells: ". R R R R D D D D D D D D D . R D D",
		recheck: map[FactID]StepID{"identity": "next", "skew": "next", "bore": "next", "floor": "next", "length": "next"}},
	{ID: "straps-off", Words: "the straps came off", Inner: true, cells: ". . . . . . . . V . . . . . . . . ."},
	{ID: "part-out", Words: "the part came out of its pocket", Inner: true, cells: ". . . . . . . V V V . . V V . . . V"},
}

// rows and columns are the table's indices.
var rows, columns = map[MishapID]*Mishap{}, map[FactID]int{}

func init() {
	for i := range Mishaps {
		rows[Mishaps[i].ID] = &Mishaps[i]
	}
	for i, c := range Columns {
		columns[c] = i
	}
}

// mishap returns the row of that id.
func mishap(id MishapID) (*Mishap, bool) { m, ok := rows[id]; return m, ok }

// Cell is the effect on a fact; things not in the table are untouched.
func (m *Mishap) Cell(f FactID) Cell {
	if i, ok := columns[f.Column()]; ok {
		return Cell(m.cells[2*i])
	}
	return Untouched
}

// hits says that the mishap, declared of that tool, concerns the fact at all.
func (m *Mishap) hits(f FactID, tool string) bool {
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

// ownRecheck is each fact's own recheck step.
var ownRecheck = map[FactID]StepID{
	"ball": "ball-check", "skew": "edge-check", "bore": "datum-check", "floor": "datum-check",
	"seat": "seat-check", "baseline": "seat-check", "shift": "seat-check", "clamps": "clamp-check",
	"holes": "hole-check", "threads": "thread-check", "screws": "screw-check", "length": "length-check",
}

// Recheck is the step that lifts the mishap's R from the fact, "" for none.
func (m *Mishap) Recheck(f FactID) StepID {
	if m.Cell(f) != R {
		return ""
	}
	if s, ok := m.recheck[f.Column()]; ok {
		return s
	}
	return ownRecheck[f.Column()]
}

// Offered are the mishaps a person may declare, in table order.
func Offered() []Mishap {
	var out []Mishap
	for _, m := range Mishaps {
		if !m.Inner {
			out = append(out, m)
		}
	}
	return out
}

// tool is the tool that a mishap names as the plan's facts name it: "T3" is "3". One
// that the plan does not have, or none, is "": any of them may be the one.
func (p *Plan) tool(name string) string {
	name = strings.TrimLeft(strings.ToUpper(strings.TrimSpace(name)), "T")
	if name != "" && contains(p.facts, FactID("length/"+name)) {
		return name
	}
	return ""
}
