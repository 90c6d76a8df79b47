package rescue

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// left is what the register is reckoned from beside offset and shift: the setup before, and side 1.
var left = fold.Needs(fold.AsLeft("offset", "identity", "bore", "floor", "seat", "drift", "seat/located"),
	fold.IfThere("part/thickness", "part/width-x", "part/width-y", "part/edges", "part/hours", "part/air", "tram"))

// moving is how it moved since it was cut, and the offset for it.
func moving(p *fold.Plan, v fold.View) (fold.Known, calc.Offset, bool) {
	old, ok1 := v.Fact("offset")
	s, ok2 := moved.In(v)
	if !ok1 || !ok2 {
		return old, calc.Offset{}, false
	}
	m := calc.Moved{Motion: frame.Motion{Shift: frame.Vec{X: float64(s.DX), Y: float64(s.DY)}, Turn: s.Rot}, Dof: s.Dof}
	if m.Dof == 0 {
		m.Dof = math.Inf(1)
	}
	for i, row := range s.Cov.Matrix("dx", "dy", "rot") {
		copy(m.Cov[i][:], row)
	}
	mid := frame.Vec{X: p.Job.Part.Size[0] / 2, Y: p.Job.Part.Size[1] / 2} // of what is still to be cut
	return old, calc.ToOffset(kit.ReadOffset(old).Place, m, checks.Rotates(p), mid), true
}

// anew is the new offset as a fact.
func anew(p *fold.Plan, v fold.View) (f fold.Known, to calc.Offset, ok bool) {
	old, to, ok := moving(p, v)
	if !ok {
		return f, to, false
	}
	was, _ := facts.Offset.Read(old)
	o := kit.ReadOffset(old)
	o.Place = frame.Placement{Offset: frame.Vec{X: kit.Round(p, to.Place.Offset.X), Y: kit.Round(p, to.Place.Offset.Y)},
		Rotation: to.Place.Rotation}
	return kit.OffsetFact(o, float64(was.Block)), to, true
}

// offset computes the new offset, has it keyed in and read back blind.
func offset(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "new offset", Needs: fold.Needs(fold.Live(facts.Shift.ID, moved.ID), left), Makes: []fold.FactID{"offset", "echo"},
		Keys:  []string{"allowance"},
		Pause: checks.OffsetPause(p),
		Asks: func(v fold.View) []fold.Ask {
			f, _, ok := anew(p, v)
			if !ok || checks.OffsetWrong(p, v) {
				return nil
			}
			return checks.EchoAsks(p, v, f)
		},
		Judge: func(v fold.View) fold.Outcome { return judgeOffset(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The old offset points where the part lay. Here the new one goes into the control.",
				Act:  "Key the new offset in, then read it back from the control.",
				Read: checks.PageRead(p), Scene: kit.Scene(p, v, nil)}
		},
	}
}

