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
	"fliptrue/steps/kit"
)

// count is what one step asks of the person. A page is what is looked at together: an act, a form or a field, a verdict.
type count struct {
	pages, numbers, answers, acts, keys int
	minutes                             float64
}

func (c *count) add(d count) {
	c.pages, c.numbers, c.answers = c.pages+d.pages, c.numbers+d.numbers, c.answers+d.answers
	c.acts, c.keys, c.minutes = c.acts+d.acts, c.keys+d.keys, c.minutes+d.minutes
}

func (c count) String() string {
	if c == (count{}) {
		return ""
	}
	return fmt.Sprintf("%d: %d + %d, %d", c.pages, c.numbers, c.answers, c.keys)
}

// counts walks a sound setup at each level, and one part more on the same mounting, and says what every step asks.
func counts(_ context.Context, o options) (*table, error) {
	t := &table{Title: "what a sound setup asks of the person by step and level: pages: numbers + answers, keys",
		Head: []string{"plan", "step"}}
	levels := append([]fold.Level{fold.Full}, fold.Levels...)
	for _, l := range levels {
		t.Head = append(t.Head, l.String())
	}
	for _, holdDown := range []string{"T", "S"} {
		if err := o.countPlan(t, holdDown, levels); err != nil {
			return nil, err
		}
	}
	t.Notes = append(t.Notes, "a number is read from an instrument or from the control, an answer is a count, a choice or a look; "+
		"keys are digits and the key that ends each entry, 2 a choice, 1 an act or a verdict",
		"minutes are those of reading: of each ask as its table has them, else 0.4 a touch, 0.3 a dial, 0.5 a gauge, 0.1 a look (common "+
			"practice)",
		"risk is what may still be lost, minutes, of a part of 180, 600 and 3000 minutes at the levels from left to right, allowance 0.05: "+
			"by what those very asks find (prove worth)",
		"the next part is one more on the same mounting, nothing moved; of four benches the one on which least is read again")
	return t, nil
}

// countPlan adds the rows of one hold-down plan.
func (o options) countPlan(t *table, holdDown string, levels []fold.Level) error {
	var steps []string
	by := map[string][]count{}
	all, next, risks := make([]count, len(levels)), make([]count, len(levels)), []any{holdDown, "risk"}
	for i, l := range levels {
		k, after, err := o.twoWalks(holdDown, l)
		if err != nil {
			return fmt.Errorf("plan %s, level %v: %w", holdDown, l, err)
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
		risk, err := riskOf(k, l)
		if err != nil {
			return err
		}
		risks = append(risks, risk)
		for _, c := range countOf(after, o) {
			next[i].add(c)
		}
	}
	for _, step := range steps {
		t.row(append([]any{holdDown, step}, cells(by[step])...)...)
	}
	t.row(append([]any{holdDown, "ALL"}, cells(all)...)...)
	t.row(append([]any{holdDown, "next part"}, cells(next)...)...)
	acts, minutes := []any{holdDown, "acts"}, []any{holdDown, "minutes"}
	for _, c := range all {
		acts, minutes = append(acts, c.acts), append(minutes, fmt.Sprintf("%.0f", c.minutes))
	}
	t.row(acts...)
	t.row(minutes...)
	t.row(risks...)
	return nil
}

// riskOf is what slips through at a level's own place, minutes.
func riskOf(k *bench.Walk, l fold.Level) (string, error) {
	for _, at := range places {
		if at.level == l {
			st := k.State()
			_, _, _, guard := kit.WorstFeature(steps.Register(st))
			lost, err := steps.Lost(k.Plan(), steps.AskedIn(st, k.Events), at.worth, guard)
			return fmt.Sprintf("%.1f", lost.Risk()), err
		}
	}
	return "", nil
}

// benches are how many are tried.
const benches = 4

// twoWalks are a sound walk and one of the next part, each on that bench of a few on which least is read again.
func (o options) twoWalks(holdDown string, l fold.Level) (first, next *bench.Walk, err error) {
	for seed := range uint64(benches) {
		k, e := soundWalk(holdDown, l, o.seed+seed)
		if e != nil {
			err = e
			continue
		}
		if first == nil || len(k.Events) < len(first.Events) {
			first = k
		}
		n, e := nextWalk(k)
		if e != nil {
			err = fmt.Errorf("the next part: %w", e)
		} else if next == nil || len(n.Events) < len(next.Events) {
			next = n
		}
	}
	if first == nil || next == nil {
		return nil, nil, err
	}
	return first, next, nil
}

// nextWalk is one more part at the same bench, on what the one before hands over.
func nextWalk(k *bench.Walk) (*bench.Walk, error) {
	cards, err := k.State().Taken()
	if err != nil {
		return nil, err
	}
	n := bench.NewWalk(k.Plan(), k.World, cards)
	if _, err := n.Until(nil); err != nil {
		return nil, err
	}
	if !n.State().Released {
		return nil, fmt.Errorf("it ends at %v: %s", *n.HeldAt, n.Words)
	}
	return n, nil
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
	asks := map[string]fold.Ask{}
	for _, ss := range k.State().Steps {
		for _, a := range ss.Asks {
			asks[string(ss.ID)+"/"+a.Field] = a
		}
	}
	out, seen := map[string]count{}, map[string]bool{}
	var fields []string
	for _, e := range k.Events {
		step, field, ok := fieldOf(e)
		if !ok || e.By == fold.BySelf { // the person types nothing there
			continue
		}
		a, known := asks[step+"/"+field]
		c := count{keys: len(e.Value) + 1, acts: len(a.Do), minutes: steps.Minutes(a)}
		if a.Kind == fold.Choice && known {
			c.keys = 2
		}
		if known && a.Kind == fold.Reading || !known && e.Read != "" {
			c.numbers = 1
		} else {
			c.answers = 1
		}
		address := e.Read + e.Answer
		round := strings.TrimSuffix(address, "/"+field)
		page := address
		if a.Form != "" {
			page = round + " form " + a.Form
		}
		for _, p := range []string{page, round} { // and the verdict of the round
			if !seen[p] {
				seen[p] = true
				c.pages++
				if p == round {
					c.keys++
				}
			}
		}
		if len(a.Do) > 0 {
			c.pages, c.keys = c.pages+1, c.keys+1
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
