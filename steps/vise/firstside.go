package vise

import (
	"fliptrue/calc/unit"
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
	{ID: "corner.repeat", Why: "difference of two touches of one face", How: "as repeat, 3.5 s of what touches it: the larger", Class: fold.Soft, Unit: unit.KLength, Max: judge.RepeatLimit, Min: false},
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
	{ID: "after.height", Why: "seat face against Z0", How: "{0.2}", Class: fold.Hard, Unit: unit.KLength, Max: judge.Fixed(0.2), Min: false},
	{ID: "spring", Why: "spring of the wall as the vise opens", How: "0.2 of the allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(0.2), Most: judge.Share(1), Min: false},
	{ID: "after.taper", Why: "taper of the part, end to end", How: "{0.015}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.015), Min: false},
}

// jaw indicates the fixed jaw: the shared run along an edge.
func jaw(p *fold.Plan) *fold.Spec {
	s := checks.SquareBy(p, checks.SquareWords{
		Title: "fixed jaw", Why: "Side 1 lies as the fixed jaw does. Never run the moving jaw: it floats.",
		Limit: "skew of the fixed jaw", Bolts: "vise bolts", True: "The fixed jaw is true", Rest: "Side 1 will lie so.",
		Seated: "Never tap with the part in: declare the vise tapped, and the part comes out first.", EdgeWords: jawWords,
	})
	s.Keys, s.Former = []string{"setups." + p.Setup.Name + ".vise.jaw"}, []string{"allowance", "setups." + p.Setup.Name + ".vise"}
	return s
}

var jawWords = kit.EdgeWords{Edge: "the fixed jaw", Bare: "Tap only with the vise empty."}

// jawCheck reads the jaw at its two ends again.
func jawCheck(p *fold.Plan) *fold.Spec {
	return checks.EdgeCheckBy(p, checks.EdgeCheckWords{Title: "jaw check", Before: "corner",
		Why:    "If the vise has turned, nothing measured on it holds.",
		Turned: "The vise has turned: declare it tapped. Part out first.", Lies: "The fixed jaw lies as before", EdgeWords: jawWords})
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

// faceBy is what touches faces in this setup: probe, finder or paper.
func faceBy(p *fold.Plan) string {
	switch {
	case p.Setup.Finds == "edge finder":
		return "finder"
	case p.Setup.Finds == "paper":
		return "paper"
	case p.Job.Machine.Probe != nil:
		return "probe"
	case p.Job.Machine.Finder != nil:
		return "finder"
	}
	return "paper"
}

// faceContact is its contact.
func faceContact(p *fold.Plan, v fold.View) kit.Contact {
	if by := faceBy(p); by != "probe" {
		return kit.Kicker{P: p, By: by}.Contact()
	}
	return kit.Prober{P: p}.Contact(v)
}

// probed says that faces are touched by the probe, whose calibration then counts.
func probed(p *fold.Plan) bool { return faceBy(p) == "probe" }

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