func judgeOffset(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	f, to, ok := anew(p, v)
	switch {
	case !ok && v.Has("pause") && v.Walks(4): // else it would be asked for ever
		o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "rescue.before", Why: "an offset before it let go", Class: fold.Never},
			Count: true, Verdict: fold.Fail, Words: "This side had no work offset yet: there is none to correct. Leave, and walk the side anew."})
		return o
	case !ok:
		return o
	}
	if checks.OffsetWrong(p, v) {
		o.Next = append(o.Next, fold.Act{Do: "again", Of: "pause"})
		return o
	}
	checks.EchoChecks(p, v, f, &o)
	var at []frame.Vec
	features := kit.Features(p)
	for _, q := range features {
		at = append(at, kit.Vec(q.At))
	}
	step, err := to.Judge(at, p.Limit("rescue.step").Max)
	if err != nil {
		return kit.Cannot(p, "rescue.step", err, o)
	}
	c := judge.Most(p.Limit("rescue.step"), step.Value, step.Guard)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("At %s along %s the new offset leaves %s. Put the seam at a corner, or let the control turn.",
			features[step.Place].Name, strings.ToUpper(kit.AxisName[step.Axis]), p.Len(step.Value))
		if step.Guard > c.Limit.Max { // its doubt alone is too large
			c.Words = fmt.Sprintf("Where the cut goes on a step of %s may stand. Find it again by faces that were cut.",
				p.Len(step.Value+step.Guard))
		}
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: c.Words + " Or accept it by its number."})
		o.Named = "step-at-reentry"
	}
	o.Checks = append(o.Checks, c)
	registerAt(p, v, f, &o)
	op := kit.ReadOffset(f)
	for i, x := range []float64{op.Place.Offset.X, op.Place.Offset.Y, op.Z} {
		o.Lines = append(o.Lines, fold.Row{Label: p.Setup.Offset + " " + strings.ToUpper(kit.AxisName[i]), Value: x, Unit: unit.KLength,
			Signed: true, Big: true})
	}
	o.Lines = append(o.Lines, fold.Row{Label: "left at the worst place still to be cut", Value: step.Value, Guard: step.Guard,
		Unit: unit.KLength, Verdict: c.Verdict})
	o.Notes = append(o.Notes, "Z is as before: the first cut tells it.")
	o.Facts = []fold.Known{f, {ID: "echo"}}
	o.Learned = fmt.Sprintf("The control holds the new offset. Where the cut goes on it leaves %s, within %s.", p.Len(step.Value),
		p.Len(step.Value+step.Guard))
	return o
}

// registerAt holds what the new offset makes of the register against its limit, at the worst feature.
func registerAt(p *fold.Plan, v fold.View, f fold.Known, o *fold.Outcome) {
	fs := registerBy(p, v, f)
	if len(fs) == 0 {
		return
	}
	i, axis, value, guard := kit.WorstFeature(fs)
	r := judge.Of(p.Limit("rescue.register"), value, guard)
	r.Words = fmt.Sprintf("Worst at %s along %s. %.0f %% of the doubt is %s.", fs[i].Name, strings.ToUpper(kit.AxisName[axis]),
		100*fs[i].Share[axis], fs[i].Largest[axis])
	if r.Verdict != fold.Pass && len(o.Next) == 0 {
		next := " Touching it again makes none of that smaller: accept it by its number, or finish it by hand."
		if strings.Contains(fs[i].Largest[axis], "shift test") { // that is how it was found again
			next = " Touch more faces, or accept it by its number."
		}
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: r.Words + next})
	}
	o.Checks = append(o.Checks, r)
}

// registerBy is what is known of the register with an offset.
func registerBy(p *fold.Plan, v fold.View, f fold.Known) []kit.FeatureError {
	return kit.RegisterAs(p, func(id fold.FactID) (fold.Known, bool) {
		if id == "offset" {
			return f, true
		}
		return v.Perhaps(id)
	}, true, kit.WalkOf(v))
}

// decided holds the mismatch at the worst feature against the allowance once more.
func decided(p *fold.Plan, v fold.View, o *fold.Outcome) {
	f, ok := v.Fact("offset")
	fs := registerBy(p, v, f)
	if !ok || len(fs) == 0 {
		o.Checks = append(o.Checks, judge.So(fold.Limit{ID: "rescue.offset.there", Why: "work offset", Class: fold.Never}, false,
			"There is no offset to judge."))
		return
	}
	i, axis, value, guard := kit.WorstFeature(fs)
	c := judge.Of(p.Limit("rescue.register"), value, guard)
	c.Largest = fs[i].Largest[axis]
	c.Words = fmt.Sprintf("Worst at %s along %s. %.0f %% of the doubt is %s.", fs[i].Name, strings.ToUpper(kit.AxisName[axis]),
		100*fs[i].Share[axis], c.Largest)
	if c.Verdict != fold.Pass && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: c.Words + " Accept it by its number, or finish it by hand."})
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: "mismatch at the worst feature", Value: value, Guard: guard, Unit: unit.KLength, Big: true,
		Verdict: c.Verdict})
	o.Learned = fmt.Sprintf("Rescued: side 2 will stand within %s of side 1 at the worst feature, %s.", p.Len(value+guard), fs[i].Name)
}
