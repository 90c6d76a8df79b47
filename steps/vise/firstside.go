package vise

import (
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// FirstLimits are the limits of a first side (common practice, from memory).
var FirstLimits = []fold.LimitRow{
	{ID: "stock.thickness", Why: "thinnest place less the bow", How: "finished thickness, both skins and twice the bow", Class: fold.Hard, Unit: unit.KLength, Max: nil, Min: true},
	{ID: "stock.size", Why: "stock beyond the part in plan", How: "finished length and width", Class: fold.Hard, Unit: unit.KLength, Max: nil, Min: true},
	{ID: "grip.height", Why: "height gripped", How: "{3}, 0.15 of what stands above them: the larger", Class: fold.Soft, Unit: unit.KLength, Max: nil, Min: true},
	{ID: "corner.repeat", Why: "difference of two touches of one face", How: "as repeat", Class: fold.Soft, Unit: unit.KLength, Max: judge.RepeatLimit, Min: false},
	{ID: "corner.skew", Why: "skew of the long face to the fixed jaw", How: "{0.0002}, 3 standard uncertainties: the larger", Class: fold.Soft, Unit: unit.KSlope, Max: judge.Always(0.2e-3), Min: false},
	{ID: "corner.width", Why: "width of the stock, on the machine and off it", How: "{0.1}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.1), Min: false},
	{ID: "corner.square", Why: "squareness of the stock's corner", How: "{0.005}", Class: fold.Soft, Unit: unit.KSlope, Max: judge.Always(5e-3), Min: false},
	{ID: "corner.cover", Why: "part out of the stock", How: "{0.05}, 4 standard uncertainties: the larger", Class: fold.Hard, Unit: unit.KLength, Max: judge.Fixed(0.05), Min: false},
	{ID: "top.tilt", Why: "tilt of the raw top over the part", How: "{0.05}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.05), Min: false},
	{ID: "jaws.top", Why: "height of the jaws against the job", How: "{0.5}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.5), Min: false},
	{ID: "jaws.room", Why: "room between the lowest cut and the jaws", How: "{1}", Class: fold.Never, Unit: unit.KLength, Max: judge.Fixed(1), Min: true},
	{ID: "jaws.under", Why: "room between the drill and the vise's bed", How: "{1}", Class: fold.Never, Unit: unit.KLength, Max: judge.Fixed(1), Min: true},
	{ID: "after.repeat", Why: "difference of two touches of one face", How: "as repeat", Class: fold.Soft, Unit: unit.KLength, Max: judge.RepeatLimit, Min: false},
	{ID: "after.wall", Why: "wall against what was asked for", How: "the register allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(1), Most: judge.Share(1), Min: false},
	{ID: "after.fit", Why: "size of the part for its pocket", How: "the pocket's clearance on both sides", Class: fold.Hard, Unit: unit.KLength, Max: nil, Min: false},
	{ID: "after.seat", Why: "flatness of the face that side 2 rests on", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.010), Min: false},
	{ID: "spring", Why: "spring of the wall as the vise opens", How: "0.2 of the allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(0.2), Most: judge.Share(1), Min: false},
	{ID: "after.taper", Why: "taper of the part, end to end", How: "{0.015}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.015), Min: false},
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
func reword(s *fold.Spec, title string, words ...string) *fold.Spec {
	if s == nil {
		return nil
	}
	r := strings.NewReplacer(words...)
	c := *s
	c.Title = title
	c.Asks = func(v fold.View) []fold.Ask {
		asks := s.Asks(v)
		for i := range asks {
			a := &asks[i]
			a.Label, a.WantWhy, a.Hint = r.Replace(a.Label), r.Replace(a.WantWhy), r.Replace(a.Hint)
			a.Do = append([]fold.Act(nil), a.Do...)
			for k := range a.Do {
				a.Do[k].Words = r.Replace(a.Do[k].Words)
			}
		}
		return asks
	}
	c.Judge = func(v fold.View) fold.Outcome {
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
	c.Page = func(v fold.View) fold.Page {
		p := s.Page(v)
		p.Act, p.Why, p.Read, p.Caution = r.Replace(p.Act), r.Replace(p.Why), r.Replace(p.Read), r.Replace(p.Caution)
		return p
	}
	return &c
}

// jaw indicates the fixed jaw: the shared run along an edge.
func jaw(p *fold.Plan) *fold.Spec {
	s := reword(checks.Square(p), "fixed jaw", "fixture bolts", "vise bolts", "The fixture", "The fixed jaw", "the fixture", "the vise", "fixture", "vise",
		"The edge gives direction, and only direction. Tapping moves the bore, so it comes first.", "Side 1 lies as the fixed jaw does. Never run the moving jaw: it floats.",
		"skew of the fixture", "skew of the fixed jaw", "the offset will carry the rest", "side 1 will lie so", "the edge", "the fixed jaw", "Tap only with the part out.", "Tap only with the vise empty.")
	if s != nil {
		s.Keys = []string{"allowance", "setups." + p.Setup.Name + ".vise"}
	}
	return s
}

// jawCheck reads the jaw at its two ends again.
func jawCheck(p *fold.Plan) *fold.Spec {
	s := reword(checks.EdgeCheck(p), "jaw check", "The fixture", "The vise", "the fixture", "the vise", "the edge", "the fixed jaw", "The edge", "The fixed jaw")
	if s != nil {
		s.Recheck.Before = "corner"
	}
	return s
}

// viseBall calibrates the ball again; it brings corner and top back as on side 2 bore and floor.
func viseBall(p *fold.Plan) *fold.Spec {
	s := checks.Calibrate(p)
	if s == nil {
		return nil
	}
	s.Recheck = &fold.Recheck{Before: "corner", Lifts: []fold.FactID{"corner", "top"}}
	judge := s.Judge
	s.Judge = func(v fold.View) fold.Outcome {
		o := judge(v)
		if len(o.Leaves) > 0 {
			o.Leaves = []fold.FactID{"corner", "top"}
		}
		return o
	}
	return s
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
func FaceOf(p *fold.Plan, axis string, side float64) face {
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
func faceContact(p *fold.Plan, v fold.View) kit.Contact {
	switch {
	case p.Setup.Finds == "edge finder":
		return kit.Kicker{P: p, By: "finder"}.Contact()
	case p.Setup.Finds == "paper":
		return kit.Kicker{P: p, By: "paper"}.Contact()
	case p.Job.Machine.Probe != nil:
		return kit.Prober{P: p}.Contact(v)
	case p.Job.Machine.Finder != nil:
		return kit.Kicker{P: p, By: "finder"}.Contact()
	}
	return kit.Kicker{P: p, By: "paper"}.Contact()
}

// probed says that faces are touched by the probe, whose calibration then counts.
func probed(p *fold.Plan) bool {
	return p.Job.Machine.Probe != nil && p.Setup.Finds != "edge finder" && p.Setup.Finds != "paper"
}

// standsOnBall adds the ball where the probe touches.
func standsOnBall(p *fold.Plan, fs ...fold.FactID) []fold.FactID {
	if probed(p) {
		fs = append(fs, "ball")
	}
	return fs
}

// touchAsk asks one coordinate of a contact with a face at a place along it, program coordinates.
func touchAsk(p *fold.Plan, c kit.Contact, f face, field, label string, at float64, axis string, w *fold.Window) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: c.By, Of: f.of + "@" + kit.Place(at), Dir: f.dir(), Axis: axis}, Window: w}
}

// wholeFixture is the job's real fixture, ok is false without one.
func wholeFixture(p *fold.Plan) (*jobs.Fixture, bool) {
	f := &p.Whole().Fixture
	return f, f.ID != ""
}

// atLeastCheck holds a value against a least one, by the one rule turned round.
func atLeastCheck(l fold.Limit, got, least, guard float64) fold.Check {
	c := fold.Check{Limit: l, Got: got, Guard: guard, Verdict: fold.NotProven}
	c.Limit.Max = least
	switch {
	case got-guard >= least:
		c.Verdict = fold.Pass
	case got+guard <= least || guard == 0 || got != got:
		c.Verdict = fold.Fail
	}
	return c
}
