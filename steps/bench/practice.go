package bench

import (
	"fmt"
	"slices"

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
