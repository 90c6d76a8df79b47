package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Witness readings are differences, part minus fixture, in one probe mounting: what
// a refitted probe or a grown spindle adds is in both and cancels.

// repeats is how often each witness of the part is read in a set. Twice, the scatter is pooled over all; at
// a level once, and the scatter is the probe's own.
func repeats(p *fold.Plan) int {
	if p.Level() != fold.Full {
		return 1
	}
	return 2
}

// cross is that centre, as read, with its standard uncertainty on each axis.
func cross(p *fold.Plan, v fold.View, t kit.Target) (at frame.Vec, u [2]float64, ok bool) {
	x, ux, ok1 := kit.Finder(p).Across(v, t, "x")
	y, uy, ok2 := kit.Finder(p).Across(v, t, "y")
	return frame.Vec{X: x, Y: y}, [2]float64{ux, uy}, ok1 && ok2
}

// witnessSet is one set as read.
type witnessSet struct {
	witness.Set
	fixed bool // the fixture's own witness is there
}

// readSet collects what was read of a set.
func readSet(p *fold.Plan, v fold.View, heights bool) witnessSet {
	if posts(p) {
		return readPosts(p, v)
	}
	s := witnessSet{fixed: true}
	if !heights {
		first, _ := kit.Targets(p)
		at, u, ok := cross(p, v, first)
		s.Fixture.X, s.Fixture.Y, s.U, s.fixed = at.X, at.Y, u, ok
	}
	var rim []float64
	for k := 1; k <= repeats(p); k++ {
		z, ok := v.Num(kit.RepeatField("rim", k), unit.KLength)
		rim, s.fixed = append(rim, z), s.fixed && ok
	}
	if s.fixed {
		s.Rim, s.Fixture.Z = rim, budget.MeanOf(rim)
	}
	for _, sp := range witnesses(p) {
		var xs []float64
		for k := 1; ; k++ {
			x, ok := v.Num(kit.RepeatField(sp.Field, k), unit.KLength)
			if !ok {
				break
			}
			xs = append(xs, x)
		}
		s.Reads = append(s.Reads, xs)
	}
	return s
}

// spots are the witnesses as their motion is reckoned from.
func spots(p *fold.Plan) (out []witness.Spot) {
	for _, w := range witnesses(p) {
		out = append(out, witness.Spot{Name: w.Label, Axis: w.Axis, At: w.At})
	}
	return out
}

// baselineFact is the set as a fact: the scatter of a touch, and part minus fixture at each witness.
func baselineFact(p *fold.Plan, s witnessSet) facts.BaselineFact {
	b := s.Baseline(spots(p), repeats(p))
	return facts.BaselineFact{N: float64(len(b.Differ)), S: unit.Length(b.Spread.S), Freedom: b.Spread.Dof, D: b.Differ}
}

// moved is the rigid motion of the part on its fixture since the baseline, about the part zero.
func moved(p *fold.Plan, base facts.BaselineFact, s witnessSet, of witness.Which) (fit.Motion, error) {
	var own budget.Spread
	own.S, own.Dof = judge.ProbeS(p)
	was := witness.Baseline{Repeats: repeats(p), Spread: budget.Spread{S: float64(base.S), Dof: base.Freedom}, Differ: base.D}
	return was.Moved(spots(p), s.Set, of, own)
}

// AtWorst is the motion at the worst listed feature, so high over the faces that it was read at: its place, axis, size and guard.
func AtWorst(p *fold.Plan, m fit.Motion, height float64) (name string, axis int, value, guard float64) {
	fs := kit.Features(p)
	var at []frame.Vec
	for _, f := range fs {
		at = append(at, kit.Vec(f.At))
	}
	if len(fs) == 0 {
		return "", 0, 0, 0
	}
	i, axis, value, guard := witness.Worst(m, at, height)
	return fs[i].Name, axis, value, guard
}

// shiftFact is the motion as a fact, its lean as it works over that height; 0 for a lean that is not reckoned with.
func shiftFact(m fit.Motion, height float64) fold.Known {
	f := facts.ShiftFact{DX: unit.Length(m.Move.X), DY: unit.Length(m.Move.Y), Rot: unit.Angle(m.Turn), Dof: m.Dof}
	var cov [][]float64
	for i := range m.PlanCov {
		cov = append(cov, append([]float64(nil), m.PlanCov[i][:]...))
	}
	f.Cov = fold.NewCov("dx,dy,rot", cov)
	if m.Tilted && height > 0 {
		d, u := fit.Rise{X: m.TiltX, Y: m.TiltY, Cov: m.LiftCov}.Sideways(height)
		f.SideX, f.SideY, f.UX, f.UY = unit.Length(d.X), unit.Length(d.Y), unit.Length(u.X), unit.Length(u.Y)
	}
	return facts.Shift.Is(f)
}

