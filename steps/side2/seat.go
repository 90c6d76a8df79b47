package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// frontEdge is where the part's side-1 front edge lies after the flip.
func frontEdge(p *fold.Plan) string {
	if p.Setup.Flip == "x" {
		return "away"
	}
	return "toward you"
}

var FlipWords = map[string]string{"x": "about X, front edge over to the back", "y": "about Y, left edge over to the right"}

// diagonal names the two ends of a diagonal of the part; the corners are in cornerName's order.
var diagonal = [2]struct {
	words string
	ends  [2]int
}{{"NEAR LEFT to FAR RIGHT", [2]int{0, 2}}, {"NEAR RIGHT to FAR LEFT", [2]int{1, 3}}}

// topZ are the touches on the part's top, as many as taken, with their places.
func topZ(p *fold.Plan, v fold.View) (ps []fit.Point3, corner []int) {
	for _, sp := range kit.Spots(p) {
		if sp.Axis != fit.AxisZ {
			continue
		}
		if z, ok := v.Num(sp.Field, unit.KLength); ok {
			ps = append(ps, fit.Point3{X: sp.At.X, Y: sp.At.Y, Z: z})
			corner = append(corner, int(sp.Field[1]-'1'))
		}
	}
	return
}

// seat puts the part into its pocket and makes sure that it lies on its floor and against its walls.
func seat(p *fold.Plan) *fold.Spec { return Seat(p, walled(p)) }

// walled is a part that walls hold.
func walled(p *fold.Plan) kit.Lies {
	return kit.Lies{
		Lay:  " and at " + walls(p),
		Drop: "Drop it in, press down over the supports, push it hard against " + walls(p) + ".", Onto: walls(p),
		Why: "A part on a chip is cut tilted. A part not against its walls stands anywhere in its clearance.",
		Act: "Seat the part, push it against " + walls(p) + ", rock it, touch its top at four places.",
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "walls", Label: "strips " + strip(p) + " thick that pull out at " + walls(p), Kind: fold.Count,
				What: fold.What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
				WantWhy: "The part is not against its walls: the clearance is then not known.",
				Hint:    "Push it against the walls again, with thumb or wedge on the opposite sides."}}
		},
	}
}

// holesOf adds holes and threads of a part whose holes come from side 1; pins that were not tried are taken
// for as many as there are screws, which the screws then show.
func holesOf(p *fold.Plan, v fold.View, pre bool, o *fold.Outcome) {
	if !pre {
		return
	}
	n := len(p.Setup.Screws.At)
	if v.Has("pins") {
		n = v.Int("pins")
	}
	o.Facts = append(o.Facts, fold.Known{ID: "holes", Value: []float64{float64(n)}})
	if t, ok := threadFact(p, v, o); ok {
		o.Facts = append(o.Facts, t)
	}
}

// rockedAlone says that rocking alone shows a chip under the part: strips at its corners show the same, coarser.
func rockedAlone(p *fold.Plan) bool { return p.Short() && p.Level() == fold.FirstUse }

// outAndTurn is the act after a part that lies the wrong way.
var outAndTurn = fold.Act{Do: "seat", Of: "part", Words: "Lift the part out, turn it as the program wants it, wipe, seat it again."}

// seatAgain is the cure of a part that does not lie on its floor or against its walls.
func seatAgain(p *fold.Plan, lies kit.Lies) []fold.Act {
	return []fold.Act{{Do: "wipe", Of: "pocket", Words: "Lift the part out, wipe, seat it again and push it against " + lies.Onto + "."},
		{Do: "seat", Of: "part"}, {Do: "round"}}
}

// rocks holds the rocking of both diagonals against its limit; it has no verdict before both were read.
func rocks(p *fold.Plan, v fold.View) fold.Check {
	if !v.Has("rock1") || !v.Has("rock2") {
		return fold.Check{}
	}
	return judge.Of(p.Limit("seat.rock"), math.Max(math.Abs(v.Len("rock1")), math.Abs(v.Len("rock2"))), 0)
}

// rocking is a part that rocks: the step ends there.
func rocking(p *fold.Plan, v fold.View) fold.Outcome {
	c, still := rocks(p, v), 0
	if math.Abs(v.Len("rock2")) < math.Abs(v.Len("rock1")) {
		still = 1
	}
	c.Words = fmt.Sprintf("It rocks by %s. The diagonal that stays still, %s, carries the chip.", p.Len(c.Got), diagonal[still].words)
	return fold.Outcome{Named: "seated-on-chip", Checks: []fold.Check{c},
		Lines: []fold.Row{{Label: "rocks by", Value: c.Got, Unit: c.Limit.Unit}},
		Next: []fold.Act{{Do: "wipe", Of: "pocket",
			Words: "Lift the part out. Wipe pocket and part along that diagonal, seat it again and push " +
				"it against its walls."},
			{Do: "seat", Of: "part"}, {Do: "round"}}}
}

