package tui

import (
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// TestBackIsBackEverywhere: / looks at the steps before, on an act's page too; to go on
// without the act is a line of its own, and + answers with it.
func TestBackIsBackEverywhere(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24)
	s.Sees("Done?", "> 1 yes", "2 no: go on without").Press("/").Sees("THE STEPS SO FAR").Press("esc")
	if w := s.m.top().(*walkPage); !w.doing(s.m) {
		t.Fatalf("/ went on without the act:\n%s", s.View())
	}
	s.Press("2").Sees("> 2 no").Enter()
	if w := s.m.top().(*walkPage); !w.doing(s.m) {
		t.Fatal("Enter answered")
	}
	// Where the act has a caution, leaving it out asks once more, caution first.
	if s.m.pg.Caution == "" {
		t.Fatal("mounting has no caution")
	}
	s.Plus().Sees("CAUTION", "SPINDLE STOPPED", "GO ON WITHOUT DOING IT", "> 1 no, go back").Plus()
	if w := s.m.top().(*walkPage); !w.doing(s.m) || w.undone {
		t.Fatal("no went on, or left the mark on it")
	}
	s.Press("2").Plus().Press("2").Enter()
	if s.on() != "listPage" {
		t.Fatal("Enter answered")
	}
	if s.Plus().Sees("not done, and the bench knows it"); s.m.top().(*walkPage).doing(s.m) {
		t.Error("still asked")
	}
	s = practice(t, lid(t, "T"), 80, 24)
	s.m.pg.Caution = "" // an act that has none is asked once
	if s.Press("2").Plus().Sees("not done, and the bench knows it"); s.on() != "walkPage" {
		t.Error("asked again where there is no caution")
	}
	// At a machine there is no bench to hide anything from.
	begin(t, lid(t, "T"), 80, 24).Sees("Done? + yes").Misses("go on without")
}

// TestTheFootNamesTheKeyThatEndsTheEntry in an empty field and in a filled one.
func TestTheFootNamesTheKeyThatEndsTheEntry(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Sees("[Enter] reads the bench").Type("-2").Sees("[Enter] takes it")
	s.o.Bench = nil
	s.restart().Press("1").Plus().Plus() // it stood here untouched; the act is done
	s.Sees("[Enter] takes it, once it is typed")
	s = practice(t, lid(t, "T"), 80, 24)
	s.until(func() bool { f := s.m.focus(); return f.Place == Answers && f.empty() })
	s.Sees("[+] reads the bench").Type("0").Sees("[+] answers")
}

// TestALetterOfAWordIsNoKey: b fills an empty field, and only when it is pressed by itself.
func TestALetterOfAWordIsNoKey(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	s.Type("abc").Sees("not part of an entry here")
	if f := s.m.focus(); f.Text != "" {
		t.Errorf("abc filled in %q", f.Text)
	}
	s.now = s.now.Add(2 * strayFor)
	s.Press("b").Sees("the bench reads")
	was := s.m.focus().Text
	if s.Press("b"); was == "" || s.m.focus().Text == was+was {
		t.Errorf("b in a filled field: %q, %q", was, s.m.focus().Text)
	}
}

// TestAWindowStandsInTheUnitOfItsField: 1000 ±300 mN·m beside a field in N·m is a slip to come.
func TestAWindowStandsInTheUnitOfItsField(t *testing.T) {
	for _, c := range []struct {
		v    float64
		k    unit.Kind
		sys  unit.System
		want string
	}{
		{1000, unit.KTorque, unit.Metric, "1.000"}, {58, unit.KTorque, unit.Metric, "0.058"}, {-1.25, unit.KLength, unit.Metric, "-1.250"},
		{25.4, unit.KLength, unit.Imperial, "1.0000"}, {20, unit.KTemperature, unit.Metric, "20.0"},
	} {
		got := asEntered(c.v, fold.Ask{Unit: c.k}, c.sys)
		n, err := unit.Parse(got, c.k, c.sys)
		if got != c.want || err != nil || n.Value < c.v-1e-9 || n.Value > c.v+1e-9 {
			t.Errorf("%v: %q reads back as %v, %v", c.v, got, n.Value, err)
		}
	}
}

// TestNoMinusZero: what rounds to zero has no sign, whichever unit it is shown in.
func TestNoMinusZero(t *testing.T) {
	for _, k := range unit.Kinds() {
		for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
			tiny := -unit.Step(k, sys) / 1000
			texts := []string{asEntered(tiny, fold.Ask{Unit: k}, sys), shown(fold.Row{Value: tiny, Unit: k, Guard: -tiny}, sys), shown(fold.Row{Value: tiny, Unit: k, Signed: true}, sys), guarded(-tiny, k, sys)}
			got, limit := measured(fold.Check{Limit: fold.Limit{Unit: k, Max: tiny, System: sys}, Got: tiny, Guard: -tiny}, sys)
			for _, s := range append(texts, got, limit) {
				if k != unit.KTemperature && (minusZero.MatchString(s) || strings.Contains(s, "-0.000")) {
					t.Errorf("%v, %v: %q", k, sys, s)
				}
			}
		}
	}
}

