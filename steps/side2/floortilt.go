package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// floorLooks is how often the floor is looked at at most, its tilt judged by the mean of all looks so far. Up to the third walk three
// times, each as if it were the only one: a tilt at its limit passed in 7 of 100.
func floorLooks(v fold.View) int {
	if v.Walks(4) {
		return 4
	}
	return 3
}

// floorFace is what the face itself does under a stylus, standard deviation, mm (common practice).
const floorFace = 0.001

// floorField names the k-th touch of a place of the floor, both from the first.
func floorField(i, k int) string { return kit.RepeatField(fmt.Sprintf("z%d", i+1), k) }

// nth is the place and the look of the n-th point of a plane, both as fields count them.
func (f flooring) nth(v fold.View, n int) (i, k int) {
	each := len(f.pts)
	if n < each || f.dial || !v.Walks(4) {
		return n % each, n/each + 1
	}
	n -= each
	return n % (each - 1), n/(each-1) + 2
}

// scatter is that of one place in one look, for the tilt: what reads it, and the face. Up to the third walk the face did not count.
func (f flooring) scatter(v fold.View) float64 {
	s := f.s
	if f.dial {
		s = f.p.Job.Machine.Dial.Graduation / math.Sqrt(12)
	}
	if !v.Walks(4) {
		return s
	}
	return math.Hypot(s, floorFace)
}

// tilt judges the tilt over the pocket by the looks so far, after so many goes that could not tell.
func (f flooring) tilt(v fold.View, pl fit.Plane, goes int) fold.Check {
	lo, hi := kit.OutlineBox(f.p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	var u []float64 // of the tilt, which the corners tell: each look as the others
	for k := range floorLooks(v) {
		u = append(u, 1/math.Sqrt(float64(k+1)))
	}
	g := pickup.OverU(pl, w, h, kit.Looks(v, goes, u...)*f.scatter(v))
	return judge.Of(f.p.Limit("floor.tilt"), pickup.Over(pl.B, pl.C, w, h), g)
}

// tiltU is the standard uncertainty of the tilt by one look, along the axis on which it is known least.
func (f flooring) tiltU(v fold.View) float64 {
	var ps []fit.Point3
	for _, q := range f.pts {
		ps = append(ps, fit.Point3{X: q.X, Y: q.Y})
	}
	pl, err := fit.ToPlane(ps)
	if err != nil {
		return math.Inf(1)
	}
	return f.scatter(v) * math.Sqrt(math.Max(pl.Cofactor[1][1], pl.Cofactor[2][2]))
}

// goes are the earlier goes at this floor, as it lies, that could not tell.
func (f flooring) goes(v fold.View) int {
	return v.Goes(func(v fold.View) bool {
		pl, _, err := f.plane(v, floorLooks(v))
		return err == nil && f.tilt(v, pl, 0).Verdict == fold.NotProven
	})
}

// weigh judges tilt and form of the floor and says where to look.
func (f flooring) weigh(v fold.View, pl fit.Plane, o *fold.Outcome) {
	p := f.p
	t := f.leans(v, pl)
	form := f.form(v, pl, o)
	switch {
	case form.Verdict != fold.Pass:
	case t.Verdict == fold.Fail, t.Verdict == fold.NotProven && v.Walks(4):
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: t.Words}, fold.Act{Do: "declare", Of: "fixture-tapped"})
	case t.Verdict == fold.NotProven:
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: t.Words}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, t, form)
	o.Lines = append(o.Lines, fold.Row{Label: "tilt over " + kit.Bed(p).In, Value: t.Got, Guard: t.Guard, Unit: unit.KLength},
		fold.Row{Label: "flat within", Value: pl.Range.V, Unit: unit.KLength})
}

// leans is the tilt against its limit, and in words what is done about it.
func (f flooring) leans(v fold.View, pl fit.Plane) fold.Check {
	p := f.p
	lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
	t := f.tilt(v, pl, f.goes(v))
	high := kit.EdgeName(pl.B*(hi.X-lo.X), pl.C*(hi.Y-lo.Y))
	corners := []fit.Point{{X: lo.X, Y: lo.Y}, {X: hi.X, Y: lo.Y}, {X: hi.X, Y: hi.Y}, {X: lo.X, Y: hi.Y}}
	shims := pl.Shims(corners)
	switch t.Verdict {
	case fold.Fail:
		t.Words = fmt.Sprintf("The floor leans by %s over the %s, high at %s. A chip lies under the fixture there. Lift the fixture, wipe "+
			"it and the table, and begin at the edge again.", p.Len(t.Got), kit.Bed(p).In, high)
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
			p.Len(t.Got), high)
		if v.Walks(4) {
			t.Words = fmt.Sprintf("The floor leans by %s, high at %s. Reading it again will not prove it little enough. Lift the fixture, wipe "+
				"it and the table, and begin at the edge again; or accept it.", p.Len(t.Got), high)
		}
	}
	return t
}

// form is how far the readings lie off a plane, with the one that stands out.
func (f flooring) form(v fold.View, pl fit.Plane, o *fold.Outcome) fold.Check {
	p := f.p
	form := judge.Of(p.Limit("floor.form"), pl.Range.V, 0)
	nm := pl.NamePoint(budget.Spread{S: f.scatter(v), Dof: f.dof})
	switch {
	case nm.Verdict == fit.Named:
		side, what := "high", "a chip under the stylus"
		if nm.Deviation < 0 {
			side, what = "low", "a dent, or a wrong key"
		}
		form.Verdict = fold.Fail
		i, k := f.nth(v, nm.Index)
		form.Words = fmt.Sprintf("Touch %d is %s by %s: %s. Wipe there and touch again.", i+1, side, p.Len(math.Abs(nm.Deviation)), what)
		o.Named = "chip-on-floor"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: form.Words},
			fold.Act{Do: "again", Of: f.field(i, k)})
	case form.Verdict == fold.Fail:
		form.Words = "The touches do not lie in a plane: wipe the floor and touch all again."
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: form.Words}, fold.Act{Do: "round"})
	}
	return form
}
