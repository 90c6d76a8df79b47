package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// holdCase collects the numbers of job, cards and tables; Why says what is wanting.
func holdCase(p *fold.Plan, w AsFound) Holding {
	h := Holding{earlier: w.Earlier}
	if err := h.collect(p, w); err != nil {
		h.Why = err.Error()
	}
	return h
}

func (h *Holding) collect(p *fold.Plan, w AsFound) error {
	tool, t, err := whatCuts(p)
	if err != nil {
		return err
	}
	part, base, err := h.materials(p)
	if err != nil {
		return err
	}
	if err = h.engage(p, t, float64(w.Engaged)); err != nil {
		return err
	}
	joint, shear, err := h.joint(p, t, base)
	if err != nil {
		return err
	}
	if h.Strip = w.Strip; h.Strip == 0 {
		h.Strip = unit.Angle(p.Job.Fixture.Threads.StripAngle * math.Pi / 180)
	}
	seat, err := seatOutline(p)
	if err != nil {
		return err
	}
	height := p.Setup.Cut.Height
	if height == 0 {
		height = p.Job.Part.Size[2]
	}
	l, wd := p.Job.Part.Size[0], p.Job.Part.Size[1]
	hd := hold.Holding{Forces: [][2]float64{{0, 0}, {l, 0}, {l, wd}, {0, wd}}, Cut: plannedCut(p, tool, part.Mc), Factors: hold.Usual}
	for _, q := range p.Setup.Screws.At {
		hd.Screws = append(hd.Screws, [2]float64{q.X, q.Y})
	}
	h.C = hold.Case{Joint: joint, Holding: hd, Seat: hold.Seat{Corners: seat, Height: unit.Length(height)},
		Shear: shear, Crush: part.Crush, Mu: friction(p), Kc11: part.Kc11}
	h.flute = unit.Length(tool.Flute)
	h.restOn(part, base)
	return nil
}

// whatCuts is the cutter of the planned cut, and the thread of the screws that hold against it.
func whatCuts(p *fold.Plan) (tool jobs.Tool, t hold.Thread, err error) {
	n := p.Setup.Cut.Tool
	tool, ok := p.Job.Tools[n]
	switch kind := p.Job.Fixture.Threads.Kind; {
	case n == 0 || !ok:
		return tool, t, fmt.Errorf("the job states no cut; give cut: {tool, ae, ap, fz}")
	case tool.Teeth == 0:
		return tool, t, fmt.Errorf("tool %d has no number of teeth; give tools.%d.teeth", n, n)
	default:
		if t, err = hold.ThreadNamed(p.Setup.Screws.Thread); err == nil && (kind == "" || kind == "none") {
			err = fmt.Errorf("the fixture card has no threads; give threads: {kind, depth}")
		}
		return tool, t, err
	}
}

// materials are those of part and fixture by the library; a note says where a name was taken for another.
func (h *Holding) materials(p *fold.Plan) (part, base hold.Material, err error) {
	lib := p.Job.Library()
	if part, err = lib.Like(p.Job.Part.Material); err != nil {
		return part, base, err
	}
	if base, err = lib.Like(p.Job.Fixture.Material); err != nil {
		return part, base, err
	}
	for _, m := range [][2]string{{p.Job.Part.Material, part.Name}, {p.Job.Fixture.Material, base.Name}} {
		if m[0] != m[1] {
			h.notes = append(h.notes, fmt.Sprintf("%s is reckoned as %s.", m[0], m[1]))
		}
	}
	for _, n := range []struct {
		known           bool
		what, of, given string
	}{{part.Kc11.Known(), "specific cutting force", part.Name, "kc"}, {part.Crush.Known(), "pressure under a screw head", part.Name, "crush"},
		{p.Job.Fixture.Threads.Kind == "insert" || p.Job.Fixture.Threads.StripTorque > 0 || base.Shear.Known(), "shear strength in a thread", base.Name, "tau"}} {
		if !n.known {
			return part, base, fmt.Errorf("no %s of %s is known; give materials.%s.%s with its source", n.what, n.of, n.of, n.given)
		}
	}
	return part, base, nil
}

// engage is the thread that a screw of the job's length takes hold in: no more than was found there.
func (h *Holding) engage(p *fold.Plan, t hold.Thread, found float64) (err error) {
	s, th := p.Setup.Screws, p.Job.Fixture.Threads
	washer := 0.0
	if s.Washer > 0 {
		washer = s.WasherT
	}
	h.Engage, err = (hold.Stack{Thread: t, Length: unit.Length(s.Length), Washer: unit.Length(washer), Through: unit.Length(s.Through),
		Relief: unit.Length(th.Relief), Depth: unit.Length(math.Max(th.Depth, found))}).Engage()
	if err == nil && found > 0 && found < float64(h.Engage.Engaged) {
		h.Engage.Engaged, h.Engage.Diameters = unit.Length(found), found/float64(t.D)
	}
	return err
}