// TestAFailIsNotItsLimit: what fails, and what passes by a hair, never reads as equal to the limit.
func TestAFailIsNotItsLimit(t *testing.T) {
	for _, c := range []struct {
		got, max   float64
		min        bool
		sys        unit.System
		want, over string
	}{
		{0.0504, 0.05, false, unit.Metric, "0.0504", "0.0500 mm"},
		{0.0496, 0.05, false, unit.Metric, "0.0496", "0.0500 mm"},
		{3.9996, 4, true, unit.Metric, "3.9996", "at least 4.0000 mm"},
		{0.05, 0.05, false, unit.Metric, "0.050", "0.050 mm"},
		{0.0002, 0, false, unit.Metric, "0.0002", "0.0000 mm"},
		{0.05004 * 25.4, 0.05 * 25.4, false, unit.Imperial, "0.05004", "0.05000 in"},
	} {
		k := fold.Check{Limit: fold.Limit{Max: c.max, Min: c.min, Unit: unit.KLength, System: c.sys}, Got: c.got, Verdict: fold.Fail}
		if got, limit := measured(k, c.sys); got != c.want || limit != c.over {
			t.Errorf("%v of %v: %s of %s", c.got, c.max, got, limit)
		}
	}
}

// TestALongPageScrolls to its last line and back, and says so where there is nothing to scroll.
func TestALongPageScrolls(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("screws", "")
	s.declare("part-bumped")
	s.declare("fixture-tapped")
	s.declare("spindle-crash")
	s.m.push(newWayPage(s.m))
	ls, h := s.m.text()
	if len(ls) <= h {
		t.Skipf("only %d lines for %d", len(ls), h)
	}
	s.Sees("go on")
	s.Press("pgup", "pgup", "pgup", "pgup").Sees("WHAT IT COST", "PgDn")
	s.Press("pgdown", "pgdown", "pgdown", "pgdown").Sees("go on", "PgUp")
	s.Plus()
	if n := len(s.m.banners()); n > 3 { // the void facts on two lines, and a line for what else stands
		t.Errorf("%d lines of banners:\n%s", n, s.View())
	}
	s.Sees("way back: ", "* then 0")
}

// TestAFailHasNoSuccessSentence: what does not pass heads the page, near and far.
func TestAFailHasNoSuccessSentence(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24).at("unstrap", "")
	w := s.m.top().(*walkPage)
	a, _ := w.ask(s.m)
	if a.Kind != fold.Count {
		t.Fatalf("asks %+v", a)
	}
	s.Type("1").Plus()
	for w, ok := s.m.top().(*walkPage); ok && !s.state().Cursor.Decide; w, ok = s.m.top().(*walkPage) {
		_ = w
		s.next()
	}
	v, ok := s.m.top().(*verdictPage)
	if !ok || v.passed {
		t.Fatalf("it passes:\n%s", s.View())
	}
	ss, _ := s.m.st.Step(v.step)
	head := heads(ss.Outcome.Checks)
	if head == nil || head.Words == "" {
		t.Fatalf("nothing is said: %+v", ss.Outcome.Checks)
	}
	s.Sees(firstSentence(head.Words)).Misses("No clamp is left")
	s.Press("f2").Misses("No clamp is left").Sees("> 1")
	if !strings.Contains(s.View(), "\u2588") {
		t.Errorf("nothing is tall:\n%s", s.View())
	}
	if len(ss.Outcome.Next) > 0 {
		s.Sees(sayWords(ss.Outcome.Next)[0])
	}
}

// TestALetterWithoutAFigureIsNotDrawn, and what is drawn fits.
func TestTallWords(t *testing.T) {
	m := practice(t, lid(t, "T"), 80, 24).m
	for _, text := range []string{"ONE CLAMP IS STILL ON.", "TAP", "Chip at 5 o'clock", "\u00b1", ""} {
		ls := m.letters(text, 78, 9)
		if text == "\u00b1" || text == "" {
			if ls != nil {
				t.Errorf("%q gives %q", text, ls)
			}
			continue
		}
		if ls == nil || len(ls) > 9 {
			t.Errorf("%q gives %d lines", text, len(ls))
		}
		for _, l := range ls {
			if Width(l) > 78 {
				t.Errorf("%q is too wide: %q", text, l)
			}
		}
	}
}

// TestANumberIsSaidOnce: the number that matters is not also a row among the others.
func TestANumberIsSaidOnce(t *testing.T) {
	t.Parallel()
	for _, told := range []*fold.Check{{Limit: fold.Limit{Why: "thread in the part", Max: 4, Min: true, Unit: unit.KLength}, Got: 4.2}, nil} {
		s := practice(t, lid(t, "T"), 120, 36)
		sh := &sheet{t: s.m.t, w: 56}
		s.m.lines(sh, []fold.Row{{Label: "thread engaged", Value: 4.2, Unit: unit.KLength}, {Label: "weakest", Text: "the part"},
			{Label: "thread engaged", Value: 4.2, Unit: unit.KLength, Big: true}}, told, must)
		page := strings.Join(sh.fit(99), "\n")
		if n := strings.Count(page, "4.200"); n != 1 || !strings.Contains(page, "weakest") || (told != nil) != strings.Contains(page, "thread in the part") {
			t.Errorf("told %v:\n%s", told, page)
		}
	}
}
