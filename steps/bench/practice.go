package bench

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Practice is a World for somebody who walks by hand: it gives readings one at a time,
// and follows advice when it is told to.
type Practice struct {
	World *World
	done  map[string]bool // asks whose acts were performed, by round and field

	pending []string            // while it is resumed: fields still to be read after advice
	asked   map[string]fold.Ask // while it is resumed: what was asked last, by round and field
}

// Offer is what the bench reads for an ask of the current step; the acts before it are
// performed the first time in a round.
func (p *Practice) Offer(st *fold.State, a fold.Ask) (string, error) {
	if p.done == nil {
		p.done = map[string]bool{}
	}
	once := inRound(st, a.Field)
	if !p.done[once] {
		p.done[once] = true
		for _, act := range a.Do {
			if p.World.skips(act) {
				p.World.skipped(act)
				continue
			}
			if err := p.World.Do(act); err != nil {
				return "", err
			}
		}
	}
	if a.Self != nil { // the program reads it
		return a.Options[0], nil
	}
	return p.World.Read(a)
}

// inRound is a field of the current round.
func inRound(st *fold.State, field string) string {
	return fmt.Sprint(st.Cursor.Step, "/", st.Cursor.Round, "/", field)
}

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

// Advice is how the reading goes on after what is physical in it was done.
type Advice struct {
	Again   []string // fields to read again in the same round
	Round   bool     // a new round
	Declare []fold.Act
	Reopen  []fold.StepID
}

// Obey does what a step that does not pass advises: the physical acts, and what a
// wrong answer gave away is put right. It records nothing.
func (p *Practice) Obey(ss *fold.StepState) (Advice, error) {
	var out Advice
	want := func(field string) {
		if !slices.Contains(out.Again, field) {
			out.Again = append(out.Again, field)
		}
	}
	for _, c := range ss.Outcome.Checks {
		for _, a := range ss.Asks {
			if !c.Verdict.OK() && a.Want != "" && a.Field == c.Limit.ID {
				p.World.Correct(a)
				want(a.Field)
			}
		}
	}
	for _, a := range ss.Outcome.Next {
		switch a.Do {
		case "round":
			out.Round = true
		case "again":
			for _, q := range ss.Asks {
				if q.Field == a.Of || q.Form == a.Of && q.Form != "" {
					want(q.Field)
				}
			}
		case "declare":
			out.Declare = append(out.Declare, a)
		case "reopen":
			out.Reopen = append(out.Reopen, fold.StepID(a.Of))
		default:
			if err := p.World.Do(a); err != nil {
				return out, err
			}
		}
	}
	return out, nil
}
