package desk

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// Holding is the hold-down of the setup's screws against its planned cut, at both ends of
// what is known of the materials. With why set it is not computed, and why says what to give.
type Holding struct {
	Why    string
	C      hold.Case
	Ends   hold.Ends
	Engage hold.Engagement
	Angle  unit.Angle   // how far past snug to turn; the primary number
	Torque unit.Torque  // the same for a driver
	Strip  unit.Angle   // at which a sacrificial thread stripped; 0 when none was
	rows   []hold.Range // what it rests on, in the order of names
	names  []string     // shear strength ..., friction ...
	notes  []string     // what is assumed
	flute  unit.Length  // no depth beyond it is shown
	lost   int          // screws that count 0
}

// AsFound is what the walk has measured of the hold-down so far; 0 is not measured.
type AsFound struct {
	Engaged float64    // thread that is there, mm
	Strip   unit.Angle // a sacrificial thread: from snug to strip
	Soft    int        // screws that count 0
}

// holding computes the hold-down with what was found on the way.
func Hold(p *fold.Plan, w AsFound) Holding {
	h := holdCase(p, w)
	if h.Why != "" {
		return h
	}
	for range min(w.Soft, len(h.C.Holding.Screws)) {
		if err := h.dropWorst(); err != nil {
			h.Why = err.Error()
			return h
		}
	}
	var err error
	if h.Ends, err = h.C.Ends(); err != nil {
		h.Why = err.Error()
		return h
	}
	h.Angle, h.Torque = unit.Angle(math.Pi/2), h.Ends.Low.Preload.Torque
	if h.Strip > 0 {
		if a, err := hold.WorkAngle(h.Strip); err == nil {
			h.Angle = a
		}
	}
	if t := p.Job.Fixture.Threads.StripTorque; t > 0 {
		if w, err := hold.WorkTorque(h.Torque, t); err == nil && w < h.Torque {
			h.Torque = w
			h.notes = append(h.notes, "The torque is a quarter of what stripped the sacrificial thread.")
		}
	}
	return h
}

// dropWorst takes out the screw whose loss leaves least: a soft one counts 0, and which it
// will be is not known at the desk.
func (h *Holding) dropWorst() error {
	all := h.C.Holding.Screws
	if len(all) < 2 {
		return fmt.Errorf("no screw is left that holds; mend the threads")
	}
	worst, at := math.Inf(1), -1
	var left [][2]float64
	for k := range all {
		h.C.Holding.Screws = append(append([][2]float64{}, all[:k]...), all[k+1:]...)
		e, err := h.C.Ends()
		if err != nil {
			return err
		}
		if d := float64(e.Deepest()); d < worst {
			worst, at, left = d, k, h.C.Holding.Screws
		}
	}
	if at < 0 {
		return fmt.Errorf("the depth that %d screws hold is not a number; look at the job's screws and cut", len(all)-1)
	}
	h.C.Holding.Screws = left
	h.lost++
	return nil
}

