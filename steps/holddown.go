package steps

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// holding is the hold-down of the setup's screws against its planned cut, at both ends of
// what is known of the materials. With why set it is not computed, and why says what to give.
type holding struct {
	why    string
	c      hold.Case
	ends   hold.Ends
	engage hold.Engagement
	angle  unit.Angle   // how far past snug to turn; the primary number
	torque unit.Torque  // the same for a driver
	strip  unit.Angle   // at which a sacrificial thread stripped; 0 when none was
	rows   []hold.Range // what it rests on, in the order of names
	names  []string     // shear strength ..., friction ...
	notes  []string     // what is assumed
	flute  unit.Length  // no depth beyond it is shown
	lost   int          // screws that count 0
}

// asFound is what the walk has measured of the hold-down so far; 0 is not measured.
type asFound struct {
	engaged float64    // thread that is there, mm
	strip   unit.Angle // a sacrificial thread: from snug to strip
	soft    int        // screws that count 0
}

// holding computes the hold-down with what was found on the way.
func (p *Plan) holding(w asFound) holding {
	h := p.holdCase(w)
	if h.why != "" {
		return h
	}
	for range min(w.soft, len(h.c.Holding.Screws)) {
		if err := h.dropWorst(); err != nil {
			h.why = err.Error()
			return h
		}
	}
	var err error
	if h.ends, err = h.c.Ends(); err != nil {
		h.why = err.Error()
		return h
	}
	h.angle, h.torque = unit.Angle(math.Pi/2), h.ends.Low.Preload.Torque
	if h.strip > 0 {
		if a, err := hold.WorkAngle(h.strip); err == nil {
			h.angle = a
		}
	}
	if t := p.Job.Fixture.Threads.StripTorque; t > 0 {
		if w, err := hold.WorkTorque(h.torque, t); err == nil && w < h.torque {
			h.torque = w
			h.notes = append(h.notes, "The torque is a quarter of what stripped the sacrificial thread.")
		}
	}
	return h
}

// dropWorst takes out the screw whose loss leaves least: a soft one counts 0, and which it
// will be is not known at the desk.
func (h *holding) dropWorst() error {
	all := h.c.Holding.Screws
	if len(all) < 2 {
		return fmt.Errorf("no screw is left that holds; mend the threads")
	}
	worst, at := math.Inf(1), -1
	var left [][2]float64
	for k := range all {
		h.c.Holding.Screws = append(append([][2]float64{}, all[:k]...), all[k+1:]...)
		e, err := h.c.Ends()
		if err != nil {
			return err
		}
		if d := float64(e.Deepest()); d < worst {
			worst, at, left = d, k, h.c.Holding.Screws
		}
	}
	if at < 0 {
		return fmt.Errorf("the depth that %d screws hold is not a number; look at the job's screws and cut", len(all)-1)
	}
	h.c.Holding.Screws = left
	h.lost++
	return nil
}

