package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// count is what one step asks of the person.
type count struct{ numbers, answers, acts, keys int }

func (c *count) add(d count) {
	c.numbers, c.answers, c.acts, c.keys = c.numbers+d.numbers, c.answers+d.answers, c.acts+d.acts, c.keys+d.keys
}

func (c count) String() string {
	if c == (count{}) {
		return ""
	}
	return fmt.Sprintf("%d + %d", c.numbers, c.answers)
}

// counts walks a sound setup at each level and says what every step asks of the person.
func counts(_ context.Context, o options) (*table, error) {
	t := &table{Title: "what a sound setup asks of the person by step: numbers + answers at each level, with the acts and keys of the whole",
		Head: []string{"plan", "step"}}
	levels := append([]fold.Level{fold.Full}, fold.Levels...)
	for _, l := range levels {
		t.Head = append(t.Head, l.String())
	}
	for _, holdDown := range []string{"T", "S"} {
		var steps []string
		by := map[string][]count{}
		all := make([]count, len(levels))
		for i, l := range levels {
			k, err := soundWalk(holdDown, l, o.seed)
			if err != nil {
				return nil, fmt.Errorf("plan %s, level %v: %w", holdDown, l, err)
			}
			t.Cases++
			for _, s := range k.State().Steps {
				if id := string(s.ID); by[id] == nil {
					steps, by[id] = append(steps, id), make([]count, len(levels))
				}
			}
			for step, c := range countOf(k, o) {
				if by[step] == nil {
					steps, by[step] = append(steps, step), make([]count, len(levels))
				}
				by[step][i] = c
				all[i].add(c)
			}
		}
		for _, step := range steps {
			t.row(append([]any{holdDown, step}, cells(by[step])...)...)
		}
		t.row(append([]any{holdDown, "ALL"}, cells(all)...)...)
		var acts, keys []any
		for _, c := range all {
			acts, keys = append(acts, c.acts), append(keys, c.keys)
		}
		t.row(append([]any{holdDown, "acts"}, acts...)...)
		t.row(append([]any{holdDown, "keys"}, keys...)...)
	}
	t.Notes = append(t.Notes, "a number is read from an instrument or from the control, an answer is a count, a choice or a look; keys are "+
		"digits and the key that ends each entry")
	return t, nil
}

func cells(cs []count) []any {
	var out []any
	for _, c := range cs {
		out = append(out, c.String())
	}
	return out
}

// soundWalk is the built-in job walked at a level, nothing wrong.
func soundWalk(holdDown string, l fold.Level, seed uint64) (*bench.Walk, error) {
	j, programs, err := builtinJob(holdDown)
	if err != nil {
		return nil, err
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, programs)
	if err != nil {
		return nil, err
	}
	res, err := bench.Auto(p.AtLevel(l), bench.Options{Seed: seed})
	if err != nil {
		return nil, err
	}
	if res.State != "released" {
		return nil, fmt.Errorf("the walk ends %s: %s", res.State, res.Walk.Words)
	}
	return res.Walk, nil
}

// countOf is what each step asked in a walk. What is read back from the control counts as an answer.
func countOf(k *bench.Walk, o options) map[string]count {
	asks := map[string]steps.AskKind{}
	acts := map[string]int{}
	st := k.State()
	for _, ss := range st.Steps {
		for _, a := range ss.Asks {
			asks[string(ss.ID)+"/"+a.Field] = a.Kind
			acts[string(ss.ID)+"/"+a.Field] = len(a.Do)
		}
	}
	out := map[string]count{}
	var fields []string
	for _, e := range k.Events {
		step, field, ok := fieldOf(e)
		if !ok || e.By == fold.BySelf { // the person types nothing there
			continue
		}
		c := count{keys: len(e.Value) + 1, acts: acts[step+"/"+field]}
		if kind, known := asks[step+"/"+field]; known && kind == steps.Reading || !known && e.Read != "" {
			c.numbers = 1
		} else {
			c.answers = 1
		}
		have := out[step]
		have.add(c)
		out[step] = have
		fields = append(fields, fmt.Sprintf("%s/%s=%s", step, field, e.Value))
	}
	if o.only != "" {
		fmt.Fprintln(o.stdout, strings.Join(slices.Compact(fields), "\n"))
	}
	return out
}

func fieldOf(e jobs.Event) (step, field string, ok bool) {
	a := strings.SplitN(e.Read+e.Answer, "/", 4)
	if len(a) < 4 {
		return "", "", false
	}
	return a[1], a[3], true
}
