package bench

import (
	"fmt"
	"slices"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// obey follows the advice of a step that does not pass: its acts, then the fields
// it names again, or a new round.
func (k *Walk) obey(st *fold.State) error {
	ss, ok := st.Step(st.Cursor.Step)
	if !ok {
		return fmt.Errorf("bench: nothing to decide at %q", st.Cursor.Step)
	}
	if k.Watch != nil {
		k.Watch(st)
	}
	if es := vouched(st, ss); len(es) > 0 {
		return k.Add(es...)
	}
	why := k.note(st, ss)
	if k.tries[ss.ID]++; k.tries[ss.ID] > maxRounds {
		k.hold(st, why)
		return nil
	}
	adv, err := k.Obey(ss)
	if err != nil {
		return err
	}
	switch {
	case len(adv.Declare) > 0:
		for _, a := range adv.Declare {
			if err := k.Declare(fold.MishapID(a.Of), a.Dir); err != nil {
				return err
			}
		}
		return nil
	case len(adv.Reopen) > 0 && !k.went[fmt.Sprint(ss.ID, "/", st.Cursor.Round)]:
		k.went[fmt.Sprint(ss.ID, "/", st.Cursor.Round)] = true
		es, err := st.Reopen(adv.Reopen[0])
		if err != nil {
			return err
		}
		return k.Add(es...)
	case len(adv.Again) > 0 && !adv.Round:
		return k.read(st, ss, adv.Again)
	}
	// Back from a step that was done again, or with no other advice: all of it anew.
	es, err := st.Again()
	if err != nil {
		k.hold(st, why)
		return nil
	}
	return k.Add(es...)
}

// note keeps what did not pass and what was named, and says why in words.
func (k *Walk) note(st *fold.State, ss *fold.StepState) (why string) {
	o := &ss.Outcome
	if o.Named != "" && !slices.Contains(k.Named, o.Named) {
		k.Named = append(k.Named, o.Named)
	}
	why = "it does not pass"
	for _, c := range o.Checks {
		if c.Verdict.OK() {
			continue
		}
		why = c.Words
		f := Failure{Step: st.Cursor.Step, Limit: c.Limit.ID, Verdict: c.Verdict, Named: o.Named, Cut: k.World.hand.drilled}
		for _, a := range ss.Asks {
			f.Answer = f.Answer || a.Want != "" && a.Field == c.Limit.ID
		}
		k.Failed = append(k.Failed, f)
	}
	return why
}

// vouched are the waivers of files that this bench has not got: the person answers for them. None where
// anything else does not pass.
func vouched(st *fold.State, ss *fold.StepState) (es []jobs.Event) {
	for _, c := range ss.Outcome.Checks {
		if c.Verdict.OK() {
			continue
		}
		t, ok := ss.Round.Get(c.On)
		if !ok || t.By != fold.BySelf || c.Verdict != fold.NotProven {
			return nil
		}
		more, err := st.Waive(c.Limit.ID, "", "seen at the control")
		if err != nil {
			return nil
		}
		es = append(es, more...)
	}
	return es
}