// holdCase collects the numbers of job, cards and tables.
func holdCase(p *fold.Plan, w AsFound) (h Holding) {
	j, s, th := p.Job, p.Setup, p.Job.Fixture.Threads
	give := func(format string, a ...any) Holding { h.Why = fmt.Sprintf(format, a...); return h }
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
	if h.Engage, err = (hold.Stack{Thread: t, Length: unit.Length(s.Screws.Length), Washer: unit.Length(washer), Through: unit.Length(s.Screws.Through),
		Relief: unit.Length(th.Relief), Depth: unit.Length(math.Max(th.Depth, w.Engaged))}).Engage(); err != nil {
		return give("%v", err)
	}
	if w.Engaged > 0 && w.Engaged < float64(h.Engage.Engaged) {
		h.Engage.Engaged, h.Engage.Diameters = unit.Length(w.Engaged), w.Engaged/float64(t.D)
	}
	bearing, err := washerFace(p, t)
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
	joint := hold.Joint{Thread: t, Engaged: h.Engage.Engaged, Bearing: bearing, Class: cl, K: k, Factors: hold.Usual}
	shear := base.Shear
	if th.Kind == "insert" {
		joint.Insert = &hold.Insert{PullOut: th.Pullout, Source: th.Source}
	} else if th.StripTorque > 0 {
		if shear, err = hold.ShearFromTest(t, h.Engage.Engaged, th.StripTorque, k); err != nil {
			return give("%v", err)
		}
		joint.Tested = true
	}
	h.Strip = w.Strip
	if h.Strip == 0 {
		h.Strip = unit.Angle(th.StripAngle * math.Pi / 180)
	}
	seat, err := seatOutline(p)
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
	h.C = hold.Case{Joint: joint, Holding: hd, Seat: hold.Seat{Corners: seat, Height: unit.Length(height)}, Shear: shear, Crush: part.Crush, Mu: friction(p), Kc11: part.Kc11}
	h.flute = unit.Length(tool.Flute)
	h.names = []string{"specific cutting force of " + part.Name, "pressure that " + part.Name + " bears", "friction under the part"}
	h.rows = []hold.Range{h.C.Kc11, h.C.Crush, h.C.Mu}
	if joint.Insert == nil {
		h.names = append(h.names, "shear strength of a thread in "+base.Name)
		h.rows = append(h.rows, h.C.Shear)
	}
	return h
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

// verdict turns the answer at both ends into a step's.
func verdict(v hold.Verdict) fold.Verdict {
	return map[hold.Verdict]fold.Verdict{hold.Holds: fold.Pass, hold.NotProven: fold.NotProven, hold.Fails: fold.Fail}[v]
}

// depth is a ceiling that can be shown.
func (h *Holding) depth(d unit.Length) float64 {
	most := float64(h.flute)
	if most == 0 {
		most = 100
	}
	return math.Max(0, math.Min(float64(d), most))
}

// The limits of hold-down are no lengths of the job's choice: what is planned is held
// against the deepest cut that holds at the adverse end.
func (h *Holding) Retention(p *fold.Plan) fold.Check {
	r, hi := h.Ends.Low.Retention, h.Ends.High.Retention
	c := fold.Check{Limit: fold.Limit{ID: "hold.retention", Why: "depth of cut against leaving the seat", Max: h.depth(r.Ceiling), Class: fold.Never, Unit: unit.KLength},
		Got: p.Setup.Cut.Ap, Verdict: verdict(h.Ends.Retention)}
	c.Words = fmt.Sprintf("Prying is held %.2f times (2), with one screw lost %.2f (1.5), the thread then left alone %.2f (2).", r.PryAll, r.PryLost, r.StripLost)
	switch c.Verdict {
	case fold.NotProven:
		c.Words = fmt.Sprintf("At the favourable end it holds up to %s. ", p.Len(h.depth(hi.Ceiling))) + c.Words
	case fold.Fail:
		c.Words = "A part that leaves its seat is thrown. " + c.Words
	}
	return c
}

func (h *Holding) Register(p *fold.Plan) fold.Check {
	r, cl := h.Ends.Low.Register, h.Ends.Low.Ceiling
	c := fold.Check{Limit: fold.Limit{ID: "hold.register", Why: "depth of cut against slip and turn", Max: h.depth(cl.Least), Class: fold.Hard, Unit: unit.KLength},
		Got: p.Setup.Cut.Ap, Verdict: verdict(h.Ends.Register)}
	c.Words = fmt.Sprintf("Slip is held %.2f times (1.5), with one screw lost %.2f (1.2); turning %.2f (1.5), one lost %.2f (1.2).", r.SlipAll, r.SlipLost, r.YawAll, r.YawLost)
	if c.Verdict == fold.NotProven {
		c.Words = fmt.Sprintf("At the favourable end it holds up to %s. ", p.Len(h.depth(h.Ends.High.Ceiling.Least))) + c.Words
	}
	return c
}

// advice is what would let the planned cut hold, in the order in which to try it.
func (h *Holding) advice() string {
	var words []string
	for i, a := range h.Ends.Advise(h.C.Holding) {
		words = append(words, fmt.Sprintf("%d %s", i+1, a))
	}
	return strings.Join(words, "; ")
}

// first is the first of the advice, for the act; all of it stands in the notes.
func (h *Holding) first() string {
	a := h.Ends.Advise(h.C.Holding)
	if len(a) == 0 {
		return ""
	}
	return fold.Capital(a[0].String()) + "."
}

// DeepestCut labels the row of the hold-down's ceiling; Estimate is the standing word
// beside every computed force.
const (
	DeepestCut = "deepest cut that holds"
	Estimate   = "Calculated forces are estimates (factor 2 for plastics and wood). Prove them with a skim and a stripped sacrificial thread."
)

// HoldDown puts the hold-down into an outcome: register and retention apart, the deepest cut
// beside the planned one, what it rests on, and what to do. Without the numbers for it a
// note says what to give, and nothing is held up. only lists the wanted checks.
func HoldDown(p *fold.Plan, w AsFound, o *fold.Outcome, only ...string) {
	h := Hold(p, w)
	if h.Why != "" {
		o.Notes = append(o.Notes, "Retention not computed: "+h.Why+". Whether the screws hold the part under the cut is for you to judge.")
		return
	}
	failed := false
	for _, c := range []fold.Check{h.Retention(p), h.Register(p)} {
		if len(only) > 0 && !slices.Contains(only, c.Limit.ID) {
			continue
		}
		failed = failed || !c.Verdict.OK()
		o.Checks = append(o.Checks, c)
	}
	if failed && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "round", Words: fmt.Sprintf("Do not cut at %s. %s Or change the job's cut; then count again.", p.Len(p.Setup.Cut.Ap), h.first())})
	}
	if failed {
		o.Notes = append(o.Notes, "What would let it hold, in this order: "+h.advice()+".")
	}
	rows := h.CeilingRows(p)
	if len(only) > 0 {
		rows = rows[:2]
	}
	o.Lines = append(o.Lines, rows...)
	o.Notes = append(o.Notes, h.sources(p)...)
}

