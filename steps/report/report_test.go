package report

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/prove/paper"
)

// logOf is a log of events.
func logOf(es []jobs.Event) *fold.Log {
	l := steps.NewLog()
	for _, e := range es {
		l.Apply(e)
	}
	return l
}

// walked is the built-in job walked by the scripted person, and its plan.
func walked(t *testing.T, holdDown, mistake string, more ...jobs.Event) (*fold.Log, *fold.Plan) {
	t.Helper()
	j, err := builtin.Job(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	texts, err := builtin.Texts(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]fold.ProgramFile{}
	for _, g := range j.Setups[0].Programs {
		files[g.Role] = fold.ProgramFile{Name: g.File, Hash: "0123456789abcdef", Data: []byte(texts[g.File])}
	}
	p, err := steps.NewPlan(j, "side2", files)
	if err != nil {
		t.Fatal(err)
	}
	r, err := bench.Auto(p, bench.Options{Seed: 7, Mistake: mistake})
	if err != nil {
		t.Fatal(err)
	}
	return logOf(append(r.Walk.Events, more...)), p
}

// fits holds a text to the width of a page and to printing characters.
func fits(t *testing.T, text string) {
	t.Helper()
	for i, l := range strings.Split(text, "\n") {
		if utf8.RuneCountInString(l) > 90 {
			t.Errorf("line %d is %d wide: %s", i+1, utf8.RuneCountInString(l), l)
		}
		if strings.HasSuffix(l, " ") {
			t.Errorf("line %d ends in a blank: %q", i+1, l)
		}
	}
	for _, bad := range []string{"NaN", "Inf", "%!", "\x1b", "<nil>"} {
		if strings.Contains(text, bad) {
			t.Errorf("the text holds %q", bad)
		}
	}
}

// noNulls wants every list to be a list.
func noNulls(t *testing.T, v any, may ...string) {
	t.Helper()
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(string(b), "\n") {
		if !strings.Contains(l, ": null") {
			continue
		}
		key := strings.Trim(strings.SplitN(l, ":", 2)[0], " \"")
		ok := false
		for _, m := range may {
			ok = ok || m == key
		}
		if !ok {
			t.Errorf("%s is null", key)
		}
	}
}

func TestRecordOfAReleasedPart(t *testing.T) {
	for _, plan := range []string{"T", "M", "S"} {
		l, p := walked(t, plan, "")
		r := Make(l, p, About{Part: 4, Record: "back.4.record.yaml", Version: "abc"})
		if r.State != "released" || r.HeldAt != "" || r.Released == nil || len(r.Register) != 2 || r.Shift == nil || len(r.Readings) < 40 {
			t.Errorf("plan %s: %+v", plan, r)
		}
		if r.Offset == nil || len(r.Offset.Echoed) != 4 {
			t.Errorf("plan %s: offset %+v", plan, r.Offset)
		}
		for _, tool := range r.Tools {
			if tool.Length == nil {
				t.Errorf("plan %s: tool %d has no length", plan, tool.Number)
			}
		}
		noNulls(t, r, "box", "at", "value", "got", "guard", "max", "share", "dof", "given", "lift")
		text := r.Text()
		fits(t, text)
		if since := strings.Contains(text, "since the baseline"); since != (plan != "S") {
			t.Errorf("plan %s: moved since %s", plan, r.Shift.Since)
		}
		if n := strings.Count(text, "\n"); n > 75 {
			t.Errorf("plan %s: %d lines are no page", plan, n)
		}
		for _, want := range []string{"BAROMETER BACK   part 4   setup side2", "RELEASED", "fixture PL-2", "read back   X -", "dial opening", "PASS        release", "back.4.record.yaml", "top.nc: PASS, checksum 0123456789abcdef"} {
			if !strings.Contains(text, want) {
				t.Errorf("plan %s: the page has no %q\n%s", plan, want, text)
			}
		}
	}
}

func TestRecordOfATroubledPart(t *testing.T) {
	l, p := walked(t, "T", "chip-in-bore", jobs.Event{Note: "spanner slipped"}, jobs.Event{Mishap: "side2/fixture-tapped"})
	r := Make(l, p, About{Part: 1})
	if r.State != "held" || r.HeldAt == "" || r.Offset != nil || len(r.Register) != 0 || len(r.Mishaps) != 1 {
		t.Errorf("%+v", r)
	}
	text := r.Text()
	fits(t, text)
	for _, want := range []string{"HELD at ", "void or not yet made", "VOID        bore", "fixture-tapped", "note spanner slipped"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page has no %q\n%s", want, text)
		}
	}
	replaced := false
	for _, x := range r.Readings {
		replaced = replaced || len(x.Replaced) > 0
	}
	if !replaced {
		t.Error("the hit taken again has lost its first reading")
	}
	// Nothing was read yet: still a page.
	begun := Make(logOf([]jobs.Event{{Begin: "side2"}}), p, About{})
	fits(t, begun.Text())
	noNulls(t, begun, "begun", "last", "released", "offset", "shift", "box", "at", "length", "worst", "u", "given", "datum")
}

