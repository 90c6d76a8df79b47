package side2

import (
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// fitting is the act that puts the instrument in.
func fitting(p *fold.Plan, then string) fold.Act {
	f := kit.Fittings[p.Setup.Finds]
	if f.Of == "" || f.Of == "probe" {
		return fold.Act{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. " + then}
	}
	words, _, _ := strings.Cut(f.Words, " Try")
	return fold.Act{Do: "fit", Of: f.Of, Words: words + " " + then}
}

// crossAsks ask a centre by the fewest readings along X and along Y.
func crossAsks(p *fold.Plan, v fold.View, t kit.Target) []fold.Ask {
	var out []fold.Ask
	asked := map[string]bool{}
	for _, axis := range kit.AxisName[:2] {
		for _, a := range kit.Finder(p).Pair(v, t, axis) {
			if !asked[a.Field] {
				asked[a.Field] = true
				out = append(out, a)
			}
		}
	}
	return out
}

// setAsks asks a witness set, the fixture's own first: of all witnesses, or only the
// heights. Where base is given, its differences predict.
func setAsks(p *fold.Plan, v fold.View, base *facts.BaselineFact, times int, heights bool) []fold.Ask {
	if posts(p) {
		return postAsks(p, base == nil)
	}
	var asks []fold.Ask
	if !heights {
		first, _ := kit.Targets(p)
		asks = crossAsks(p, v, first)
		asks[0].Do = append([]fold.Act{fitting(p, "First the fixture's own witness: the "+first.Name+".")}, asks[0].Do...)
	}
	asks = append(asks, rimTouches(p, v, heights)...)
	s := readSet(p, v, heights)
	for i, sp := range witnesses(p) {
		if heights && sp.Axis != fit.AxisZ {
			continue
		}
		for k := 1; k <= times; k++ {
			a := witnessAsk(p, v, sp, k)
			if k == 1 {
				if base != nil && len(base.D) > i && s.fixed {
					a.Window = kit.Touched(p, v, base.D[i]+s.Of(sp.Axis), 0.3, "where it stood before")
				} else if w := inPocket(p, v, sp); w != nil {
					a.Window = w
				}
			}
			asks = append(asks, a)
		}
	}
	return asks
}

// rimTouches are the fixture's own height, as often as each witness is read at first.
func rimTouches(p *fold.Plan, v fold.View, heights bool) (asks []fold.Ask) {
	r := kit.Rim(p)[0]
	bore, found := v.Perhaps("bore")
	for k := 1; k <= repeats(p); k++ {
		a := fold.Ask{Field: kit.RepeatField("rim", k), Label: "rim of the fixture: " + kit.OnFixture(p, r, bore, found), Kind: fold.Reading,
			Unit:   unit.KLength,
			What:   fold.What{By: kit.TouchBy(p), Of: "rim@" + kit.Place(r.X) + "," + kit.Place(r.Y), Dir: "z-", Axis: "z"},
			Window: kit.RimNow(p, v, r, refit(v))}
		if k > 1 {
			a.Label = kit.SecondTouch(a.Label)
			if z, ok := v.Num("rim", unit.KLength); ok {
				a.Window = kit.Touched(p, v, z, 0.05, "the touch before")
			}
		} else if heights {
			a.Do = []fold.Act{fitting(p, "First the fixture's rim.")}
		}
		asks = append(asks, a)
	}
	return asks
}

// refit is how near a height is foreseen: in a step that stands on no length of its own the probe went out since.
func refit(v fold.View) float64 {
	if _, ok := v.Perhaps("baseline"); ok {
		return kit.Refitted
	}
	return kit.OverFloor
}

// witnessAsk is the k-th touch of one witness.
func witnessAsk(p *fold.Plan, v fold.View, sp kit.Spot, k int) fold.Ask {
	off, placed := v.Perhaps("offset")
	a := fold.Ask{Field: kit.RepeatField(sp.Field, k), Label: kit.WitnessAt(p, sp, off, placed), Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: kit.FaceBy(p, sp.Axis), Of: sp.Of, Dir: sp.Dir, Axis: kit.AxisName[sp.Axis]}, Window: kit.TravelWindow(
			p, kit.AxisName[sp.Axis])}
	if k > 1 {
		a.Label = kit.SecondTouch(a.Label)
		if first, read := v.Num(sp.Field, unit.KLength); read {
			a.Window = kit.Touched(p, v, first, 0.05, "the touch before")
		}
	}
	if k > repeats(p) && p.Level() == fold.Full { // at a level they are simply asked: one touch each was the bargain
		a.Form, a.Optional = "more", true
	}
	return a
}

// inPlace is how near a face of the part stands to where its card has it, by the room it has and by how it was cut (estimate).
func inPlace(p *fold.Plan) float64 { return 0.5 + p.Job.Fixture.Pocket.Clearance }

// inPocket is where a witness should stand that no baseline foresees: by the offset or the bore, or by the first touch on
// the top; nil where neither says.
func inPocket(p *fold.Plan, v fold.View, sp kit.Spot) *fold.Window {
	at, placed := kit.ZeroNow(p, v)
	ball := sp.Sign * kit.FaceRadius(p, v)
	switch {
	case placed && sp.Axis == fit.AxisX:
		return kit.Touched(p, v, at.X+sp.At.X-ball, inPlace(p), "the part in its pocket")
	case placed && sp.Axis == fit.AxisY:
		return kit.Touched(p, v, at.Y+sp.At.Y-ball, inPlace(p), "the part in its pocket")
	case sp.Axis == fit.AxisZ:
		if z, ok := v.Num("z1", unit.KLength); ok && sp.Field != "z1" {
			return kit.Touched(p, v, z, 0.5, "the first touch on the top")
		}
		if z, ok := kit.TopNow(p, v); ok {
			return kit.Touched(p, v, z, kit.OverFloor, "floor and part as they were seated")
		}
	}
	return nil
}
