package tui

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"
)

// box is one place to write in on the blank sheet, with what the person wrote.
type box struct {
	step, field, wrote string
	late               bool // on the lines for what is asked besides
}

func (b box) is(step fold.StepID, field string) bool {
	return b.step == string(step) && b.field == field
}

// filledIn is the blank sheet as the person at the machine fills it in: on the day without a computer a bench is
// walked, and each value written where the sheet has its box, or on the step's lines where it has none.
func filledIn(t *testing.T, p *fold.Plan) []box {
	t.Helper()
	r, err := bench.Auto(p, bench.Options{Seed: 3, Effects: &bench.Effects{}})
	if err != nil || r.State != "released" {
		t.Fatal(err, r.HeldAt)
	}
	read := map[string]string{}
	var order []string
	for _, e := range r.Walk.Events {
		if at := strings.SplitN(e.Read+e.Answer, "/", 4); len(at) == 4 && e.By != fold.BySelf {
			key := at[1] + "/" + at[3]
			if e.By == fold.BySelf { // no hand writes or types it
				continue
			}
			if at[2] != "1" {
				t.Fatalf("a bench without any error wants %s again", key)
			}
			read[key] = e.Value
			order = append(order, key)
		}
	}
	var out []box
	for _, st := range report.MakeSheet(p).Steps {
		on := map[string]bool{}
		for _, f := range st.Fields {
			on[f.Field] = true
			if v, ok := read[st.ID+"/"+f.Field]; ok {
				out = append(out, box{st.ID, f.Field, v, false})
			}
		}
		for _, key := range order {
			if step, field, _ := strings.Cut(key, "/"); step == st.ID && !on[field] {
				out = append(out, box{step, field, read[key], true})
			}
		}
	}
	if len(out) != len(order) {
		t.Fatalf("%d values are on the sheet, %d were read", len(out), len(order))
	}
	return out
}

// What was written on the blank sheet is typed into an empty record, box by box from the first to the last: the
// screen never asks for another box than the next, but for what follows from an answer, which stands on the step's lines.
func TestTypedFromPaper(t *testing.T) {
	t.Parallel()
	for _, hold := range []string{"T", "S"} {
		p := lid(t, hold)
		boxes := filledIn(t, p)
		s := begin(t, p, 80, 24)
		s.quiet = true
		late, n := 0, 0
		for keys := 0; !s.state().Released; keys++ {
			if keys > 900 {
				t.Fatalf("plan %s: no end after box %d of %d:\n%s", hold, n, len(boxes), s.View())
			}
			w, ok := s.m.top().(*walkPage)
			if !ok || w.far != nil || w.doing(s.m) {
				s.Plus()
				continue
			}
			a, _ := w.ask(s.m)
			if n >= len(boxes) {
				t.Fatalf("plan %s: %s/%s is asked, and the sheet is at its end", hold, s.state().Cursor.Step, a.Field)
			}
			i := n
			for ; i < len(boxes) && !boxes[i].is(s.state().Cursor.Step, a.Field); i++ {
				if i > n && boxes[i].step != boxes[n].step { // only what stands on the step's lines may come before its next box
					break
				}
			}
			if i >= len(boxes) || !boxes[i].is(s.state().Cursor.Step, a.Field) || i > n && !boxes[i].late {
				t.Fatalf("plan %s: %s/%s is asked, and the next box is %s/%s", hold, s.state().Cursor.Step, a.Field, boxes[n].step, boxes[n].field)
			}
			b := boxes[i]
			boxes = slices.Insert(slices.Delete(boxes, i, i+1), n, b)
			if n++; b.late {
				late++
			}
			s.write(a, b.wrote)
		}
		if n != len(boxes) || late > len(boxes)/3 {
			t.Errorf("plan %s: %d of %d boxes typed, %d of them from the lines", hold, n, len(boxes), late)
		}
	}
}

// write types a value into the field of an ask.
func (s *screen) write(a fold.Ask, v string) {
	s.t.Helper()
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
