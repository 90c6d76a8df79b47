package tui

import (
	"errors"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"

	tea "github.com/charmbracelet/bubbletea"
)

// hold gives a key and keeps the last command it leads to: what the events mean is being
// worked out until finish is called.
func (s *screen) hold(key string) (finish func()) {
	s.t.Helper()
	s.now = s.now.Add(500 * time.Millisecond)
	_, cmd := s.m.Update(keyNamed[key])
	var msgs []tea.Msg
	var all func(tea.Cmd)
	all = func(c tea.Cmd) {
		if c == nil {
			return
		}
		switch msg := c().(type) {
		case nil:
		case tea.BatchMsg:
			for _, c := range msg {
				all(c)
			}
		case savedMsg:
			_, next := s.m.Update(msg)
			all(next)
		default:
			msgs = append(msgs, msg)
		}
	}
	all(cmd)
	return func() {
		for _, m := range msgs {
			s.send(m)
		}
	}
}

// While what was taken is worked out, the screen says so, keys work, and nothing is taken.
func TestLongWorkIsSaid(t *testing.T) {
	t.Parallel()
	p := lid(t, "T").WithPrograms(map[string]steps.ProgramFile{"top": {Name: "top.nc", Hash: "0", Data: make([]byte, 3_400_000)}})
	s := practice(t, p, 80, 24).at("bore", "hit1.x")
	n := len(s.saved)
	s.Type("-268.3")
	finish := s.hold("enter")
	if len(s.saved) != n+1 || !s.m.folding {
		t.Fatalf("%d saved, folding %v", len(s.saved)-n, s.m.folding)
	}
	s.Misses("WORKING IT OUT") // a moment is not worth a page
	s.Press("7")               // typed ahead: for the field that comes
	s.send(slowMsg{})
	s.Sees("WORKING IT OUT", "What was taken is on the disk", "top.nc, 3.4 MB").everywhere("working")
	s.Press("5").Sees("nothing is taken until it is worked out")
	s.Press("*").Sees("nothing is taken until it is worked out")
	s.Plus().Enter().Sees("WORKING IT OUT")
	s.Press("?").Sees("THIS PAGE").Press("esc").Sees("WORKING IT OUT")
	s.Press("ctrl+c").Sees("LEAVE").Press("esc")
	finish()
	s.Misses("WORKING IT OUT")
	if f := s.m.focus(); s.m.folding || f.Text != "7" || s.state().Cursor.Field != "hit1.y" || len(s.saved) != n+1 {
		t.Errorf("after it: field %s holds %q, %d saved:\n%s", s.state().Cursor.Field, f.Text, len(s.saved)-n, s.View())
	}
	// Left meanwhile: what was taken is in the record.
	s.Press("backspace").Type("-160.3")
	s.hold("enter")
	s.send(slowMsg{})
	if s.Press("ctrl+c", "ctrl+c"); !s.quit || len(s.saved) < n+1 {
		t.Error("it can't be left")
	}
}

// What is amiss beside the record stands on every page until it is mended.
func TestStandingNotice(t *testing.T) {
	t.Parallel()
	amiss := []string{}
	s := begin(t, lid(t, "T"), 80, 24)
	s.o.Standing = func() []string { return amiss }
	s.restart().Misses("NOT ON THE CARD")
	amiss = []string{"NOT ON THE CARD YET: shop/bench.machine.yaml: no space left; make room"}
	s.Plus().Press("1").Plus().Sees("NOT ON THE CARD YET: shop/bench.machine.yaml: no space left; make room")
	s.Press("?").Sees("NOT ON THE CARD YET").Press("esc", "*").Sees("NOT ON THE CARD YET").everywhere("amiss")
	s.Press("esc")
	s.broken = errors.New("the same disk") // a write that fails keeps it
	s.Type("3").Plus().Sees("NOT WRITTEN", "NOT ON THE CARD YET")
	s.restart().Sees("NOT ON THE CARD YET")
	amiss = nil
	s.save([]jobs.Event{})
	s.restart().Misses("NOT ON THE CARD YET")
}