func TestTag(t *testing.T) {
	_, p := walked(t, "T", "")
	tag, ok := MakeTag(p, &p.Job.Fixture, 0)
	if !ok {
		t.Fatal("no tag")
	}
	lines := strings.Split(strings.TrimSpace(tag.Text()), "\n")
	for _, l := range lines {
		if utf8.RuneCountInString(l) != utf8.RuneCountInString(lines[0]) {
			t.Errorf("the frame is broken: %s", l)
		}
	}
	for _, want := range []string{"FIXTURE PL-2", "LEFT AND AWAY", "X 30.000   Y 24.000", "made at 21.0", "cycles 4 of 15"} {
		if !strings.Contains(tag.Text(), want) {
			t.Errorf("the tag has no %q\n%s", want, tag.Text())
		}
	}
	noNulls(t, tag)
	if used, _ := MakeTag(p, &p.Job.Fixture, 1); used.Cycles != 5 || used.Uses != tag.Uses+1 {
		t.Errorf("after a use that the card has not: %+v", used)
	}
}

func TestBlankSheet(t *testing.T) {
	for _, plan := range []string{"T", "M", "S"} {
		j, err := builtin.Job(plan)
		if err != nil {
			t.Fatal(err)
		}
		p, err := steps.NewPlan(j, "side2", nil)
		if err != nil {
			t.Fatal(err)
		}
		s := MakeSheet(p)
		if len(s.Steps) != len(p.Line) {
			t.Errorf("plan %s: %d steps on paper, %d in the walk", plan, len(s.Steps), len(p.Line))
		}
		text := s.Text()
		fits(t, text)
		for i, sp := range p.Line {
			if sp.Pause != nil && !strings.Contains(text, s.Steps[i].Pause) {
				t.Errorf("plan %s: the pause point of %s is missing", plan, sp.ID)
			}
			for _, f := range s.Steps[i].Fields {
				if f.Field == "" || f.Label == "" {
					t.Errorf("plan %s: %s has the field %+v", plan, sp.ID, f)
				}
			}
		}
		noNulls(t, s)
		onSheet(t, s)
		if strings.Count(text, "time ________") != len(p.Line) {
			t.Errorf("plan %s: a step has no place for its time", plan)
		}
	}
}

// onSheet wants every field once on the printed blank, in the order in which it is asked, and the hits in a table.
func onSheet(t *testing.T, s Sheet) {
	t.Helper()
	var b bytes.Buffer
	if err := s.HTML(&b); err != nil {
		t.Fatal(err)
	}
	for _, w := range paper.Valid(b.Bytes()) {
		t.Error(w)
	}
	var want, got []string
	for _, st := range s.Steps {
		for _, f := range st.Fields {
			want = append(want, f.Field)
		}
	}
	for _, part := range strings.Split(b.String(), `data-field="`)[1:] {
		fields, _, _ := strings.Cut(part, `"`)
		got = append(got, strings.Fields(fields)...)
	}
	if !slices.Equal(want, got) {
		t.Errorf("the sheet has %v, asked are %v", got, want)
	}
	if !strings.Contains(b.String(), `data-field="hit1.x hit1.y "`) || !strings.Contains(b.String(), "<th>X</th><th>Y</th>") {
		t.Error("the hits are in no table")
	}
}