// holdCase collects the numbers of job, cards and tables.
func (p *Plan) holdCase(w asFound) (h holding) {
	j, s, th := p.Job, p.Setup, p.Job.Fixture.Threads
	give := func(format string, a ...any) holding { h.why = fmt.Sprintf(format, a...); return h }
	tool, ok := j.Tools[s.Cut.Tool]
	if s.Cut.Tool == 0 || !ok {
		return give("the job states no cut; give cut: {tool, ae, ap, fz}")
	}
	if tool.Teeth == 0 {
		return give("tool %d has no number of teeth; give tools.%d.teeth", s.Cut.Tool, s.Cut.Tool)
	}
	t, err := hold.ThreadNamed(s.Screws.Thread)
	if err != nil {
		return give("%v", err)
	}
	if th.Kind == "" || th.Kind == "none" {
		return give("the fixture card has no threads; give threads: {kind, depth}")
	}
	lib := j.Library()
	part, err := lib.Like(j.Part.Material)
	if err != nil {
		return give("%v", err)
	}
	base, err := lib.Like(j.Fixture.Material)
	if err != nil {
		return give("%v", err)
	}
	for _, m := range [][2]string{{j.Part.Material, part.Name}, {j.Fixture.Material, base.Name}} {
		if m[0] != m[1] {
			h.notes = append(h.notes, fmt.Sprintf("%s is reckoned as %s.", m[0], m[1]))
		}
	}
	if !part.Kc11.Known() {
		return give("no specific cutting force of %s is known; give materials.%s.kc with its source", part.Name, part.Name)
	}
	washer := 0.0
	if s.Screws.Washer > 0 {
		washer = s.Screws.WasherT
	}
	if h.engage, err = (hold.Stack{Thread: t, Length: unit.Length(s.Screws.Length), Washer: unit.Length(washer), Through: unit.Length(s.Screws.Through),
		Relief: unit.Length(th.Relief), Depth: unit.Length(math.Max(th.Depth, w.engaged))}).Engage(); err != nil {
		return give("%v", err)
	}
	if w.engaged > 0 && w.engaged < float64(h.engage.Engaged) {
		h.engage.Engaged, h.engage.Diameters = unit.Length(w.engaged), w.engaged/float64(t.D)
	}
	bearing, err := p.washerFace(t)
	if err != nil {
		return give("%v", err)
	}
	class := s.Screws.Class
	if class == "" {
		class = "A2-70"
		h.notes = append(h.notes, "Screws are reckoned as class A2-70: the job names no class.")
	}
	cl, err := hold.ClassNamed(class)
	if err != nil {
		return give("%v", err)
	}
	k := s.Screws.K
	if k == 0 {
		k = hold.ScrewK
	}
	joint := hold.Joint{Thread: t, Engaged: h.engage.Engaged, Bearing: bearing, Class: cl, K: k, Factors: hold.Usual}
	shear := base.Shear
	if th.Kind == "insert" {
		joint.Insert = &hold.Insert{PullOut: th.Pullout, Source: th.Source}
	} else if th.StripTorque > 0 {
		if shear, err = hold.ShearFromTest(t, h.engage.Engaged, th.StripTorque, k); err != nil {
			return give("%v", err)
		}
		joint.Tested = true
	}
	h.strip = w.strip
	if h.strip == 0 {
		h.strip = unit.Angle(th.StripAngle * math.Pi / 180)
	}
	seat, err := p.seatOutline()
	if err != nil {
		return give("%v", err)
	}
	height := s.Cut.Height
	if height == 0 {
		height = j.Part.Size[2]
	}
	cut := hold.Cut{Dia: unit.Length(tool.Dia), Teeth: tool.Teeth, Ae: unit.Length(s.Cut.Ae), Ap: unit.Length(s.Cut.Ap), Fz: unit.Length(s.Cut.Fz),
		Mc: part.Mc, Wear: hold.WornEdge, Corner: hold.InCorner, Helix: unit.Angle(math.Pi / 6), Down: tool.Spiral == "down-cut"}
	if tool.Spiral == "straight" {
		cut.Helix = 0
	}
	if s.Cut.NoInsideCorners {
		cut.Corner = 1
	}
	l, wd := j.Part.Size[0], j.Part.Size[1]
	hd := hold.Holding{Forces: [][2]float64{{0, 0}, {l, 0}, {l, wd}, {0, wd}}, Cut: cut, Factors: hold.Usual}
	for _, q := range s.Screws.At {
		hd.Screws = append(hd.Screws, [2]float64{q.X, q.Y})
	}
	h.c = hold.Case{Joint: joint, Holding: hd, Seat: hold.Seat{Corners: seat, Height: unit.Length(height)}, Shear: shear, Crush: part.Crush, Mu: p.friction(), Kc11: part.Kc11}
	h.flute = unit.Length(tool.Flute)
	h.names = []string{"specific cutting force of " + part.Name, "pressure that " + part.Name + " bears", "friction under the part"}
	h.rows = []hold.Range{h.c.Kc11, h.c.Crush, h.c.Mu}
	if joint.Insert == nil {
		h.names = append(h.names, "shear strength of a thread in "+base.Name)
		h.rows = append(h.rows, h.c.Shear)
	}
	return h
}

// friction is that under the part: the job's number for the part's material, for the
// fixture's, or the value reckoned with when nothing is known.
func (p *Plan) friction() hold.Range {
	for _, name := range []string{p.Job.Part.Material, p.Job.Fixture.Material} {
		if m, ok := p.Job.Materials[name]; ok && m.Mu[0] > 0 {
			return hold.Range{Low: m.Mu[0], Nominal: (m.Mu[0] + m.Mu[1]) / 2, High: m.Mu[1], Source: m.Source, Flag: hold.Given}
		}
	}
	return hold.HoldingMu
}

