package tui

import (
	"strings"
	"time"

	"fliptrue/jobs"

	tea "github.com/charmbracelet/bubbletea"
)

// FaultsOptions is what the page of a faulty job gets from outside.
type FaultsOptions struct {
	Look  Look
	Now   func() time.Time
	Title string // which job
	// Load reads the job anew: its faults, and the lines of the files they are in, by the
	// file's name as the faults give it. Called in a command, at the start and on reload.
	Load func() (jobs.Faults, map[string][]string)
}

type faultsLoad struct {
	faults jobs.Faults
	files  map[string][]string
}

// RunFaults shows the faults of a job beside their lines until it is mended or left.
// One key reads the files again after editing; mended is true when there are no more.
func RunFaults(o FaultsOptions, t Terminal) (mended bool, err error) {
	d := newFaults(o, &mended)
	err = t.show(d)
	return mended, err
}

func newFaults(o FaultsOptions, mended *bool) *desk {
	d := newDesk(o.Look, o.Now)
	d.title = o.Title
	d.short = map[Intent]string{Up: "", Choose: "choose", Quit: "leave"}
	d.open = func(d *desk, i int) tea.Cmd { return d.reload() }
	d.short[Open] = "read the files again"
	d.load = func() deskLoad {
		fs, files := o.Load()
		return faultsLoad{fs, files}
	}
	d.loaded = func(d *desk, l deskLoad) tea.Cmd {
		in := l.(faultsLoad)
		if len(in.faults) == 0 {
			*mended = true
			return tea.Quit
		}
		d.items, d.mark = nil, min(d.mark, len(in.faults)-1)
		d.lead = []line{{Act, plural(len(in.faults), "fault") + ". Mend them in the files, then Enter reads them again."}}
		for _, f := range in.faults {
			d.items = append(d.items, faultItem(f, in.files[f.File]))
		}
		return nil
	}
	return d
}

// faultItem is one fault with its line of the file and a mark under its column.
func faultItem(f jobs.Fault, file []string) deskItem {
	place := f.File
	if f.Line > 0 {
		place += ", line " + itoa(f.Line)
	}
	if f.Column > 0 {
		place += ", column " + itoa(f.Column)
	}
	it := deskItem{words: place + ": " + f.What}
	if f.Line > 0 && f.Line <= len(file) {
		text, mark := around(file[f.Line-1], f.Column, 60)
		it.below = append(it.below, line{Typed, text})
		if mark >= 0 {
			it.below = append(it.below, line{Caution, strings.Repeat(" ", mark) + "^"})
		}
	}
	if f.Hint != "" {
		it.below = append(it.below, line{Text, f.Hint})
	}
	return it
}

// around is the part of a line of text about a column, of at most w cells, without
// control characters, and where the column is in it; -1 without a column.
func around(text string, column, w int) (part string, mark int) {
	rs := []rune(strings.Map(func(r rune) rune {
		if r == '\t' {
			return ' '
		}
		if r < ' ' || r == 0x7f {
			return '?'
		}
		return r
	}, text))
	at := min(max(column-1, 0), len(rs))
	from := max(min(at-w/2, len(rs)-w), 0)
	for from < at && from < len(rs) && rs[from] == ' ' {
		from++
	}
	to := min(from+w, len(rs))
	if column <= 0 {
		return string(rs[from:to]), -1
	}
	return string(rs[from:to]), Width(string(rs[from:at]))
}
