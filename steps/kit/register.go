package kit

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// FeatureError is what is known of the register at one feature, per axis, in the second side's part
// coordinates: where the part's feature stands minus where the tool will cut.
type FeatureError = register.Known

// Facts gives the facts that stand, or those of a view.
type Facts = func(fold.FactID) (fold.Known, bool)

// ReadOffset is the fact "offset" as calc has it.
func ReadOffset(k fold.Known) register.Offset {
	f, _ := facts.Offset.Read(k)
	o := register.Offset{Place: frame.Placement{Offset: frame.Vec{X: float64(f.X), Y: float64(f.Y)}, Rotation: f.Rot}, Z: float64(f.Z),
		About: frame.Vec{X: float64(f.CX), Y: float64(f.CY)}, Dof: f.Dof,
		Fixture: frame.Fixture{V: frame.Vec{X: float64(f.VX), Y: float64(f.VY)}, Q: f.Q, Skew: f.Theta,
			Bore: frame.Vec{X: float64(f.BX), Y: float64(f.BY)}}}
	for i, row := range f.Cov.Matrix("bx", "by", "theta", "q") {
		copy(o.Fixture.Cov[i][:], row)
	}
	return o
}

// OffsetFact is an offset as a fact; block is what lay under the tool at each touch.
func OffsetFact(o register.Offset, block float64) fold.Known {
	cov := make([][]float64, len(o.Fixture.Cov))
	for i := range cov {
		cov[i] = append(cov[i], o.Fixture.Cov[i][:]...)
	}
	mm := func(v float64) unit.Length { return unit.Length(v) }
	f := o.Fixture
	k := facts.Offset.Is(facts.OffsetFact{X: mm(o.Place.Offset.X), Y: mm(o.Place.Offset.Y), Z: mm(o.Z), Rot: o.Place.Rotation,
		CX: mm(o.About.X), CY: mm(o.About.Y),
		VX: mm(f.V.X), VY: mm(f.V.Y), Q: f.Q, Theta: f.Skew, BX: mm(f.Bore.X), BY: mm(f.Bore.Y), Block: mm(block),
		Cov: fold.NewCov("bx,by,theta,q", cov), Dof: o.Dof})
	if block == 0 { // it was always written
		k.Value = append(k.Value, 0)
	}
	return k
}

// RegisterOf is the error and its uncertainty at every listed feature, as the walk reckons now. Without all
// only the lines of machine and fixture count: the part is not in yet. It is nil while there is no offset.
func RegisterOf(p *fold.Plan, get Facts, all bool) []FeatureError {
	return RegisterAs(p, get, all, fold.Walk)
}

// RegisterAs is the same as a record of that walk reckons it.
func RegisterAs(p *fold.Plan, get Facts, all bool, walk int) []FeatureError {
	of, ok := get("offset")
	if !ok || len(of.Value) < 12 || p.Raw() {
		return nil
	}
	s := register.Setup{Offset: ReadOffset(of), Machine: machineOf(p), Heat: heatOf(p, get, walk), Part: partOf(p, get), In: all}
	s.Offset.Fixture.Held = Held(p)
	if walk >= 3 {
		s.Part.Alpha, s.Part.Moves = 0, 0 // its growth is told by Close
		s.Close = closeOf(p, get, s.Offset)
	}
	if walk >= 4 {
		s.Close.Lead.Side1, s.Close.Lead.Near = NearBy(p), NearSaid(p)
		s.Damp = dampOf(p, get)
	}
	if all {
		s.Cut = cutOf(p, get)
		s.Shift, s.Drift = shiftOf(get), driftOf(get)
		if t, ok := facts.Tram.By(get); ok {
			s.Lean = register.Lean{Tilt: [2]float64{float64(t.X), float64(t.Y)}, FlipX: p.Setup.Flip == "x"}
		}
	}
	return s.All(FeaturesOf(p))
}

func machineOf(p *fold.Plan) register.Machine {
	m := &p.Job.Machine
	return register.Machine{LostMotion: m.Backlash, Squareness: float64(m.Squareness), SquareMeasured: m.SquareMeasured, Probed: ByProbe(p)}
}

