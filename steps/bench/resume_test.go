package bench

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Resume is a practice at the world as its record left it. Given a fresh world of the
// same seed and mistake it does again what the record says was done: the acts before
// each value, the reading itself, and the advice of what did not pass. The world is
// then where it was if every value came from it in turn, and close to it otherwise.
func Resume(p *fold.Plan, w *World, es []jobs.Event) (*Practice, error) {
	out := &Practice{World: w, asked: map[string]fold.Ask{}}
	l := steps.NewLog()
	for i, e := range es {
		if i > 0 && (e.Read != "" || e.Answer != "" || e.Round != "") {
			if err := out.redo(l, p, e); err != nil {
				return nil, fmt.Errorf("event %d: %w", i+1, err)
			}
		}
		l.Apply(e)
	}
	return out, nil
}

func (p *Practice) redo(l *fold.Log, plan *fold.Plan, e jobs.Event) error {
	st := l.State(plan)
	ss, ok := st.Step(st.Cursor.Step)
	if !ok {
		return nil
	}
	for _, a := range ss.Asks {
		p.asked[inRound(&st, a.Field)] = a
	}
	field := ""
	if addr := strings.SplitN(e.Read+e.Answer, "/", 4); len(addr) == 4 {
		field = addr[3]
	}
	if i := slices.Index(p.pending, field); i >= 0 {
		p.pending = slices.Delete(p.pending, i, i+1)
	} else if _, now := st.Ask(field); st.Cursor.Decide && (now || field == "") {
		adv, err := p.Obey(ss)
		if err != nil {
			return err
		}
		p.pending = nil
		if field != "" {
			p.pending = slices.DeleteFunc(adv.Again, func(f string) bool { return f == field })
		}
	}
	a, ok := st.Ask(field)
	if !ok { // read in one breath with the value that ended the asking: its advice was not followed yet
		a, ok = p.asked[inRound(&st, field)]
	}
	if !ok {
		return nil
	}
	v, err := p.Offer(&st, a)
	if err != nil {
		return err
	}
	if u, err := st.Understand(field, v); err == nil && u.Far && v != e.Value {
		p.World.Correct(a) // the value was doubted then, and looked at again
		_, err = p.World.Read(a)
		return err
	}
	return nil
}
