package side2

import (
	"fmt"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// strength holds what the screws were set to against the working preload, and computes the hold-down
// of what then holds: soft screws count 0, a preload below the working one counts as it is. It gives
// that preload, 0 where it is the working one; acts says that no act stands yet.
func (s screwing) strength(v fold.View, w desk.AsFound, o *fold.Outcome, acts bool) unit.Force {
	p := s.p
	h := desk.Hold(p, w)
	if h.Why != "" {
		desk.HoldDown(p, w, o)
		o.Lines = append(o.Lines, fold.Row{Label: "thread engaged", Value: float64(w.Engaged), Unit: unit.KLength})
		return 0
	}
	o.Lines = append(o.Lines, h.PreloadRows(p)...)
	k := setting{p, h, o, acts, &w}
	if w.Earlier {
		if t, ok := v.Num("torque", unit.KTorque); ok && t > 0 {
			k.torque(t)
		}
	} else {
		k.set(v)
	}
	soft := v.Int("soft")
	if s.firm() && v.Has("in") {
		soft = len(p.Setup.Screws.At) - v.Int("in")
	}
	if w.Soft = max(w.Soft, soft); w.Soft > 0 || w.Set > 0 {
		k.asTheyHold()
	}
	o.Notes = append(o.Notes, desk.Estimate)
	return w.Set
}

// asTheyHold is the hold-down of the screws as they are.
func (k setting) asTheyHold() {
	l := desk.Hold(k.p, *k.found)
	if l.Why != "" {
		k.o.Notes = append(k.o.Notes, "With the soft screws counted 0: "+l.Why+".")
		if !k.found.Earlier {
			k.o.Checks = append(k.o.Checks, desk.NotComputed(l.Why))
		}
		return
	}
	k.o.Lines = append(k.o.Lines, l.CeilingRows(k.p)...)
	for _, c := range l.Held(k.p) {
		if n := k.found.Soft; n > 0 {
			c.Limit.Why += fmt.Sprintf(", %d counted 0", n)
		}
		k.judged(c, fold.Act{Do: "screw", Of: "screws", Words: "As they are set the screws do not hold the cut. " + k.toTorque()})
	}
}

// setting judges how the screws were set.
type setting struct {
	p     *fold.Plan
	h     desk.Holding
	o     *fold.Outcome
	acts  bool          // an act may still be given
	found *desk.AsFound // what it learns
}

// set is the third walk's: by a torque, by a pull that makes one, or by an angle where a thread was stripped.
func (k setting) set(v fold.View) {
	t, read := v.Num("torque", unit.KTorque)
	switch howSet(v) {
	case byPull:
		f, _ := v.Num("pull", unit.KForce)
		t, read = f*v.Len("arm"), v.Has("pull")
	case byTurn:
		if k.h.Set.Angle == 0 {
			k.unknown(k.noAngle())
		} else if a, turned := v.Num("turn", unit.KAngle); turned {
			k.turn(unit.Angle(a))
		}
		return
	case byFeel:
		k.unknown("A feeling is no preload. " + k.toTorque())
		return
	}
	if !read {
		return
	}
	k.torque(t)
}

// toTorque is what to set them to.
func (k setting) toTorque() string {
	t := k.h.Set.Torque
	return fmt.Sprintf("Set all screws anew, to %s. Without a driver: a level pull of %s on a key of %s.", desk.Torque(k.p, float64(t)),
		desk.Pull(k.p, t), desk.Arm(k.p))
}

// unknown is a preload that nobody knows: nothing holds a part by that.
func (k setting) unknown(words string) {
	k.judged(judge.So(fold.Limit{ID: "screws.set", Why: "a known preload in every screw", Class: fold.Never}, false, words),
		fold.Act{Do: "screw", Of: "screws", Words: words})
}

// judged adds a check and, where it does not pass, the act.
func (k setting) judged(c fold.Check, act fold.Act) {
	if !c.Verdict.OK() && k.acts && len(k.o.Next) == 0 {
		k.o.Next = append(k.o.Next, act, fold.Act{Do: "round"})
	}
	k.o.Checks = append(k.o.Checks, c)
}

// stripped is the check of a screw that may have stripped its thread, and the act: it counts 0, and no reason mends that.
func (k setting) stripped(l fold.Limit, got float64, words string) {
	l.ID, l.Class = "screws.strip", fold.Never
	k.found.Soft = 1
	k.judged(judge.Fails(judge.Most(l, got, 0), words), fold.Act{Do: "thread", Of: "holes",
		Words: "Take all screws out. Run one into every thread by fingers; mend or retire what turns soft. Then tighten anew, to " +
			desk.Torque(k.p, float64(k.h.Set.Torque)) + "."})
}

// torque judges one that was read, N mm.
func (k setting) torque(t float64) {
	p, work := k.p, float64(k.h.Set.Torque)
	l := fold.Limit{ID: "screws.torque", Why: "torque, a tenth over the working one at most", Max: 1.1 * work, Class: fold.Hard,
		Unit: unit.KTorque}
	strip := k.h.Strips()
	if t >= strip {
		k.stripped(fold.Limit{Why: "torque that may strip a thread", Max: strip, Unit: unit.KTorque}, t,
			fmt.Sprintf("%s may have stripped a thread, as from %s on: such a screw counts 0.", desk.Torque(p, t), desk.Torque(p, strip)))
	} else {
		c := judge.Most(l, t, 0)
		act := fold.Act{Do: "screw", Of: "screws"}
		switch {
		case !c.Verdict.OK():
			c.Words = fmt.Sprintf("%s is too much: the weakest, %s, bears %s. Loosen all, look for soft ones, tighten anew.", desk.Torque(p, t),
				k.h.Weakest(), desk.Torque(p, work))
			act.Words = c.Words
		case t < 0.5*work: // as good as loose, or of another unit
			l.Why, l.Max = "half of the working torque at least", 0.5*work
			c = judge.Least(l, t, 0)
			c.Words = fmt.Sprintf("%s clamps next to nothing: what holds is computed for %s. Was it typed in another unit?",
				unit.Show(t, unit.KTorque, p.Job.Unit, t/100), desk.Torque(p, work))
			act.Words = "Tighten all, crosswise, to " + desk.Torque(p, work) + "; type the torque again."
		}
		k.judged(c, act)
	}
	if t >= 0.9*work {
		return
	}
	k.o.Notes = append(k.o.Notes, fmt.Sprintf("%s is less than the working torque %s.", desk.Torque(p, t), desk.Torque(p, work)))
	if !k.found.Earlier {
		k.found.Set = hold.ForceFrom(unit.Torque(t), k.h.C.Joint.K, k.h.C.Joint.Thread.D)
	}
}

// noAngle says why a turn past snug sets no known preload here, and what does.
func (k setting) noAngle() string {
	if k.h.Set.NoAngle != "" {
		return "The screw may yield before its thread strips: no turn sets a known preload. " + k.toTorque()
	}
	return "No thread was stripped, so a turn past snug sets no known preload. " + k.toTorque()
}

// turn judges an angle past snug: it sets a preload only as a share of the turn that stripped a thread.
func (k setting) turn(a unit.Angle) {
	set := k.h.Set
	l := fold.Limit{ID: "screws.turn", Why: "turn past snug, a tenth over the working one at most", Max: 1.1 * float64(set.Angle),
		Class: fold.Hard, Unit: unit.KAngle}
	again := "Loosen all, look for soft ones, tighten to " + desk.Turn(set.Angle) + " past snug."
	switch low := 0.5 * float64(set.Angle); {
	case float64(a)*k.h.C.Joint.Factors.High >= float64(k.h.Strip):
		k.stripped(fold.Limit{Why: "turn that may strip a thread", Max: float64(k.h.Strip) / k.h.C.Joint.Factors.High, Unit: unit.KAngle},
			float64(a),
			fmt.Sprintf("%s may have stripped a thread: one stripped at %s.", desk.Turn(a), desk.Turn(k.h.Strip)))
	case float64(a) < low:
		l.Why, l.Max = "half of the working turn at least", low
		c := judge.Least(l, float64(a), 0)
		c.Words = fmt.Sprintf("%s clamps next to nothing: what holds is computed for %s.", desk.Turn(a), desk.Turn(set.Angle))
		k.judged(c, fold.Act{Do: "screw", Of: "screws", Words: again})
	default:
		c := judge.Most(l, float64(a), 0)
		if !c.Verdict.OK() {
			c.Words = fmt.Sprintf("%s is too much: the weakest, %s, bears %s.", desk.Turn(a), k.h.Weakest(), desk.Turn(set.Angle))
		}
		k.judged(c, fold.Act{Do: "screw", Of: "screws", Words: again})
	}
	// What a thread at the weak end of its range gets of that turn; no more than the working preload is counted.
	if f := set.ByAngle[0] * unit.Force(min(a/set.Angle, 1)); f < 0.9*set.F {
		k.found.Set = f
	}
}
