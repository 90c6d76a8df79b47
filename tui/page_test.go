package tui

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// TestResizedWhileTyping: what is typed outlives every size of the window, in the field, on
// the screen and under the mark; too small a window takes no key.
func TestResizedWhileTyping(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit3.y")
	typed := ""
	for i, z := range [][2]int{{80, 24}, {200, 60}, {60, 20}, {120, 36}, {40, 10}, {61, 57}, {160, 45}, {300, 21}, {80, 24}} {
		s.w, s.h = z[0], z[1]
		s.send(tea.WindowSizeMsg{Width: z[0], Height: z[1]})
		c := string("-152.8091"[i])
		if s.Type(c); z[0] >= MinWidth && z[1] >= MinHeight {
			typed += c
			if !strings.Contains(s.View(), typed+"_") {
				t.Errorf("%v: %s is not on the screen:\n%s", z, typed, s.View())
			}
		}
		if got := s.m.focus().Text; got != typed {
			t.Fatalf("%v: %q of %q", z, got, typed)
		}
	}
	n := len(s.saved)
	s.Press("left", "backspace").Press("home")
	s.w, s.h = 100, 30
	s.send(tea.WindowSizeMsg{Width: 100, Height: 30})
	if e := s.m.top().(*walkPage).text(s.m); e.Cursor() != 0 || len(s.saved) != n {
		t.Errorf("the mark is at %d, %d events", e.Cursor(), len(s.saved)-n)
	}
}

// TestNothingMovesWhileTyping: from the empty field to the last digit text, table and picture
// keep their rows.
func TestNothingMovesWhileTyping(t *testing.T) {
	t.Parallel()
	for _, z := range [][2]int{{80, 24}, {120, 36}, {200, 60}} {
		s := practice(t, lid(t, "T"), z[0], z[1]).at("bore", "hit3.y")
		where := func() (out [3]int) {
			for i, l := range strings.Split(s.View(), "\n") {
				for k, w := range []string{"bore hit 3 at", "> 3 11 o'clock", "TOWARD YOU"} {
					if strings.Contains(l, w) {
						out[k] = i
					}
				}
			}
			return out
		}
		was := where()
		for _, c := range "-152.809" {
			if s.Type(string(c)); where() != was {
				t.Fatalf("%v: rows %v became %v:\n%s", z, was, where(), s.View())
			}
		}
		if s.Enter(); s.m.focus().Text != "" {
			t.Error("not taken")
		}
	}
}

// TestTheTableOfHits has every hit with what was read there, the field in its place and what is
// expected under it, point under point.
func TestTheTableOfHits(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit3.y").Type("-152.8")
	ss, _ := s.m.st.Step("bore")
	for _, f := range []string{"hit1.x", "hit1.y", "hit2.x", "hit2.y", "hit3.x"} {
		v, ok := ss.Round.Get(f)
		if !ok {
			t.Fatalf("%s was not taken", f)
		}
		s.Sees(v.Value)
	}
	s.Sees("1 3 o'clock RIGHT", "2 1 o'clock", "> 3 11 o'clock", "4 9 o'clock LEFT", "5 7 o'clock", "6 5 o'clock")
	point := -1
	for _, l := range strings.Split(s.View(), "\n") {
		if strings.Contains(l, "> 3 11 o'clock") {
			point = strings.LastIndex(l[:strings.Index(l, "152.8_")+4], ".")
		}
		if l = strings.ReplaceAll(l, "±", "~"); strings.HasPrefix(l, "  expected") && l[point] != '.' {
			t.Errorf("the points are not in one column:\n%s", s.View())
		}
	}
	if point < 0 {
		t.Errorf("no field in the table:\n%s", s.View())
	}
}

func TestClock(t *testing.T) {
	for deg, want := range map[float64]string{0: "3 o'clock RIGHT", 60: "1 o'clock", 90: "12 o'clock AWAY", 120: "11 o'clock", 180: "9 o'clock LEFT", 240: "7 o'clock", 270: "6 o'clock TOWARD YOU",
		300: "5 o'clock", -30: "4 o'clock", 45: "45°"} {
		if got := clock(deg); got != want {
			t.Errorf("%v: %q, want %q", deg, got, want)
		}
	}
}

// TestLegsInOrder: every step of the walk has its mark in the rail, in the order of the walk,
// and the leg of the step in hand stands out by its mark.
func TestLegsInOrder(t *testing.T) {
	for hold, want := range map[string]string{"T": "FIXTURE DATUM PART HOLD CUT", "S": "FIXTURE DATUM PART HOLD CUT"} {
		s := practice(t, lid(t, hold), 80, 24)
		var names []string
		var ids []fold.StepID
		for _, l := range s.m.legs() {
			names = append(names, l.name)
			for _, ss := range l.steps {
				ids = append(ids, ss.ID)
			}
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("%s: legs %s, want %s", hold, got, want)
		}
		var walk []fold.StepID
		for _, ss := range s.m.st.Steps {
			if !ss.Off {
				walk = append(walk, ss.ID)
			}
		}
		if !slices.Equal(ids, walk) {
			t.Errorf("%s: %v, want %v", hold, ids, walk)
		}
		if r := s.m.rail(80); strings.Count(r, ">") != 1 || strings.Count(r, "·") != len(ids)-1 {
			t.Errorf("%s: rail %q", hold, r)
		}
	}
}

