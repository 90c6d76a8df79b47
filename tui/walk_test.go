package tui

import (
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// go on: what a person in a practice presses next.
func (s *screen) next() {
	s.t.Helper()
	if s.m.focus().Place == Reads {
		s.Enter()
	} else {
		s.Plus()
	}
}

// until walks a practice until the condition holds.
func (s *screen) until(ok func() bool) *screen {
	s.t.Helper()
	was := s.quiet
	s.quiet = true
	for range 1500 {
		if ok() {
			s.quiet = was
			s.check()
			return s
		}
		s.next()
	}
	s.t.Fatalf("the walk does not get there:\n%s", s.View())
	return s
}

// at walks a practice to where a step asks for a field; "" means its first.
func (s *screen) at(step fold.StepID, field string) *screen {
	s.t.Helper()
	return s.until(func() bool {
		w, ok := s.m.top().(*walkPage)
		if !ok || s.state().Cursor.Step != step || w.doing(s.m) {
			return false
		}
		a, _ := w.ask(s.m)
		return field == "" || a.Field == field
	})
}

func TestPracticeIsWalkedToTheEnd(t *testing.T) {
	t.Parallel()
	for _, hold := range []string{"T", "M", "S"} {
		for _, pace := range []string{"first time", "known job"} {
			if hold == "M" && pace == "known job" {
				continue
			}
			t.Run(hold+" "+pace, func(t *testing.T) {
				p := lid(t, hold)
				p.Job.Pace = pace
				s := practice(t, p, 80, 24)
				ready, keys := false, 0
				for !s.state().Released && keys < 1000 {
					if s.on() == "readyPage" {
						ready = true
						s.Sees("Everything asked for was measured and passes")
					}
					s.next()
					keys++
				}
				if !ready || !s.state().Released {
					t.Fatalf("ready %v, released %v:\n%s", ready, s.state().Released, s.View())
				}
				s.Sees("RELEASED side2 at 12:")
				if !strings.Contains(s.m.Result().Summary, "RELEASED") {
					t.Errorf("summary %q", s.m.Result().Summary)
				}
				t.Logf("%d keys, %d events", keys, len(s.saved))
				s.Plus() // the stop points
				if s.state().Cursor.Idle || s.on() != "walkPage" {
					t.Errorf("no stop points after the release:\n%s", s.View())
				}
			})
		}
	}
}

// hand is a person at a machine without a bench key: acts are done, values typed.
func (s *screen) hand(w *bench.World) {
	s.t.Helper()
	p, ok := s.m.top().(*walkPage)
	if !ok {
		s.Plus()
		return
	}
	if p.far != nil { // looked at again: it is as the machine shows it
		s.Press("2").Plus()
		return
	}
	if p.doing(s.m) {
		for _, a := range p.acts(s.m) {
			if err := w.Do(a); err != nil {
				s.t.Fatal(err)
			}
		}
		s.Plus()
		return
	}
	a, _ := p.ask(s.m)
	v, err := w.Offer(a)
	if err != nil {
		s.t.Fatal(err)
	}
	switch a.Kind {
	case fold.Choice:
		for i, o := range a.Options {
			if o == v {
				s.Press(itoa(i + 1))
			}
		}
		s.Plus()
	case fold.Reading:
		s.Type(v).Enter()
	default:
		s.Type(v).Plus()
	}
}

func TestWalkedByTyping(t *testing.T) {
	t.Parallel()
	p := lid(t, "T")
	s := begin(t, p, 80, 24)
	w := bench.NewWorld(p, 3, bench.Effects{})
	keys := 0
	for !s.state().Released {
		if keys++; keys > 400 {
			t.Fatalf("no end:\n%s", s.View())
		}
		s.hand(w)
	}
	for _, e := range s.saved {
		if e.Read != "" && e.By != "keyed" && e.By != fold.BySelf {
			t.Errorf("%s is said to be %s", e.Read, e.By)
		}
	}
	// What is on the disk is all there is: the same state comes back.
	got, want := fold.Fold(p, s.saved), s.state()
	if got.N != want.N || got.Released != want.Released || got.Cursor.Step != want.Cursor.Step {
		t.Errorf("the record gives %+v", got.Cursor)
	}
}

func TestAReadingIsTakenOnceItIsWritten(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	n, taken := len(s.saved), len(s.m.taken())
	s.broken = errors.New("the disk is full; free some and press Enter again")
	s.Type("-268.3").Enter().Sees("NOT WRITTEN: the disk is full", "-268.3")
	if len(s.saved) != n || s.m.focus().Text != "-268.3" || len(s.m.taken()) != taken {
		t.Fatalf("a reading that was not written counts, or was lost:\n%s", s.View())
	}
	s.Enter().Misses("NOT WRITTEN")
	if len(s.saved) != n+1 || s.saved[n].Value != "-268.3" {
		t.Errorf("saved %+v", s.saved[n:])
	}
}

// TestKeysWaitForTheDisk: what comes while a reading is being written goes to the
// field after it, and one write runs at a time.
func TestKeysWaitForTheDisk(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Type("-268.3")
	s.now = s.now.Add(time.Second)
	_, cmd := s.m.Update(keyNamed["enter"])
	if !s.m.writing || !strings.Contains(s.View(), "writing") {
		t.Fatalf("not writing:\n%s", s.View())
	}
	for _, r := range "-161.5" {
		s.now = s.now.Add(time.Second)
		if _, c := s.m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}); c != nil {
			s.run(c)
		}
	}
	s.run(cmd)
	if f := s.m.focus(); f.Text != "-161.5" {
		t.Errorf("the next field holds %q:\n%s", f.Text, s.View())
	}
}

