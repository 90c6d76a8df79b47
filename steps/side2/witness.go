package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
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

// fitting is the act that puts the instrument in.
func fitting(p *fold.Plan, then string) fold.Act {
	f := kit.Fittings[p.Setup.Finds]
	if f.Of == "" || f.Of == "probe" {
		return fold.Act{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. " + then}
	}
	words, _, _ := strings.Cut(f.Words, " Try")
	return fold.Act{Do: "fit", Of: f.Of, Words: words + " " + then}
}

// crossAsks ask a centre by the fewest readings along X and along Y.
func crossAsks(p *fold.Plan, v fold.View, t kit.Target) []fold.Ask {
	var out []fold.Ask
	asked := map[string]bool{}
	for _, axis := range kit.AxisName[:2] {
		for _, a := range kit.Finder(p).Pair(v, t, axis) {
			if !asked[a.Field] {
				asked[a.Field] = true
				out = append(out, a)
			}
		}
	}
	return out
}

// cross is that centre, as read, with its standard uncertainty on each axis.
func cross(p *fold.Plan, v fold.View, t kit.Target) (at frame.Vec, u [2]float64, ok bool) {
	x, ux, ok1 := kit.Finder(p).Across(v, t, "x")
	y, uy, ok2 := kit.Finder(p).Across(v, t, "y")
	return frame.Vec{X: x, Y: y}, [2]float64{ux, uy}, ok1 && ok2
}

func sq(x float64) float64 { return x * x }

// setAsks asks a witness set, the fixture's own first: of all witnesses, or only the
// heights. Where base is given, its differences predict.
func setAsks(p *fold.Plan, v fold.View, base *fold.Known, times int, heights bool) []fold.Ask {
	if posts(p) {
		return postAsks(p, base == nil)
	}
	var asks []fold.Ask
	near := func(want, half float64, why string) *fold.Window {
		w := kit.Around(want, half, why)
		w.Slips = unit.SlipContext{TipRadius: kit.FaceRadius(p, v)}
		return w
	}
	if !heights {
		first, _ := kit.Targets(p)
		asks = crossAsks(p, v, first)
		asks[0].Do = append([]fold.Act{fitting(p, "First the fixture's own witness: the "+first.Name+".")}, asks[0].Do...)
	}
	r := kit.Rim(p)[0]
	bore, found := v.Perhaps("bore")
	off, placed := v.Perhaps("offset")
	for k := 1; k <= repeats(p); k++ {
		a := fold.Ask{Field: kit.RepeatField("rim", k), Label: "rim of the fixture: " + kit.OnFixture(p, r, bore, found), Kind: fold.Reading,
			Unit: unit.KLength,
			What: fold.What{By: kit.TouchBy(p), Of: "rim@" + kit.Place(r.X) + "," + kit.Place(r.Y), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(
				p, "z")}
		if k > 1 {
			a.Label = kit.SecondTouch(a.Label)
			if z, ok := v.Num("rim", unit.KLength); ok {
				a.Window = near(z, 0.05, "the touch before")
			}
		} else if heights {
			a.Do = []fold.Act{fitting(p, "First the fixture's rim.")}
		}
		asks = append(asks, a)
	}
	s := readSet(p, v, heights)
	ball := kit.FaceRadius(p, v)
	for i, sp := range witnesses(p) {
		if heights && sp.Axis != fit.AxisZ {
			continue
		}
		for k := 1; k <= times; k++ {
			a := fold.Ask{Field: kit.RepeatField(sp.Field, k), Label: kit.WitnessAt(p, sp, off, placed), Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: kit.FaceBy(p, sp.Axis), Of: sp.Of, Dir: sp.Dir, Axis: kit.AxisName[sp.Axis]}, Window: kit.TravelWindow(
					p, kit.AxisName[sp.Axis])}
			first, read := v.Num(sp.Field, unit.KLength)
			switch {
			case k > 1 && read:
				a.Label = kit.SecondTouch(a.Label)
				a.Window = near(first, 0.05, "the touch before")
			case k > 1:
				a.Label = kit.SecondTouch(a.Label)
			case base != nil && len(base.Value) > 3+i && s.fixed:
				a.Window = near(base.Value[3+i]+s.refOf(sp.Axis), 0.3, "where it stood before")
			case placed && sp.Axis == fit.AxisX:
				a.Window = near(off.Value[0]+sp.At.X-sp.Sign*ball, 1, "the part in its pocket")
			case placed && sp.Axis == fit.AxisY:
				a.Window = near(off.Value[1]+sp.At.Y-sp.Sign*ball, 1, "the part in its pocket")
			case sp.Axis == fit.AxisZ:
				if z, ok := v.Num("z1", unit.KLength); ok && sp.Field != "z1" {
					a.Window = near(z, 0.5, "the first touch on the top")
				}
			}
			if k > repeats(p) && p.Level() == fold.Full { // at a level they are simply asked: one touch each was the bargain
				a.Form, a.Optional = "more", true
			}
			asks = append(asks, a)
		}
	}
	return asks
}

// witnessSet is one set as read.
type witnessSet struct {
	fixed  bool // the fixture's own witness is there
	ref    fit.Point3
	refU   [2]float64  // standard uncertainty of the reference along X and Y
	reads  [][]float64 // per spot
	spread budget.Spread
	pair   float64 // largest difference of two repeats
	pairs  int     // how many there are
	worst  string  // field of it
}

func (s witnessSet) refOf(a fit.Axis) float64 { return [3]float64{s.ref.X, s.ref.Y, s.ref.Z}[a] }

// readSet collects what was read of a set.
func readSet(p *fold.Plan, v fold.View, heights bool) witnessSet {
	if posts(p) {
		return readPosts(p, v)
	}
	s := witnessSet{fixed: true}
	get := func(field string) float64 {
		x, ok := v.Num(field, unit.KLength)
		s.fixed = s.fixed && ok
		return x
	}
	if !heights {
		first, _ := kit.Targets(p)
		at, u, ok := cross(p, v, first)
		s.ref.X, s.ref.Y, s.refU, s.fixed = at.X, at.Y, u, ok
	}
	var parts []budget.Spread
	pair := func(field string, xs []float64) {
		parts = append(parts, budget.SpreadOf(xs))
		for i := range xs {
			for j := range i {
				s.pairs++
				if d := math.Abs(xs[i] - xs[j]); d > s.pair {
					s.pair, s.worst = d, field
				}
			}
		}
	}
	var rim []float64
	for k := 1; k <= repeats(p); k++ {
		rim = append(rim, get(kit.RepeatField("rim", k)))
	}
	s.ref.Z = kit.Mean(rim)
	if s.fixed {
		pair("rim", rim)
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
		s.reads = append(s.reads, xs)
		if len(xs) > 1 {
			pair(sp.Field, xs)
		}
	}
	s.spread = budget.Pool(parts...)
	return s
}

// baseline is the fact: number of witnesses, pooled scatter and its degrees of freedom, then part minus fixture at each.
func baselineFact(p *fold.Plan, s witnessSet) fold.Known {
	f := fold.Known{ID: "baseline", Value: []float64{float64(len(s.reads)), s.spread.S, s.spread.Dof}}
	for i, sp := range witnesses(p) {
		f.Value = append(f.Value, kit.Mean(s.reads[i])-s.refOf(sp.Axis))
	}
	return f
}

// moved is the rigid motion of the part on its fixture since the baseline, about the part zero.
func moved(p *fold.Plan, base fold.Known, s witnessSet, heights bool) (fit.Motion, error) {
	sp := witnesses(p)
	if len(base.Value) != 3+len(sp) {
		return fit.Motion{}, fmt.Errorf("the baseline has %d witnesses and the job %d; read the baseline again", len(base.Value)-3, len(sp))
	}
	var ds []fit.Difference
	for i, w := range sp {
		if heights && w.Axis != fit.AxisZ {
			continue
		}
		if len(s.reads[i]) == 0 {
			return fit.Motion{}, fmt.Errorf("witness %q was not read; read it", w.Label)
		}
		ds = append(ds, fit.Difference{Axis: w.Axis, At: w.At, D: kit.Mean(s.reads[i]) - s.refOf(w.Axis) - base.Value[3+i],
			Q: 1/float64(repeats(p)) + 1/float64(len(s.reads[i]))})
	}
	floor, dof := judge.ProbeS(p)
	scatter := budget.Pool(budget.Spread{S: base.Value[1], Dof: base.Value[2]}, s.spread)
	if scatter.Dof == 0 { // nothing was read twice
		scatter.Dof = dof
	}
	scatter = scatter.AtLeast(floor)
	if posts(p) {
		scatter = s.spread
	}
	// Both sets have a reference of the same kind: a centre by opposed contacts (s/√2 each), touches on the rim.
	ref := [3]float64{2 * sq(s.refU[0]/scatter.S), 2 * sq(s.refU[1]/scatter.S), 2 / float64(repeats(p))}
	if posts(p) {
		ref = [3]float64{} // the posts stand on the fixture itself
	}
	return fit.SolveMotion(ds, ref, scatter)
}

// AtWorst is the motion at the worst listed feature, so high over the faces that it was read at: its place, axis, size and guard. What
// leans goes sideways there, and which way is not known.
func AtWorst(p *fold.Plan, m fit.Motion, height float64) (name string, axis int, value, guard float64) {
	best := math.Inf(-1)
	side, us := fit.Rise{X: m.TiltX, Y: m.TiltY, Cov: m.LiftCov}.Sideways(height)
	for _, f := range kit.Features(p) {
		d, u := m.At(fit.Point{X: f.At.X, Y: f.At.Y})
		for a, x := range [2][4]float64{{d.X, u.X, side.X, us.X}, {d.Y, u.Y, side.Y, us.Y}} {
			d, g := math.Abs(x[0])+math.Abs(x[2]), m.Guard(math.Hypot(x[1], x[3]))
			if d+g > best {
				best, name, axis, value, guard = d+g, f.Name, a, d, g
			}
		}
	}
	return
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
func whatRose(p *fold.Plan, m fit.Motion) string {
	var up, down int
	high, most := "", 0.0
	k := 0
	sps := witnesses(p)
	if len(m.Shifts) != len(sps) { // heights only
		var zs []kit.Spot
		for _, s := range sps {
			if s.Axis == fit.AxisZ {
				zs = append(zs, s)
			}
		}
		sps = zs
	}
	for i, sp := range sps {
		if sp.Axis != fit.AxisZ {
			continue
		}
		s := m.Shifts[i]
		if s.Real && s.D > 0 {
			up++
			if s.D > most {
				most, high = s.D, kit.CornerName[k]
			}
		}
		if s.Real && s.D < 0 {
			down++
		}
		k++
	}
	switch {
	case k == 1 && up > 0:
		return "It rose under the dial: a burr or a chip."
	case k == 1 && down > 0:
		return "It went down under the dial: it was never seated."
	case up == k && k > 0:
		return "It rose everywhere: a burr or chips under it."
	case down == k && k > 0:
		return "It went down everywhere: it was never seated."
	case up > 0:
		return "It rose most at " + high + ": a chip there."
	case down > 0:
		return "It settled on one side."
	}
	return ""
}

// falseRepeat is the chance that one pair too far apart is found in a set of sound readings.
const falseRepeat = 0.003

// RepeatOf is the repeat limit of the largest of n pairs: the more there are, the farther apart the worst of
// them is by chance. One pair beyond 3.5 s is 1.3 % of all, the worst of ten 11 %.
func RepeatOf(p *fold.Plan, n int) fold.Limit {
	l := p.Limit("repeat")
	if !p.Granted("repeat") && n > 0 {
		s, dof := judge.ProbeS(p)
		l.Max = math.Max(l.Max, math.Sqrt2*s*budget.CriticalT(falseRepeat, n, dof))
		if own, ok := p.Job.Limits["repeat"]; ok { // tighter than that of so many pairs it holds
			l.Max = math.Min(l.Max, float64(own))
		}
	}
	return l
}

// repeatCheck holds the pairs of a set against the repeat limit.
func repeatCheck(p *fold.Plan, s witnessSet, o *fold.Outcome) {
	if s.pairs == 0 {
		return // nothing was read twice
	}
	l := RepeatOf(p, s.pairs)
	if p.Job.Machine.Probe == nil { // faces are then touched by something coarser than what found the bore
		l.Max = math.Max(l.Max, 3.5*kit.Kicker{P: p, By: kit.FaceBy(p, fit.AxisX)}.Contact().S)
	}
	c := judge.Of(l, s.pair, 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("Two touches of %s differ by %s: wipe %s and face, touch both again.", s.worst, p.Len(s.pair), kit.Tip(p))
		o.Next = append(o.Next, fold.Act{Do: "again", Of: s.worst, Words: c.Words}, fold.Act{Do: "again", Of: kit.RepeatField(s.worst, 2)})
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
