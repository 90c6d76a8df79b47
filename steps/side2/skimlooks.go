package side2

import (
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// One look at the height of a skim may leave it open: what is read then, and how many looks there were.

// looks is the factor of its guard: one look, or a gauge's and the dial's after it. The dial's is no mean with the gauge's: beside it
// the gauge counts as a thousand times as doubtful.
func (c firstCut) looks(v fold.View, goes int) float64 {
	if c.p.Job.Machine.Probe == nil && c.p.Short() {
		return kit.Looks(v, goes, 1e3, 1)
	}
	return kit.OneLook(v, goes)
}

// touches tell the height where a probe does.
var touches = []string{"face", "rim"}

// lookAgain is the next look at a height that is not proven. It counts as one more.
func (c firstCut) lookAgain(v fold.View, words string) []fold.Act {
	if fold.SameAnswer(v.Text("kept"), kept[1]) {
		return []fold.Act{{Do: "round", Words: words + " The cutter left its collet, so its length is new. Skim again with it; leave it in, " +
			"and take face and rim by a depth gauge, drive off."}}
	}
	words += " Touch face and rim once more."
	if c.p.Job.Machine.Probe == nil || !v.Walks(4) { // a gauge stands at the same division again; earlier looks within a round did not count
		return []fold.Act{{Do: "round", Words: words}}
	}
	return []fold.Act{{Do: "again", Of: touches[0], Words: words}, {Do: "again", Of: touches[1]}}
}

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
// under the stylus.
func dialZ(p *fold.Plan) float64 {
	m := &p.Job.Machine
	return math.Sqrt((m.Dial.Graduation*m.Dial.Graduation+m.Readout*m.Readout)/12 + floorFace*floorFace)
}