func TestEnterInAnEmptyField(t *testing.T) {
	p := lid(t, "T")
	s := begin(t, p, 80, 24)
	w := bench.NewWorld(p, 3, bench.Effects{})
	for s.m.focus().Place != Reads {
		s.hand(w)
	}
	n := len(s.saved)
	s.Enter().Sees("the field is empty: nothing was taken")
	if len(s.saved) != n {
		t.Error("something was taken")
	}
	s.Press("b").Sees("only in practice")
}

func TestEnterNeverAnswers(t *testing.T) {
	s := begin(t, lid(t, "T"), 80, 24)
	n := len(s.saved)
	s.Enter().Sees("Enter takes readings and answers nothing")
	s.Plus() // the act is done
	s.Enter().Press("2").Enter()
	if len(s.saved) != n {
		t.Fatal("Enter answered")
	}
	s.Sees("> 2 away")
	s.Plus().Sees("> number engraved")
	s.Type("FX-3").Enter().Plus().Sees("> how warm is the fixture")
	s.Press("2").Enter().Plus().Sees("> on the table it stands")
	s.Press("1").Enter()
	if len(s.saved) != n { // a form counts as a whole
		t.Fatalf("before its last answer: %+v", s.saved[n:])
	}
	// A + right after the page came is no answer.
	s.m.shownAt = s.now.Add(400 * time.Millisecond)
	s.Plus()
	if len(s.saved) != n {
		t.Error("a + that was pressed before the page could be read counted")
	}
	s.Plus()
	if len(s.saved) != n+5 || s.saved[n+1].Value != "away" || s.saved[n+4].Answer != "side2/mount/1/place" { // the round and the answers
		t.Errorf("%+v", s.saved[n:])
	}
}

func TestFarReadingNeedsADeliberateYes(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit3.x")
	w := s.m.top().(*walkPage)
	a, _ := w.ask(s.m)
	good, _ := s.world.Offer(a)
	bad := strings.Replace(good, ".", "", 1)
	bad = bad[:len(bad)-2] + "." + bad[len(bad)-2:] // the point one place too far right
	n := len(s.saved)
	s.Type(bad).Enter().Sees("Outside what is expected", "the decimal point one place too far right")
	s.Enter().Enter()
	if len(s.saved) != n {
		t.Fatal("Enter took it")
	}
	s.Press("/")
	if f := s.m.focus(); f.Place != Reads || f.Text != bad {
		t.Fatalf("what was typed is gone: %+v", f)
	}
	s.Enter().Press("2").Plus()
	if len(s.saved) != n+1 || s.saved[n].Value != bad {
		t.Errorf("not taken as it is: %+v", s.saved[n:])
	}
}

// The marked line is to read again; read twice the same, it is to keep it. A correction is taken by its own line
// alone, and what was typed stands in the record before it.
func TestDoubtfulReadingIsAQuestion(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit3.x")
	a, _ := s.m.top().(*walkPage).ask(s.m)
	good, _ := s.world.Offer(a)
	bad := strings.Replace(good, ".", "", 1)
	bad = bad[:len(bad)-2] + "." + bad[len(bad)-2:]
	n := len(s.saved)
	if s.Type(bad).Enter().Sees("> 1  read it again").Plus(); len(s.saved) != n || s.m.focus().Text != "" {
		t.Fatalf("%d events, %q in the field", len(s.saved)-n, s.m.focus().Text)
	}
	s.Type(bad).Enter().Sees("> 2  keep", "it was read twice")
	s.Press("3").Enter()
	if len(s.saved) != n {
		t.Fatal("Enter took a correction")
	}
	s.Sees("> 3  take " + good).Plus()
	if len(s.saved) != n+2 || s.saved[n].Value != bad || s.saved[n+1].Value != good || s.saved[n].Read != s.saved[n+1].Read {
		t.Errorf("recorded: %+v", s.saved[n:])
	}
}

