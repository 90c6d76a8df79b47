package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// firstSide is the kind of setup in which side 1 is cut, the raw stock in a vise.
const firstSide = "first-side"

// firstLimits are the limits of a first side (common practice, from memory).
var firstLimits = []LimitRow{
	{"stock.thickness", "thinnest place less the bow", "finished thickness, both skins and twice the bow", Hard, unit.KLength, nil, true},
	{"stock.size", "stock beyond the part in plan", "finished length and width", Hard, unit.KLength, nil, true},
	{"grip.height", "height gripped", "{3}, 0.15 of what stands above them: the larger", Soft, unit.KLength, nil, true},
	{"corner.repeat", "two touches of one face agree", "as repeat", Soft, unit.KLength, (*Plan).repeatLimit, false},
	{"corner.skew", "the long face lies as the fixed jaw does", "{0.0002}, 3 standard uncertainties: the larger", Soft, unit.KSlope, always(0.2e-3), false},
	{"corner.width", "the stock measures on the machine what it does off it", "{0.1}", Soft, unit.KLength, fixed(0.1), false},
	{"top.tilt", "tilt of the raw top over the part", "{0.05}", Soft, unit.KLength, fixed(0.05), false},
	{"jaws.top", "the jaws stand where the job says", "{0.5}", Soft, unit.KLength, fixed(0.5), false},
	{"jaws.room", "room between the lowest cut and the jaws", "{1}", Never, unit.KLength, fixed(1), true},
	{"after.repeat", "two touches of one face agree", "as repeat", Soft, unit.KLength, (*Plan).repeatLimit, false},
	{"after.wall", "the wall is what was asked for", "the register allowance", Soft, unit.KLength, share(1), false},
	{"after.fit", "the part goes into its pocket", "the pocket's clearance on both sides", Hard, unit.KLength, nil, false},
	{"after.seat", "the face that side 2 rests on is flat", "{0.010}", Soft, unit.KLength, fixed(0.010), false},
	{"spring", "the wall stays where it is when the vise opens", "0.2 of the allowance", Soft, unit.KLength, share(0.2), false},
	{"after.taper", "the part is as thick at one end as at the other", "{0.015}", Soft, unit.KLength, fixed(0.015), false},
}

// inVise is the job with the vise in the place of the fixture: the face of its fixed jaw is
// the edge that is run with the dial, so that squaring is the same step as on a fixture.
//
// The straightness of the moving axis does not count here: side 1 is cut with the same
// motion that the dial was run along. Nothing of the real fixture is kept.
func inVise(j *jobs.Job, s *jobs.Setup) *jobs.Job {
	c := *j
	side := "front" // a fixed jaw at the back faces the person
	if s.Vise.Jaw == "toward" {
		side = "rear"
	}
	c.Fixture = jobs.Fixture{ID: "vise", Material: "steel"}
	c.Fixture.AsMade.Edge = &jobs.Edge{Side: side, Length: math.Max(math.Round(j.Part.Size[0]), 60)}
	c.Fixture.AsMade.Bore.Kind = "corner" // what is found is named so
	if s.Zero == "centre" {
		c.Fixture.AsMade.Bore.Kind = "middle"
	}
	c.Machine.Straightness = 1e-9
	skew := 0.1 * float64(j.Allowance) / 100
	if j.Unit == unit.Imperial {
		skew *= float64(unit.Inch) // as the file's reader gives a bare number
	}
	c.Limits = map[string]unit.Length{"square.skew": unit.Length(skew)}
	for k, v := range j.Limits {
		c.Limits[k] = v
	}
	return &c
}

