package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// What a part does in height is no less a motion than what it does in plan: lifted it is cut
// too thin, leaning it is cut to a wedge, and what stands high on it goes sideways as well.

// riseChecks hold what the heights say of a motion: the largest change of a touch, and the lean from end to end.
func riseChecks(p *fold.Plan, m fit.Motion) []fold.Check {
	lift := p.Limit("shift.lift")
	for _, s := range m.Shifts {
		if s.Axis == fit.AxisZ {
			lift.Max = math.Max(lift.Max, s.Limit)
		}
	}
	most := witness.Lifted(m)
	out := []fold.Check{atMostSeen(lift, math.Abs(most.D), m.Guard(most.U))}
	if m.Tilted {
		lean, u := leanOver(p, m)
		l := p.Limit("shift.lean")
		l.Max = math.Max(l.Max, m.Critical*u)
		out = append(out, atMostSeen(l, lean, m.Guard(u)))
	}
	for i := range out {
		if out[i].Verdict != fold.Pass {
			out[i].Words = fmt.Sprintf("Its top changed height by %s against the fixture. %s", p.Len(out[i].Got), whatRose(m))
			if i > 0 {
				out[i].Words = fmt.Sprintf("It leans by %s from end to end since the baseline. %s", p.Len(out[i].Got), whatRose(m))
			}
		}
	}
	return out
}

// atMostSeen compares what was seen, and takes the doubt into account only beyond the limit: then more touches tell.
func atMostSeen(l fold.Limit, value, guard float64) fold.Check {
	c := judge.Of(l, value, 0)
	if c.Verdict == fold.Fail && value-guard < l.Max {
		c.Verdict, c.Guard = fold.NotProven, guard
	}
	return c
}

// leanOver is the rise from end to end of the part by its lean, the larger of both ways, and its standard uncertainty.
func leanOver(p *fold.Plan, m fit.Motion) (rise, u float64) {
	r := fit.Rise{X: m.TiltX, Y: m.TiltY, Cov: m.LiftCov}
	return r.LeanOver(p.Job.Part.Size[0], p.Job.Part.Size[1])
}

// riseRows show the same beside the motion in plan.
func riseRows(p *fold.Plan, m fit.Motion) []fold.Row {
	if !m.Tilted {
		return nil
	}
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	d, u := m.LiftAt(fit.Point{X: w / 2, Y: h / 2})
	lean, ul := leanOver(p, m)
	return []fold.Row{{Label: "rose in the middle", Value: d, Guard: m.Guard(u), Unit: unit.KLength, Signed: true},
		{Label: "leans, end to end", Value: lean, Guard: m.Guard(ul), Unit: unit.KLength}}
}

// seatedHeight holds the part's height over the bare floor against its thickness: chips of one
// height under all of it neither rock nor lean.
func seatedHeight(p *fold.Plan, v fold.View, dz float64, o *fold.Outcome) {
	t := thicknessNow(p, v)
	c := judge.Of(p.Limit("seat.height"), math.Abs(dz-t), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The top stands %s over the floor; the part as it goes in is %s thick.", p.Len(dz), p.Len(t))
		if dz > t && o.Named == "" {
			o.Named = "seated-on-chip"
		}
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: "Lift the part out. Measure its thickness, wipe pocket and part, " +
				"seat it again. Is the thickness wrong in the job, correct it there."},
				fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
		}
	}
	o.Checks = append(o.Checks, c)
}

// asSeated holds each height of a baseline against the seat: what came under the part while it was strapped is in
// both sets of the shift test, and cancels there.
func asSeated(p *fold.Plan, v fold.View, s witnessSet, o *fold.Outcome) {
	seat, ok := facts.Seat.In(v)
	fl, found := facts.Floor.In(v)
	if !ok || !found || fl.Rim == 0 || !s.fixed || seat.DZ == 0 {
		o.Notes = append(o.Notes, "The part's height is not held against its seat: its heights there were not read.")
		return
	}
	wx, wy := wedge(p, v)
	was := pickup.Floor{Z: float64(seat.DZ+fl.Z+fl.Block) - kit.RimWas(p, fl, kit.Rim(p)[0]),
		TiltX: float64(seat.TiltX+fl.TiltX) + wx, TiltY: float64(seat.TiltY+fl.TiltY) + wy}
	mid := frame.Vec{X: p.Job.Part.Size[0] / 2, Y: p.Job.Part.Size[1] / 2}
	worst, at := 0.0, ""
	for i, sp := range witnesses(p) {
		if sp.Axis != fit.AxisZ || len(s.Reads[i]) == 0 {
			continue
		}
		d := s.Differ(i, sp.Axis) - was.At(frame.Vec{X: sp.At.X, Y: sp.At.Y}, mid)
		if at == "" || math.Abs(d) > math.Abs(worst) {
			worst, at = d, sp.Label
		}
	}
	if at == "" {
		return
	}
	l := p.Limit("baseline.height")
	scatter, _ := judge.ProbeS(p)
	l.Max = math.Max(l.Max, 4*scatter) // once when it was seated, by the plane of all, and twice now
	c := judge.Off(l, worst, 0, 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("At %s the part stands %s %s than when it was seated. Something came under it, or it was never down.", at,
			p.Len(math.Abs(worst)), higher(worst))
		o.Named = "seated-on-chip"
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: wipeUnder})
		}
	}
	o.Checks = append(o.Checks, c)
}

func higher(d float64) string {
	if d < 0 {
		return "lower"
	}
	return "higher"
}
