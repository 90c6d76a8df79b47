package tui

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

var sizes = [][2]int{{80, 24}, {100, 30}, {132, 43}, {200, 60}, {60, 20}}

var looks = []Look{{}, {Light: true, Colour: Sixteen}, {Colour: Attributes}, {Colour: Off, ASCII: true}}

// everywhere checks the page shown now, its number given, in every look and view: at the smallest size of a whole
// page, and at one of the others in turn; FULL=1 takes them all.
func (s *screen) everywhere(name string, n int) {
	s.t.Helper()
	was, w, h := s.m.t, s.m.w, s.m.h
	for i, l := range looks {
		s.m.t = theme(l)
		for j, z := range sizes {
			if i > 0 && j > 0 && !(l.ASCII && j == 3) {
				continue // colour moves nothing: one size is enough, two where the letters differ
			}
			if j > 0 && j != 1+n%(len(sizes)-1) && os.Getenv("FULL") == "" {
				continue
			}
			s.m.Update(tea.WindowSizeMsg{Width: z[0], Height: z[1]})
			for _, v := range []View{Whole, FarView, PictureView} {
				if v != Whole && j > 0 {
					continue
				}
				s.m.view = v
				if err := broken(s.m, z[0], z[1]); err != nil {
					s.t.Fatalf("%s, %dx%d, %+v, view %d: %v:\n%s", name, z[0], z[1], l, v, err, s.View())
				}
				if l.ASCII {
					for _, r := range s.m.View() {
						if r > 126 {
							s.t.Fatalf("%s, %dx%d: %q in an ASCII frame:\n%s", name, z[0], z[1], r, s.View())
						}
					}
				}
			}
		}
	}
	s.m.t, s.m.view = was, Whole
	s.m.Update(tea.WindowSizeMsg{Width: w, Height: h})
}

// TestEveryPage walks the example job in each plan, in both units, and holds every
// kind of page of every step against the rules of a frame: act, reading, verdict,
// then the same with a void fact, a waiver and a fault standing above.
func TestEveryPage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		hold  string
		trade func(s *screen) // what stands above the pages
		least int
	}{
		{hold: "T", least: 60},
		{hold: "S", least: 45},
		{hold: "inch", least: 40},
		{hold: "T", least: 60, trade: func(s *screen) {
			s.declare("temperature-moved")
			s.m.o.Log.Apply(jobs.Event{Read: "side2/nothing/7/x", Value: "1"})
			s.m.refresh()
		}},
	} {
		t.Run(fmt.Sprint(c.hold, " ", c.trade != nil), func(t *testing.T) {
			t.Parallel()
			p := lid(t, c.hold)
			if c.trade != nil {
				p.Job.Limits = map[string]unit.Length{"floor.tilt": 1e-7, "seat.parallel": 1e-7, "bore.size": 1e-7}
			}
			s := practice(t, p, 80, 24)
			s.quiet = true
			seen := map[string]bool{}
			troubled := false
			for n := 0; n < 900 && !(s.state().Released && s.state().Cursor.Idle); n++ {
				key := s.kind()
				if !seen[key] && (c.trade == nil || len(s.m.banners()) > 0) {
					seen[key] = true
					s.everywhere(key, len(seen))
				}
				if c.trade != nil && !troubled && s.state().Cursor.Step == "seat" {
					troubled = true
					c.trade(s)
					continue
				}
				if v, ok := s.m.top().(*verdictPage); ok && !v.passed && c.trade != nil {
					for i, ch := range v.choices {
						if strings.HasPrefix(ch.words, "waive: tilt") || strings.HasPrefix(ch.words, "waive: size of the bore") || strings.HasPrefix(ch.words, "waive: part top") {
							v.mark = i
						}
					}
					if s.Plus(); s.on() == "waivePage" {
						s.Press("1")
					}
				}
				if s.state().Released && s.state().Cursor.Step != "" && len(seen) > 400 {
					break
				}
				before := len(s.saved)
				s.next()
				if s.state().Released && len(s.saved) == before && n > 800 {
					break
				}
			}
			if len(seen) < c.least {
				t.Log(s.View())
				t.Errorf("only %d kinds of page were seen", len(seen))
			}
			t.Logf("%d kinds of page x %d sizes x %d looks x 3 views", len(seen), len(sizes), len(looks))
		})
	}
}

// kind tells pages apart that look different.
func (s *screen) kind() string {
	c := s.state().Cursor
	k := string(c.Step) + " " + s.on()
	if w, ok := s.m.top().(*walkPage); ok {
		a, _ := w.ask(s.m)
		k += fmt.Sprint(" ", a.Field == "pause", a.Kind, len(w.fields), w.doing(s.m), w.text(s.m).Empty(), w.far != nil)
	}
	if v, ok := s.m.top().(*verdictPage); ok {
		k += fmt.Sprint(" ", v.step, v.passed)
	}
	return fmt.Sprint(k, len(s.m.banners()) > 0)
}

// declare records a mishap past all pages.
func (s *screen) declare(id fold.MishapID) {
	s.t.Helper()
	es, err := s.m.st.Declare(id, "")
	if err != nil {
		s.t.Fatal(err)
	}
	s.run(s.m.save(es, nil, nil))
}

// TestEveryOverlay checks what can lie on top of a page in the same way.
func TestEveryOverlay(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit4.x")
	for n, keys := range [][]string{{"*"}, {"*", "0"}, {"?"}, {"g"}, {"l"}, {"l", "enter"}, {"f4"}, {"/"}, {"ctrl+c"}, {"*", "1", "enter"}, {"*", "4", "enter"}, {"*", "1", "1", "enter"}} {
		s.Press(keys...)
		s.everywhere(strings.Join(keys, " "), n)
		for len(s.m.over) > 0 {
			s.Press("esc")
		}
	}
	s.Wait(4 * time.Minute)
	s.everywhere("idle", 0)
	s.Plus()
	s.restart()
	s.everywhere("going on", 1)
	s.Press("1").Plus()
	p := lid(t, "T")
	p.Job.Limits = map[string]unit.Length{"floor.tilt": 1e-7, "offset.register": 1e-7}
	s = practice(t, p, 80, 24)
	for _, at := range []fold.StepID{"floor", "offset"} {
		s.until(func() bool { return s.state().Cursor.Step == at && s.state().Cursor.Decide })
		s.everywhere("decide", 2)
		s.Press("f7", "1", "enter")
		s.everywhere("waive", 3)
		if at == "floor" {
			s.Press("1").Plus()
		}
	}
}
