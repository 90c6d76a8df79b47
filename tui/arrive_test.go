package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"fliptrue/calc/sent"
	"fliptrue/steps/fold"
)

// arrives lets lines come on a feed, as its form reads them.
func (s *screen) arrives(from string, lines ...string) *screen {
	s.t.Helper()
	s.now = s.now.Add(200 * time.Millisecond)
	var msg arrivedMsg
	for _, l := range lines {
		a := Arrival{From: from}
		ns, err := sent.Form{Unit: "mm"}.Read(l)
		if a.Numbers = ns; err != nil {
			a.Why = err.Error()
		}
		msg = append(msg, a)
	}
	s.send(msg)
	return s
}

// atMachine is the walk at a field, without a bench, its act done.
func atMachine(t *testing.T, step, field string) *screen {
	t.Helper()
	s := practice(t, lid(t, "T"), 80, 24).at(fold.StepID(step), field)
	s.o.Bench = nil
	s.restart().Press("1").Plus()
	if w, ok := s.m.top().(*walkPage); ok && w.doing(s.m) {
		s.Plus()
	}
	return s
}

func (s *screen) field(field string) string { return s.m.entries[s.m.address(field)].Text() }

// What arrives stands in the fields, marked; Enter takes the whole form, as sent by an instrument.
func TestArrivedFormIsTakenTogether(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	n := len(s.saved)
	s.arrives("axes", "X-288.739 Y-163.409 Z-40.000")
	if s.field("hit3.x") != "-288.739" || s.field("hit3.y") != "-163.409" || len(s.saved) != n {
		t.Fatalf("%q %q, %d saved", s.field("hit3.x"), s.field("hit3.y"), len(s.saved)-n)
	}
	s.Sees("Arrived from the axes feed at 12:", "X and Y", "Not taken yet", "Enter takes them")
	s.Enter()
	es := s.saved[n:]
	if len(es) != 2 || es[0].Value != "-288.739" || es[1].Value != "-163.409" || es[0].By != "instrument" || es[1].By != "instrument" ||
		!strings.HasSuffix(es[0].Read, "hit3.x") || !strings.HasSuffix(es[1].Read, "hit3.y") {
		t.Fatalf("saved %+v", es)
	}
	s.Misses("Arrived")
}

// Several that came wait their turn: each form shows its own before its Enter.
func TestArrivalsWait(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	n := len(s.saved)
	s.arrives("axes", "X-288.739 Y-163.409", "[-290.532,-166.491,-40.000]").Sees("1 more waits")
	if s.field("hit4.x") != "" {
		t.Fatal("the second arrival went ahead")
	}
	s.Enter()
	if len(s.saved) != n+2 || s.field("hit4.x") != "-290.532" || s.field("hit4.y") != "-166.491" {
		t.Fatalf("%d saved; %q %q", len(s.saved)-n, s.field("hit4.x"), s.field("hit4.y"))
	}
	s.Press("*").Sees("something happened")
	s.arrives("axes", "X-1 Y-2").Press("esc").Sees("Arrived from the axes feed", "1 more waits")
}

// Each is held against its window: one outside is asked about alone, and nothing is taken before.
func TestArrivedOutside(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	n := len(s.saved)
	s.arrives("axes", "X-288.739 Y-52.809").Enter()
	if len(s.saved) != n {
		t.Fatalf("saved %+v", s.saved[n:])
	}
	s.Sees("Outside what is expected").Press("/")
	if len(s.saved) != n || s.field("hit3.y") != "-52.809" {
		t.Fatalf("saved %+v", s.saved[n:])
	}
	// In inches where the card says mm: outside too, and the slip has its name.
	s.arrives("axes", "X-11.3677 Y-6.4334").Sees("1 more waits")
}

// A field that is typed in is never overwritten, and what came for it goes into no other.
func TestArrivalLeavesTypingAlone(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	n := len(s.saved)
	s.Type("-288.7").arrives("axes", "X-288.739 Y-163.409").Sees("not kept", "typed in")
	if s.field("hit3.x") != "-288.7" || s.field("hit3.y") != "" {
		t.Fatalf("%q %q", s.field("hit3.x"), s.field("hit3.y"))
	}
	s.Type("39").Enter()
	if len(s.saved) != n+1 || s.field("hit3.y") != "" || s.saved[n].By != "keyed" {
		t.Fatalf("saved %+v", s.saved[n:])
	}
	// The rest of the form may arrive; what was taken by hand stays as it is.
	s.arrives("axes", "X-288.700 Y-163.409").Enter()
	if len(s.saved) != n+2 || s.saved[n+1].Value != "-163.409" {
		t.Fatalf("saved %+v", s.saved[n:])
	}
	// Corrected by hand it is the person's.
	s.arrives("axes", "X-290.532 Y-166.491").Press("backspace").Type("3").Enter()
	if len(s.saved) != n+3 || s.saved[n+2].Value != "-290.533" || s.saved[n+2].By != "keyed" {
		t.Fatalf("saved %+v", s.saved[n+2:])
	}
}

