package kit

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// FeatureError is what is known of the register at one feature, per axis, in the
// second side's part coordinates: where the part's feature stands minus where the
// tool will cut.
type FeatureError struct {
	Name    string
	At      fold.XY
	Error   [2]float64 // known and signed
	Kink    [2]float64 // further known mismatch of unknown sign: lean of the spindle after the flip
	U       [2]float64 // half-width of the 95 % interval
	Guard   [2]float64 // one-sided 95 %
	Lines   [2][]budget.Line
	Largest [2]string
	Share   [2]float64
}

// Half-widths that neither job nor cards give (common practice, from memory); labelled assumed.
const (
	assumedPickup  = 0.005        // side-1 pickup, mm
	assumedCutter  = 0.006        // cutter size and deflection, per side
	assumedProbe   = 0.003        // what is left of the probe's bias
	assumedContact = 0.005        // what a wall contact leaves
	unasked        = 5            // how far a shop's day is from the day the fixture was made, where no temperature is asked, K
	woodMoisture   = 0.0035 * 0.2 // tangential change per percent (maple, USDA Wood Handbook, verified copy) times 0.2 percent
	stabilised     = 0.2          // share of that left in stabilised wood (estimate)
)

// offsetParts are the components of the fact "offset".
type offsetParts struct {
	Place frame.Placement
	Z     float64
	about frame.Vec // where the placement is exact
	Fix   frame.Fixture
	heat  bool // scale by temperature, not by two bores
}

func ReadOffset(f fold.Known) (o offsetParts) {
	v := f.Value
	o.Place = frame.Placement{Offset: frame.Vec{X: v[0], Y: v[1]}, Rotation: unit.Angle(v[3])}
	o.Z = v[2]
	o.about = frame.Vec{X: v[4], Y: v[5]}
	o.Fix = frame.Fixture{V: frame.Vec{X: v[6], Y: v[7]}, Q: v[8], Skew: unit.Angle(v[9]), Bore: frame.Vec{X: v[10], Y: v[11]}}
	for i := range o.Fix.Cov {
		for k := range o.Fix.Cov[i] {
			o.Fix.Cov[i][k] = f.Cov[i][k]
		}
	}
	o.heat = f.Cov[3][3] == 0
	return o
}

// register is the error and its uncertainty at every listed feature. With all false
// only the lines of machine and fixture count: the part is not in yet. It is nil
// while there is no offset.
func RegisterOf(p *fold.Plan, get func(fold.FactID) (fold.Known, bool), all bool) []FeatureError {
	of, ok := get("offset")
	if !ok || len(of.Value) < 12 || p.Setup.Kind == FirstSide {
		return nil
	}
	o := ReadOffset(of)
	o.Fix.Held = Held(p)
	var move frame.Motion
	var moveCov [3][3]float64
	shift, shifted := get("shift")
	if all && shifted && len(shift.Value) >= 3 {
		move = frame.Motion{Shift: frame.Vec{X: shift.Value[0], Y: shift.Value[1]}, Turn: unit.Angle(shift.Value[2])}
		for i := range moveCov {
			for k := range moveCov[i] {
				if len(shift.Cov) == 3 {
					moveCov[i][k] = shift.Cov[i][k]
				}
			}
		}
	} else {
		shifted = false
	}
	temp, _ := get("identity")
	var out []FeatureError
	for _, ft := range Features(p) {
		q := Vec(ft.At)
		fe := FeatureError{Name: ft.Name, At: fold.XY{X: q.X, Y: q.Y}}
		e := o.Fix.Error(o.Place, q)
		if shifted {
			e = e.Add(move.Move(q))
		}
		if all {
			e = e.Add(edgeError(p, get))
		}
		fe.Error = [2]float64{e.X, e.Y}
		for axis := range fe.Lines {
			ls := fixtureLines(p, o, of.Dof, temp, q, axis)
			if all {
				ls = append(ls, asMeasured(p, get, partLines(p, get, q, axis), axis)...)
				if shifted {
					c := move.CovAt(q, moveCov)
					ls = append(ls, budget.N("shift test", math.Sqrt(c[axis][axis]), shift.Dof).From("witness readings"))
				}
				ls = append(ls, driftLines(p, get)...)
				fe.Kink[axis] = kink(p, get, axis)
			}
			r := budget.Combine(ls)
			fe.Lines[axis], fe.U[axis], fe.Guard[axis] = ls, r.U, r.Guard
			fe.Largest[axis], fe.Share[axis] = r.Largest.Name, r.Share
		}
		out = append(out, fe)
	}
	return out
}

