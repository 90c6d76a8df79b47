package report

import (
	_ "embed"
	"html/template"
	"io"
	"sync"
)

//go:embed blank.tmpl
var blankText string

var blankTemplates = sync.OnceValue(func() *template.Template { return template.Must(template.New("").Parse(blankText)) })

// blankStep is a step as the template writes it.
type blankStep struct {
	No int
	SheetStep
	Blocks []block
	Lines  bool // to write on: it asks for more once something was read
}

// HTML writes the sheet in three columns, to be printed and filled in by hand.
func (s Sheet) HTML(w io.Writer) error {
	data := struct {
		Job, Setup string
		Steps      []blankStep
	}{Job: plain(s.Job), Setup: plain(s.Setup)}
	for i, st := range s.Steps {
		for j := range st.Fields {
			f := &st.Fields[j]
			f.Label, f.Wants = plain(f.Label), plain(f.Wants)
		}
		data.Steps = append(data.Steps, blankStep{i + 1, st, st.blocks(), st.open()})
	}
	return blankTemplates().ExecuteTemplate(w, "blank", data)
}