// motionLines show each witness's shift and the motion.
func motionLines(p *fold.Plan, m fit.Motion, heights bool) []fold.Row {
	var rows []fold.Row
	k := 0
	for _, sp := range witnesses(p) {
		if heights && sp.Axis != fit.AxisZ {
			continue
		}
		r := fold.Row{Label: sp.Label, Value: m.Shifts[k].D, Guard: m.Shifts[k].Limit, Unit: unit.KLength, Signed: true}
		rows = append(rows, r)
		k++
	}
	return rows
}

// whatRose names in words what the heights say, "" when nothing moved beyond the scatter.
func whatRose(m fit.Motion) string {
	heights := 0
	for _, s := range m.Shifts {
		if s.Axis == fit.AxisZ {
			heights++
		}
	}
	said, at := witness.RiseOf(m)
	switch {
	case heights == 1 && said == witness.Rose:
		return "It rose under the dial: a burr or a chip."
	case heights == 1 && said == witness.Sank:
		return "It went down under the dial: it was never seated."
	case said == witness.Rose:
		return "It rose everywhere: a burr or chips under it."
	case said == witness.Sank:
		return "It went down everywhere: it was never seated."
	case said == witness.RoseAt:
		return "It rose most at " + kit.CornerName[at] + ": a chip there."
	case said == witness.SankInPart:
		return "It settled on one side."
	}
	return ""
}

// RepeatOf is the repeat limit of the largest of n pairs: the more there are, the farther apart the worst of
// them is by chance. One pair beyond 3.5 s is 1.3 % of all, the worst of ten 11 %.
func RepeatOf(p *fold.Plan, n int) fold.Limit {
	l := p.Limit("repeat")
	if !p.Granted("repeat") && n > 0 {
		var touch budget.Spread
		touch.S, touch.Dof = judge.ProbeS(p)
		l.Max = math.Max(l.Max, witness.RepeatLimit(touch, n))
		if own, ok := p.Job.Limits["repeat"]; ok { // tighter than that of so many pairs it holds
			l.Max = math.Min(l.Max, float64(own))
		}
	}
	return l
}

// repeatCheck holds the pairs of a set against the repeat limit.
func repeatCheck(p *fold.Plan, s witnessSet, o *fold.Outcome) {
	pairs := s.Pairs()
	if pairs.N == 0 {
		return // nothing was read twice
	}
	l := RepeatOf(p, pairs.N)
	if p.Job.Machine.Probe == nil { // faces are then touched by something coarser than what found the bore
		l.Max = math.Max(l.Max, 3.5*kit.Kicker{P: p, By: kit.FaceBy(p, fit.AxisX)}.Contact().S)
	}
	c := judge.Of(l, pairs.Largest, 0)
	if c.Verdict == fold.Fail {
		field, name := "rim", "the rim"
		if pairs.Spot >= 0 {
			w := witnesses(p)[pairs.Spot]
			field, name = w.Field, w.Label
		}
		c.Words = fmt.Sprintf("Wipe %s and face, touch both again. Two touches of %s differ by %s.", kit.Tip(p), name, p.Len(pairs.Largest))
		o.Next = append(o.Next, fold.Act{Do: "again", Of: field, Words: c.Words}, fold.Act{Do: "again", Of: kit.RepeatField(field, 2)})
	}
	o.Checks = append(o.Checks, c)
}

// spotMarks draws the witnesses, those read as hits and the next one as next.
func spotMarks(p *fold.Plan, v fold.View, heights bool) []fold.Shape {
	z, _ := kit.PartZero(p)
	var out []fold.Shape
	for _, sp := range witnesses(p) {
		if heights && sp.Axis != fit.AxisZ {
			continue
		}
		role := fold.RoleHit
		if !v.Has(sp.Field) {
			role = fold.RoleNext
		}
		out = append(out, fold.Shape{Role: role, Points: []fold.XY{{X: z.X + sp.At.X, Y: z.Y + sp.At.Y}}})
		if role == fold.RoleNext {
			break
		}
	}
	return out
}