func TestReadBackIsBlind(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("offset", "x")
	w := s.m.top().(*walkPage)
	for _, q := range w.fields {
		if a, _ := s.m.st.Ask(q); a.Blind && a.Window != nil {
			want := strconv.FormatFloat(a.Window.Want, 'f', 3, 64)
			for _, size := range [][2]int{{80, 24}, {200, 60}} {
				s.m.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				if strings.Contains(s.View(), strings.TrimPrefix(want, "-")) {
					t.Errorf("%s is shown before it is read back:\n%s", want, s.View())
				}
			}
			s.m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
		}
	}
	// A slip is named, and can't be waived.
	for i, q := range w.fields {
		a, _ := s.m.st.Ask(q)
		v, err := s.world.Offer(a)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			v = strings.TrimPrefix(v, "-") // the sign is lost
		}
		if a.Kind == fold.Choice {
			s.Plus().Plus()
			continue
		}
		s.Type(v).Plus()
	}
	s.Sees("[!] FAIL", "the wrong sign", "This can't be waived", "read again")
	s.Press("f7").Sees("can't be waived")
}

func TestRedoOneHitByKeypad(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit4.x")
	before, _ := s.state().Steps[3].Round.Get("hit2.y")
	n := len(s.saved)
	a, _ := s.m.st.Ask("hit2.y")
	label := a.Label
	s.Press("*", "0", "1", "enter").Sees("TAKE ONE AGAIN", label)
	s.Press("3", "enter").Sees("Take this again", "before "+before.Value)
	s.Type(before.Value).Press("backspace").Type("9").Enter()
	if len(s.saved) != n+1 || !strings.HasSuffix(s.saved[n].Read, "bore/1/hit2.y") {
		t.Fatalf("%+v", s.saved[n:])
	}
	s.Sees("bore hit 4") // and on with the walk
	s.Press("f4").Sees("instead of " + before.Value)
	s.Press("esc", "u").Sees("Take this again").Press("esc").Sees("bore hit 4")
}

func TestSoftWaiver(t *testing.T) {
	p := lid(t, "T")
	p.Job.Limits = map[string]unit.Length{"floor.tilt": 1e-7}
	s := practice(t, p, 80, 24)
	s.until(func() bool { return s.state().Cursor.Step == "floor" && s.state().Cursor.Decide })
	s.Sees("tilt of the pocket floor", "The floor leans", "> 1 done:", "waive")
	for _, c := range s.m.top().(*verdictPage).choices {
		if !strings.HasPrefix(c.words, "waive") {
			s.Press("down")
		} else {
			break
		}
	}
	s.Plus().Sees("WAIVE:", "measured", "limit", "soft: a reason", "WHAT IT COSTS", "Why?").Plus().Sees("a waiver wants a reason")
	s.Press("3").Plus()
	if s.on() != "verdictPage" || len(s.state().Waivers) != 1 {
		t.Fatalf("not waived:\n%s", s.View())
	}
	s.Sees("{w} WAIVED", "WAIVED, in force: tilt of the pocket floor", s.state().Waivers[0].Number, "Reason: practice or scrap part").Misses("floor.tilt")
	s.Plus().Sees("WAIVED, in force")
}

func TestHardWaiverWantsTheNumber(t *testing.T) {
	t.Parallel()
	p := lid(t, "T")
	p.Job.Limits = map[string]unit.Length{"offset.register": 0.0001}
	s := practice(t, p, 80, 24)
	s.until(func() bool { return s.state().Cursor.Step == "offset" && s.state().Cursor.Decide })
	var shown string
	ss, _ := s.m.st.Step("offset")
	for _, c := range ss.Outcome.Checks {
		if c.Limit.ID == "offset.register" {
			shown = accepted(c)
		}
	}
	s.Press("f7", "1", "enter").Sees("hard one", shown)
	s.Type("0.5").Plus().Sees("type it as shown")
	s.Press("backspace", "backspace", "backspace").Type(shown).Plus().Sees("Why?")
	s.Press("5").Plus().Type("it is only a lid").Plus()
	if w := s.state().Waivers; len(w) != 1 || w[0].Number != shown || w[0].Reason != "it is only a lid" {
		t.Fatalf("%+v\n%s", w, s.View())
	}
	s.Sees("WAIVED, in force: error at the worst feature", shown, "Reason: it is only a lid").Misses("offset.register")
}

// tall says that a number stands on the screen in big figures.
func (s *screen) tall(n string) bool {
	for _, tall := range talls {
		at := 0
		for _, l := range strings.Split(s.View(), "\n") {
			if at < tall && strings.Contains(l, strings.TrimSpace(Big(n, tall, false)[at])) {
				at++
			}
		}
		if at == tall {
			return true
		}
	}
	return false
}

