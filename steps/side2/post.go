package side2

import (
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Dials on posts that stand on the fixture read part minus fixture without a probe and without the spindle.
// Four of them say where the part goes, how it turns and whether it rises; they read no lean, since one
// height alone does not.

// posts says that dials on posts watch the part, in place of the witness set: below the highest level, and there too
// where no probe is. An edge finder's repeat is so coarse that no number of its touches, against a set read once before,
// proves that a part which stayed has stayed.
func posts(p *fold.Plan) bool {
	return p.Level() != fold.Full && (!p.Reads(fold.Irreplaceable) || p.Short() && p.Job.Machine.Probe == nil)
}

// witnesses are the places at which the part is watched: all spots, or those under the posts.
func witnesses(p *fold.Plan) []kit.Spot {
	all := kit.Spots(p)
	if !posts(p) {
		return all
	}
	var out []kit.Spot
	for _, s := range all {
		if s.Axis != fit.AxisZ || s.Field == "z1" {
			out = append(out, s)
		}
	}
	return out
}

// atZero is what the dials show as they are set: from the fourth walk on one look at all of them, a number each before.
const atZero = "all at zero"

var setPosts = fold.Act{Do: "fit", Of: "posts", Words: "Clamp four dials to the fixture, not to the table, tips on the part as drawn. " +
	"Press a tip in: its needle must rise. Set all to zero."}

// postAsks ask the dials as they stand.
func postAsks(p *fold.Plan, before bool) []fold.Ask {
	if before && p.Short() {
		return []fold.Ask{zeroAsk(p)}
	}
	var asks []fold.Ask
	for _, s := range witnesses(p) {
		w := kit.Around(0, 0.1, "a part that stays")
		w.Slips = unit.SlipContext{Step: p.Job.Machine.Dial.Graduation}
		asks = append(asks, fold.Ask{Field: s.Field, Label: "dial on its post: " + s.Label, Kind: fold.Reading, Unit: unit.KLength, Form: "posts",
			What: fold.What{By: "dial", Of: "post/" + s.Of, Dir: s.Dir, Axis: kit.AxisName[s.Axis]}, Window: w})
	}
	if before {
		asks[0].Do = []fold.Act{setPosts}
	}
	return asks
}

// zeroAsk asks whether the dials hold the zero that they were set to.
func zeroAsk(p *fold.Plan) fold.Ask {
	var of []string
	for _, s := range witnesses(p) {
		of = append(of, "post/"+s.Of)
	}
	a := fold.Ask{Field: "zero", Label: "after a tap on each post the needles stand", Kind: fold.Choice, Options: []string{atZero,
		"not all at zero"}, What: fold.What{By: "eye", Of: "posts", Dir: strings.Join(of, " ")}, Want: atZero,
		WantWhy: "A post that gives would be taken for a part that moved.", Hint: "Clamp that post anew, set it to zero, tap again.",
		Do: []fold.Act{{Do: "fit", Of: "posts", Words: setPosts.Words + " Tap each post with a finger."}}}
	return kit.Mend(a, "", fold.Act{Do: "fit", Of: "posts", Words: a.Hint})
}

// readPosts are the dials as part minus fixture: a part that comes toward a dial pushes its needle up.
func readPosts(p *fold.Plan, v fold.View) witnessSet {
	s := witnessSet{fixed: true, Set: witness.Set{Dial: budget.Spread{S: postS(p), Dof: judge.TypeB}}}
	zero := fold.SameAnswer(v.Text("zero"), atZero)
	for _, sp := range witnesses(p) {
		x, ok := v.Num(sp.Field, unit.KLength)
		s.fixed = s.fixed && (ok || zero)
		if !ok && !zero {
			s.Reads = append(s.Reads, nil)
			continue
		}
		s.Reads = append(s.Reads, []float64{-sp.Sign * x})
	}
	return s
}

// postS is the standard deviation of one reading of a dial: a rectangle of one graduation.
func postS(p *fold.Plan) float64 {
	return math.Max(p.Job.Machine.Dial.Graduation, p.Job.Machine.Readout) / math.Sqrt(12)
}
