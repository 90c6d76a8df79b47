package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// FloorPoints are the touches on the bare pocket floor: four corners and the middle, on the fixture.
func FloorPoints(p *fold.Plan) []jobs.Point {
	lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	at := func(a, b float64) jobs.Point {
		return jobs.Point{X: kit.Even(p, lo.X+a*w, 0.1, 0.01), Y: kit.Even(p, lo.Y+b*h, 0.1, 0.01)}
	}
	return []jobs.Point{at(.1, .1), at(.9, .1), at(.9, .9), at(.1, .9), at(.5, .5)}
}

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

// floorPlace names them.
var floorPlace = [...]string{kit.CornerName[0], kit.CornerName[1], kit.CornerName[2], kit.CornerName[3], "MIDDLE"}

// lengthOf is what touches as calc has it, none where no length stands: then heights are the machine's.
func lengthOf(l facts.LengthFact, _ bool) pickup.Length {
	return pickup.Length{V: float64(l.L), Var: l.Cov.Var("l")}
}

// oneFloor is the floor by one touch alone, in its middle, as the walk's level has it.
func oneFloor(p *fold.Plan, v fold.View) (fit.Plane, bool) {
	z, ok := v.Num(floorField(len(FloorPoints(p))-1, 1), unit.KLength)
	if !ok || v.Has("z1") {
		return fit.Plane{}, false
	}
	pl := fit.Plane{A: z, N: 1}
	pl.Mean.Z = z
	return pl, true
}

// overFloor holds the rim over a floor that was touched once against the card: a chip under one of the two touches.
func overFloor(p *fold.Plan, v fold.View, floor float64, o *fold.Outcome) {
	d := v.Len("rim1") - floor - rimHeight(p)
	c := judge.Of(p.Limit("floor.rim"), math.Abs(d), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The rim stands %s %s over the floor than on the card. A chip under one of the two touches.", p.Len(math.Abs(d)),
			higher(d))
		o.Named = "chip-on-floor"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: c.Words + " Wipe both and touch both again."}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
}

// rimHeight is the rim over the floor by the card.
func rimHeight(p *fold.Plan) float64 {
	if r := p.Job.Fixture.AsMade.Rim; r > 0 {
		return r
	}
	return p.Job.Fixture.AsMade.Floor.Depth
}
