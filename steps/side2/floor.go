package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
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
	return "its middle" + and + " the rim"
}

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
	o.Notes = append(o.Notes, "One touch shows no tilt of the floor.")
}

// rimHeight is the rim over the floor by the card.
func rimHeight(p *fold.Plan) float64 {
	if r := p.Job.Fixture.AsMade.Rim; r > 0 {
		return r
	}
	return p.Job.Fixture.AsMade.Floor.Depth
}

// floorRepeats is how often a place of the floor is touched at most.
const floorRepeats = 3

// floorField names the k-th touch of a place of the floor, both from the first.
func floorField(i, k int) string { return kit.RepeatField(fmt.Sprintf("z%d", i+1), k) }

// floorTilt judges the tilt over the pocket for a scatter s of one touch.
func floorTilt(p *fold.Plan, pl fit.Plane, s float64) fold.Check {
	lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	return judge.Of(p.Limit("floor.tilt"), pickup.Over(pl.B, pl.C, w, h), pickup.OverGuard(pl, w, h, s))
}

// weighFloor judges tilt and form of the floor and says where to look.
func weighFloor(p *fold.Plan, pl fit.Plane, s, dof float64, o *fold.Outcome) {
	lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	tilt := pickup.Over(pl.B, pl.C, w, h)
	t := floorTilt(p, pl, s)
	high := kit.EdgeName(pl.B*w, pl.C*h)
	corners := []fit.Point{{X: lo.X, Y: lo.Y}, {X: hi.X, Y: lo.Y}, {X: hi.X, Y: hi.Y}, {X: lo.X, Y: hi.Y}}
	shims := pl.Shims(corners)
	switch t.Verdict {
	case fold.Fail:
		t.Words = fmt.Sprintf("The floor leans by %s over the %s, high at %s. A chip lies under the fixture there. Lift the fixture, wipe "+
			"it and the table, and begin at the edge again.", p.Len(tilt), kit.Bed(p).In, high)
		if !shims.DoNot {
			var ts []string
			for i, x := range shims.Thick {
				ts = append(ts, kit.CornerName[i]+" "+p.Num(x))
			}
			t.Words += " If it repeats, pack under the fixture: " + strings.Join(ts, ", ") + "."
		} else {
			t.Words += " Do not pack: the touches are bowed, or one is on a chip."
		}
	case fold.NotProven:
		t.Words = fmt.Sprintf("The floor leans by %s, high at %s. These touches can't prove that it is little enough: "+
			"wipe and touch all again.",
			p.Len(tilt), high)
	}
	form := judge.Of(p.Limit("floor.form"), pl.Range.V, 0)
	nm := pl.NamePoint(budget.Spread{S: s, Dof: dof})
	switch {
	case nm.Verdict == fit.Named:
		side, what := "high", "a chip under the stylus"
		if nm.Deviation < 0 {
			side, what = "low", "a dent, or a wrong key"
		}
		form.Verdict = fold.Fail
		n := len(FloorPoints(p))
		form.Words = fmt.Sprintf("Touch %d is %s by %s: %s. Wipe there and touch again.", nm.Index%n+1, side, p.Len(math.Abs(nm.Deviation)), what)
		o.Named = "chip-on-floor"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: form.Words},
			fold.Act{Do: "again", Of: floorField(nm.Index%n, nm.Index/n+1)})
	case form.Verdict == fold.Fail:
		form.Words = "The touches do not lie in a plane: wipe the floor and touch all again."
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: form.Words}, fold.Act{Do: "round"})
	case t.Verdict == fold.Fail:
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: t.Words}, fold.Act{Do: "declare", Of: "fixture-tapped"})
	case t.Verdict == fold.NotProven:
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: t.Words}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, t, form)
	o.Lines = append(o.Lines, fold.Row{Label: "tilt over " + kit.Bed(p).In, Value: tilt, Guard: t.Guard, Unit: unit.KLength},
		fold.Row{Label: "flat within", Value: pl.Range.V, Unit: unit.KLength})
}