// joint is one screw with its thread and what it presses on; shear is what its thread bears.
func (h *Holding) joint(p *fold.Plan, t hold.Thread, base hold.Material) (j hold.Joint, shear hold.Range, err error) {
	s, th := p.Setup.Screws, p.Job.Fixture.Threads
	bearing, err := washerFace(p, t)
	if err != nil {
		return j, shear, err
	}
	class := s.Class
	if class == "" {
		class = "A2-70"
		h.notes = append(h.notes, "Screws are reckoned as class A2-70: the job names no class.")
	}
	cl, err := hold.ClassNamed(class)
	if err != nil {
		return j, shear, err
	}
	k := s.K
	if k == 0 {
		k = hold.ScrewK
	}
	j = hold.Joint{Thread: t, Engaged: h.Engage.Engaged, Bearing: bearing, Class: cl, K: k, Factors: hold.Usual}
	shear = base.Shear
	if th.Kind == "insert" {
		j.Insert = &hold.Insert{PullOut: th.Pullout, Source: th.Source}
	} else if th.StripTorque > 0 {
		shear, err = hold.ShearFromTest(t, h.Engage.Engaged, th.StripTorque, k)
		j.Tested = true
	}
	return j, shear, err
}

// plannedCut is the cut of the job; its specific force is taken from the range.
func plannedCut(p *fold.Plan, tool jobs.Tool, mc float64) hold.Cut {
	c := p.Setup.Cut
	cut := hold.Cut{Dia: unit.Length(tool.Dia), Teeth: tool.Teeth, Ae: unit.Length(c.Ae), Ap: unit.Length(c.Ap), Fz: unit.Length(c.Fz),
		Mc: mc, Wear: hold.WornEdge, Corner: hold.InCorner, Helix: unit.Angle(math.Pi / 6), Down: tool.Spiral == "down-cut"}
	if tool.Spiral == "straight" {
		cut.Helix = 0
	}
	if c.NoInsideCorners {
		cut.Corner = 1
	}
	return cut
}

// restOn lists the ranges that the hold-down rests on.
func (h *Holding) restOn(part, base hold.Material) {
	h.names = []string{"specific cutting force of " + part.Name, "pressure that " + part.Name + " bears", "friction under the part"}
	h.rows = []hold.Range{h.C.Kc11, h.C.Crush, h.C.Mu}
	if h.C.Joint.Insert == nil {
		h.names = append(h.names, "shear strength of a thread in "+base.Name)
		h.rows = append(h.rows, h.C.Shear)
	}
}

// friction is that under the part: the job's number for the part's material, for the
// fixture's, or the value reckoned with when nothing is known.
func friction(p *fold.Plan) hold.Range {
	for _, name := range []string{p.Job.Part.Material, p.Job.Fixture.Material} {
		if m, ok := p.Job.Materials[name]; ok && m.Mu[0] > 0 {
			return hold.Range{Low: m.Mu[0], Nominal: (m.Mu[0] + m.Mu[1]) / 2, High: m.Mu[1], Source: m.Source, Flag: hold.Given}
		}
	}
	return hold.HoldingMu
}

// clearanceHole is the diameter of the hole through the part: the drill that opens it, else ISO 273 medium.
func clearanceHole(p *fold.Plan, t hold.Thread) float64 {
	if d, ok := OpeningDrill(p); ok && d.Dia > float64(t.D) {
		return d.Dia
	}
	if hs, err := hold.HolesOf(t); err == nil {
		return float64(hs.Medium)
	}
	return 1.1 * float64(t.D)
}

// washerFace is the area under a washer, or under the least head of a cap screw, mm².
func washerFace(p *fold.Plan, t hold.Thread) (float64, error) {
	face := unit.Length(p.Setup.Screws.Washer)
	if face == 0 {
		hd, err := hold.HeadOf(t)
		if err != nil {
			return 0, err
		}
		if face = hd.Bearing; face == 0 {
			face = hd.DMin
		}
	}
	return hold.BearingArea(face, unit.Length(clearanceHole(p, t)))
}

// seatOutline is what the part stands on, in program coordinates: the convex outline of
// the supports of the card under the part, or the part's own when the card has none.
func seatOutline(p *fold.Plan) ([][2]float64, error) {
	whole, err := clearance.Rectangle(0, 0, p.Job.Part.Size[0], p.Job.Part.Size[1])
	if err != nil {
		return nil, fmt.Errorf("the part has no area; give part.size")
	}
	var pts []clearance.Point
	for _, o := range support(p) {
		if c, ok := clearance.Common(o, whole); ok {
			pts = append(pts, c.Corners()...)
		}
	}
	if len(pts) > 0 {
		if whole, err = clearance.Around(pts...); err != nil {
			return nil, err
		}
	}
	var out [][2]float64
	for _, c := range whole.Corners() {
		out = append(out, [2]float64{c.X, c.Y})
	}
	return out, nil
}

// support are the card's regions of solid fixture, in program coordinates.
func support(p *fold.Plan) []clearance.Outline {
	z := p.Job.Fixture.AsMade.PartZero // of a part in the middle of its pocket: the clearance is no matter here
	var out []clearance.Outline
	for _, o := range p.Job.Fixture.Support {
		if c, err := o.Convex(); err == nil {
			out = append(out, c.Shift(clearance.Point{X: -z.X, Y: -z.Y}))
		}
	}
	return out
}