// seatSlips names a part that lies the wrong way.
func seatSlips(p *fold.Plan, v fold.View, o *fold.Outcome) {
	out := outAndTurn
	if u := v.Text("up"); u != "" && !fold.SameAnswer(u, "down on the floor") || fold.SameAnswer(v.Text("edge"), faceUp) {
		o.Named = "wrong-side-up"
		o.Next = append(o.Next, out, fold.Act{Do: "round"})
	} else if t := v.Text("turned"); t != "" && !fold.SameAnswer(t, FlipWords[p.Setup.Flip]) {
		o.Named = "flipped-wrong-axis"
		o.Next = append(o.Next, out, fold.Act{Do: "round"})
	} else if e := v.Text("edge"); e != "" && !fold.SameAnswer(e, frontEdge(p)) {
		o.Named = "part-rotated"
		o.Next = append(o.Next, out, fold.Act{Do: "round"})
	} else if v.Int("strips") > 0 || v.Int("walls") > 0 {
		if len(o.Next) == 0 {
			if o.Named = "seated-on-chip"; v.Int("walls") > 0 {
				o.Named = "clearance-not-pushed"
			}
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: "Lift the part out, wipe, seat it again and push it against " +
				walls(p) + "."}, fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
		}
	}
}

// walls names the datum walls for the person.
func walls(p *fold.Plan) string {
	word := map[string]string{"left": "LEFT", "right": "RIGHT", "away": "AWAY", "toward": "TOWARD YOU"}
	a := p.Setup.Against
	switch {
	case p.OnLocator():
		return "its " + kit.Locator(p) + "s"
	case p.Setup.Floating || len(a) == 0:
		return "its pocket"
	case len(a) == 1:
		return "the wall " + word[a[0]]
	}
	return "the walls " + word[a[0]] + " and " + word[a[1]]
}

// strip is the thickness of the paper or feeler strips, which is common to both.
func strip(p *fold.Plan) string { return p.Len(kit.Even(p, 0.02, 0.01, 0.001)) }

// topAct is what goes before the touches on the part's top.
func topAct(p *fold.Plan) fold.Act {
	if kit.TouchBy(p) == "probe" {
		return fold.Act{Do: "fit", Of: "probe", Words: "Dial stand off the part, hands out. Probe in, spindle mark to the front, its command " +
			"off. Was it out since the floor? Say so first: press *."}
	}
	return fold.Act{Do: "look", Of: "tool", Words: "Dial stand off the part, hands out. The tool that touched the floor, over its block."}
}

// seatAct is the step in one sentence: what its level reads.
func seatAct(p *fold.Plan, lies kit.Lies) string {
	act, _, touched := strings.Cut(lies.Act, ", rock it, touch its top")
	switch {
	case !p.Short() || !touched || !posts(p):
		return lies.Act
	case rockedAlone(p):
		return act + ", rock it, pull at its strips."
	}
	return act + ", pull at its strips."
}

// seatRead says how what is asked now is read.
func seatRead(p *fold.Plan, v fold.View) string {
	switch {
	case p.Short() && !v.Has("width-y") && len(kit.WidthAsks(p, v)) > 0:
		return "A micrometer, at the places where side 1 was measured."
	case !v.Has("edge"):
		return "Say what you see."
	case p.Short() && posts(p) && v.Has("walls"):
		return "Machine Y at the trigger, no radius taken off."
	case p.Short() && !p.Reads(fold.FirstUse):
		return "Strips counted that pull out without force."
	case !v.Has("rock2"):
		return "How far the dial's needle moves at most."
	case !v.Has("walls"):
		return "Strips counted that pull out without force."
	case v.Has("z4"):
		return "Counts, as seen."
	case kit.TouchBy(p) == "tool":
		return "Z when the block just slides under the tool; neither length nor block taken off."
	}
	return "Machine Z at the trigger, no length taken off."
}

// pushes are arrows on the part: toward which walls it is pushed.
func pushes(p *fold.Plan) []fold.Shape {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	long := min(w, h) / 3
	var out []fold.Shape
	for _, wall := range p.Setup.Against {
		from := jobs.Point{X: w / 2, Y: h / 2}
		to := from
		switch wall {
		case "left":
			from.X, to.X = long*1.3, long*0.3
		case "right":
			from.X, to.X = w-long*1.3, w-long*0.3
		case "away":
			from.Y, to.Y = h-long*1.3, h-long*0.3
		case "toward":
			from.Y, to.Y = long*1.3, long*0.3
		}
		out = append(out, fold.Shape{Role: fold.RolePush, Points: []fold.XY{kit.FixturePlace(p, from), kit.FixturePlace(p, to)}})
	}
	return out
}