// ceilingRows show the deepest cut that holds beside the planned one, at both ends.
func (h *Holding) CeilingRows(p *fold.Plan) []fold.Row {
	least := func(e hold.End) float64 { return h.depth(min(e.Ceiling.Least, e.Retention.Ceiling)) }
	low, high := least(h.Ends.Low), least(h.Ends.High)
	v := fold.Pass
	if p.Setup.Cut.Ap > low {
		v = fold.NotProven
	}
	if p.Setup.Cut.Ap > high {
		v = fold.Fail
	}
	rows := []fold.Row{
		{Label: DeepestCut, Value: low, Unit: unit.KLength, Big: true, Verdict: v, Bar: math.Min(1, p.Setup.Cut.Ap/math.Max(low, 1e-9))},
		{Label: "planned", Value: p.Setup.Cut.Ap, Unit: unit.KLength},
		{Label: "at the favourable end", Value: high, Unit: unit.KLength},
		{Label: "leaves its seat above", Value: h.depth(h.Ends.Low.Retention.Ceiling), Unit: unit.KLength},
		{Label: "slips above, all screws", Value: h.depth(h.Ends.Low.Ceiling.SlipAll), Unit: unit.KLength},
		{Label: "slips above, one lost", Value: h.depth(h.Ends.Low.Ceiling.SlipLost), Unit: unit.KLength},
		{Label: "turns above, all screws", Value: h.depth(h.Ends.Low.Ceiling.YawAll), Unit: unit.KLength},
		{Label: "turns above, one lost", Value: h.depth(h.Ends.Low.Ceiling.YawLost), Unit: unit.KLength},
	}
	if h.lost > 0 {
		rows = append(rows, fold.Row{Label: "screws that count 0", Text: fmt.Sprint(h.lost)})
	}
	return rows
}

// sources say what the numbers rest on, and which of them nobody could source.
func (h *Holding) sources(p *fold.Plan) []string {
	out := append([]string{Estimate}, h.notes...)
	for i, r := range h.rows {
		v := fmt.Sprintf("%g", r.Low)
		if r.High != r.Low {
			v = fmt.Sprintf("%g to %g", r.Low, r.High)
		}
		if !strings.HasPrefix(h.names[i], "friction") {
			v += " MPa"
		}
		words := fmt.Sprintf("%s: %s, %s", fold.Capital(h.names[i]), v, r.Flag)
		if r.Source != "" {
			words += " (" + r.Source + ")"
		}
		out = append(out, words+".")
	}
	if in := h.C.Joint.Insert; in != nil {
		out = append(out, fmt.Sprintf("Pull-out of an insert: %s, given by the shop (%s). No published table of such loads exists.", newtons(p, float64(in.PullOut)), in.Source))
	}
	return out
}