// clearanceHole is the diameter of the hole through the part: the drill that opens it, else ISO 273 medium.
func (p *Plan) clearanceHole(t hold.Thread) float64 {
	if d, ok := p.openingDrill(); ok && d.Dia > float64(t.D) {
		return d.Dia
	}
	if hs, err := hold.HolesOf(t); err == nil {
		return float64(hs.Medium)
	}
	return 1.1 * float64(t.D)
}

// washerFace is the area under a washer, or under the least head of a cap screw, mm².
func (p *Plan) washerFace(t hold.Thread) (float64, error) {
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
	return hold.BearingArea(face, unit.Length(p.clearanceHole(t)))
}

// seatOutline is what the part stands on, in program coordinates: the convex outline of
// the supports of the card under the part, or the part's own when the card has none.
func (p *Plan) seatOutline() ([][2]float64, error) {
	whole, err := clearance.Rectangle(0, 0, p.Job.Part.Size[0], p.Job.Part.Size[1])
	if err != nil {
		return nil, fmt.Errorf("the part has no area; give part.size")
	}
	var pts []clearance.Point
	for _, o := range p.support() {
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
func (p *Plan) support() []clearance.Outline {
	z := p.Job.Fixture.AsMade.PartZero // of a part in the middle of its pocket: the clearance is no matter here
	var out []clearance.Outline
	for _, o := range p.Job.Fixture.Support {
		if c, err := o.Convex(); err == nil {
			out = append(out, c.Shift(clearance.Point{X: -z.X, Y: -z.Y}))
		}
	}
	return out
}

// verdict turns the answer at both ends into a step's.
func verdict(v hold.Verdict) Verdict {
	return map[hold.Verdict]Verdict{hold.Holds: Pass, hold.NotProven: NotProven, hold.Fails: Fail}[v]
}

// depth is a ceiling that can be shown.
func (h *holding) depth(d unit.Length) float64 {
	most := float64(h.flute)
	if most == 0 {
		most = 100
	}
	return math.Max(0, math.Min(float64(d), most))
}

// The limits of hold-down are no lengths of the job's choice: what is planned is held
// against the deepest cut that holds at the adverse end.
func (h *holding) retention(p *Plan) Check {
	r, hi := h.ends.Low.Retention, h.ends.High.Retention
	c := Check{Limit: Limit{ID: "hold.retention", Why: "stays in its seat at this depth of cut", Max: h.depth(r.Ceiling), Class: Never, Unit: unit.KLength},
		Got: p.Setup.Cut.Ap, Verdict: verdict(h.ends.Retention)}
	c.Words = fmt.Sprintf("Prying is held %.2f times (2), with one screw lost %.2f (1.5), the thread then left alone %.2f (2).", r.PryAll, r.PryLost, r.StripLost)
	switch c.Verdict {
	case NotProven:
		c.Words = fmt.Sprintf("At the favourable end it holds up to %s. ", p.len(h.depth(hi.Ceiling))) + c.Words
	case Fail:
		c.Words = "A part that leaves its seat is thrown. " + c.Words
	}
	return c
}

func (h *holding) register(p *Plan) Check {
	r, cl := h.ends.Low.Register, h.ends.Low.Ceiling
	c := Check{Limit: Limit{ID: "hold.register", Why: "neither slips nor turns at this depth", Max: h.depth(cl.Least), Class: Hard, Unit: unit.KLength},
		Got: p.Setup.Cut.Ap, Verdict: verdict(h.ends.Register)}
	c.Words = fmt.Sprintf("Slip is held %.2f times (1.5), with one screw lost %.2f (1.2); turning %.2f (1.5), one lost %.2f (1.2).", r.SlipAll, r.SlipLost, r.YawAll, r.YawLost)
	if c.Verdict == NotProven {
		c.Words = fmt.Sprintf("At the favourable end it holds up to %s. ", p.len(h.depth(h.ends.High.Ceiling.Least))) + c.Words
	}
	return c
}

// advice is what would let the planned cut hold, in the order in which to try it.
func (h *holding) advice() string {
	var words []string
	for i, a := range h.ends.Advise(h.c.Holding) {
		words = append(words, fmt.Sprintf("%d %s", i+1, a))
	}
	return strings.Join(words, "; ")
}

// first is the first of the advice, for the act; all of it stands in the notes.
func (h *holding) first() string {
	a := h.ends.Advise(h.c.Holding)
	if len(a) == 0 {
		return ""
	}
	return Capital(a[0].String()) + "."
}

// DeepestCut labels the row of the hold-down's ceiling; Estimate is the standing word
// beside every computed force.
const (
	DeepestCut = "deepest cut that holds"
	Estimate   = "Calculated forces are estimates (factor 2 for plastics and wood). Prove them with a skim and a stripped sacrificial thread."
)

// holdDown puts the hold-down into an outcome: register and retention apart, the deepest cut
// beside the planned one, what it rests on, and what to do. Without the numbers for it a
// note says what to give, and nothing is held up. only lists the wanted checks.
func (p *Plan) holdDown(w asFound, o *Outcome, only ...string) {
	h := p.holding(w)
	if h.why != "" {
		o.Notes = append(o.Notes, "Retention not computed: "+h.why+". Whether the screws hold the part under the cut is for you to judge.")
		return
	}
	failed := false
	for _, c := range []Check{h.retention(p), h.register(p)} {
		if len(only) > 0 && !slices.Contains(only, c.Limit.ID) {
			continue
		}
		failed = failed || !c.Verdict.OK()
		o.Checks = append(o.Checks, c)
	}
	if failed && len(o.Next) == 0 {
		o.Next = append(o.Next, Act{Do: "round", Words: fmt.Sprintf("Do not cut at %s. %s Or change the job's cut; then count again.", p.len(p.Setup.Cut.Ap), h.first())})
	}
	if failed {
		o.Notes = append(o.Notes, "What would let it hold, in this order: "+h.advice()+".")
	}
	rows := h.ceilingRows(p)
	if len(only) > 0 {
		rows = rows[:2]
	}
	o.Lines = append(o.Lines, rows...)
	o.Notes = append(o.Notes, h.sources(p)...)
}

// ceilingRows show the deepest cut that holds beside the planned one, at both ends.
func (h *holding) ceilingRows(p *Plan) []Row {
	least := func(e hold.End) float64 { return h.depth(min(e.Ceiling.Least, e.Retention.Ceiling)) }
	low, high := least(h.ends.Low), least(h.ends.High)
	v := Pass
	if p.Setup.Cut.Ap > low {
		v = NotProven
	}
	if p.Setup.Cut.Ap > high {
		v = Fail
	}
	rows := []Row{
		{Label: DeepestCut, Value: low, Unit: unit.KLength, Big: true, Verdict: v, Bar: math.Min(1, p.Setup.Cut.Ap/math.Max(low, 1e-9))},
		{Label: "planned", Value: p.Setup.Cut.Ap, Unit: unit.KLength},
		{Label: "at the favourable end", Value: high, Unit: unit.KLength},
		{Label: "leaves its seat above", Value: h.depth(h.ends.Low.Retention.Ceiling), Unit: unit.KLength},
		{Label: "slips above, all screws", Value: h.depth(h.ends.Low.Ceiling.SlipAll), Unit: unit.KLength},
		{Label: "slips above, one lost", Value: h.depth(h.ends.Low.Ceiling.SlipLost), Unit: unit.KLength},
		{Label: "turns above, all screws", Value: h.depth(h.ends.Low.Ceiling.YawAll), Unit: unit.KLength},
		{Label: "turns above, one lost", Value: h.depth(h.ends.Low.Ceiling.YawLost), Unit: unit.KLength},
	}
	if h.lost > 0 {
		rows = append(rows, Row{Label: "screws that count 0", Text: fmt.Sprint(h.lost)})
	}
	return rows
}

// sources say what the numbers rest on, and which of them nobody could source.
func (h *holding) sources(p *Plan) []string {
	out := append([]string{Estimate}, h.notes...)
	for i, r := range h.rows {
		v := fmt.Sprintf("%g", r.Low)
		if r.High != r.Low {
			v = fmt.Sprintf("%g to %g", r.Low, r.High)
		}
		if !strings.HasPrefix(h.names[i], "friction") {
			v += " MPa"
		}
		words := fmt.Sprintf("%s: %s, %s", Capital(h.names[i]), v, r.Flag)
		if r.Source != "" {
			words += " (" + r.Source + ")"
		}
		out = append(out, words+".")
	}
	if in := h.c.Joint.Insert; in != nil {
		out = append(out, fmt.Sprintf("Pull-out of an insert: %s, given by the shop (%s). No published table of such loads exists.", p.newtons(float64(in.PullOut)), in.Source))
	}
	return out
}

// preloadRows show how to set a screw: the angle first, a torque for whoever has a driver for it.
func (h *holding) preloadRows(p *Plan) []Row {
	l := h.ends.Low.Preload
	st := hold.Stages(h.torque)
	return []Row{
		{Label: "turn past snug", Text: fmt.Sprintf("%.0f deg", float64(h.angle)*180/math.Pi)},
		{Label: "with a torque driver", Value: float64(h.torque), Unit: unit.KTorque, Text: p.torque(float64(h.torque))},
		{Label: "rounds by torque", Text: fmt.Sprintf("%s, %s, %s", p.torque(float64(st[0])), p.torque(float64(st[1])), p.torque(float64(st[2])))},
		{Label: "preload of a screw", Text: fmt.Sprintf("%s; between %s and %s once scatter and creep are in", p.newtons(float64(l.F)), p.newtons(float64(l.Low)), p.newtons(float64(l.High)))},
		{Label: "weakest", Text: h.weakest()},
		{Label: "held against strip", Text: fmt.Sprintf("%.2f times (3)", l.SFStrip)},
		{Label: "thread engaged", Value: float64(h.engage.Engaged), Unit: unit.KLength},
	}
}

// weakest is what limits the preload.
func (h *holding) weakest() string {
	return map[string]string{"strip": "the thread", "crush": "the part under the washer", "proof": "the screw"}[h.ends.Low.Preload.Governs]
}

func (p *Plan) newtons(v float64) string { return unit.Show(v, unit.KForce, p.Job.Unit, 1) }

// torque is shown in the unit in which it is asked.
func (p *Plan) torque(v float64) string {
	if p.Job.Unit == unit.Metric && p.torqueUnit(v) == "" {
		return fmt.Sprintf("%.2f N·m", v/1000)
	}
	return unit.Show(v, unit.KTorque, p.Job.Unit, 0)
}

// torqueUnit is the unit of a bare torque of about that size, as an Ask names it: mN·m below 1 N·m.
func (p *Plan) torqueUnit(v float64) string {
	if p.Job.Unit == unit.Metric && math.Abs(v) < 1000 {
		return "mNm"
	}
	return ""
}

// strips is the torque from which the preload, at the high end of its scatter, may strip the thread.
func (h *holding) strips() float64 {
	l := h.ends.Low.Preload
	return float64(l.Torque) * l.SFStrip
}

// deskHold judges the hold-down as planned: what the threads can't hold is known before
// anything is mounted.
func (p *Plan) deskHold(d *Desk) {
	h := p.holding(asFound{})
	if h.why != "" {
		d.Findings = append(d.Findings, "Retention not computed: "+h.why+".")
		return
	}
	d.HoldDown = append(h.ceilingRows(p), h.preloadRows(p)...)
	d.Sources = h.sources(p)
	for _, c := range []Check{h.retention(p), h.register(p)} {
		d.Checks = append(d.Checks, c)
		if c.Verdict.OK() {
			continue
		}
		what := "The part may slip or turn"
		if c.Limit.ID == "hold.retention" {
			what = "The part may leave its seat"
		}
		word := "fails"
		if c.Verdict == NotProven {
			word = "is not proven"
		} else {
			d.Fails = true
		}
		d.Findings = append(d.Findings, fmt.Sprintf("%s: a cut of %s %s, the deepest that holds is %s. %s", what, p.len(c.Got), word, p.len(c.Limit.Max), c.Words))
	}
	if a := h.advice(); a != "" {
		d.Findings = append(d.Findings, "In this order: "+a+".")
	}
}

// Capital writes a sentence's first letter large.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