// TestTheOffsetIsSeenTogether on the smallest screen, though the page is longer than that.
func TestTheOffsetIsSeenTogether(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24)
	s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && v.passed && v.step == "offset" })
	s.Sees("NEXT Feed hold in hand") // before the offset is first moved by
	ss, _ := s.m.st.Step("offset")
	n := 0
	for _, r := range ss.Outcome.Lines {
		if r.Big {
			n++
			if s.Sees(r.Label); !s.tall(number(r, s.m.o.Plan.System())) {
				t.Errorf("%s is not seen:\n%s", r.Label, s.View())
			}
		}
	}
	if n != 3 {
		t.Errorf("%d numbers matter, want X, Y and Z", n)
	}
}

// TestNumbersForTheControlAreTall: what is carried to the control is read from where it is
// keyed in, on the smallest screen; once it is read back, it is nowhere on the page.
func TestNumbersForTheControlAreTall(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{80, 24}, {120, 36}, {200, 60}} {
		s := practice(t, lid(t, "T"), size[0], size[1])
		keying := func() bool {
			w, ok := s.m.top().(*walkPage)
			return ok && w.doing(s.m) && w.blind(s.m)
		}
		s.until(keying)
		var want []string
		for _, f := range s.m.top().(*walkPage).fields {
			a, _ := s.m.st.Ask(f)
			if a.Kind == fold.Echo && a.What.Axis != "" {
				want = append(want, asEntered(a.Window.Want, a, unit.Metric))
			}
		}
		if len(want) != 3 {
			t.Fatalf("%d numbers to key in", len(want))
		}
		for _, n := range want {
			if !s.tall(n) {
				t.Errorf("%v: %s is not tall:\n%s", size, n, s.View())
			}
		}
		s.Sees("Key into G54", "Done?").Plus()
		for _, n := range want {
			s.Misses(n)
			if s.tall(n) {
				t.Errorf("%v: %s stands beside its read-back:\n%s", size, n, s.View())
			}
		}
	}
}

// TestAFailedRecheckIsSeen: whatever a recheck comes to, its page with the fact that fails
// and the next act stands before any page of another step.
func TestAFailedRecheckIsSeen(t *testing.T) {
	t.Parallel()
	failed := 0
	for _, mishap := range []fold.MishapID{"part-bumped", "clamp-moved", "rehomed", "temperature-moved"} {
		s := practice(t, lid(t, "T"), 80, 24).at("drill", "depth")
		s.Press("*").Type(s.numbered(mishap)).Plus().Press("1").Plus()
		for range 200 {
			s.next()
			if st := s.state(); st.Cursor.Decide || s.m.just != "" || s.on() != "walkPage" {
				break
			}
			w := s.m.top().(*walkPage)
			step := s.state().Cursor.Step
			ss, _ := s.m.st.Step(step)
			if a, ok := w.ask(s.m); ok && ss.Off && !w.doing(s.m) && w.far == nil && a.Kind == fold.Reading && a.Unit == unit.KLength {
				v, err := s.world.Offer(a)
				if err != nil {
					continue
				}
				x, _ := strconv.ParseFloat(v, 64)
				s.Type(strconv.FormatFloat(x+0.4, 'f', 3, 64)).Enter()
				if w, ok := s.m.top().(*walkPage); ok && w.far != nil {
					s.Press("2").Plus()
				}
			}
			now, _ := s.m.st.Step(step)
			if !ss.Off || now.Round == nil || now.Round.First == 0 || now.Verdict.OK() || now.Verdict == fold.Current || len(now.Outcome.Checks) == 0 {
				continue
			}
			failed++
			p, ok := s.m.top().(*verdictPage)
			if !ok || p.step != step || p.passed {
				t.Fatalf("%s failed and %s is shown:\n%s", step, s.on(), s.View())
			}
			s.Sees("FAIL", "NEXT")
			break
		}
	}
	if failed == 0 {
		t.Error("no recheck failed")
	}
}

// TestNoNumberAloneIsTall: of several numbers that matter all are tall or none is.
func TestNoNumberAloneIsTall(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{80, 24}, {120, 36}, {200, 60}} {
		s := practice(t, lid(t, "T"), size[0], size[1])
		s.until(func() bool { return s.m.just == "offset" })
		tall, rows := 0, 0
		ss, _ := s.m.st.Step("offset")
		for _, r := range ss.Outcome.Lines {
			if !r.Big {
				continue
			}
			rows++
			if s.Sees(r.Label); s.tall(number(r, unit.Metric)) {
				tall++
			}
		}
		if rows < 2 || tall != 0 && tall != rows {
			t.Errorf("%v: %d of %d tall:\n%s", size, tall, rows, s.View())
		}
	}
}
