package tui

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"

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
	for range 1500 {
		if ok() {
			return s
		}
		s.next()
	}
	s.t.Fatalf("the walk does not get there:\n%s", s.View())
	return s
}

// at walks a practice to where a step asks for a field; "" means its first.
func (s *screen) at(step steps.StepID, field string) *screen {
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
		s.Plus()
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
	case steps.Choice:
		for i, o := range a.Options {
			if o == v {
				s.Press(itoa(i + 1))
			}
		}
		s.Plus()
	case steps.Reading:
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
		if e.Read != "" && e.By != "keyed" {
			t.Errorf("%s is said to be %s", e.Read, e.By)
		}
	}
	// What is on the disk is all there is: the same state comes back.
	got, want := steps.Fold(p, s.saved), s.state()
	if got.N != want.N || got.Released != want.Released || got.Cursor.Step != want.Cursor.Step {
		t.Errorf("the record gives %+v", got.Cursor)
	}
}

func TestAReadingIsTakenOnceItIsWritten(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	n := len(s.saved)
	s.broken = errors.New("the disk is full; free some and press Enter again")
	s.Type("-268.3").Enter().Sees("NOT WRITTEN: the disk is full", "-268.3")
	if len(s.saved) != n || s.m.focus().Text != "-268.3" || len(s.m.taken()) > 1 {
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
	// A + right after the page came is no answer.
	s.Plus().Sees("number engraved")
	if len(s.saved) != n+2 { // the round and the answer
		t.Errorf("%+v", s.saved[n:])
	}
	s.Type("FX-3")
	s.m.shownAt = s.now.Add(400 * time.Millisecond)
	s.Plus()
	if len(s.saved) != n+2 {
		t.Error("a + that was pressed before the page could be read counted")
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
	s.Enter().Plus()
	if len(s.saved) != n+1 || s.saved[n].Value != bad {
		t.Errorf("not taken as it is: %+v", s.saved[n:])
	}
}

func TestReadBackIsBlind(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("offset", "x")
	w := s.m.top().(*walkPage)
	for _, q := range w.fields {
		if a, _ := s.m.st.Ask(q); a.Blind {
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
		if a.Kind == steps.Choice {
			s.Plus().Plus()
			continue
		}
		s.Type(v).Plus()
	}
	s.Sees("[X] FAIL", "the wrong sign", "This can't be waived", "now read again")
	s.Press("f7").Sees("can't be waived")
}

func TestRedoOneHitByKeypad(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit4.x")
	before, _ := s.state().Steps[3].Round.Get("hit2.y")
	n := len(s.saved)
	s.Press("*", "0", "1", "enter").Sees("TAKE ONE AGAIN", "bore hit 2 at 60 deg, Y")
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
	s.Sees("tilt of the pocket floor", "The floor leans", "> 1 done: now", "waive")
	for _, c := range s.m.top().(*verdictPage).choices {
		if !strings.HasPrefix(c.words, "waive") {
			s.Press("down")
		} else {
			break
		}
	}
	s.Plus().Sees("WAIVE:", "Why?").Plus().Sees("a waiver wants a reason")
	s.Press("3").Plus()
	if s.on() != "verdictPage" || len(s.state().Waivers) != 1 {
		t.Fatalf("not waived:\n%s", s.View())
	}
	s.Sees("{w} WAIVED", "WAIVED, in force: floor.tilt at "+s.state().Waivers[0].Number+", practice or scrap part")
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
			shown = c.Shown()
		}
	}
	s.Press("f7", "1", "enter").Sees("hard one", shown)
	s.Type("0.5").Plus().Sees("type it as shown")
	s.Press("backspace", "backspace", "backspace").Type(shown).Plus().Sees("Why?")
	s.Press("5").Plus().Type("it is only a lid").Plus()
	if w := s.state().Waivers; len(w) != 1 || w[0].Number != shown || w[0].Reason != "it is only a lid" {
		t.Fatalf("%+v\n%s", w, s.View())
	}
	s.Sees("WAIVED, in force: offset.register at " + shown + ", it is only a lid")
}

func TestMishapShowsWhatFellAndTheWayBack(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("floor", "z3")
	s.Press("*").Sees("SOMETHING HAPPENED", "fixture tapped")
	s.Press("1", "enter").Sees("CAUTION", "part out first", "yes, it happened")
	s.Plus().Sees("type the number of a line first")
	s.Press("1").Plus().Sees("WHAT IT COST", "VOID", "fixture tapped", "12:", "The way back:", "reading")
	s.Plus()
	if s.state().Cursor.Step != "square" {
		t.Errorf("goes on at %s", s.state().Cursor.Step)
	}
	for range 20 { // the warning stands on every page
		s.Sees("VOID", "The way back:")
		s.next()
	}
	s.until(func() bool { return s.state().Released })
}

func TestWhichToolIsAsked(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("drill", "depth")
	s.Press("*", "4", "enter").Sees("TOOL PULLED", "Which tool?", "tool 3, flat 3.175", "tool 5, drill 2.4")
	s.Press("2").Plus()
	if e := s.saved[len(s.saved)-1]; e.Mishap != "side2/tool-pulled" || e.Value != "5" {
		t.Errorf("%+v", e)
	}
}

func TestGoingOnAfterAKill(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.now = s.now.Add(14 * time.Minute)
	s.restart().Sees("GOING ON", "Stopped at: locating bore, reading 4 of 13, 14 minutes ago", "What did the machine do meanwhile?")
	s.Misses("More than an hour")
	s.Plus().Sees("type the number of a line first")
	s.Press("2").Plus().Sees("do not home first", "Is a tool in the part?")
	s.Press("1").Plus().Sees("WHAT IT COST")
	if e := s.saved[len(s.saved)-1]; e.Mishap != "side2/power-lost" {
		t.Errorf("%+v", e)
	}
	s.now = s.now.Add(2 * time.Hour)
	s.restart().Sees("More than an hour", "2 hours ago")
	s.Press("1").Plus()
	if s.on() != "walkPage" {
		t.Errorf("on %s", s.on())
	}
}

func TestIdlePage(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.Type("-26").Wait(2 * time.Minute).Misses("WHERE YOU WERE")
	s.Wait(2*time.Minute).Sees("WHERE YOU WERE", "done", "bore hit 1 at 0 deg, Y", "next", "bore hit 2", "Look again:")
	n := len(s.saved)
	s.Enter()
	s.Plus().Misses("WHERE YOU WERE")
	if s.m.focus().Text != "-26" || len(s.saved) != n {
		t.Errorf("what was typed is gone: %+v", s.m.focus())
	}
	// Silent while a step says hands away.
	s.Press("backspace", "backspace", "backspace").at("drill", "depth").Wait(20 * time.Minute).Misses("WHERE YOU WERE")
}

func TestABlockOfHits(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	ss, _ := s.m.st.Step("bore")
	var rows []string
	for i := 1; i <= 6; i++ {
		var xy [2]string
		for _, a := range ss.Asks {
			for k, ax := range []string{"x", "y"} {
				if a.Field == fmt.Sprintf("hit%d.%s", i, ax) {
					xy[k], _ = s.world.Offer(a)
				}
			}
		}
		rows = append(rows, "X"+xy[0]+"\tY"+xy[1])
	}
	n := len(s.saved)
	s.Paste(strings.Join(rows, "\r\n")).Sees("A BLOCK OF READINGS", "12 numbers", "bore hit 6 at 300 deg, Y", "+ takes them all")
	if len(s.saved) != n {
		t.Fatal("it counts before it was answered")
	}
	s.Enter().Plus()
	if len(s.saved) != n+12 || s.saved[n].By != "pasted" {
		t.Fatalf("%d events more", len(s.saved)-n)
	}
	s.Sees("(=) PASS")

	s = practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Paste(strings.Join(append(rows, rows...), "\n")).Sees("which are meant can't be known")
	n = len(s.saved)
	s.Plus().Sees("It can't be taken").Press("esc")
	if len(s.saved) != n || s.on() != "walkPage" {
		t.Error("taken, or not closed")
	}
}

// TestRowsTyped: rows typed, or pasted into a terminal that does not say so, collect
// into the same table.
func TestRowsTyped(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit5.x")
	n := len(s.saved)
	s.Type("-274.5 -158.03").Enter().Sees("A BLOCK OF READINGS", "2 numbers for 4 readings", "next row")
	// The second row comes at once, as a paste brings it.
	for _, k := range []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune("X-271.5 Y-158.03")}, {Type: tea.KeyEnter}} {
		s.send(k)
	}
	s.Sees("4 numbers", "+ takes them all", "bore hit 6 at 300 deg, Y")
	if len(s.saved) != n {
		t.Fatal("it counts already")
	}
	s.Plus()
	if len(s.saved) != n+4 || s.saved[n+3].Value != "-158.03" {
		t.Errorf("%+v", s.saved[n:])
	}
	s = practice(t, lid(t, "T"), 80, 24).at("bore", "hit5.x")
	s.Type("-274.5 -158.03").Enter().Enter().Sees("the rest is asked afterwards").Plus().Sees("bore hit 6 at 300 deg, X")
}

