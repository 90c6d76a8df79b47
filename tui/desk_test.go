package tui

import (
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// table drives a desk without a terminal.
type table struct {
	t    *testing.T
	d    *desk
	now  time.Time
	quit bool
}

func newTable(t *testing.T, make func(now func() time.Time) *desk) *table {
	s := &table{t: t, now: noon}
	s.d = make(func() time.Time { return s.now })
	s.run(s.d.Init())
	s.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return s
}

func (s *table) send(m tea.Msg) {
	_, cmd := s.d.Update(m)
	s.run(cmd)
}

func (s *table) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch m := cmd().(type) {
	case nil:
	case tea.QuitMsg:
		s.quit = true
	case HeldMsg:
		s.now = s.now.Add(plusHold)
		s.send(m)
	case tea.BatchMsg:
		for _, c := range m {
			s.run(c)
		}
	default:
		s.send(m)
	}
}

func (s *table) press(names ...string) *table {
	for _, n := range names {
		s.now = s.now.Add(time.Second)
		m, ok := keyNamed[n]
		if !ok {
			m = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(n)}
		}
		s.send(m)
	}
	return s
}

func (s *table) sees(texts ...string) *table {
	s.t.Helper()
	v := ansi.Strip(s.d.View())
	for _, x := range texts {
		if !strings.Contains(v, x) {
			s.t.Fatalf("%q is not on the screen:\n%s", x, v)
		}
	}
	lines := strings.Split(v, "\n")
	for _, l := range lines {
		if Width(l) != s.d.w {
			s.t.Fatalf("a line of %d cells:\n%s", Width(l), v)
		}
	}
	if len(lines) != s.d.h {
		s.t.Fatalf("%d lines", len(lines))
	}
	return s
}

func TestJobList(t *testing.T) {
	reads := 0
	var got *Picked
	o := JobsOptions{Look: Look{Colour: Off}, Title: "jobs in /shop", List: func() []JobLine {
		reads++
		return []JobLine{
			{Job: "compass-box lid", Setup: "side2", Standing: "RELEASED 12:40", Verdict: "pass", Actions: []string{"look at it", "next blank, nothing moved"}, Detail: []string{"part 1"}},
			{Job: "hinge plate", Setup: "side2", Standing: "locating bore, 2 of 9", Verdict: "current", Actions: []string{"go on"}},
			{Job: "stand", Standing: "3 faults", Verdict: "fail"},
		}
	}}
	open := func() *table {
		return newTable(t, func(now func() time.Time) *desk {
			o.Now = now
			d, p := newJobs(o)
			got = p
			return d
		})
	}
	s := open().sees("jobs in /shop", ">  1  (=) compass-box lid  side2   RELEASED 12:40", "part 1", "   3  [!] stand", "[F9 or e] read the folder again")
	s.press("enter").sees("1  look at it", "2  next blank, nothing moved").press("/").sees("hinge plate")
	if s.quit {
		t.Fatal("left")
	}
	s.press("1", "+").sees("1  look at it").press("2", "+") // + opens, as everywhere
	if !s.quit || got.Left || got.Index != 0 || got.Action != 1 {
		t.Errorf("picked %+v", *got)
	}
	s = open().press("2", "enter")
	if !s.quit || got.Index != 1 || got.Action != 0 {
		t.Errorf("picked %+v", *got)
	}
	n := reads
	s = open().press("e", "e")
	if reads != n+3 {
		t.Errorf("read %d times", reads-n)
	}
	s.press("esc")
	if !s.quit || !got.Left {
		t.Errorf("picked %+v", *got)
	}
	o.List, o.Lead = func() []JobLine { return nil }, []string{"No jobs here. Practise on a built-in one, or write one."}
	open().sees("No jobs here").press("enter", "5", "down")
}

func TestFaultsBesideTheirLines(t *testing.T) {
	faults := jobs.Faults{{File: "lid.job.yaml", Line: 2, Column: 12, What: `"zero" is no allowance`, Hint: "write a length above 0"},
		{File: "lid.job.yaml", What: "no setup is given", Hint: "add setups:"}}
	mended := false
	s := newTable(t, func(now func() time.Time) *desk {
		return newFaults(FaultsOptions{Look: Look{Colour: Off}, Now: now, Title: "lid.job.yaml", Load: func() (jobs.Faults, map[string][]string) {
			return faults, map[string][]string{"lid.job.yaml": {"format: 1", "allowance: zero"}}
		}}, &mended)
	})
	s.sees("2 faults", `lid.job.yaml, line 2, column 12: "zero" is no allowance`, "allowance: zero", "write a length above 0", "no setup is given", "[+ or Enter] read the files again")
	at := func(x string) int {
		for _, l := range strings.Split(s.d.View(), "\n") {
			if strings.Contains(l, x) {
				return strings.Index(l, x)
			}
		}
		return -1
	}
	if a, b := at("allowance: zero")+len("allowance: "), at("^"); a != b {
		t.Errorf("the mark stands at %d, the value at %d:\n%s", b, a, s.d.View())
	}
	faults = faults[1:]
	s.press("enter").sees("1 fault.")
	faults = nil
	if s.press("f9"); !mended || !s.quit {
		t.Error("mended, but not said")
	}
}