// Features are the job's, or the part's four corners when it lists none.
func Features(p *fold.Plan) []jobsFeature {
	if fs := p.Job.Part.Features; len(fs) > 0 {
		return fs
	}
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	return []jobsFeature{Feature("near left corner", 0, 0), Feature("near right corner", w, 0), Feature("far right corner", w, h), Feature("far left corner", 0, h)}
}

func axisOf(v frame.Vec, axis int) float64 {
	if axis == 0 {
		return v.X
	}
	return v.Y
}

// fixtureLines are those of machine, probe and fixture at a feature on one axis.
func fixtureLines(p *fold.Plan, o offsetParts, dof float64, temp fold.Known, q frame.Vec, axis int) []budget.Line {
	m := &p.Job.Machine
	j := o.Fix.Jacobian(q)[axis]
	c := o.Fix.Cov
	hits := "scatter of the readings that found it"
	var ls []budget.Line
	if c[0][2] == 0 && c[1][2] == 0 && c[0][3] == 0 && c[1][3] == 0 && c[2][3] == 0 {
		ls = append(ls, budget.N("bore", math.Sqrt(c[axis][axis]), dof).From(hits), budget.N("skew", math.Abs(j[2])*math.Sqrt(c[2][2]), math.Inf(1)).From("run of the dial, closing, straightness of the axis"))
		if c[3][3] > 0 {
			ls = append(ls, budget.N("scale", math.Abs(j[3])*math.Sqrt(c[3][3]), math.Inf(1)).From(hits))
		}
	} else { // bore, skew and scale hang together: one line holds them
		at := o.Fix.CovAt(q)
		ls = append(ls, budget.N("bore, skew and scale", math.Sqrt(at[axis][axis]), dof).From(hits))
	}
	ls = append(ls, budget.R("machine", m.Backlash).From("machine card: lost motion"))
	if _, ok := Finder(p).(Prober); ok {
		ls = append(ls, budget.R("probe", assumedProbe).From("what is left of the probe's bias").AsAssumed())
	}
	reach := math.Abs(axisOf(o.Fix.V.Add(o.Fix.Held), axis)) // from there on it is the part, which does not grow with the fixture
	if a := math.Abs(FixtureAlpha(p) - MachineAlpha); o.heat && FixtureAlpha(p) > 0 {
		heat := budget.R("heat", a*reach*1).From("1 K of the fixture against the machine")
		switch {
		case !Warm(p): // nobody is asked
			heat = budget.R("heat", a*reach*unasked).From("5 K against the day the fixture was made").AsAssumed()
		case len(temp.Value) == 0 || temp.Value[1] == 0: // not measured yet
			heat = heat.AsAssumed()
		}
		ls = append(ls, heat)
		if len(temp.Value) > 0 && p.Job.Fixture.AsMade.Temperature != nil && Warm(p) {
			d := math.Abs(temp.Value[0] - float64(*p.Job.Fixture.AsMade.Temperature))
			// a bolted plate does not grow freely: half of the correction is in doubt
			ls = append(ls, budget.N("growth by one bore", 0.5*a*d*reach, math.Inf(1)).From("half of the correction by temperature"))
		}
	}
	if axis == 0 {
		sq := budget.R("squareness", 2*float64(m.Squareness)*math.Abs(q.Y-p.Job.Part.Size[1]/2)).From("machine card")
		if !m.SquareMeasured {
			sq = sq.AsAssumed()
		}
		ls = append(ls, sq)
	}
	return ls
}

// partLines are those of side 1, of the part in its pocket and of the cutter.
func partLines(p *fold.Plan, get func(fold.FactID) (fold.Known, bool), q frame.Vec, axis int) []budget.Line {
	m := &p.Job.Machine
	pickup := budget.R("side-1 pickup", givenOr(p, "pickup", assumedPickup))
	if g, ok := p.Job.Part.Given["pickup"]; ok {
		pickup = pickup.From(g.Source)
	} else {
		pickup = pickup.AsAssumed()
	}
	ls := []budget.Line{pickup, budget.R("machine, side 1", m.Backlash).From("machine card: lost motion"), budget.R("cutter", assumedCutter).From("size and deflection, per side").AsAssumed()}
	lever := math.Abs(axisOf(q, axis) - axisOf(Held(p), axis))
	material := p.Job.Part.Material
	if a := Alpha(p, material); a > 0 {
		ls = append(ls, budget.R("part heat", math.Abs(a-MachineAlpha)*lever*1).From("1 K of part and machine since side 1").AsAssumed())
	}
	if IsWood(material) {
		w := woodMoisture
		if IsStabilised(material) {
			w *= stabilised
		}
		ls = append(ls, budget.R("moisture", w*lever).From("0.2 percent of moisture, across the grain").AsAssumed())
	}
	if p.Setup.Floating || len(p.Setup.Against) < 2 {
		ls = append(ls, budget.R("clearance", p.Job.Fixture.Pocket.Clearance).From("fixture card"))
	} else {
		ls = append(ls, budget.R("wall contact", assumedContact).From("what two walls leave").AsAssumed())
	}
	return ls
}