// What belongs to nothing that is read here is said and not kept.
func TestArrivalsThatBelongToNothing(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	for _, c := range []struct{ from, line, why string }{
		{"dial", "0.012", "the dial is not read here"},
		{"axes", "Z-40.0", "no axis of it is read here"},
		{"axes", "-288.739 -163.409 -40.000", "name its columns"},
		{"axes", "-288.739", "name its columns"},
		{"axes", "off", "not understood"},
		{"axes", "X99999999 Y1", "not kept"},
	} {
		s.arrives(c.from, c.line).Sees(c.why)
		if s.field("hit3.x") != "" || s.field("hit3.y") != "" {
			t.Fatalf("%+v: %q %q", c, s.field("hit3.x"), s.field("hit3.y"))
		}
	}
	s = atMachine(t, "square", "low")
	s.arrives("axes", "X-288.739 Y-163.409").Sees("not kept").arrives("dial", "+0.012")
	if s.field("low") != "0.012" && s.field("low") != "+0.012" {
		t.Fatalf("%q", s.field("low"))
	}
	// Before the act is done it waits for nobody.
	s = practice(t, lid(t, "T"), 80, 24).at("bore", "hit3.x")
	s.o.Bench = nil
	s.restart().arrives("axes", "X-1 Y-1").Press("1").Plus()
	if s.field("hit3.x") != "" {
		t.Error("what came while something else was asked was kept")
	}
}

// A flood is no reading: none of it is kept, typing goes on, and it is heard again when it is still.
func TestFlood(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	n := len(s.saved)
	var lines []string
	for i := range 200 {
		lines = append(lines, fmt.Sprintf("X-274.%03d Y-163.409", i))
	}
	s.arrives("axes", lines...).Sees("FEED axes", "none of them is kept")
	s.arrives("axes", "X-1 Y-1").Sees("FEED axes")
	if s.field("hit3.x") != "" || len(s.m.feed.waiting) != 0 || len(s.saved) != n {
		t.Fatalf("%q, %d wait", s.field("hit3.x"), len(s.m.feed.waiting))
	}
	s.Type("-288.739").Enter()
	if len(s.saved) != n+1 {
		t.Fatal("typing did not go on")
	}
	s.now = s.now.Add(3 * time.Second)
	s.arrives("axes", "X-288.739 Y-163.409").Misses("FEED axes")
	if s.field("hit3.y") != "-163.409" {
		t.Errorf("%q", s.field("hit3.y"))
	}
	// An instrument that sends all the time is no flood: its newest stands there.
	s = atMachine(t, "square", "low")
	var msg arrivedMsg
	for i := range 100 {
		msg = append(msg, Arrival{From: "dial", Newest: true, Numbers: []sent.Number{{Text: fmt.Sprintf("0.%03d", i)}}})
	}
	s.send(msg)
	s.Misses("FEED").Sees("Arrived from the dial feed")
	if s.field("low") != "0.099" {
		t.Errorf("%q", s.field("low"))
	}
}

// A feed that is gone stands on the screen, and typing goes on.
func TestFeedGone(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	n := len(s.saved)
	s.send(arrivedMsg{{From: "axes", Gone: "/dev/ttyUSB0 was unplugged"}})
	s.Sees("FEED axes: /dev/ttyUSB0 was unplugged", "Type the readings meanwhile").Type("-288.739").Enter().Sees("FEED axes")
	if len(s.saved) != n+1 {
		t.Fatal("typing did not go on")
	}
	s.send(arrivedMsg{{From: "axes", Back: true}})
	s.Misses("FEED").Sees("the axes feed is there again")
}

// The last digits alone: shown in full before they count, taken in full, refused where two
// numbers are as near or nothing is predicted.
func TestLastDigits(t *testing.T) {
	t.Parallel()
	s := atMachine(t, "bore", "hit3.x")
	a, _ := s.m.st.Ask("hit3.x")
	if a.Window == nil {
		t.Fatal("no prediction")
	}
	want := s.m.o.Plan.Num(a.Window.Want)
	n := len(s.saved)
	full := want[:len(want)-1] + "5" // any reading near what is expected
	s.Type(".."+full[len(full)-2:]).Sees("that is "+full, "nearest that ends so")
	if len(s.saved) != n {
		t.Fatal("taken before Enter")
	}
	s.Enter()
	if len(s.saved) != n+1 || s.saved[n].Value != full || s.saved[n].By != "keyed" {
		t.Fatalf("saved %+v, want %s", s.saved[n:], full)
	}
	s = atMachine(t, "bore", "hit1.x")
	n = len(s.saved)
	s.Type("..12").Enter().Sees("too rough")
	if len(s.saved) != n {
		t.Fatalf("saved %+v", s.saved[n:])
	}
}