func TestDisobeying(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24)
	var skews []float64
	for len(skews) < 3 {
		s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && !v.passed && v.step == "square" })
		ss, _ := s.m.st.Step("square")
		skews = append(skews, ss.Outcome.Lines[0].Value)
		if len(skews) == 1 {
			s.Press("3").Plus() // a new round, and nothing was tapped
		} else {
			s.Plus()
			break
		}
	}
	s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && v.step == "square" })
	ss, _ := s.m.st.Step("square")
	skews = append(skews, ss.Outcome.Lines[0].Value)
	a, b, c := math.Abs(skews[0]), math.Abs(skews[1]), math.Abs(skews[2])
	if math.Abs(a-b) > 0.1*a || c > a/2 {
		t.Errorf("skew %v: untouched it should stay, tapped it should shrink", skews)
	}
}

func TestLeavingAsks(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "")
	s.Press("ctrl+c").Sees("LEAVE", "not released").Plus()
	if s.quit {
		t.Fatal("left at the first +")
	}
	s.Press("ctrl+c", "2").Plus()
	if !s.quit {
		t.Error("did not leave")
	}
}

func TestHelpSaysWhyNot(t *testing.T) {
	s := begin(t, lid(t, "T"), 120, 50)
	s.Press("?").Sees("KEYS", "takes one reading again", "not now: nothing was read in this round yet", "only in practice", "numeric keypad")
	s.Press("esc", "g").Sees("WORDS", "NOT PROVEN").Press("/")
	if s.on() != "walkPage" {
		t.Error("not closed")
	}
}