// reword says vise for fixture in everything that a shared step shows.
func reword(s *Spec, title string, words ...string) *Spec {
	if s == nil {
		return nil
	}
	r := strings.NewReplacer(words...)
	c := *s
	c.Title = title
	c.Asks = func(v View) []Ask {
		asks := s.Asks(v)
		for i := range asks {
			a := &asks[i]
			a.Label, a.WantWhy, a.Hint = r.Replace(a.Label), r.Replace(a.WantWhy), r.Replace(a.Hint)
			a.Do = append([]Act(nil), a.Do...)
			for k := range a.Do {
				a.Do[k].Words = r.Replace(a.Do[k].Words)
			}
		}
		return asks
	}
	c.Judge = func(v View) Outcome {
		o := s.Judge(v)
		o.Learned = r.Replace(o.Learned)
		for i := range o.Checks {
			o.Checks[i].Limit.Why = r.Replace(o.Checks[i].Limit.Why)
			o.Checks[i].Words = r.Replace(o.Checks[i].Words)
		}
		for i := range o.Next {
			o.Next[i].Words = r.Replace(o.Next[i].Words)
		}
		return o
	}
	c.Page = func(v View) Page {
		p := s.Page(v)
		p.Act, p.Why, p.Read, p.Caution = r.Replace(p.Act), r.Replace(p.Why), r.Replace(p.Read), r.Replace(p.Caution)
		return p
	}
	return &c
}

// jaw indicates the fixed jaw: the shared run along an edge.
func jaw(p *Plan) *Spec {
	s := reword(square(p), "fixed jaw", "fixture bolts", "vise bolts", "The fixture", "The fixed jaw", "the fixture", "the vise", "fixture", "vise",
		"The edge gives direction, and only direction. Tapping moves the bore, so it comes first.", "Side 1 lies as the fixed jaw does. Never run the moving jaw: it floats.",
		"skew the offset can carry", "skew of the fixed jaw", "the offset will carry the rest", "side 1 will lie so", "the edge", "the fixed jaw", "Tap only with the part out.", "Tap only with the vise empty.")
	if s != nil {
		s.Keys = []string{"allowance", "setups." + p.Setup.Name + ".vise"}
	}
	return s
}

// jawCheck reads the jaw at its two ends again.
func jawCheck(p *Plan) *Spec {
	s := reword(edgeCheck(p), "jaw check", "The fixture", "The vise", "the fixture", "the vise", "the edge", "the fixed jaw", "The edge", "The fixed jaw")
	if s != nil {
		s.At = "corner"
	}
	return s
}

// viseBall calibrates the ball again; it brings corner and top back as on side 2 bore and floor.
func viseBall(p *Plan) *Spec {
	s := calibrate(p)
	if s == nil {
		return nil
	}
	s.At, s.Lifts = "corner", []FactID{"corner", "top"}
	judge := s.Judge
	s.Judge = func(v View) Outcome {
		o := judge(v)
		if len(o.Leaves) > 0 {
			o.Leaves = []FactID{"corner", "top"}
		}
		return o
	}
	return s
}

// sides are the stock faces that side 1 is picked up from: the stop's and the fixed jaw's,
// where every next blank lies as well. -1 is left or front, +1 right or rear.
func (p *Plan) sides() (x, y float64) {
	x, y = -1, -1
	if p.Setup.Vise.Stop == "right" {
		x = 1
	}
	if p.Setup.Vise.Jaw == "away" {
		y = 1
	}
	return x, y
}

// face is one face of the stock.
type face struct {
	of, name string // as What names it, and for the person
	axis     string // that its contact reads
	sign     float64
	length   float64 // along it
}

// dir is the way of the tool toward the face.
func (f face) dir() string {
	if f.sign < 0 {
		return f.axis + "+"
	}
	return f.axis + "-"
}

// face of the stock on that side of an axis.
func (p *Plan) face(axis string, side float64) face {
	f := face{axis: axis, sign: side}
	switch {
	case axis == "x" && side < 0:
		f.of, f.name = "stock-left", "LEFT face"
	case axis == "x":
		f.of, f.name = "stock-right", "RIGHT face"
	case side < 0:
		f.of, f.name = "stock-front", "face TOWARD YOU"
	default:
		f.of, f.name = "stock-rear", "face AWAY"
	}
	f.length = p.Job.Part.Size[1]
	if axis == "y" {
		f.length = p.Job.Part.Size[0]
	}
	return f
}

