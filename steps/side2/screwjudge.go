package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

func (s screwing) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	p := s.p
	m := creepOf(v, s.axes)
	s.judgeMoves(v, m, &o)
	screwSlips(p, v, &o)
	if v.Int("walls") > 0 && len(o.Next) == 0 {
		o.Named = "clearance-not-pushed"
		o.Next = append(o.Next, fold.Act{Do: "seat", Of: "part", Words: "Loosen all screws, push the part against " + walls(p) +
			", tighten again in order."}, fold.Act{Do: "round"})
	}
	w := desk.Found(v)
	w.Engaged = unit.Length(inUse(p, float64(w.Engaged), inHand(p, v)-p.Setup.Screws.Length))
	s.judgeThread(v, w.Engaged, &o)
	head := s.judgeHead(v, &o)
	fact := facts.ScrewsFact{N: float64(v.Int("in")), Head: unit.Length(head), Engaged: w.Engaged}
	var after fold.Outcome // it knows what the screws were set to, and its lines stand behind
	fact.Set = s.strength(v, w, &after, len(o.Next) == 0)
	o.Facts = []fold.Known{facts.Screws.Is(fact)}
	if s.alone {
		o.Facts = append(o.Facts, s.shift(m, &o))
	}
	o.Checks, o.Next, o.Notes, o.Lines = append(o.Checks, after.Checks...), append(o.Next, after.Next...), append(o.Notes, after.Notes...),
		append(o.Lines, after.Lines...)
	if o.Learned = fmt.Sprintf("%d screws hold it.", v.Int("in")); m.rounds > 0 {
		o.Lines = append(o.Lines, fold.Row{Label: "moved in all", Value: m.most, Unit: unit.KLength, Big: true},
			fold.Row{Label: "moved in one round", Value: m.step, Unit: unit.KLength})
		o.Learned = fmt.Sprintf("%d screws hold it; the part moved by %s at most while they went in.", v.Int("in"), p.Len(m.most))
	}
	return o
}

// shift is the motion of a part whose dial stands for the shift test.
func (s screwing) shift(m creep, o *fold.Outcome) fold.Known {
	u := s.dialU()
	if m.rounds == 0 {
		u = screwsShift / math.Sqrt(3)
		o.Notes = append(o.Notes, "No dial on the part at this level: what the screws shift counts with "+s.p.Len(screwsShift)+" either way.")
	}
	return facts.Shift.Is(facts.ShiftFact{DX: unit.Length(m.last[0]), DY: unit.Length(m.last[1]),
		Cov: fold.NewCov("dx,dy,rot", [][]float64{{u * u, 0, 0}, {0, u * u, 0}, {0, 0, 0}})})
}

// dialU is the standard uncertainty of a difference of two readings of the dial, mm.
func (s screwing) dialU() float64 {
	return witness.DialU(s.p.Job.Machine.Dial.Graduation)
}

func (s screwing) judgeMoves(v fold.View, m creep, o *fold.Outcome) {
	p := s.p
	checks := m.checks(func() fold.Check { return judge.Of(p.Limit("screws.round"), m.step, 0) },
		func() fold.Check { return judge.Of(p.Limit("screws.total"), m.most, 0) })
	shifts := s.alone && m.rounds > 0
	if shifts {
		g := budget.OneSided * s.dialU()
		for k, word := range []string{"along X", "along Y"} {
			l := p.Limit("screws.shift")
			l.ID += "." + s.axes[k]
			l.Why += ", " + word
			checks = append(checks, judge.Of(l, math.Abs(m.last[k]), g))
		}
		if high := fmt.Sprintf("round%d.z", len(stages)); v.Walks(3) && v.Has(high) {
			lift := judge.Of(p.Limit("screws.lift"), math.Abs(v.Len(high)), 0)
			checks = append([]fold.Check{lift}, checks...)
			o.Notes = append(o.Notes, "Lean is not read: the dial tells the height at one place. The witness set after the screws shows it.")
		}
	}
	for i := range checks {
		c := &checks[i]
		if c.Verdict == fold.Pass || c.Words != "" {
			continue
		}
		c.Words = "The screws move the part: loosen all, push it against its walls, tighten crosswise in smaller steps."
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Words: c.Words}, fold.Act{Do: "round"})
		}
	}
	o.Checks = append(o.Checks, checks...)
	if shifts && (checks[len(checks)-1].Verdict == fold.Fail || checks[len(checks)-2].Verdict == fold.Fail) {
		o.Named = "shift-at-swap"
	}
}

// inHand is the length of the screws that go in: the job's, where the level does not ask.
func inHand(p *fold.Plan, v fold.View) float64 {
	if p.Short() && !v.Has("pause") {
		return p.Setup.Screws.Length
	}
	return v.Len("pause")
}

// judgeThread holds the thread that the screws take hold in, and their ends against its bottom.
func (s screwing) judgeThread(v fold.View, used unit.Length, o *fold.Outcome) {
	p := s.p
	if t, err := hold.ThreadNamed(p.Setup.Screws.Thread); err == nil {
		c := engagedCheck(p, t, float64(used))
		c.Limit.ID = "screws.engaged"
		if c.Verdict == fold.Fail {
			o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "longer", Words: c.Words +
				" Take longer screws, or deepen the threads."}, fold.Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
	}
	d := p.Job.Fixture.Threads.Depth
	if d <= 0 {
		return
	}
	le := Engaged(p) + inHand(p, v) - p.Setup.Screws.Length
	c := judge.Most(fold.Limit{ID: "screws.bottom", Why: "end of the screw above its thread's end", Max: d, Class: fold.Never,
		Unit: unit.KLength}, le, 0)
	if !c.Verdict.OK() {
		c.Words = fmt.Sprintf("A %s screw needs %s of thread and finds %s. It stands on the bottom and clamps nothing.", p.Len(inHand(p, v)),
			p.Len(le), p.Len(d))
		o.Named = "screw-bottomed"
		o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "shorter", Words: c.Words + " Take shorter screws or add a washer."},
			fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
}

// judgeHead holds the highest head against the planned one; 0 where none is known.
func (s screwing) judgeHead(v fold.View, o *fold.Outcome) float64 {
	p := s.p
	h, ok := desk.HeadHeight(p)
	if !ok {
		return 0
	}
	head := v.Len("head")
	c := judge.Most(fold.Limit{ID: "screws.head", Why: "height of the heads, above it", Max: headSlack, Class: fold.Hard, Unit: unit.KLength},
		math.Max(0, head-h), 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("A head stands %s over the part's face, planned are %s: the cutter would meet it.", p.Len(head), p.Len(h))
		o.Named = "screw-head-high"
		o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "lower", Words: c.Words +
			" Take screws with lower heads, or put the height into the job."}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
	return head
}