func TestAStepIsReadAgain(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("floor", "z2")
	s.Press("/").Sees("THE STEPS SO FAR", "PASS locating bore")
	s.Enter().Sees("LOCATING BORE", "PASS", "1 or F4 reads this step again").Press("pgdown", "pgdown", "pgdown").Sees("bore hit 1")
	s.Press("1").Sees("READ AGAIN", "What rests on its results falls").Plus()
	n := len(s.saved)
	s.Press("1", "2").Plus()
	if len(s.saved) != n+1 || s.saved[n].Round != "side2/bore/2" {
		t.Fatalf("%+v\n%s", s.saved[n:], s.View())
	}
}

func TestSuperseded(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x").Press("up")
	s.at("bore", "hit2.y")
	s.Press("up").Sees("before")
}

func TestFarView(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.Press("f2").Type("-268.3").Misses("mount fixture").Sees("bore hit 2")
	if strings.Count(s.View(), "██") < 20 {
		t.Errorf("no big number:\n%s", s.View())
	}
	s.Press("esc").Sees("bore hit 2")
	if !strings.Contains(s.View(), "mount fixture") {
		t.Error("Esc did not close it")
	}
}

func TestBurstOnAQuestionIsRefused(t *testing.T) {
	s := begin(t, lid(t, "T"), 80, 24)
	n := len(s.saved)
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("+12.345")})
	s.Sees("a burst of keys was refused")
	if len(s.saved) != n {
		t.Error("an instrument answered")
	}
}

func TestFaultInTheRecordStands(t *testing.T) {
	s := begin(t, lid(t, "T"), 80, 24, jobs.Event{Read: "side2/bore/1/hit1.x", Value: "1", At: noon})
	s.Sees("RECORD event 2", "was never opened")
}

