package steps_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
)

func toSquare(w *walker) {
	w.t.Helper()
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
	w.types("lengths", "2", "76.118", "88.420", "98.234", "98.234")
}

// A jog that slipped halves skew and tap: a scale that the stylus' angle does not explain is no scale.
func TestJogThatSlipped(t *testing.T) {
	for _, c := range []struct {
		jogged, lever string // the dial after a jog of 0.200; the angle, "" where none is to be asked
		good          bool
	}{
		{"-0.200", "", true}, {"-0.190", "", true}, {"-0.100", "", false},
		{"-0.400", "10", false}, {"-0.240", "10", false}, {"-0.185", "0", false},
		{"-0.222", "26", true}, {"-0.283", "45", true}, {"-0.222", "60", false},
	} {
		w := newWalker(t, lidPlan(t, nil))
		toSquare(w)
		st := w.types("square", "0", c.jogged)
		if asked := st.Cursor.Field == "lever"; asked != (c.lever != "") {
			t.Errorf("needle at %s: the angle is asked: %v", c.jogged, asked)
			continue
		}
		if c.lever != "" {
			st = w.types("square", c.lever)
		}
		ss, _ := st.Step("square")
		if bad := ss.Verdict.String() == "FAIL"; bad == c.good {
			t.Errorf("needle at %s, stylus at %s: %v, want good %v: %s", c.jogged, c.lever, ss.Verdict, c.good, words(ss.Outcome))
		}
	}
}

// Ends that differ by 0.062 are not said to agree, although a control that turns the program carries it.
func TestEndsThatDifferAreNotSaidToAgree(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) { j.Machine.Rotation = "G68" }))
	toSquare(w)
	w.types("square", "0", "-0.200", "0", "-0.062")
	st := w.l.State(w.p)
	a, ok := st.Ask(st.Cursor.Field)
	if !ok || len(a.Do) == 0 {
		t.Fatal("nothing is to be done")
	}
	if said := a.Do[0].Words; strings.Contains(said, "agree") || !strings.Contains(said, "0.062") {
		t.Errorf("0 and -0.062: %q", said)
	}
}
