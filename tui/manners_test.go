package tui

import (
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
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

func TestMishapShowsWhatFellAndTheWayBack(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("floor", "z3")
	s.Press("*").Sees("SOMETHING HAPPENED", "fixture tapped")
	s.Press(s.numbered("fixture-tapped"), "enter").Sees("CAUTION", "part out first", "yes, it happened")
	s.Plus().Sees("type the number of a line first")
	s.Press("1").Plus().Sees("WHAT IT COST", "VOID", "fixture tapped", "12:", "The way back:", "reading")
	s.Plus()
	if s.state().Cursor.Step != "square" {
		t.Errorf("goes on at %s", s.state().Cursor.Step)
	}
	for range 20 { // the warning stands on every page
		s.Sees("VOID", "way back:")
		s.next()
	}
	s.until(func() bool { return s.state().Released })
}

func TestWhichToolIsAsked(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("drill", "depth")
	s.Press("*", s.numbered("tool-pulled"), "enter").Sees("TOOL PULLED", "Which tool?", "tool 3, flat 4", "tool 5, drill 2.9")
	s.Press("2").Plus()
	if e := s.saved[len(s.saved)-1]; e.Mishap != "side2/tool-pulled" || e.Value != "5" {
		t.Errorf("%+v", e)
	}
}

func TestWhatHoldsForTheWholeWalkComesFirst(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.o.First = "The bench is gone. Type readings of your own."
	s.restart().Sees("BEFORE YOU GO ON", "The bench is gone. Type readings", "> 1 go on", "2 leave").Misses("GOING ON")
	s.Plus().Sees("GOING ON", "Stopped at:")
	s.restart().Press("2").Plus()
	if !s.quit {
		t.Error("leave does not leave")
	}
}

func TestGoingOnAfterAKill(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.now = s.now.Add(14 * time.Minute)
	s.restart().Sees("GOING ON", "Stopped at: locating bore, reading ", " of ", ", 14 minutes ago", "What did the machine do meanwhile?")
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
	s.Wait(2*time.Minute).Sees("WHERE YOU WERE", "done", "bore hit 1 at ", "next", "bore hit 2", "Look again:")
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
	s.Paste(strings.Join(rows, "\r\n")).Sees("A BLOCK OF READINGS", "12 numbers", "bore hit 6 at ", "+ takes them all")
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
	s.Sees("4 numbers", "+ takes them all", "bore hit 6 at ")
	if len(s.saved) != n {
		t.Fatal("it counts already")
	}
	s.Plus()
	if len(s.saved) != n+4 || s.saved[n+3].Value != "-158.03" {
		t.Errorf("%+v", s.saved[n:])
	}
	s = practice(t, lid(t, "T"), 80, 24).at("bore", "hit5.x")
	s.Type("-274.5 -158.03").Enter().Enter().Sees("the rest is asked afterwards").Plus().Sees("bore hit 6 at ")
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

// TestReleasedIsLeftByPlus: a hand or foot that has but + gets out, once the setup is released.
func TestReleasedIsLeftByPlus(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24)
	s.until(func() bool { return s.state().Released })
	if s.Press("ctrl+c").Sees("LEAVE", "> 2 leave").Press("esc"); s.quit {
		t.Fatal("left by Esc")
	}
	s.until(func() bool { return s.state().Cursor.Idle && s.on() == "releasedPage" })
	if s.Plus().Sees("LEAVE", "> 2 leave"); s.quit {
		t.Fatal("left unasked")
	}
	if s.Plus(); !s.quit {
		t.Error("+ does not leave")
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
	s = practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.Type("-26.5").Press("ctrl+c").Sees("LEAVE", "Typed but not taken, and lost by leaving: -26.5", "Ctrl-C once more leaves")
	n := len(s.saved)
	if s.Press("q"); s.quit || len(s.m.over) != 1 {
		t.Error("q on the question leaves, or asks it again")
	}
	if s.Press("ctrl+c"); !s.quit || len(s.saved) != n {
		t.Error("Ctrl-C twice does not leave, or leaves something in the record")
	}
}

func TestHelpSaysWhyNot(t *testing.T) {
	s := begin(t, lid(t, "T"), 120, 50)
	s.Press("?").Sees("THIS PAGE", "The keys", "takes one reading again", "not now: nothing was read in this round yet", "only in practice")
	s.Press("end").Sees("numeric keypad").Press("home").Sees("MOUNT FIXTURE", "to do", "ends it")
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
	s.Press("f2").Type("-268.3").Misses("FIXTURE = =").Sees("bore hit 2")
	if strings.Count(s.View(), "██") < 20 {
		t.Errorf("no big number:\n%s", s.View())
	}
	s.Press("esc").Sees("bore hit 2")
	if !strings.Contains(s.View(), "FIXTURE = =") {
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
		for _, sp := range append(append([]*fold.Spec{}, p.Line...), p.Off...) {
			ids[string(sp.ID)] = true
		}
	}
	files, _ := filepath.Glob("*.go")
	fs := token.NewFileSet()
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") || f == "legs.go" { // until a step says its own leg
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
	s.w, s.h = 50, 20
	s.send(tea.WindowSizeMsg{Width: 50, Height: 20})
	n := len(s.saved)
	s.Plus().Plus().Plus().Plus().Sees("This window is 50 x 20")
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
	for _, at := range []fold.StepID{"bore", "floor"} {
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

// What a release allows is that of the setup in hand: a calibration lets nothing be cut.
func TestReleaseSaysWhatItAllows(t *testing.T) {
	t.Parallel()
	for setup, want := range map[string]string{"side1": "Released means: side1 is done, and side 2 may stand on what was measured here", "side2": "Released means: side 2 may be cut", "tram": "Released means: other setups may rely on what was found here"} {
		p := plan(t, "inch.job.yaml")
		p, err := steps.NewPlan(p.Job, setup, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := begin(t, p, 80, 24)
		s.m.base = &readyPage{}
		s.Sees(want)
		if setup == "tram" {
			s.Misses("may be cut")
		}
	}
}

// A window with a hole in its middle says so: nearer than that is as far out as beyond it.
func TestWindowWithALeast(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24)
	s.until(func() bool {
		w, ok := s.m.top().(*walkPage)
		if !ok || w.doing(s.m) {
			return false
		}
		a, _ := w.ask(s.m)
		return a.Window != nil && a.Window.Least > 0
	})
	a, _ := s.m.top().(*walkPage).ask(s.m)
	s.Sees(asEntered(a.Window.Least, a, s.m.o.Plan.System()) + " to " + asEntered(a.Window.Half, a, s.m.o.Plan.System()) + " away from " + asEntered(a.Window.Want, a, s.m.o.Plan.System())).Misses("±" + asEntered(a.Window.Half, a, s.m.o.Plan.System()))
}

// TestAMishapBeginsWithItsCaution: before it is declared and after, what keeps hands whole is
// the first line; what it would cost is said before the yes, and what it cost is read from
// its top.
func TestAMishapBeginsWithItsCaution(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("drill", "depth")
	first := func() string {
		_, l, _ := strings.Cut(strings.Split(s.View(), "\n")[2+len(s.m.banners())], "│")
		return l
	}
	for i, h := range s.m.o.Plan.Offered() {
		s.Press("*").Type(itoa(i + 1)).Plus() // + opens
		if s.on() != "listPage" || h.Caution == "" {
			t.Fatalf("%s: %s, caution %q", h.ID, s.on(), h.Caution)
		}
		s.Sees("CAUTION").Press("home")
		if v := joined(s.View()); !strings.Contains(v, "void ") && !strings.Contains(v, "nothing more is lost") {
			t.Errorf("%s: what it would cost is not said:\n%s", h.ID, s.View())
		}
		if l := first(); !strings.Contains(l, "CAUTION") && strings.Trim(l, " █▀▄") != "" {
			t.Errorf("%s begins with %q", h.ID, l)
		}
		n := len(s.saved)
		s.Enter().Sees("Enter takes readings and answers nothing")
		if len(s.saved) != n {
			t.Fatal("Enter declared it")
		}
		s.Press("esc", "esc")
	}
	s.Press("*").Type(s.numbered("spindle-crash")).Plus().Sees("E-STOP", "the way back:").Press("1").Plus()
	if l := first(); !strings.Contains(l, "CAUTION") && strings.Trim(l, " █▀▄") != "" {
		t.Errorf("after it the page begins with %q", l)
	}
	s.Sees("E-STOP", "12:0", "below").Press("pgdown", "pgdown", "pgdown").Sees("go on")
	s.Plus()
	if s.on() == "listPage" {
		t.Error("+ does not go on")
	}
}
