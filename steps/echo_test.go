package steps_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
)

// A number keyed into the wrong offset is not asked for: G55 is named at once, and said right the page is asked.
func TestWrongOffsetIsJudgedFirst(t *testing.T) {
	w := atOffset(t, nil)
	st := w.types("offset", "G55")
	ss, _ := st.Step("offset")
	if ss.Verdict.OK() || !strings.Contains(words(ss.Outcome), "G55, wanted G54") {
		t.Fatalf("G55: verdict %v, %s", ss.Verdict, words(ss.Outcome))
	}
	if _, asked := st.Ask("x"); asked {
		t.Error("X is asked while G55 is selected")
	}
	w.put(jobs.Event{Answer: "side2/offset/1/pause", Value: "G54"})
	if st = w.l.State(w.p); st.Cursor.Field != "x" && !slices.Contains(st.Cursor.Form, "x") {
		t.Errorf("after G54 stands at %+v", st.Cursor)
	}
}

// The cure of a wrong rotation is the rotation, not X and Y.
func TestWrongRotationNamesTheRotation(t *testing.T) {
	w := atOffset(t, func(j *jobs.Job) { j.Machine.Rotation = "G68" })
	st := w.types("offset", "G54")
	var good []string
	for _, f := range []string{"x", "y", "z"} {
		a, _ := st.Ask(f)
		good = append(good, typed(a.Window.Want))
	}
	st = w.types("offset", append(good, "0.5 deg", "0", "floor")...)
	o := outcomeOf(t, st, "offset")
	if c := verdictOf(t, o, "echo.rotation"); c.Verdict.OK() {
		t.Fatalf("half a degree passed: %+v", c)
	}
	said := o.Next[0].Words
	if !strings.Contains(said, "G68") || !strings.Contains(said, "deg about the part zero") || strings.Contains(said, "Key into G54") {
		t.Errorf("the cure is %q", said)
	}
}
