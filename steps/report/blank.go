package report

import (
	"fmt"
	"strings"

	"fliptrue/steps"
	"fliptrue/steps/desk"
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
}

// MakeSheet is the blank sheet of a plan. What a step asks only after a reading is not on
// it: such a step has lines to write on.
func MakeSheet(p *steps.Plan) Sheet {
	s := Sheet{Job: p.Job.Name, Setup: p.Setup.Name}
	for _, sp := range desk.OnPaper(p) {
		row := SheetStep{ID: string(sp.ID), Title: sp.Title, Act: sp.Page.Act, Caution: sp.Page.Caution, Fields: []SheetField{}}
		if sp.Pause != nil {
			row.Pause = sp.Pause.Heading
		}
		for _, a := range sp.Asks {
			f := SheetField{Field: a.Field, Label: a.Label, Unit: a.EntryUnit(p.Job.Unit), Options: []string{}}
			if a.Kind == steps.Count || a.Kind == steps.Text || a.Kind == steps.Choice {
				f.Unit = ""
			}
			if !a.Blind {
				f.Wants = a.Want
			}
			if a.Kind == steps.Choice {
				f.Options = append(f.Options, a.Options...)
			}
			row.Fields = append(row.Fields, f)
		}
		s.Steps = append(s.Steps, row)
	}
	return s
}

// Text is the sheet with a box for each field and a place for the time of each step.
func (s Sheet) Text() string {
	var b page
	b.line("%s   setup %s   part ____   date ______________   operator ______________", strings.ToUpper(s.Job), s.Setup)
	b.wrapped("", "Write what you see, with the time of each step, and type it in later. A value that does not pass stops the walk here too.")
	for i, st := range s.Steps {
		b.line("")
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
		for _, f := range st.Fields {
			f.text(&b)
		}
		if n := len(st.Fields); n == 0 || n == 1 && st.Fields[0].Field == "pause" {
			b.line("[ ] ________________________________________________________________")
			b.line("    ________________________________________________________________")
		}
		b.line("time ________")
	}
	return b.String()
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