// faceContact is what touches faces in this setup.
func (p *Plan) faceContact(v View) contact {
	switch {
	case p.Setup.Finds == "edge finder":
		return kicker{p, "finder"}.contact()
	case p.Setup.Finds == "paper":
		return kicker{p, "paper"}.contact()
	case p.Job.Machine.Probe != nil:
		return prober{p}.contact(v)
	case p.Job.Machine.Finder != nil:
		return kicker{p, "finder"}.contact()
	}
	return kicker{p, "paper"}.contact()
}

// probed says that faces are touched by the probe, whose calibration then counts.
func (p *Plan) probed() bool {
	return p.Job.Machine.Probe != nil && p.Setup.Finds != "edge finder" && p.Setup.Finds != "paper"
}

// standsOnBall adds the ball where the probe touches.
func (p *Plan) standsOnBall(fs ...FactID) []FactID {
	if p.probed() {
		fs = append(fs, "ball")
	}
	return fs
}

// eccentricity is what is taken off every probed place: ball less spindle axis.
func (p *Plan) eccentricity(v View) (x, y float64) {
	if b, ok := v.Fact("ball"); ok && p.probed() && len(b.Value) > 3 {
		return b.Value[2], b.Value[3]
	}
	return 0, 0
}

// touchAsk asks one coordinate of a contact with a face at a place along it, program coordinates.
func (p *Plan) touchAsk(c contact, f face, field, label string, at float64, axis string, w *Window) Ask {
	return Ask{Field: field, Label: label, Kind: Reading, Unit: unit.KLength,
		What: What{By: c.by, Of: f.of + "@" + place(at), Dir: f.dir(), Axis: axis}, Window: w}
}

// size is the stock as measured, or the finished part with its skin when it is not known.
func (p *Plan) stockSize(v View) [3]float64 {
	s := p.Job.Part.Size
	s[2] += p.Job.Part.Skin[0] + p.Job.Part.Skin[1]
	if f, ok := v.Fact("stock"); ok && len(f.Value) > 7 {
		s = [3]float64{f.Value[0], f.Value[1], mean(f.Value[2:7])}
	}
	return s
}

// stockPicture draws the stock between its jaws, in program coordinates in plan.
func (p *Plan) stockPicture(v View, extra ...Shape) Scene {
	s := p.stockSize(v)
	w, h := s[0], s[1]
	box := func(role Role, name string, x0, y0, x1, y1 float64) Shape {
		return Shape{Role: role, Name: name, Closed: true, Points: []XY{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}
	}
	fixedJaw, moving := "fixed jaw", "moving jaw"
	if p.Setup.Vise.Jaw == "toward" {
		fixedJaw, moving = moving, fixedJaw
	}
	sc := Scene{Shapes: []Shape{box(RoleJaw, fixedJaw, -10, h, w+10, h+14), box(RoleJaw, moving, -10, -14, w+10, 0), box(RolePart, "stock", 0, 0, w, h)}}
	sc.Shapes = append(sc.Shapes, extra...)
	return sc
}

// wholeFixture is the job's real fixture, ok is false without one.
func (p *Plan) wholeFixture() (*jobs.Fixture, bool) {
	f := &p.Whole().Fixture
	return f, f.ID != ""
}

// side2 is the job's second side, nil without one.
func (p *Plan) side2() *jobs.Setup {
	for i := range p.Whole().Setups {
		if p.Whole().Setups[i].Kind == secondSide {
			return &p.Whole().Setups[i]
		}
	}
	return nil
}

// refuse is an outcome whose readings make nothing: all of it again.
func (o *Outcome) refuse(id, why string, err error) {
	o.Checks = append(o.Checks, Check{Limit: Limit{ID: id, Why: why, Class: Never}, Count: true, Verdict: Fail, Words: err.Error() + "."})
	o.Next = append(o.Next, Act{Do: "round", Words: fmt.Sprintf("Read it again: %v.", err)})
}

// atLeastCheck holds a value against a least one, by the one rule turned round.
func atLeastCheck(l Limit, got, least, guard float64) Check {
	c := Check{Limit: l, Got: got, Guard: guard, Verdict: NotProven}
	c.Limit.Max = least
	switch {
	case got-guard >= least:
		c.Verdict = Pass
	case got+guard <= least || guard == 0 || got != got:
		c.Verdict = Fail
	}
	return c
}
