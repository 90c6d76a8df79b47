package bench

import (
	"fmt"
	"slices"

	"fliptrue/steps"
)

// obey follows the advice of a step that does not pass: its acts, then the fields
// it names again, or a new round.
func (k *Walk) obey(st *steps.State) error {
	ss, ok := st.Step(st.Cursor.Step)
	if !ok {
		return fmt.Errorf("bench: nothing to decide at %q", st.Cursor.Step)
	}
	if k.Watch != nil {
		k.Watch(st)
	}
	o := &ss.Outcome
	if o.Named != "" && !slices.Contains(k.Named, o.Named) {
		k.Named = append(k.Named, o.Named)
	}
	var again []string
	want := func(field string) {
		if !slices.Contains(again, field) {
			again = append(again, field)
		}
	}
	words := "it does not pass"
	for _, c := range o.Checks {
		if c.Verdict.OK() {
			continue
		}
		words = c.Words
		f := Failure{Step: st.Cursor.Step, Limit: c.Limit.ID, Verdict: c.Verdict, Named: o.Named, Cut: k.World.hand.drilled}
		// an answer that was not the good one: put right what it showed, and answer again
		for _, a := range ss.Asks {
			if a.Want != "" && a.Field == c.Limit.ID {
				k.World.Correct(a)
				want(a.Field)
				f.Answer = true
			}
		}
		k.Failed = append(k.Failed, f)
	}
	k.tries[st.Cursor.Step]++
	if k.tries[st.Cursor.Step] > maxRounds {
		k.hold(st, words)
		return nil
	}
	round := false
	for _, a := range o.Next {
		switch a.Do {
		case "round":
			round = true
		case "again":
			for _, q := range ss.Asks {
				if q.Field == a.Of || q.Form == a.Of && q.Form != "" {
					want(q.Field)
				}
			}
		case "declare":
			return k.Declare(steps.MishapID(a.Of), "")
		default:
			if err := k.World.Do(a); err != nil {
				return err
			}
		}
	}
	if len(again) > 0 && !round {
		return k.read(st, ss, again, false)
	}
	es, err := st.Again()
	if err != nil {
		k.hold(st, words)
		return nil
	}
	return k.Add(es...)
}
