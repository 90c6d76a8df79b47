package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/register"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// What is known of the part once it is in, such as its growth since side 1, has a sign. The offset was keyed before it
// was known; keyed anew, it carries the middle of it, so that no feature has more than its share.

// centredBy are the facts about the part in its seat that an offset keyed anew carries the middle of.
var centredBy = append([]fold.FactID{"seat", "shift", "tram", "drift", "baseline", "ball", "part/hours"}, fromSide1...)

// toKey is the offset to be keyed: that of the fixture and, where the part is in its seat, with the middle of what is known of it.
func toKey(p *fold.Plan, v fold.View) (k fold.Known, notes []string, ok bool) {
	k, notes, ok = ComputeOffset(p, v.Fact, kit.WalkOf(v))
	if !ok || !v.Walks(4) {
		return k, notes, ok
	}
	if _, seated := v.Perhaps("seat"); !seated {
		return k, notes, ok
	}
	fs := kit.RegisterAs(p, func(id fold.FactID) (fold.Known, bool) {
		if id == "offset" {
			return k, true
		}
		return v.Perhaps(id)
	}, true, kit.WalkOf(v))
	c, better := centre(p, fs)
	if !better {
		return k, notes, ok
	}
	o := kit.ReadOffset(k)
	o.Place.Offset = o.Place.Offset.Add(c)
	was, _ := facts.Offset.Read(k)
	return kit.OffsetFact(o, float64(was.Block)), append(notes, fmt.Sprintf("It carries the middle of what is known of the part: X %s Y %s.",
		kit.Signed(p, c.X), kit.Signed(p, c.Y))), ok
}

// centre is the shift to the middle of the known errors; better says that it takes more off the worst feature than the
// control rounds to. An error beyond the allowance is none to be shifted away: its cause is looked for.
func centre(p *fold.Plan, fs []kit.FeatureError) (c frame.Vec, better bool) {
	c = register.Centre(fs, kit.Keyed(p))
	if math.Max(math.Abs(c.X), math.Abs(c.Y)) > float64(p.Job.Allowance) {
		return frame.Vec{}, false
	}
	_, _, was, g := kit.WorstFeature(fs)
	_, _, is, h := kit.WorstFeature(register.Shifted(fs, c))
	return c, was+g-is-h > 2*kit.Keyed(p)
}

// recentred is the way out of a mismatch that is known and of one sign: the offset keyed anew, shifted to the middle.
func recentred(p *fold.Plan, v fold.View, fs []kit.FeatureError) (fold.Act, bool) {
	if _, cut := v.Perhaps("witnessed"); cut || !v.Walks(4) {
		return fold.Act{}, false // what was cut is shifted by what was cut
	}
	c, better := centre(p, fs)
	_, _, value, guard := kit.WorstFeature(register.Shifted(fs, c))
	if !better || !judge.Of(p.Limit("release.register"), value, guard).Verdict.OK() {
		return fold.Act{}, false
	}
	return fold.Act{Do: "reopen", Of: "offset", Words: fmt.Sprintf("Key %s anew, shifted by X %s Y %s. "+
		"Side 2 stands to one side, and how far is known: %s would be left.",
		p.Setup.Offset, kit.Signed(p, c.X), kit.Signed(p, c.Y), p.Len(value))}, true
}
