package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
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

// BlockOf is the height that lay under the tool at every touch of a floor, 0 under a probe.
func BlockOf(floor fold.Known) float64 {
	f, _ := facts.Floor.Read(floor)
	return float64(f.Block)
}

// floor probes the bare pocket floor and the fixture's Z witness.
func floor(p *fold.Plan) *fold.Spec {
	pts, rim := FloorPoints(p), kit.Rim(p)
	if !p.Reads(fold.Past) { // else what waits for all touches would wait for one that no level asks
		rim = rim[:min(len(rim), 1)]
	}
	s, dof := kit.TouchS(p)
	tool := kit.TouchBy(p) == "tool"
	words := "Wipe the " + kit.Bed(p).Floor + " and its groove. Touch " + floorPlaces(p, ", then") + "."
	if tool {
		words = "First tool in, the block wiped. " + words
	}
	touch := func(field, label, of string, w *fold.Window) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: kit.TouchBy(p), Of: of, Dir: "z-",
			Axis: "z"}, Window: w}
	}
	// plane is the floor as touched, each place at most so often, heights as machine Z at the trigger.
	plane := func(v fold.View, most int) (fit.Plane, []fit.Point3, error) {
		var ps []fit.Point3
		for k := 1; k <= most; k++ {
			for i, q := range pts {
				if z, ok := v.Num(floorField(i, k), unit.KLength); ok {
					ps = append(ps, fit.Point3{X: q.X, Y: q.Y, Z: z})
				}
			}
		}
		pl, err := fit.ToPlane(ps)
		return pl, ps, err
	}
	return &fold.Spec{
		Title: kit.Bed(p).Floor, Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"), fold.AsRead("bore", kit.ZDatum(p)),
			fold.IfThere("offset"), fold.Whether("seat")), Makes: []fold.FactID{"floor"}, Bare: fold.UnlessSeated,
		Asks: func(v fold.View) []fold.Ask {
			var asks []fold.Ask
			w := kit.TravelWindow(p, "z")
			bore, found := v.Fact("bore")
			n := 0
			if tool {
				asks, n = append(asks, kit.BlockAsk(p)), 1
			}
			if !v.Standing("seat") { // with the part in, the floor comes from the rim and the card
				for i, q := range pts {
					of := fmt.Sprintf("floor@%s,%s", kit.Place(q.X), kit.Place(q.Y))
					asks = append(asks, touch(fmt.Sprintf("z%d", i+1), "floor "+floorPlace[i]+": "+kit.OnFixture(p, q, bore, found), of, w))
					if z, ok := v.Num("z1", unit.KLength); ok {
						w = kit.Around(z, 0.5, "the first touch")
						w.Slips = kit.Slips(p, v, "z", kit.BallRadius(p, v), nil)
						w.Slips.RefLength = v.Len("block")
					}
				}
				asks[n].Do = []fold.Act{{Do: "wipe", Of: "pocket", Words: words}}
			}
			for i, q := range rim {
				of := fmt.Sprintf("rim@%s,%s", kit.Place(q.X), kit.Place(q.Y))
				wr := kit.TravelWindow(p, "z")
				if z, ok := v.Num("z1", unit.KLength); ok {
					wr = kit.Around(z+rimHeight(p), 1, "the floor and the card's depth")
				}
				asks = append(asks, touch(fmt.Sprintf("rim%d", i+1), "fixture rim: "+kit.OnFixture(p, q, bore, found), of, wr))
			}
			// Where one touch each can't prove the tilt, more are asked of each place.
			for k := 2; k <= floorRepeats && !v.Standing("seat") && allTaken(v, asks); k++ {
				pl, _, err := plane(v, k-1)
				if err != nil || floorTilt(p, pl, s).Verdict != fold.NotProven {
					break
				}
				for i, q := range pts {
					of := fmt.Sprintf("floor@%s,%s", kit.Place(q.X), kit.Place(q.Y))
					z, _ := v.Num(floorField(i, 1), unit.KLength)
					asks = append(asks, touch(floorField(i, k), "once more, floor "+floorPlace[i]+": "+kit.OnFixture(p, q, bore, found), of,
						kit.Around(z, 0.05, "the touch before")))
				}
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			l, _ := v.Fact(kit.ZDatum(p))
			if len(l.Value) == 0 {
				l.Value = []float64{0}
			}
			r := v.Len("rim1")
			if v.Has("rim2") {
				r = (r + v.Len("rim2")) / 2
			}
			var u float64
			var pl fit.Plane
			if one, ok := oneFloor(p, v); ok {
				pl, u = one, s
				overFloor(p, v, pl.A, &o)
			} else if !v.Has("z1") {
				pl.A = r - rimHeight(p)
				pl.Mean.Z = pl.A
				u = math.Sqrt(s*s/2 + 0.005*0.005/3)
				o.Notes = append(o.Notes, "Part in: the floor is taken from the rim and the card's height of rim over floor.")
			} else {
				var err error
				if pl, _, err = plane(v, floorRepeats); err != nil {
					o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "floor.plane", Why: "floor touches against a plane", Class: fold.Never},
						Count: true, Verdict: fold.Fail, Words: err.Error()})
					return o
				}
				weighFloor(p, pl, s, dof, &o)
				u = s / math.Sqrt(float64(pl.N)) // at the middle, about which the touches lie
			}
			lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
			h := v.Len("block")
			z := pl.At((lo.X+hi.X)/2, (lo.Y+hi.Y)/2) - l.Value[0] - h
			r -= h
			if len(l.Cov) > 0 {
				u = math.Sqrt(u*u + l.Cov[0][0])
			}
			o.Facts = []fold.Known{{ID: "floor", Value: []float64{z, pl.B, pl.C, r - l.Value[0], h}, Cov: [][]float64{{u * u}}, Dof: dof}}
			o.Lines = append(o.Lines, fold.Row{Label: "floor Z (offset)", Value: z, Unit: unit.KLength, Signed: true, Big: true},
				fold.Row{Label: "rim over floor", Value: r - l.Value[0] - z, Unit: unit.KLength})
			o.Learned = fmt.Sprintf("The floor is Z %s as an offset, within %s (95 %%). The rim stands %s above it.", p.Num(z), p.Len(2*u),
				p.Len(r-l.Value[0]-z))
			return o
		},
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "Side 2 is measured from the " + kit.Bed(p).Floor + ". No part thickness, no burr and no tape is in the datum.",
				Act:     "Touch the bare floor at " + floorPlaces(p, ", and") + ".",
				Read:    "Machine Z at the trigger, no length taken off.",
				Caution: "SPINDLE STOPPED, probe fitted: its command stays off."}
			if tool {
				pg.Act = "Touch the bare floor with the first tool over the block at " + floorPlaces(p, ", and") + "."
				pg.Read = "Z when the block just slides under the tool; neither length nor block taken off."
				pg.Caution = "SPINDLE STOPPED. Never lower the tool onto the block: slide the block in, from above."
			}
			pl, ps, _ := plane(v, floorRepeats) // without a plane there is no tilt to draw
			var marks []fold.Shape
			if pg.Scene.Tilt, marks = kit.TouchPicture(pl, ps, pts); pg.Scene.Tilt != nil {
				pg.Scene.Tilt.Limit = p.Limit("floor.tilt").Max
			}
			pg.Scene.Shapes = kit.Scene(p, v, marks).Shapes
			return pg
		},
	}
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
	q := pl.Cofactor
	return judge.Of(p.Limit("floor.tilt"), math.Abs(pl.B)*w+math.Abs(pl.C)*h, budget.OneSided*s*math.Sqrt(w*w*q[1][1]+h*h*q[2][2]))
}

// weighFloor judges tilt and form of the floor and says where to look.
func weighFloor(p *fold.Plan, pl fit.Plane, s, dof float64, o *fold.Outcome) {
	lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	tilt := math.Abs(pl.B)*w + math.Abs(pl.C)*h
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