func heatOf(p *fold.Plan, get Facts, walk int) register.Heat {
	h := register.Heat{Alpha: FixtureAlpha(p), Asked: Warm(p), Days: walk >= 3}
	id, ok := facts.Identity.By(get)
	if !ok {
		return h
	}
	h.Known, h.Measured = true, id.U != 0
	if walk >= 3 {
		h.Measured = id.Measured != 0
	}
	if t := p.Job.Fixture.AsMade.Temperature; t != nil {
		h.Warmer = id.T - float64(*t)
	}
	return h
}

// partOf is the part in its pocket, and what side 1 left of it.
func partOf(p *fold.Plan, get Facts) register.Part {
	material := p.Job.Part.Material
	part := register.Part{Size: p.Job.Part.Size, Against: Walls(p), Floating: p.Setup.Floating, Clearance: p.Job.Fixture.Pocket.Clearance,
		Alpha: Alpha(p, material), CardU: p.Job.Fixture.AsMade.ZeroU}
	DatumOf(p).lies(&part)
	if p.OnLocator() {
		part.On = locatedOf(p, get)
	}
	if IsWood(material) {
		part.Moves = register.WoodMoves(IsStabilised(material))
	}
	if g, ok := p.Job.Part.Given["pickup"]; ok {
		part.Pickup = register.Pickup{Half: g.Value, Given: true, Source: g.Source}
	}
	if e, ok := facts.Edges.By(get); ok && !e.Cov.Exact() {
		part.Pickup.Cov = &[2][2]float64{{e.Cov.Var("x"), e.Cov.Between("x", "y")}, {e.Cov.Between("y", "x"), e.Cov.Var("y")}}
	}
	for i, w := range []fold.Fact[facts.WidthFact]{facts.WidthX, facts.WidthY} {
		if f, ok := w.By(get); ok {
			part.Beyond[i], part.WidthU[i] = float64(f.Off), stdOf(f.Cov, "w")
		}
	}
	return part
}

// locatedOf is how the part lies on its locator, as found; without that as drawn.
func locatedOf(p *fold.Plan, get Facts) *register.Located {
	l := &register.Located{At: Held(p)}
	if b := p.Job.Fixture.AsMade.Bore2; b != nil && math.Abs(b.At.Y) > math.Abs(b.At.X) {
		l.Along = 1
	}
	if f, ok := facts.Located.By(get); ok {
		l.Motion = frame.Motion{Shift: frame.Vec{X: float64(f.DX), Y: float64(f.DY)}, Turn: f.Rot}
		for i, row := range f.Cov.Matrix("dx", "dy", "rot") {
			copy(l.Cov[i][:], row)
		}
	}
	return l
}

// Walls are those that the part is pushed to; fewer than two leave it its clearance.
func Walls(p *fold.Plan) (out []frame.Wall) {
	for _, a := range p.Setup.Against {
		if w, err := frame.ParseWall(a); err == nil {
			out = append(out, w)
		}
	}
	return out
}

// cutOf is the register as a witness cut showed it, nil without one.
func cutOf(p *fold.Plan, get Facts) *register.Cut {
	if !judge.WitnessCuts(p) {
		return nil
	}
	f, ok := facts.Witnessed.By(get)
	if !ok {
		return nil
	}
	c := &register.Cut{Motion: frame.Motion{Shift: frame.Vec{X: float64(f.DX), Y: float64(f.DY)}, Turn: f.Rot}, Dof: f.Dof,
		Size: float64(f.Size), Middle: middle(p)}
	for i, row := range f.Cov.Matrix("dx", "dy", "rot") {
		copy(c.Cov[i][:], row)
	}
	return c
}

func middle(p *fold.Plan) frame.Vec {
	return frame.Vec{X: p.Job.Part.Size[0] / 2, Y: p.Job.Part.Size[1] / 2}
}

// WitnessCut is the fact of a witness cut.
func WitnessCut(p *fold.Plan, s register.Steps) (fold.Known, error) {
	c, err := s.Cut(middle(p))
	if err != nil {
		return fold.Known{}, err
	}
	var cov [][]float64
	for i := range c.Cov {
		cov = append(cov, append([]float64(nil), c.Cov[i][:]...))
	}
	return facts.Witnessed.Is(facts.WitnessedFact{DX: unit.Length(c.Motion.Shift.X), DY: unit.Length(c.Motion.Shift.Y), Rot: c.Motion.Turn,
		Size: unit.Length(c.Size),
		Cov:  fold.NewCov("dx,dy,rot", cov), Dof: c.Dof}), nil
}

