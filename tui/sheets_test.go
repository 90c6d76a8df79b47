package tui

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// coloured is a theme that paints as a terminal of its depth would show it.
func coloured(l Look) Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.TrueColor)
	return NewTheme(r, l)
}

// walked is the plan of a practice by its kind of setup or its hold-down.
func walked(t *testing.T, what string) *fold.Plan {
	t.Helper()
	if hold, setup, ok := strings.Cut(what, "/"); ok {
		return programmed(t, hold, setup)
	}
	files, err := builtin.Texts(what)
	if err != nil {
		t.Fatal(err)
	}
	j, fs := jobs.ReadJob(jobs.Mem(files), builtin.JobFile)
	if err := fs.Err(); err != nil {
		t.Fatal(err)
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	ps := map[string]fold.ProgramFile{}
	for _, g := range p.Setup.Programs {
		if text, ok := files[g.File]; ok {
			ps[g.Role] = fold.ProgramFile{Name: g.File, Hash: "0", Data: []byte(text)}
		}
	}
	return p.WithPrograms(ps)
}

// TestSheets writes every kind of page of a walk as a terminal would get it: SHEETS is the folder, WALKS what is
// walked, such as T or S/side1, SIZES and LOOKS how.
func TestSheets(t *testing.T) {
	dir := os.Getenv("SHEETS")
	if dir == "" {
		t.Skip()
	}
	looks := map[string]Look{"dark": {}, "light": {Light: true}, "16": {Colour: Sixteen}, "mono": {Colour: Attributes}, "ascii": {Colour: Off, ASCII: true}, "console": {Colour: Sixteen, NoBraille: true}}
	views := map[string]View{"": Whole, "far": FarView, "pic": PictureView}
	only := os.Getenv("ONLY")
	for _, what := range strings.Fields(os.Getenv("WALKS")) {
		p := walked(t, what)
		s := begin(t, p, 80, 24)
		s.quiet = true
		s.world = bench.NewWorld(p, 1, bench.Usual(p))
		s.o.Bench = s.world
		s.restart()
		seen := map[string]bool{}
		n := 0
		for i := 0; i < 900 && !(s.state().Released && s.state().Cursor.Idle && seen["end"]); i++ {
			seen["end"] = s.state().Released && s.state().Cursor.Idle
			key := s.kind()
			if w, ok := s.m.top().(*walkPage); ok {
				a, _ := w.ask(s.m)
				key += " " + a.Field
				if w.doing(s.m) {
					key += " act"
				}
			}
			if !seen[key] {
				seen[key] = true
				name := strings.NewReplacer("/", "-", " ", "_", "true", "1", "false", "0").Replace(key)
				if n++; only == "" || strings.Contains(name, only) {
					for _, z := range strings.Fields(os.Getenv("SIZES")) {
						w, h := 0, 0
						fmt.Sscanf(z, "%dx%d", &w, &h)
						s.m.Update(tea.WindowSizeMsg{Width: w, Height: h})
						for _, l := range strings.Fields(os.Getenv("LOOKS")) {
							base, v, _ := strings.Cut(l, "+")
							was := s.m.t
							s.m.t, s.m.view = coloured(looks[base]), views[v]
							s.m.draw()
							first := z
							if base == "light" {
								first += " light"
							}
							path := filepath.Join(dir, fmt.Sprintf("%s_%03d_%s_%s_%s.ansi", strings.ReplaceAll(what, "/", "-"), n, name, z, l))
							if err := os.WriteFile(path, []byte(first+"\n"+s.m.View()), 0o644); err != nil {
								t.Fatal(err)
							}
							s.m.t, s.m.view = was, Whole
							s.m.draw()
						}
					}
					s.m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
				}
			}
			s.next()
		}
		t.Logf("%s: %d kinds of page", what, n)
	}
}
