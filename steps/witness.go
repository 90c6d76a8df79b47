package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// Witness readings are differences, part minus fixture, in one probe mounting: what
// a refitted probe or a grown spindle adds is in both and cancels.

// witnessRepeats is how often each witness of the part is read in a set: the scatter is pooled over all.
const witnessRepeats = 2

// spot is one witness of the part, in program coordinates in plan.
type spot struct {
	field, label string
	of, dir      string
	axis         fit.Axis
	at           fit.Point
	sign         float64 // way of the approach along the axis
}

var axisName = [...]string{"x", "y", "z"}

// spots are the part's witnesses: one face along X, two far apart along Y, four on
// the top; clear of clamps and screws where there is such a place, and still there
// after drilling.
func (p *Plan) spots() []spot {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	var sides []jobs.Point
	for _, f := range []float64{0.42, 0.25, 0.75, 0.12, 0.88} {
		sides = append(sides, jobs.Point{X: 0, Y: math.Round(f * h)}, jobs.Point{X: w, Y: math.Round(f * h)})
	}
	q := p.freest(sides, false)
	px := spot{"px", "part, left face", "part-left@" + place(q.Y), "x+", fit.AxisX, fit.Point{X: q.X, Y: q.Y}, 1}
	if q.X > 0 {
		px = spot{"px", "part, right face", "part-right@" + place(q.Y), "x-", fit.AxisX, fit.Point{X: q.X, Y: q.Y}, -1}
	}
	out := []spot{px}
	for i, fs := range [][]float64{{0.08, 0.16, 0.24, 0.32}, {0.92, 0.84, 0.76, 0.68}} {
		var ends []jobs.Point
		for _, y := range []float64{0, h} {
			for _, f := range fs {
				ends = append(ends, jobs.Point{X: math.Round(f * w), Y: y})
			}
		}
		q := p.freest(ends, false)
		end := [2]string{"left end", "right end"}[i]
		s := spot{fmt.Sprintf("py%d", i+1), "part, front face, " + end, "part-front@" + place(q.X), "y+", fit.AxisY, fit.Point{X: q.X, Y: q.Y}, 1}
		if q.Y > 0 {
			s.label, s.of, s.dir, s.sign = "part, rear face, "+end, "part-rear@"+place(q.X), "y-", -1
		}
		out = append(out, s)
	}
	for i, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		var tops []jobs.Point
		for _, in := range [][2]float64{{0.2, 0.12}, {0.12, 0.3}, {0.3, 0.12}, {0.3, 0.3}} {
			tops = append(tops, jobs.Point{X: math.Round(w * math.Abs(c[0]-in[0])), Y: math.Round(h * math.Abs(c[1]-in[1]))})
		}
		q := p.freest(tops, true)
		out = append(out, spot{fmt.Sprintf("z%d", i+1), "part top, " + cornerName[i], "part-top@" + place(q.X) + "," + place(q.Y), "z-", fit.AxisZ, fit.Point{X: q.X, Y: q.Y}, -1})
	}
	return out
}

// freest is the first place with room for the ball beside clamps, and on the top beside
// screws; with little room if need be, else the first of all: the person sees the table.
func (p *Plan) freest(qs []jobs.Point, top bool) jobs.Point {
	for _, r := range []float64{6, 3} {
		for _, q := range qs {
			if p.open(q.X, q.Y, r) && (!top || p.offScrews(q.X, q.Y, r/2)) {
				return q
			}
		}
	}
	return qs[0]
}

// cornerName are the corners in the order of the top witnesses.
var cornerName = [...]string{"NEAR LEFT", "NEAR RIGHT", "FAR RIGHT", "FAR LEFT"}

// open says that no clamp stands within r of a place on the part.
func (p *Plan) open(x, y, r float64) bool {
	for _, c := range p.Setup.Clamps {
		lo, hi := outlineBox(c.Outline)
		if x > lo.X-r && x < hi.X+r && y > lo.Y-r && y < hi.Y+r {
			return false
		}
	}
	return true
}

// offScrews says that no screw's washer or head comes within r of a place on the part.
func (p *Plan) offScrews(x, y, r float64) bool {
	for _, q := range p.Setup.Screws.At {
		if math.Hypot(x-q.X, y-q.Y) < math.Max(p.Setup.Screws.Washer, 4)/2+r {
			return false
		}
	}
	return true
}

