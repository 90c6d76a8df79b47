package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// floorPlaces says where the floor and the rim are touched, as the walk's level has it.
func floorPlaces(p *fold.Plan, and string) string {
	switch {
	case p.Level() == fold.Full:
		return "four corners and the middle" + and + " the rim twice"
	case p.Reads(fold.Irreplaceable):
		return "four corners and the middle" + and + " the rim"
	}
	return middleAndRim(and)
}

func middleAndRim(and string) string { return "its middle" + and + " the rim" }

// lengthOf is what touches as calc has it, none where no length stands: then heights are the machine's.
func lengthOf(l facts.LengthFact, _ bool) pickup.Length {
	return pickup.Length{V: float64(l.L), Var: l.Cov.Var("l")}
}

// oneFloor is the floor by one touch alone, in its middle, as the walk's level has it.
func oneFloor(p *fold.Plan, v fold.View) (fit.Plane, bool) {
	z, ok := v.Num(floorField(len(kit.FloorPlaces(p))-1, 1), unit.KLength)
	if !ok || v.Has("z1") {
		return fit.Plane{}, false
	}
	pl := fit.Plane{A: z, N: 1}
	pl.Mean.Z = z
	return pl, true
}

// overFloor holds the rim over a floor that was touched once against the card: a chip under one of the two touches.
func overFloor(p *fold.Plan, v fold.View, floor float64, o *fold.Outcome) {
	d := v.Len("rim1") - floor - kit.RimHeight(p)
	c := judge.Of(p.Limit("floor.rim"), math.Abs(d), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The rim stands %s %s over the floor than on the card. A chip under one of the two touches.", p.Len(math.Abs(d)),
			higher(d))
		o.Named = "chip-on-floor"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: c.Words + " Wipe both and touch both again."}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
}