// TestNoStepIsKnown: no string of this package is the id of a step.
func TestNoStepIsKnown(t *testing.T) {
	ids := map[string]bool{}
	for _, hold := range []string{"T", "M", "S"} {
		p := lid(t, hold)
		for _, sp := range append(append([]*steps.Spec{}, p.Line...), p.Off...) {
			ids[string(sp.ID)] = true
		}
	}
	files, _ := filepath.Glob("*.go")
	fs := token.NewFileSet()
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(fs, f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				if v, err := strconv.Unquote(l.Value); err == nil && ids[v] {
					t.Errorf("%s: %s is the id of a step", fs.Position(l.Pos()), l.Value)
				}
			}
			return true
		})
	}
	if len(ids) < 20 {
		t.Errorf("only %d ids", len(ids))
	}
}

func TestANoteIsWritten(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.Press("*", "0").Sees("write a note")
	for s.m.top().(*listPage).items[max(s.m.top().(*listPage).mark, 0)].words != "write a note into the record" {
		s.Press("down")
	}
	s.Enter().Type("chatter at FAR").Plus()
	if e := s.saved[len(s.saved)-1]; e.Note != "chatter at FAR" || s.on() != "walkPage" {
		t.Errorf("%+v on %s", e, s.on())
	}
}

// TestKnownJob: act and reading stand on one page, the why is gone, and what is read
// back blind still never stands beside what is to be keyed in.
func TestKnownJob(t *testing.T) {
	t.Parallel()
	p := lid(t, "T")
	p.Job.Pace = "known job"
	s := practice(t, p, 80, 24)
	s.Sees("Stone and wipe the table", "the fixture's arrow points").Misses("spoils everything after it").golden("80x24-known-job")
	s.until(func() bool { return s.state().Cursor.Step == "offset" && s.state().Cursor.Field == "x" })
	if !s.m.top().(*walkPage).doing(s.m) {
		t.Fatalf("keying in and reading back are one page:\n%s", s.View())
	}
	s.Plus().Misses("Key into")
}

// TestTooSmallTakesNothing: what can't be read can't be answered.
func TestTooSmallTakesNothing(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24)
	s.w, s.h = 60, 20
	s.send(tea.WindowSizeMsg{Width: 60, Height: 20})
	n := len(s.saved)
	s.Plus().Plus().Plus().Plus().Sees("This window is 60 x 20")
	if len(s.saved) != n {
		t.Error("something was answered unseen")
	}
	s.Press("ctrl+c")
	if !s.quit {
		t.Error("Ctrl-C does not leave")
	}
}

// TestADiskThatNeverAnswers: Ctrl-C asks once, then leaves.
func TestADiskThatNeverAnswers(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Type("-268.3")
	s.now = s.now.Add(time.Second)
	if _, cmd := s.m.Update(keyNamed["enter"]); cmd == nil || !s.m.writing {
		t.Fatal("not writing")
	}
	s.Press("ctrl+c").Sees("the disk has not answered yet")
	if s.quit {
		t.Fatal("left at the first")
	}
	if s.Press("ctrl+c"); !s.quit {
		t.Error("did not leave")
	}
}

// TestTheMarkIsInSight: however much stands above it, the line that + would choose is shown.
func TestTheMarkIsInSight(t *testing.T) {
	p := lid(t, "T")
	p.Job.Limits = map[string]unit.Length{"bore.size": 1e-7, "floor.tilt": 1e-7, "floor.form": 1e-7}
	s := practice(t, p, 80, 24)
	for _, at := range []steps.StepID{"bore", "floor"} {
		s.until(func() bool { return s.state().Cursor.Step == at && s.state().Cursor.Decide })
		if at == "floor" {
			s.declare("temperature-moved")
			s.declare("program-reposted")
			s.until(func() bool { return s.state().Cursor.Step == at && s.state().Cursor.Decide })
		}
		for range s.m.top().(*verdictPage).choices {
			s.Press("down")
		}
		v := s.m.top().(*verdictPage)
		for i, c := range v.choices {
			if strings.HasPrefix(c.words, "waive") {
				v.mark = i
			}
		}
		s.Plus().Press("1").Plus()
		if at == "bore" && len(s.state().Waivers) == 0 {
			t.Fatalf("not waived:\n%s", s.View())
		}
	}
}