// Held is the place on the part that its walls hold: the datum corner, or the middle.
func Held(p *fold.Plan) frame.Vec {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	c := frame.Vec{X: w / 2, Y: h / 2}
	if p.Setup.Floating {
		return c
	}
	for _, s := range p.Setup.Against {
		switch s {
		case "left":
			c.X = 0
		case "right":
			c.X = w
		case "toward":
			c.Y = 0
		case "away":
			c.Y = h
		}
	}
	return c
}

// driftLines carry what rechecks found within their limits.
func driftLines(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) []budget.Line {
	f, ok := get("drift")
	if b, known := get("bore"); known && b.First > f.Last {
		return nil // the bore was read anew since
	}
	if ok && len(f.Value) > 0 && f.Value[0] > 0 {
		return []budget.Line{budget.R("found at a recheck", math.Abs(f.Value[0])).From("difference found")}
	}
	return nil
}

// kink is the step that the spindle's lean leaves after the flip: along the flip
// axis it doubles, across it cancels.
func kink(p *fold.Plan, get func(fold.FactID) (fold.Known, bool), axis int) float64 {
	t, ok := get("tram")
	if !ok || len(t.Value) < 2 {
		return 0
	}
	if (p.Setup.Flip == "x") == (axis == 0) {
		return 2 * math.Abs(t.Value[axis]) * p.Job.Part.Size[2]
	}
	return 0
}

// Register is what is known of the register now, side-1, side-2 and shift lines included; nil while there is no offset.
func Register(st *fold.State) []FeatureError { return RegisterOf(st.Plan(), st.Fact, true) }

// Nominal is an offset without error, its covariance the best that these instruments can
// give: the hits and the run or the pairs that the cards allow.
func Nominal(p *fold.Plan) fold.Known {
	s, dof := judge.ProbeS(p)
	m := &p.Job.Machine
	u := s * math.Sqrt(2/float64(hitCount(p))) // of the centre of n even hits
	first, second := Targets(p)
	switch fd := Finder(p).(type) {
	case Sweeper:
		u = fd.u(0)
	case Kicker:
		u = fd.Contact().S / math.Sqrt2
	case pinner:
		_, u, _ = fd.Across(fold.View{Plan: p}, first, "x")
	}
	theta := 0.0
	if e := p.Job.Fixture.AsMade.Edge; e != nil {
		st := Stations(p)
		l := math.Max(st[len(st)-1]-st[0], 1)
		theta = math.Hypot(m.Straightness/math.Sqrt(3)/l, m.Dial.Graduation/math.Sqrt(12)*math.Sqrt(12/float64(len(st)))/l)
	} else if second != nil {
		theta = math.Sqrt2 * math.Hypot(u, m.Backlash/math.Sqrt(3)) / math.Max(second.From.Len(), 1)
	}
	v, _ := PartZero(p)
	return fold.Known{ID: "offset", Value: []float64{v.X, v.Y, 0, 0, 0, 0, v.X, v.Y, 1, 0, 0, 0}, Dof: dof,
		Cov: [][]float64{{u * u, 0, 0, 0}, {0, u * u, 0, 0}, {0, 0, theta * theta, 0}, {0, 0, 0, 0}}}
}

// OffsetGuard is the guard that the offset's check is going to have at the worst feature.
func OffsetGuard(p *fold.Plan) float64 {
	facts := map[fold.FactID]fold.Known{"offset": Nominal(p)}
	g := 0.0
	for _, f := range RegisterOf(p, func(id fold.FactID) (fold.Known, bool) { f, ok := facts[id]; return f, ok }, false) {
		g = math.Max(g, math.Max(f.Guard[0], f.Guard[1]))
	}
	return g
}

// WorstFeature is the largest |error| + kink + guard over features and axes.
func WorstFeature(fs []FeatureError) (i, axis int, value, guard float64) {
	best := math.Inf(-1)
	for k, f := range fs {
		for a := range f.Error {
			v := math.Abs(f.Error[a]) + f.Kink[a]
			if s := v + f.Guard[a]; s > best {
				best, i, axis, value, guard = s, k, a, v, f.Guard[a]
			}
		}
	}
	return
}