// preloadRows show how to set a screw: the angle first, a torque for whoever has a driver for it.
func (h *Holding) PreloadRows(p *fold.Plan) []fold.Row {
	l := h.Ends.Low.Preload
	st := hold.Stages(h.Torque)
	return []fold.Row{
		{Label: "turn past snug", Text: fmt.Sprintf("%.0f deg", float64(h.Angle)*180/math.Pi)},
		{Label: "with a torque driver", Value: float64(h.Torque), Unit: unit.KTorque, Text: Torque(p, float64(h.Torque))},
		{Label: "rounds by torque", Text: fmt.Sprintf("%s, %s, %s", Torque(p, float64(st[0])), Torque(p, float64(st[1])), Torque(p, float64(st[2])))},
		{Label: "preload of a screw", Text: fmt.Sprintf("%s; between %s and %s once scatter and creep are in", newtons(p, float64(l.F)), newtons(p, float64(l.Low)), newtons(p, float64(l.High)))},
		{Label: "weakest", Text: h.Weakest()},
		{Label: "held against strip", Text: fmt.Sprintf("%.2f times (3)", l.SFStrip)},
		{Label: "thread engaged", Value: float64(h.Engage.Engaged), Unit: unit.KLength},
	}
}

// weakest is what limits the preload.
func (h *Holding) Weakest() string {
	return map[string]string{"strip": "the thread", "crush": "the part under the washer", "proof": "the screw"}[h.Ends.Low.Preload.Governs]
}

func newtons(p *fold.Plan, v float64) string { return unit.Show(v, unit.KForce, p.Job.Unit, 1) }

// Torque is shown in the unit in which it is asked.
func Torque(p *fold.Plan, v float64) string {
	if p.Job.Unit == unit.Metric && TorqueUnit(p, v) == "" {
		return fmt.Sprintf("%.2f N·m", v/1000)
	}
	return unit.Show(v, unit.KTorque, p.Job.Unit, 0)
}

// TorqueUnit is the unit of a bare torque of about that size, as an Ask names it: mN·m below 1 N·m.
func TorqueUnit(p *fold.Plan, v float64) string {
	if p.Job.Unit == unit.Metric && math.Abs(v) < 1000 {
		return "mNm"
	}
	return ""
}

// strips is the torque from which the preload, at the high end of its scatter, may strip the thread.
func (h *Holding) Strips() float64 {
	l := h.Ends.Low.Preload
	return float64(l.Torque) * l.SFStrip
}

// deskHold judges the hold-down as planned: what the threads can't hold is known before
// anything is mounted.
func deskHold(p *fold.Plan, d *Desk) {
	h := Hold(p, AsFound{})
	if h.Why != "" {
		d.Findings = append(d.Findings, "Retention not computed: "+h.Why+".")
		return
	}
	d.HoldDown = append(h.CeilingRows(p), h.PreloadRows(p)...)
	d.Sources = h.sources(p)
	for _, c := range []fold.Check{h.Retention(p), h.Register(p)} {
		d.Checks = append(d.Checks, c)
		if c.Verdict.OK() {
			continue
		}
		what := "The part may slip or turn"
		if c.Limit.ID == "hold.retention" {
			what = "The part may leave its seat"
		}
		word := "fails"
		if c.Verdict == fold.NotProven {
			word = "is not proven"
		} else {
			d.Fails = true
		}
		d.Findings = append(d.Findings, fmt.Sprintf("%s: a cut of %s %s, the deepest that holds is %s. %s", what, p.Len(c.Got), word, p.Len(c.Limit.Max), c.Words))
	}
	if a := h.advice(); a != "" {
		d.Findings = append(d.Findings, "In this order: "+a+".")
	}
}