// TestMachineIsAWord where machine coordinates are read, and nowhere else.
func TestMachineIsAWord(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24)
	s.Misses("MACHINE mm").at("square", "low").Misses("MACHINE mm").at("bore", "hit1.x").Sees("MACHINE mm")
}

// TestTheBarSaysHowManyLimits: word, value, limit and multiple of a step that fails.
func TestTheBarSaysHowManyLimits(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24)
	s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && !v.passed })
	ss, _ := s.m.st.Step("square")
	c := heads(ss.Outcome.Checks)
	r := c.Got / c.Limit.Max
	if r < 10 {
		t.Fatalf("only %v times", r)
	}
	s.Sees("FIXTURE SQUARE [!] FAIL "+c.Shown()+" of", itoa(int(math.Round(r)))+" times the limit")
	if n := strings.Count(s.reads(), c.Shown()); n > 4 { // the bar and the line of the skew, seen twice by this test
		t.Errorf("%s stands %d times on the page:\n%s", c.Shown(), n, s.View())
	}
}

// TestAReadingTakenAgainHasItsOwnWords: not those of the reading after the last.
func TestAReadingTakenAgainHasItsOwnWords(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("drill", "depth")
	gap, _ := s.m.st.Ask("gap")
	depth, _ := s.m.st.Ask("depth")
	s.m.again("gap")
	s.Sees(gap.Label, sayWords(gap.Do)[0]).Misses(sayWords(depth.Do)[0], "left under the point")
}

// TestEscFromAWaiverTakesTheMarkOff it: a + that follows does not open it again.
func TestEscFromAWaiverTakesTheMarkOff(t *testing.T) {
	p := lid(t, "T")
	p.Job.Limits = map[string]unit.Length{"floor.tilt": 1e-7}
	s := practice(t, p, 80, 24)
	s.until(func() bool { return s.state().Cursor.Step == "floor" && s.state().Cursor.Decide })
	v := s.m.top().(*verdictPage)
	for i, c := range v.choices {
		if strings.HasPrefix(c.words, "waive") {
			v.mark = i
		}
	}
	if s.Plus(); s.on() != "waivePage" {
		t.Fatalf("on %s", s.on())
	}
	if s.Press("esc"); v.mark != 0 {
		t.Errorf("the mark is on %q", v.choices[v.mark].words)
	}
}

// TestNoLetterIsAKeyWhereLettersAreTyped, and the foot says so.
func TestNoLetterIsAKeyWhereLettersAreTyped(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit2.x")
	s.m.push(newNote())
	s.Misses("[q]").Type("quiet").Sees("quiet_")
	if s.on() != "notePage" {
		t.Errorf("on %s", s.on())
	}
	s.Press("left", "left", "backspace").Type("ck").Sees("quck|et")
}

// TestFarViewStartsAtTheTop whatever was scrolled to.
func TestFarViewStartsAtTheTop(t *testing.T) {
	s := practice(t, lid(t, "T"), 60, 20).at("screws", "")
	s.m.scroll = 3
	if s.Press("f2"); s.m.scroll != -1 {
		t.Errorf("scrolled to %d", s.m.scroll)
	}
}

// TestSharesOfTheVariance: squares over their sum, lines of one name together, assumed apart.
func TestSharesOfTheVariance(t *testing.T) {
	a, b := budget.N("probe", 3, 0), budget.N("scale", 4, 0)
	b.Assumed = true
	got := sharesOf([]budget.Line{a, b, a})
	if len(got) != 2 || got[0].name != "probe" || got[0].assumed || math.Abs(got[0].of-18.0/34) > 1e-12 || !got[1].assumed || math.Abs(got[1].of-16.0/34) > 1e-12 {
		t.Errorf("%+v", got)
	}
	if sharesOf(nil) != nil {
		t.Error("shares of nothing")
	}
}

// TestReadyShowsItsTargets: the number that is held against the allowance, each feature with
// its error, and bars of what the uncertainty is made of, assumed ones shaded.
func TestReadyShowsItsTargets(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 120, 36)
	s.until(func() bool { return s.on() == "readyPage" })
	w, ok := s.m.worstFeature()
	if !ok || w.within <= 0 || w.within > w.allowed {
		t.Fatalf("%+v", w)
	}
	if n := unit.Format(w.within, unit.KLength, unit.Metric, 0); !s.tall(n) {
		t.Errorf("%s is not tall:\n%s", n, s.View())
	}
	s.Sees("READY", "of 0.050 mm allowed", "dial opening", "case corner", "% ", "measured", "assumed", "▒", "no waiver", "+ releases the setup")
}

// TestFiguresFill: eight lines are eight lines, wider and of the same figure.
func TestFiguresFill(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		ls := Big("8.", 8, ascii)
		if len(ls) != 8 || Width(ls[0]) != bigWidth("8.", 8) || strings.TrimSpace(ls[0]) == "" || strings.TrimSpace(ls[7]) == "" {
			t.Errorf("%q", ls)
		}
		for _, l := range ls {
			if Width(l) != Width(ls[0]) {
				t.Errorf("%q", ls)
			}
		}
	}
	if a, b := Big("152.8", 8, false), Big("152.3", 8, false); slices.Equal(a, b) {
		t.Error("8 and 3 are one figure")
	}
}
