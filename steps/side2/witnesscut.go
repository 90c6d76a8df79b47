package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The witness cut measures the register itself: the finisher cuts four small steps outside the final outline, and each is
// touched against side 1's face behind it. What every reading before it left open is in it, and nothing is lost yet.

// cutStep is one of the four, in the order in which they are read.
type cutStep struct {
	field, side string
	axis        int     // 0: along X
	sign        float64 // outward
	at          float64 // along the other axis
}

func cutSteps(p *fold.Plan) [4]cutStep {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	return [4]cutStep{{"right", "RIGHT", 0, 1, math.Round(h / 2)}, {"left", "LEFT", 0, -1, math.Round(h / 2)},
		{"away", "AWAY", 1, 1, math.Round(0.85 * w)}, {"toward", "TOWARD YOU", 1, -1, math.Round(0.15 * w)}}
}

// skinNow is how far outside the outline the steps of this round are cut: each time half as far as the time before.
func skinNow(p *fold.Plan, v fold.View) float64 {
	return p.Setup.Cut.Witness / math.Pow(2, float64(len(v.Earlier)))
}

func witnessCut(p *fold.Plan) *fold.Spec {
	if !judge.WitnessCuts(p) {
		return nil
	}
	return &fold.Spec{
		Title: "witness cut", Needs: fold.Needs(fold.Live("skimmed", "screws"), fold.AsRead("echo"),
			fold.IfThere("offset", "ball", "shift", "seat", "tram", "identity", "bore", "baseline", "drift"), fold.IfThere(fromSide1...)),
		Makes: []fold.FactID{"witnessed"}, Keys: []string{"setups." + p.Setup.Name + ".cut.witness"},
		Asks:  func(v fold.View) []fold.Ask { return cutAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeCut(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Four steps outside the outline show where side 2 lands, while nothing is lost.",
				Act:     "Cut the four steps, then touch each step and side 1's face behind it.",
				Read:    "W X or W Y of the spindle at the trigger, step and face from the same side.",
				Caution: "SPINDLE STOPPED, its command off, before hands go in. This tool does not stop the machine.",
				Scene:   kit.Scene(p, v, nil)}
		},
	}
}

func cutAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	off, r := skinNow(p, v), kit.BallRadius(p, v)
	for _, s := range cutSteps(p) {
		outline := 0.0
		if s.sign > 0 {
			outline = p.Job.Part.Size[s.axis]
		}
		axis := kit.AxisName[s.axis]
		for _, of := range []string{"step", "face"} {
			a := fold.Ask{Field: s.field + "." + of, Label: s.side + " " + of + ", W " + strings.ToUpper(axis), Kind: fold.Reading,
				Unit: unit.KLength, Form: "cut." + s.field,
				What: fold.What{By: "probe", Of: "cut-" + of + "/" + s.field + "@" + kit.Place(s.at),
					Dir: map[bool]string{true: axis + "-", false: axis + "+"}[s.sign > 0], Axis: axis}}
			want := outline + s.sign*r
			if of == "step" {
				want += s.sign * off
			}
			a.Window = kit.Around(want, 0.5, "the outline and the step by the program")
			if f, read := v.Num(s.field+".step", unit.KLength); read && of == "face" {
				a.Window = kit.Around(f-s.sign*off, 0.3, "the step just touched")
			}
			asks = append(asks, a)
		}
	}
	asks[0].Do = []fold.Act{{Do: "steps", Of: "part", Amount: off,
		Words: fmt.Sprintf("Door shut. The finisher cuts four small steps, %s outside the final outline: RIGHT, LEFT, AWAY, TOWARD YOU.",
			p.Len(off))},
		{Do: "fit", Of: "probe", Words: "Spindle stopped. Probe in, chips brushed off, burrs wiped. Step, then face, four times."}}
	return asks
}

// readCut is the fact of what was touched.
func readCut(p *fold.Plan, v fold.View) (register.Steps, fold.Known, error) {
	d := func(s cutStep) float64 { return v.Len(s.field+".step") - v.Len(s.field+".face") }
	c := cutSteps(p)
	touch, dof := judge.ProbeS(p)
	s := register.Steps{Right: d(c[0]), Left: d(c[1]), Away: d(c[2]), Toward: d(c[3]), At: c[0].at, AwayAt: c[2].at, TowardAt: c[3].at,
		Off: skinNow(p, v), Touch: touch, Dof: dof}
	k, err := kit.WitnessCut(p, s)
	return s, k, err
}

func judgeCut(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	s, k, err := readCut(p, v)
	if err != nil {
		return kit.Cannot(p, "cut", err, o)
	}
	fs := kit.RegisterAs(p, func(id fold.FactID) (fold.Known, bool) {
		if id == "witnessed" {
			return k, true
		}
		return v.Perhaps(id)
	}, true, kit.WalkOf(v))
	i, axis, value, guard := kit.WorstFeature(fs)
	c := judge.Of(p.Limit("cut.register"), value, guard)
	f, _ := facts.Witnessed.Read(k)
	if len(fs) > 0 {
		c.Largest = fs[i].Largest[axis]
	}
	size := judge.Of(p.Limit("cut.size"), math.Abs(float64(f.Size)), 0)
	if size.Verdict == fold.Fail {
		size.Words = fmt.Sprintf("The outline comes out %s off on each side: the cutter's wear entry, or growth. No offset mends that.",
			p.Len(math.Abs(float64(f.Size))))
	}
	if !c.Verdict.OK() {
		c.Words = fmt.Sprintf("Side 2 would land %s beside at %s.", p.Len(value), fs[i].Name)
		mid := fit.Point{X: p.Job.Part.Size[0] / 2, Y: p.Job.Part.Size[1] / 2}
		by := [2]float64{float64(f.DX) - float64(f.Rot)*mid.Y, float64(f.DY) + float64(f.Rot)*mid.X} // where growth does not count
		acts := []fold.Act{{Do: "key", Of: "offset/by", Dir: "x", Amount: by[0]}, {Do: "key", Of: "offset/by", Dir: "y", Amount: by[1]}}
		acts[0].Words = fmt.Sprintf("Shift %s by X %s Y %s, read it back. Cut new steps, %s outside the outline; read all again.",
			p.Setup.Offset, kit.Signed(p, by[0]), kit.Signed(p, by[1]), p.Len(s.Off/2))
		if c.Verdict == fold.NotProven {
			c.Words += " Within the allowance, but not proven; the largest doubt is " + c.Largest + "."
		}
		if guard > c.Limit.Max || math.Max(math.Abs(by[0]), math.Abs(by[1])) <= kit.Keyed(p) { // no shift mends a doubt
			acts = []fold.Act{{Do: "look", Of: "cut", Words: "Cut new steps, half as far out; touch all once more. " + mendWords(p, c.Largest)}}
		}
		o.Next = append(append(o.Next, acts...), fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c, size)
	o.Lines = append(o.Lines, fold.Row{Label: "side 2 off along X", Value: float64(f.DX), Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: "side 2 off along Y", Value: float64(f.DY), Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: "turned", Value: float64(f.Rot), Unit: unit.KSlope, Signed: true}, fold.Row{Label: "outline too large, each side",
			Value: float64(f.Size), Unit: unit.KLength, Signed: true})
	o.Lines = append(o.Lines, featureRows(fs)...)
	o.Facts = []fold.Known{k}
	o.Learned = fmt.Sprintf("Side 2 lands within %s of side 1 at the worst feature, as cut.", p.Len(value+guard))
	return o
}
