package tui

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

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

// sheets is where and how pages are written for looking at: SHEETS is the folder, SIZES and LOOKS how, such as
// "80x24 60x20" and "dark ascii light+far".
type sheets struct{ dir, sizes, looks string }

// write is the page that is shown now, in every size and look.
func (sh sheets) write(s *screen, name string) {
	looks := map[string]Look{"dark": {}, "light": {Light: true}, "16": {Colour: Sixteen}, "mono": {Colour: Attributes}, "ascii": {Colour: Off, ASCII: true}, "console": {Colour: Sixteen, NoBraille: true}}
	views := map[string]View{"": Whole, "far": FarView, "pic": PictureView}
	for _, z := range strings.Fields(sh.sizes) {
		w, h := 0, 0
		fmt.Sscanf(z, "%dx%d", &w, &h)
		s.m.Update(tea.WindowSizeMsg{Width: w, Height: h})
		for _, l := range strings.Fields(sh.looks) {
			base, v, _ := strings.Cut(l, "+")
			was := s.m.t
			s.m.t, s.m.view = coloured(looks[base]), views[v]
			s.m.draw()
			first := z
			if base == "light" {
				first += " light"
			}
			path := filepath.Join(sh.dir, fmt.Sprintf("%s_%s_%s.ansi", strings.NewReplacer("/", "-", " ", "_", "true", "1", "false", "0").Replace(name), z, l))
			if err := os.WriteFile(path, []byte(first+"\n"+s.m.View()), 0o644); err != nil {
				s.t.Fatal(err)
			}
			s.m.t, s.m.view = was, Whole
			s.m.draw()
		}
	}
	s.m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
}

// TestSheets writes every kind of page of a walk as a terminal would get it: WALKS is what is walked, such as T or
// S/side1, behind a ! what goes wrong in it, such as T!chip-in-bore; ONLY a part of the names that are wanted.
func TestSheets(t *testing.T) {
	sh := sheets{os.Getenv("SHEETS"), os.Getenv("SIZES"), os.Getenv("LOOKS")}
	if sh.dir == "" {
		t.Skip()
	}
	only := os.Getenv("ONLY")
	shown := map[string]bool{}
	for _, walk := range strings.Fields(os.Getenv("WALKS")) {
		what, mistake, _ := strings.Cut(walk, "!")
		p := walked(t, what)
		s := begin(t, p, 80, 24)
		s.quiet = true
		s.world = bench.NewWorld(p, 1, bench.Usual(p))
		if mistake != "" {
			if err := s.world.Make(mistake, 0); err != nil {
				t.Fatal(err)
			}
		}
		s.o.Bench = s.world
		s.restart()
		n, ended := 0, false
		for i := 0; i < 900 && !ended; i++ {
			ended = s.state().Released && s.state().Cursor.Idle
			key := s.kind()
			if w, ok := s.m.top().(*walkPage); ok {
				a, _ := w.ask(s.m)
				key += " " + a.Field
				if w.doing(s.m) {
					key += " act"
				}
			}
			if once := what + key; !shown[once] {
				shown[once] = true
				if n++; only == "" || strings.Contains(key, only) {
					sh.write(s, fmt.Sprintf("%s %03d %s", walk, n, key))
				}
			}
			s.next()
		}
		t.Logf("%s: %d kinds of page", walk, n)
	}
}

// TestOverSheets writes what lies on top of a page: lists, help, questions, the break, going on and what was pasted.
func TestOverSheets(t *testing.T) {
	sh := sheets{os.Getenv("SHEETS"), os.Getenv("SIZES"), os.Getenv("LOOKS")}
	if sh.dir == "" {
		t.Skip()
	}
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit4.x")
	s.quiet = true
	for _, keys := range []string{"*", "* 0", "?", "g", "l", "l enter", "f4", "/", "ctrl+c", "* 1 enter", "* 4 enter", "* 2 enter", "* 1 1 enter", "9 9 enter"} {
		s.Press(strings.Fields(keys)...)
		sh.write(s, "over "+strings.NewReplacer("*", "star", "?", "help", "/", "slash").Replace(keys))
		for range 9 {
			if len(s.m.over) > 0 {
				s.Press("esc")
			}
		}
	}
	s.Press("backspace", "backspace").Paste("-271.019 -164.713\n-270.5 -165.2\n")
	sh.write(s, "over paste")
	s.Press("esc").Paste("1.5 kg\tabc\n")
	sh.write(s, "over paste bad")
	s.Press("esc").Wait(4 * time.Minute)
	sh.write(s, "over idle")
	s.Plus().restart()
	sh.write(s, "over going on")
}
