package report

import (
	_ "embed"
	"html/template"
	"io"
	"sync"

	"fliptrue/calc/unit"
)

//go:embed sheet.tmpl
var sheetText string

// templates are read when the first sheet is written: no other command needs them.
var templates = sync.OnceValue(func() *template.Template { return template.Must(template.New("").Parse(sheetText)) })

// SheetStart is how every sheet begins: by it one of this program is told from another file.
const SheetStart = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="generator" content="fliptrue">`

// HTML writes the sheet as one file that needs no other: no script, no address. tag may be nil.
func (r *Record) HTML(w io.Writer, tag *Tag) error {
	return templates().ExecuteTemplate(w, "sheet", r.page(tag))
}

// HTML writes the tag alone, to be printed and cut out.
func (t Tag) HTML(w io.Writer) error {
	b := builder{r: &Record{sys: t.sys, Unit: unit.UnitName(unit.KLength, t.sys)}, m: mosts[0]}
	return templates().ExecuteTemplate(w, "tagpage", b.tag(&t))
}
