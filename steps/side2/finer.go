package side2

import (
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// finer are the readings that decide what a depth gauge left open: its divisions are coarse beside the limit, and the same gauge read again
// stands at the same one. The dial carries one height to the other, and the readout tells them apart.
func (c firstCut) finer(v fold.View, length func(field, label, by, of, dir, axis string) fold.Ask) []fold.Ask {
	if !c.p.Short() || v.Round == nil {
		return nil
	}
	if h, _, ok, err := c.height(v.In(v.Round.Of(gaugeAlone), nil)); !ok || err != nil || c.judged(v, h).Verdict != fold.NotProven {
		return nil
	}
	rim := length("dialrim", "Z, the dial at zero on the rim", "eye", "rim@"+kit.Place(c.rim.X)+","+kit.Place(c.rim.Y), "zero", "z")
	rim.Window = kit.TravelWindow(c.p, "z")
	rim.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "The gauge is too coarse to tell. Spindle stopped, drive off: clamp the " +
		"dial to the head, the cutter stays in. Lower it onto the rim, set the needle to 0, and note Z."}}
	face := length("dialface", "Z, the dial at zero on the skimmed face", "eye", c.of(), "zero", "z")
	if z, ok := v.Num("dialrim", unit.KLength); ok {
		face.Window = kit.Around(z+v.Len("over"), 0.5, "the rim and the gauge")
	}
	return []fold.Ask{rim, face}
}

// gaugeAlone leaves out what was read after the gauge.
func gaugeAlone(t fold.Taken) (fold.Taken, bool) {
	return t, t.Field != "dialrim" && t.Field != "dialface"
}

// dialZ is the standard uncertainty of a Z at which a dial stands at zero: a graduation, a step of the readout, and the face
// under the stylus (0.001, common practice).
func dialZ(p *fold.Plan) float64 {
	m := &p.Job.Machine
	return math.Sqrt((m.Dial.Graduation*m.Dial.Graduation+m.Readout*m.Readout)/12 + 0.001*0.001)
}