// faceRadius lies between spindle axis and surface when a face is touched: the ball as
// calibrated. What a step measures with it stands on the ball; the card's serves predictions
// only, of steps that compare and so need none.
func (p *Plan) faceRadius(v View) float64 {
	switch {
	case p.Job.Machine.Probe == nil:
		return kicker{p, p.faceBy(fit.AxisX)}.contact().radius
	case p.ballRadius(v) > 0:
		return p.ballRadius(v)
	}
	return p.Job.Machine.Probe.Radius
}

// faceBy is the instrument that touches the part's faces along an axis: the probe, an edge finder, or paper.
func (p *Plan) faceBy(a fit.Axis) string {
	m := &p.Job.Machine
	switch {
	case a == fit.AxisZ:
		return p.touchBy()
	case m.Probe != nil:
		return "probe"
	case m.Finder != nil:
		return "finder"
	}
	return "paper"
}

// fitting is the act that puts the instrument in.
func (p *Plan) fitting(then string) Act {
	f := fittings[p.Setup.Finds]
	if f.of == "" || f.of == "probe" {
		return Act{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. " + then}
	}
	words, _, _ := strings.Cut(f.words, " Try")
	return Act{Do: "fit", Of: f.of, Words: words + " " + then}
}

// crossAsks ask a centre by the fewest readings along X and along Y.
func (p *Plan) crossAsks(v View, t target) []Ask {
	var out []Ask
	asked := map[string]bool{}
	for _, axis := range axisName[:2] {
		for _, a := range p.finder().pair(v, t, axis) {
			if !asked[a.Field] {
				asked[a.Field] = true
				out = append(out, a)
			}
		}
	}
	return out
}

// cross is that centre, as read, with its standard uncertainty on each axis.
func (p *Plan) cross(v View, t target) (at frame.Vec, u [2]float64, ok bool) {
	x, ux, ok1 := p.finder().across(v, t, "x")
	y, uy, ok2 := p.finder().across(v, t, "y")
	return frame.Vec{X: x, Y: y}, [2]float64{ux, uy}, ok1 && ok2
}

func sq(x float64) float64 { return x * x }

// repeatField names the k-th reading of a witness, from 1.
func repeatField(field string, k int) string {
	if k == 1 {
		return field
	}
	return fmt.Sprintf("%s.%d", field, k)
}

// locator is what the fixture is found by: its bore, its pin or its square.
func (p *Plan) locator() string {
	if k := p.Job.Fixture.AsMade.Bore.Kind; k != "" {
		return k
	}
	return "bore"
}

// quarters are hits square to the axes.
var quarters = [...]struct {
	field, dir, axis string
	cos, sin         float64
}{{"f0", "0", "x", 1, 0}, {"f90", "90", "y", 0, 1}, {"f180", "180", "x", -1, 0}, {"f270", "270", "y", 0, -1}}

// setAsks asks a witness set, the fixture's own first: of all witnesses, or only the
// heights. Where base is given, its differences predict.
func (p *Plan) setAsks(v View, base *Fact, repeats int, heights bool) []Ask {
	var asks []Ask
	near := func(want, half float64, why string) *Window {
		w := around(want, half, why)
		w.Slips = unit.SlipContext{TipRadius: p.faceRadius(v)}
		return w
	}
	if !heights {
		first, _ := p.targets()
		asks = p.crossAsks(v, first)
		asks[0].Do = append([]Act{p.fitting("First the fixture's own witness: the " + first.name + ".")}, asks[0].Do...)
	}
	r := p.rim()[0]
	bore, found := v.Fact("bore")
	off, placed := v.Fact("offset")
	for k := 1; k <= witnessRepeats; k++ {
		a := Ask{Field: repeatField("rim", k), Label: "rim of the fixture: " + p.onFixture(r, bore, found), Kind: Reading, Unit: unit.KLength,
			What: What{By: p.touchBy(), Of: "rim@" + place(r.X) + "," + place(r.Y), Dir: "z-", Axis: "z"}, Window: p.travelWindow("z")}
		if k > 1 {
			a.Label = "and once more"
			if z, ok := v.Num("rim", unit.KLength); ok {
				a.Window = near(z, 0.05, "the touch before")
			}
		} else if heights {
			a.Do = []Act{p.fitting("First the fixture's rim.")}
		}
		asks = append(asks, a)
	}
	s := p.readSet(v, heights)
	ball := p.faceRadius(v)
	for i, sp := range p.spots() {
		if heights && sp.axis != fit.AxisZ {
			continue
		}
		for k := 1; k <= repeats; k++ {
			a := Ask{Field: repeatField(sp.field, k), Label: p.witnessAt(sp, off, placed), Kind: Reading, Unit: unit.KLength,
				What: What{By: p.faceBy(sp.axis), Of: sp.of, Dir: sp.dir, Axis: axisName[sp.axis]}, Window: p.travelWindow(axisName[sp.axis])}
			first, read := v.Num(sp.field, unit.KLength)
			switch {
			case k > 1 && read:
				a.Label = "and once more"
				a.Window = near(first, 0.05, "the touch before")
			case k > 1:
				a.Label = "and once more"
			case base != nil && len(base.Value) > 3+i && s.fixed:
				a.Window = near(base.Value[3+i]+s.refOf(sp.axis), 0.3, "where it stood before")
			case placed && sp.axis == fit.AxisX:
				a.Window = near(off.Value[0]+sp.at.X-sp.sign*ball, 1, "the part in its pocket")
			case placed && sp.axis == fit.AxisY:
				a.Window = near(off.Value[1]+sp.at.Y-sp.sign*ball, 1, "the part in its pocket")
			case sp.axis == fit.AxisZ:
				if z, ok := v.Num("z1", unit.KLength); ok && sp.field != "z1" {
					a.Window = near(z, 0.5, "the first touch on the top")
				}
			}
			if k > witnessRepeats {
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
func (p *Plan) readSet(v View, heights bool) witnessSet {
	s := witnessSet{fixed: true}
	get := func(field string) float64 {
		x, ok := v.Num(field, unit.KLength)
		s.fixed = s.fixed && ok
		return x
	}
	if !heights {
		first, _ := p.targets()
		at, u, ok := p.cross(v, first)
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
	rim := []float64{get("rim"), get("rim.2")}
	s.ref.Z = (rim[0] + rim[1]) / 2
	if s.fixed {
		pair("rim", rim)
	}
	for _, sp := range p.spots() {
		var xs []float64
		for k := 1; ; k++ {
			x, ok := v.Num(repeatField(sp.field, k), unit.KLength)
			if !ok {
				break
			}
			xs = append(xs, x)
		}
		s.reads = append(s.reads, xs)
		if len(xs) > 1 {
			pair(sp.field, xs)
		}
	}
	s.spread = budget.Pool(parts...)
	return s
}

// baseline is the fact: number of witnesses, pooled scatter and its degrees of freedom, then part minus fixture at each.
func (p *Plan) baselineFact(s witnessSet) Fact {
	f := Fact{ID: "baseline", Value: []float64{float64(len(s.reads)), s.spread.S, s.spread.Dof}}
	for i, sp := range p.spots() {
		f.Value = append(f.Value, mean(s.reads[i])-s.refOf(sp.axis))
	}
	return f
}

func mean(xs []float64) float64 {
	m := 0.0
	for _, x := range xs {
		m += (x - xs[0]) / float64(len(xs))
	}
	return xs[0] + m
}

// moved is the rigid motion of the part on its fixture since the baseline, about the part zero.
func (p *Plan) moved(base Fact, s witnessSet, heights bool) (fit.Motion, error) {
	sp := p.spots()
	if len(base.Value) != 3+len(sp) {
		return fit.Motion{}, fmt.Errorf("the baseline has %d witnesses and the job %d; read the baseline again", len(base.Value)-3, len(sp))
	}
	var ds []fit.Difference
	for i, w := range sp {
		if heights && w.axis != fit.AxisZ {
			continue
		}
		if len(s.reads[i]) == 0 {
			return fit.Motion{}, fmt.Errorf("witness %q was not read; read it", w.label)
		}
		ds = append(ds, fit.Difference{Axis: w.axis, At: w.at, D: mean(s.reads[i]) - s.refOf(w.axis) - base.Value[3+i],
			Q: 1.0/witnessRepeats + 1/float64(len(s.reads[i]))})
	}
	floor, _ := p.probeS()
	scatter := budget.Pool(budget.Spread{S: base.Value[1], Dof: base.Value[2]}, s.spread).AtLeast(floor)
	// Both sets have a reference of the same kind: a centre by opposed contacts (s/√2 each), touches on the rim.
	ref := [3]float64{2 * sq(s.refU[0]/scatter.S), 2 * sq(s.refU[1]/scatter.S), 1.0/witnessRepeats + 1.0/witnessRepeats}
	return fit.SolveMotion(ds, ref, scatter)
}

// atWorst is the motion at the worst listed feature: its place, axis, size and guard.
func (p *Plan) atWorst(m fit.Motion) (name string, axis int, value, guard float64) {
	best := math.Inf(-1)
	for _, f := range p.features() {
		d, u := m.At(fit.Point{X: f.At.X, Y: f.At.Y})
		for a, x := range [2][2]float64{{d.X, u.X}, {d.Y, u.Y}} {
			if g := m.Guard(x[1]); math.Abs(x[0])+g > best {
				best, name, axis, value, guard = math.Abs(x[0])+g, f.Name, a, math.Abs(x[0]), g
			}
		}
	}
	return
}

// shiftFact is the motion as a fact.
func shiftFact(m fit.Motion) Fact {
	f := Fact{ID: "shift", Value: []float64{m.Move.X, m.Move.Y, m.Turn}, Dof: m.Dof}
	for i := range m.PlanCov {
		f.Cov = append(f.Cov, append([]float64(nil), m.PlanCov[i][:]...))
	}
	return f
}

// motionLines show each witness's shift and the motion.
func (p *Plan) motionLines(m fit.Motion, heights bool) []Row {
	var rows []Row
	k := 0
	for _, sp := range p.spots() {
		if heights && sp.axis != fit.AxisZ {
			continue
		}
		r := Row{Label: sp.label, Value: m.Shifts[k].D, Guard: m.Shifts[k].Limit, Unit: unit.KLength, Signed: true}
		rows = append(rows, r)
		k++
	}
	return rows
}

// whatRose names in words what the heights say, "" when nothing moved beyond the scatter.
func (p *Plan) whatRose(m fit.Motion) string {
	var up, down int
	high, most := "", 0.0
	k := 0
	sps := p.spots()
	if len(m.Shifts) != len(sps) { // heights only
		var zs []spot
		for _, s := range sps {
			if s.axis == fit.AxisZ {
				zs = append(zs, s)
			}
		}
		sps = zs
	}
	for i, sp := range sps {
		if sp.axis != fit.AxisZ {
			continue
		}
		s := m.Shifts[i]
		if s.Real && s.D > 0 {
			up++
			if s.D > most {
				most, high = s.D, cornerName[k]
			}
		}
		if s.Real && s.D < 0 {
			down++
		}
		k++
	}
	switch {
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

// repeatOf is the repeat limit of the largest of n pairs: the more there are, the farther apart the worst of
// them is by chance. One pair beyond 3.5 s is 1.3 % of all, the worst of ten 11 %.
func (p *Plan) repeatOf(n int) Limit {
	l := p.Limit("repeat")
	if _, given := p.Job.Limits["repeat"]; !given && n > 0 {
		s, dof := p.probeS()
		l.Max = math.Max(l.Max, math.Sqrt2*s*budget.CriticalT(falseRepeat, n, dof))
	}
	return l
}

// repeatCheck holds the pairs of a set against the repeat limit.
func (p *Plan) repeatCheck(s witnessSet, o *Outcome) {
	l := p.repeatOf(s.pairs)
	if p.Job.Machine.Probe == nil { // faces are then touched by something coarser than what found the bore
		l.Max = math.Max(l.Max, 3.5*kicker{p, p.faceBy(fit.AxisX)}.contact().s)
	}
	c := Judged(l, s.pair, 0)
	if c.Verdict == Fail {
		c.Words = fmt.Sprintf("Two touches of %s differ by %s: wipe ball and face, touch both again.", s.worst, p.len(s.pair))
		o.Next = append(o.Next, Act{Do: "again", Of: s.worst, Words: c.Words}, Act{Do: "again", Of: repeatField(s.worst, 2)})
	}
	o.Checks = append(o.Checks, c)
}

// spotMarks draws the witnesses, those read as hits and the next one as next.
func (p *Plan) spotMarks(v View, heights bool) []Shape {
	z, _ := p.partZero()
	var out []Shape
	for _, sp := range p.spots() {
		if heights && sp.axis != fit.AxisZ {
			continue
		}
		role := RoleHit
		if !v.Has(sp.field) {
			role = RoleNext
		}
		out = append(out, Shape{Role: role, Points: []XY{{z.X + sp.at.X, z.Y + sp.at.Y}}})
		if role == RoleNext {
			break
		}
	}
	return out
}

// fixturePlace is a part place on the fixture card.
func (p *Plan) fixturePlace(q jobs.Point) XY {
	z, _ := p.partZero()
	return XY{z.X + q.X, z.Y + q.Y}
}
