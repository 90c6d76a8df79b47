package side2

import (
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

const partOutStep fold.StepID = "part-out"

// partOut takes the part out of its pocket before anything that needs the pocket bare. What
// was known of the part on the fixture is gone with it, and comes back by seating it again.
func partOut(p *fold.Plan) *fold.Spec {
	clamps := kit.Counted("left", "clamps left on the table", "clamps", "table", "0",
		"A strap on the part holds it; one left lying is in the way.", "Take it off, heel block and bolt too.")
	screws := kit.Counted("in", "screws left in the part", "screws", "in", "0", "A screw left in holds the part.", "Take it out.")
	screws.Since = kit.SinceScrewsLeft
	counts := []fold.Ask{clamps, screws}
	held := "Straps and screws off, whichever are on, counted."
	if p.Setup.HoldDown == "S" {
		screws.Field, screws.Since = "left", fold.Since{}
		counts = []fold.Ask{screws}
		held = "Screws out, counted."
	}
	in := kit.Bed(p).In
	return checks.PartOut(p, checks.PartOutWords{In: in, Next: "the fixture is tapped", Counts: counts,
		Do: []fold.Act{
			{Do: "move", Of: "head", Words: "Raise the head: Z up by hand, a little at a time, until the spindle is clear of the part and high."},
			{Do: "remove", Of: "part", Words: "Door open. " + held + " Lift the part out by hand; never lever on a thin wall."},
		},
		Learned: "The " + in + " is bare. The part is seated again when the fixture is proven: nothing read of it before counts.",
		Why:     "The floor can't be touched through the part. A tap with the part in shakes it off its seat.",
		Act:     "Take the part out of its " + in + ".", Read: "What is seen, counted.",
		Caution: "SPINDLE STOPPED, its command off. The last strap or screw lets the part go: one hand on it."})
}

// BoreCovered says that the part, or a strap as drawn, lies over a bore or pin that is read: it
// is then out of reach while the part is in.
func BoreCovered(p *fold.Plan) fold.Bare {
	first, second := kit.Targets(p)
	if second != nil && readsSecond(p) && covered(p, *second) == fold.PartMustBeOut {
		return fold.PartMustBeOut
	}
	return covered(p, first)
}

func covered(p *fold.Plan, t kit.Target) fold.Bare {
	z, _ := kit.PartZero(p)
	w, h, r := p.Job.Part.Size[0], p.Job.Part.Size[1], t.Dia/2
	x, y := t.From.X-z.X, t.From.Y-z.Y // in the part's coordinates
	if x+r > 0 && x-r < w && y+r > 0 && y-r < h {
		return fold.PartMustBeOut
	}
	for _, c := range p.Setup.Clamps {
		lo, hi := kit.OutlineBox(c.Outline)
		if x+r > lo.X && x-r < hi.X && y+r > lo.Y && y-r < hi.Y {
			return fold.PartMustBeOut
		}
	}
	return fold.PartMayStay
}
