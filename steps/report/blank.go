package report

import (
	"fmt"
	"strings"

	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// Sheet is the walk on paper, to be filled in by hand and typed in later.
type Sheet struct {
	Job   string      `json:"job"`
	Setup string      `json:"setup"`
	Steps []SheetStep `json:"steps"`
}

// SheetStep is one step of the walk.
type SheetStep struct {
	ID      string       `json:"id"`
	Title   string       `json:"title"`
	Pause   string       `json:"pause"` // heading of the pause point before it, "" without
	Act     string       `json:"act"`
	Caution string       `json:"caution"`
	Fields  []SheetField `json:"fields"` // as far as they are known before any reading
}

// SheetField is one box. A blind field does not say what it should hold.
type SheetField struct {
	Field   string   `json:"field"` // its address within setup/step/round
	Label   string   `json:"label"`
	Unit    string   `json:"unit"`
	Wants   string   `json:"wants"`   // the only answer that passes, "" when any is good
	Options []string `json:"options"` // of a choice, to tick one

	form, axis, by string
	reading        bool
}

// MakeSheet is the blank sheet of a plan. What a step asks only after a reading is not on
// it: such a step has lines to write on.
func MakeSheet(p *fold.Plan) Sheet {
	s := Sheet{Job: p.Job.Name, Setup: p.Setup.Name}
	for _, sp := range desk.OnPaper(p) {
		row := SheetStep{ID: string(sp.ID), Title: sp.Title, Act: sp.Page.Act, Caution: sp.Page.Caution, Fields: []SheetField{}}
		if sp.Pause != nil {
			row.Pause = sp.Pause.Heading
		}
		for _, a := range sp.Asks {
			if a.What.By == fold.BySelf { // no hand reads it
				continue
			}
			f := SheetField{Field: a.Field, Label: a.Label, Unit: a.EntryUnit(p.Job.Unit), Options: []string{}, form: a.Form, by: a.What.By,
				reading: a.Kind == fold.Reading}
			if len(a.What.Axis) == 1 && a.Form != "" {
				f.axis = strings.ToUpper(a.What.Axis)
			}
			if a.Kind == fold.Count || a.Kind == fold.Text || a.Kind == fold.Choice {
				f.Unit = ""
			}
			if !a.Blind {
				f.Wants = a.Want
			}
			if a.Kind == fold.Choice {
				f.Options = append(f.Options, a.Options...)
			}
			row.Fields = append(row.Fields, f)
		}
		s.Steps = append(s.Steps, row)
	}
	return s
}

// block is a run of fields that are written in one table, or one field alone.
type block struct {
	Cols []string // X and Y; or the first reading, and room for two more rounds
	Rows []blockRow
	Unit string
}

// blockRow is a place with one field, or with one a column.
type blockRow struct {
	Place  string
	Fields []SheetField
}

// rounds are how often a run of the dial may be read: a tap, and another.
var rounds = []string{"1st", "2nd", "3rd"}

// blocks puts together what is read one after the other by one instrument: the axes of one place in a row, so that
// the table is written, and typed later, line by line.
func (st SheetStep) blocks() []block {
	var out []block
	for i := 0; i < len(st.Fields); {
		f := st.Fields[i]
		j := i + 1
		for f.reading && j < len(st.Fields) && st.Fields[j].reading && st.Fields[j].by == f.by && st.Fields[j].Unit == f.Unit &&
			(st.Fields[j].axis != "") == (f.axis != "") {
			j++
		}
		out = append(out, tabled(st.Fields[i:j])...)
		i = j
	}
	return out
}

// tabled is a table of fields that belong together; too few stand alone.
func tabled(fs []SheetField) []block {
	b := block{Unit: fs[0].Unit}
	for _, f := range fs {
		n := len(b.Rows)
		if f.axis == "" || n == 0 || b.Rows[n-1].Fields[0].form != f.form {
			b.Rows = append(b.Rows, blockRow{Place: strings.TrimSuffix(f.Label, ", "+f.axis)})
			n++
		}
		r := &b.Rows[n-1]
		r.Fields = append(r.Fields, f)
		if f.axis != "" && len(r.Fields) > len(b.Cols) {
			b.Cols = append(b.Cols, f.axis)
		}
	}
	paired := len(b.Cols) > 1
	for _, r := range b.Rows { // a place that is read along another axis has a row of its own
		for c, f := range r.Fields {
			paired = paired && f.axis == b.Cols[c]
		}
	}
	switch {
	case paired:
		return []block{b}
	case fs[0].by == "dial" && fs[0].axis == "" && len(fs) >= 5:
		b.Cols = rounds
		return []block{b}
	}
	var out []block
	for _, f := range fs {
		out = append(out, block{Rows: []blockRow{{f.Label, []SheetField{f}}}, Unit: f.Unit})
	}
	return out
}

// open says that a step asks for more once something of it was read: such a step has lines to write on.
func (st SheetStep) open() bool {
	n := len(st.Fields)
	return n == 0 || n == 1 && st.Fields[0].Field == "pause"
}

// Text is the sheet with a box for each field and a place for the time of each step.
func (s Sheet) Text() string {
	var b page
	b.line("%s   setup %s   part ____   date ______________   operator ______________", strings.ToUpper(s.Job), s.Setup)
	b.wrapped("", "Write what you see, with the time of each step, and type it in later, in this order. A value that does not pass stops the "+
		"walk here too.")
	for i, st := range s.Steps {
		b.heading(fmt.Sprintf("%d %s", i+1, st.Title))
		if st.Pause != "" {
			b.wrapped("PAUSE   ", st.Pause)
		}
		if st.Caution != "" {
			b.wrapped("CAUTION ", st.Caution)
		}
		if st.Act != "" {
			b.wrapped("do      ", st.Act)
		}
		for _, k := range st.blocks() {
			k.text(&b)
		}
		if st.open() {
			b.line("[ ] ________________________________________________________________")
			b.line("    ________________________________________________________________")
		}
		b.line("time ________   also asked, and seen ______________________________________")
	}
	return b.String()
}

// text is a table, or a field with a box to tick.
func (k block) text(b *page) {
	if len(k.Cols) == 0 {
		k.Rows[0].Fields[0].text(b)
		return
	}
	const place = 38
	head := strings.Repeat(" ", place)
	for _, c := range k.Cols {
		head += fmt.Sprintf("  %-10s", c)
	}
	b.line("%s  %s", head, k.Unit)
	for _, r := range k.Rows {
		line := r.Place
		if n := len([]rune(line)); n > place {
			b.wrapped("[ ] ", line)
			line = ""
		} else {
			line = "[ ] " + line
		}
		line += strings.Repeat(" ", max(place-len([]rune(line)), 0))
		for range k.Cols {
			line += "  __________"
		}
		b.line("%s", line)
	}
}

// text is a box to tick, the label and a line to write on; a choice has its options under it.
func (f SheetField) text(b *page) {
	const label = 50
	wants := f.Unit
	if f.Wants != "" {
		wants = strings.TrimSpace(wants + " wanted: " + f.Wants)
	}
	switch n := len([]rune(f.Label)); {
	case len(f.Options) > 0:
		b.wrapped("[ ] ", f.Label)
		for _, o := range f.Options {
			mark := ""
			if o == f.Wants {
				mark = "   wanted"
			}
			b.line("      ( ) %s%s", o, mark)
		}
	case n > label:
		b.wrapped("[ ] ", f.Label)
		b.line("    %*s ____________ %s", label, "", wants)
	default:
		b.line("[ ] %s%s ____________ %s", f.Label, strings.Repeat(" ", label-n), wants)
	}
}