// NominalCut is the fact of a witness cut that finds nothing off, as well known as these instruments tell.
func NominalCut(p *fold.Plan, off float64) (fold.Known, error) {
	s, dof := judge.ProbeS(p)
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	return WitnessCut(p, register.Steps{Right: off, Left: -off, Away: off, Toward: -off, At: h / 2, AwayAt: 0.85 * w, TowardAt: 0.15 * w,
		Off: off, Touch: s, Dof: dof})
}

func shiftOf(get Facts) *register.Shift {
	f, ok := facts.Shift.By(get)
	if !ok {
		return nil
	}
	s := &register.Shift{Motion: frame.Motion{Shift: frame.Vec{X: float64(f.DX), Y: float64(f.DY)}, Turn: f.Rot}, Dof: f.Dof,
		Side: [2]float64{float64(f.SideX), float64(f.SideY)}, SideU: [2]float64{float64(f.UX), float64(f.UY)}}
	for i, row := range f.Cov.Matrix("dx", "dy", "rot") {
		copy(s.Cov[i][:], row)
	}
	return s
}

// driftOf is what rechecks found within their limits, since the bore was read.
func driftOf(get Facts) float64 {
	k, ok := get("drift")
	if b, known := get("bore"); known && b.First > k.Last {
		return 0
	}
	if f, read := facts.Drift.Read(k); ok && read {
		return float64(f.D)
	}
	return 0
}

// Features are the job's, or the part's four corners when it lists none.
func Features(p *fold.Plan) []jobsFeature {
	if fs := p.Job.Part.Features; len(fs) > 0 {
		return fs
	}
	var out []jobsFeature
	for _, c := range register.Corners(frame.Vec{X: p.Job.Part.Size[0], Y: p.Job.Part.Size[1]}) {
		out = append(out, Feature(c.Name, c.At.X, c.At.Y))
	}
	return out
}

// FeaturesOf are the same as calc has them.
func FeaturesOf(p *fold.Plan) (out []register.Feature) {
	for _, f := range Features(p) {
		out = append(out, register.Feature{Name: f.Name, At: Vec(f.At)})
	}
	return out
}

// Held is the place on the part that its walls hold: the datum corner, or the middle; or its place on the locator.
func Held(p *fold.Plan) frame.Vec {
	if p.OnLocator() {
		return Vec(p.Job.Fixture.AsMade.PartZero).Times(-1)
	}
	return register.Part{Size: p.Job.Part.Size, Against: Walls(p), Floating: p.Setup.Floating}.Held()
}

// WalkOf is the walk by which a record, or a view of it, is reckoned: the last of those that reckon alike.
func WalkOf(of interface{ Walks(int) bool }) int {
	for n := 4; n > 2; n-- {
		if of.Walks(n) {
			return n
		}
	}
	return 2
}

// Nominal is an offset without error, its covariance the best that these instruments can
// give: the hits and the run or the pairs that the cards allow.
func Nominal(p *fold.Plan) fold.Known {
	u, theta, dof := nominalU(p)
	v, _ := PartZero(p)
	return OffsetFact(register.Nominal(v, Held(p), u, theta, dof), 0)
}

// OffsetGuard is the guard that the offset's check is going to have at the worst feature, in that walk.
func OffsetGuard(p *fold.Plan, walk int) float64 {
	return fold.Once(p, guardIn(walk), func() float64 {
		at := map[fold.FactID]fold.Known{"offset": Nominal(p)}
		return register.LargestGuard(RegisterAs(p, func(id fold.FactID) (fold.Known, bool) { f, ok := at[id]; return f, ok }, false, walk))
	})
}

// guardIn keys OffsetGuard by the walk.
type guardIn int

// WorstFeature is the largest |error| + kink + guard over features and axes.
func WorstFeature(fs []FeatureError) (i, axis int, value, guard float64) { return register.Worst(fs) }

// lobes are what a probe's three lobes put into the centre of the first bore, mm.
func lobes(p *fold.Plan) float64 {
	first, _ := Targets(p)
	if _, probed := Finder(p).(Prober); !probed || first.Of == "square" {
		return 0
	}
	return fit.Lobing(first.N, 3) * fit.LobesPreset
}
