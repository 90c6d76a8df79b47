package tui

import (
	"errors"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/fold"

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
	p := lid(t, "T").WithPrograms(map[string]fold.ProgramFile{"top": {Name: "top.nc", Hash: "0", Data: make([]byte, 3_400_000)}})
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
	s.Sees("WORKING IT OUT", "What was taken is on the disk", "top.nc, 3.4 MB").everywhere("working", 0)
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

// While work is in hand no page on top of it lets through what reads the log or adds to it.
func TestNothingIsDeclaredWhileItIsWorkedOut(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Type("-268.3")
	n := len(s.saved)
	finish := s.hold("enter")
	s.send(slowMsg{})
	for _, over := range [][]string{{"?"}, {"f8"}, {"?", "f8"}, {"ctrl+c"}} {
		s.Press(over...)
		for _, k := range []string{"*", "f4", "f5", "f6", "f7"} {
			on := s.on()
			s.Press(k).Sees(oneMoment)
			if s.on() != on {
				t.Fatalf("%s on %q opened %s", k, over, s.on())
			}
		}
		s.Press("pgdown", "pgup")
		for range over {
			s.Press("esc")
		}
		s.Sees("WORKING IT OUT")
	}
	if len(s.saved) != n+1 {
		t.Fatalf("saved %+v", s.saved[n:])
	}
	finish()
	s.Press("*").Sees("SOMETHING HAPPENED")
}

// Events that come while others are on their way wait for them and are not lost.
func TestEventsWaitForTheWorkInHand(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Type("-268.3")
	n := len(s.saved)
	finish := s.hold("enter")
	es, err := s.m.st.Declare("power-lost", "")
	if err != nil || len(es) == 0 {
		t.Fatal(err)
	}
	done := 0
	for range 2 {
		if cmd := s.m.save(es, nil, func(*Model) { done++ }); cmd != nil {
			t.Fatal("written beside the work in hand")
		}
	}
	s.Press("7") // behind them
	at := s.now
	finish()
	if len(s.saved) != n+1+2*len(es) || done != 2 || len(s.state().Mishaps) != 2 {
		t.Fatalf("%d done, %d mishaps, saved %+v", done, len(s.state().Mishaps), s.saved[n:])
	}
	if last := s.saved[len(s.saved)-1]; last.Mishap == "" || last.At.After(at) || s.m.folding || len(s.m.waiting) > 0 {
		t.Errorf("last saved %+v, folding %v, %d keys waiting", last, s.m.folding, len(s.m.waiting))
	}
}

// Every page that can be opened while the log is written leaves the log alone: the race
// detector watches.
func TestTheLogIsNotReadWhileItIsWritten(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Type("-268.3")
	s.now = s.now.Add(500 * time.Millisecond)
	_, cmd := s.m.Update(keyNamed["enter"])
	var folds []tea.Cmd
	var all func(tea.Cmd)
	all = func(c tea.Cmd) {
		if c == nil {
			return
		}
		switch msg := c().(type) {
		case tea.BatchMsg:
			for _, c := range msg {
				all(c)
			}
		case savedMsg:
			_, next := s.m.Update(msg)
			folds = append(folds, next)
		}
	}
	all(cmd)
	if len(folds) != 1 {
		t.Fatalf("%d folds", len(folds))
	}
	done := make(chan foldedMsg)
	go func() {
		var out foldedMsg
		var run func(tea.Cmd)
		run = func(c tea.Cmd) {
			if c == nil {
				return
			}
			switch msg := c().(type) {
			case tea.BatchMsg:
				for _, c := range msg {
					run(c)
				}
			case foldedMsg:
				out = msg
			}
		}
		run(folds[0])
		done <- out
	}()
	s.send(slowMsg{})
	s.Press("?", "*", "1").Plus().Press("f6", "f4", "f7", "f3", "f2", "f8", "pgdown", "esc", "esc", "ctrl+c", "*", "0", "esc")
	s.w, s.h = 120, 36
	s.send(tea.WindowSizeMsg{Width: s.w, Height: s.h})
	s.send(<-done)
	if s.m.folding || s.state().Cursor.Field != "hit1.y" {
		t.Errorf("after it: %s", s.View())
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
	s.Plus().Press("1").Plus().Type(s.o.Plan.Job.Fixture.ID).Plus().Press("1").Plus().Press("1").Plus()
	s.Sees("NOT ON THE CARD YET: shop/bench.machine.yaml: no space left; make room")
	s.Press("?").Sees("NOT ON THE CARD YET").Press("esc", "*").Sees("NOT ON THE CARD YET").everywhere("amiss", 0)
	s.Press("esc")
	s.broken = errors.New("the same disk") // a write that fails keeps it
	s.Type("20").Enter().Sees("NOT WRITTEN", "NOT ON THE CARD YET")
	s.restart().Sees("NOT ON THE CARD YET")
	amiss = nil
	s.save([]jobs.Event{})
	s.restart().Misses("NOT ON THE CARD YET")
}
