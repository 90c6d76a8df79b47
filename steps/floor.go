package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// paperThickness is a strip of paper's, mm (common practice; asked where it counts).
const paperThickness = 0.1

// floorPoints are the touches on the bare pocket floor: four corners and the middle, on the fixture.
func (p *Plan) floorPoints() []jobs.Point {
	lo, hi := outlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	at := func(a, b float64) jobs.Point {
		return jobs.Point{X: p.even(lo.X+a*w, 0.1, 0.01), Y: p.even(lo.Y+b*h, 0.1, 0.01)}
	}
	return []jobs.Point{at(.1, .1), at(.9, .1), at(.9, .9), at(.1, .9), at(.5, .5)}
}

// floorPlace names them.
var floorPlace = [...]string{cornerName[0], cornerName[1], cornerName[2], cornerName[3], "MIDDLE"}

// touchBy is what touches heights: the probe, or the first tool over a block or paper.
func (p *Plan) touchBy() string {
	if p.Job.Machine.Probe != nil {
		return "probe"
	}
	return "tool"
}

// Standard deviation of a touch of a tool over a gauge block, mm (estimate, common practice).
const blockRepeat = 0.003

// touchS is the scatter of one touch of a height, with its degrees of freedom.
func (p *Plan) touchS() (s, dof float64) {
	switch {
	case p.touchBy() == "probe":
		return p.probeS()
	case p.Setup.Finds == "paper":
		s = paperRepeat
	default:
		s = blockRepeat
	}
	return math.Max(s, p.Job.Machine.Readout/math.Sqrt(12)), typeB
}

// blockOf is the height that lay under the tool at every touch of a floor, 0 under a probe.
func blockOf(floor Fact) float64 {
	if len(floor.Value) > 4 {
		return floor.Value[4]
	}
	return 0
}

// blockAsk asks what lies under the tool at each touch.
func (p *Plan) blockAsk() Ask {
	a := Ask{Field: "block", Label: "height of the gauge block under the tool", Kind: Reading, Unit: unit.KLength, What: What{By: "gauge", Of: "block", Dir: "height"},
		Window: around(p.even(10, 10, 0.5), p.even(40, 40, 1.5), "a gauge block")}
	if p.Setup.Finds == "paper" {
		a.Label, a.What.Of = "thickness of the paper under the tool", "paper"
		a.Window = around(paperThickness, paperThickness, "paper")
	}
	return a
}

// floor probes the bare pocket floor and the fixture's Z witness.
func floor(p *Plan) *Spec {
	pts, rim := p.floorPoints(), p.rim()
	s, dof := p.touchS()
	tool := p.touchBy() == "tool"
	words := "Wipe the pocket floor and its groove. Touch four corners and the middle, then the rim twice."
	if tool {
		words = "First tool in, the block wiped. " + words
	}
	touch := func(field, label, of string, w *Window) Ask {
		return Ask{Field: field, Label: label, Kind: Reading, Unit: unit.KLength, What: What{By: p.touchBy(), Of: of, Dir: "z-", Axis: "z"}, Window: w}
	}
	// plane is the floor as touched, each place at most so often, heights as machine Z at the trigger.
	plane := func(v View, most int) (fit.Plane, []fit.Point3, error) {
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
	return &Spec{
		Title: "pocket floor", Live: []FactID{"identity"}, AsRead: []FactID{"bore", p.zDatum()}, Seen: []FactID{"offset"}, Sees: []FactID{"seat"}, Makes: []FactID{"floor"}, Bare: UnlessSeated,
		Asks: func(v View) []Ask {
			var asks []Ask
			w := p.travelWindow("z")
			bore, found := v.Fact("bore")
			n := 0
			if tool {
				asks, n = append(asks, p.blockAsk()), 1
			}
			if !v.Standing("seat") { // with the part in, the floor comes from the rim and the card
				for i, q := range pts {
					of := fmt.Sprintf("floor@%s,%s", place(q.X), place(q.Y))
					asks = append(asks, touch(fmt.Sprintf("z%d", i+1), "floor "+floorPlace[i]+": "+p.onFixture(q, bore, found), of, w))
					if z, ok := v.Num("z1", unit.KLength); ok {
						w = around(z, 0.5, "the first touch")
						w.Slips = p.slips(v, "z", p.ballRadius(v), nil)
						w.Slips.RefLength = v.Len("block")
					}
				}
				asks[n].Do = []Act{{Do: "wipe", Of: "pocket", Words: words}}
			}
			for i, q := range rim {
				of := fmt.Sprintf("rim@%s,%s", place(q.X), place(q.Y))
				wr := p.travelWindow("z")
				if z, ok := v.Num("z1", unit.KLength); ok {
					wr = around(z+p.rimHeight(), 1, "the floor and the card's depth")
				}
				asks = append(asks, touch(fmt.Sprintf("rim%d", i+1), "fixture rim: "+p.onFixture(q, bore, found), of, wr))
			}
			// Where one touch each can't prove the tilt, more are asked of each place.
			for k := 2; k <= floorRepeats && !v.Standing("seat") && allTaken(v, asks); k++ {
				pl, _, err := plane(v, k-1)
				if err != nil || p.floorTilt(pl, s).Verdict != NotProven {
					break
				}
				for i, q := range pts {
					of := fmt.Sprintf("floor@%s,%s", place(q.X), place(q.Y))
					z, _ := v.Num(floorField(i, 1), unit.KLength)
					asks = append(asks, touch(floorField(i, k), "once more, floor "+floorPlace[i]+": "+p.onFixture(q, bore, found), of, around(z, 0.05, "the touch before")))
				}
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			l, _ := v.Fact(p.zDatum())
			if len(l.Value) == 0 {
				l.Value = []float64{0}
			}
			r := (v.Len("rim1") + v.Len("rim2")) / 2
			var u float64
			var pl fit.Plane
			if !v.Has("z1") {
				pl.A = r - p.rimHeight()
				pl.Mean.Z = pl.A
				u = math.Sqrt(s*s/2 + 0.005*0.005/3)
				o.Notes = append(o.Notes, "Part in: the floor is taken from the rim and the card's height of rim over floor.")
			} else {
				var err error
				if pl, _, err = plane(v, floorRepeats); err != nil {
					o.Checks = append(o.Checks, Check{Limit: Limit{ID: "floor.plane", Why: "the touches make a plane", Class: Never}, Count: true, Verdict: Fail, Words: err.Error()})
					return o
				}
				p.weighFloor(pl, s, dof, &o)
				u = s / math.Sqrt(float64(pl.N)) // at the middle, about which the touches lie
			}
			lo, hi := outlineBox(p.Job.Fixture.Pocket.Outline)
			h := v.Len("block")
			z := pl.At((lo.X+hi.X)/2, (lo.Y+hi.Y)/2) - l.Value[0] - h
			r -= h
			if len(l.Cov) > 0 {
				u = math.Sqrt(u*u + l.Cov[0][0])
			}
			o.Facts = []Fact{{ID: "floor", Value: []float64{z, pl.B, pl.C, r - l.Value[0], h}, Cov: [][]float64{{u * u}}, Dof: dof}}
			o.Lines = append(o.Lines, Row{Label: "floor Z (offset)", Value: z, Unit: unit.KLength, Signed: true, Big: true}, Row{Label: "rim over floor", Value: r - l.Value[0] - z, Unit: unit.KLength})
			o.Learned = fmt.Sprintf("The floor is Z %s as an offset, within %s; the rim stands %s above it.", p.num(z), p.len(2*u), p.len(r-l.Value[0]-z))
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "Side 2 is measured from the pocket floor: no part thickness, no burr and no tape in the datum.",
				Act:     "Touch the bare floor at four corners and the middle, and the rim twice.",
				Read:    "Machine Z at the trigger, no length taken off.",
				Caution: "SPINDLE STOPPED, probe fitted: its command stays off."}
			if tool {
				pg.Act = "Touch the bare floor with the first tool over the block at four corners and the middle, and the rim twice."
				pg.Read = "Z when the block just slides under the tool; neither length nor block taken off."
				pg.Caution = "SPINDLE STOPPED. Never lower the tool onto the block: slide the block in, from above."
			}
			pl, ps, _ := plane(v, floorRepeats) // without a plane there is no tilt to draw
			var marks []Shape
			pg.Scene.Tilt, marks = touchPicture(pl, ps, pts)
			pg.Scene.Shapes = p.scene(v, marks).Shapes
			return pg
		},
	}
}

// rimHeight is the rim over the floor by the card.
func (p *Plan) rimHeight() float64 {
	if r := p.Job.Fixture.AsMade.Rim; r > 0 {
		return r
	}
	return p.Job.Fixture.AsMade.Floor.Depth
}

// floorRepeats is how often a place of the floor is touched at most.
const floorRepeats = 3

// floorField names the k-th touch of a place of the floor, both from the first.
func floorField(i, k int) string { return repeatField(fmt.Sprintf("z%d", i+1), k) }

// floorTilt judges the tilt over the pocket for a scatter s of one touch.
func (p *Plan) floorTilt(pl fit.Plane, s float64) Check {
	lo, hi := outlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	q := pl.Cofactor
	return Judged(p.Limit("floor.tilt"), math.Abs(pl.B)*w+math.Abs(pl.C)*h, 1.645*s*math.Sqrt(w*w*q[1][1]+h*h*q[2][2]))
}

// weighFloor judges tilt and form of the floor and says where to look.
func (p *Plan) weighFloor(pl fit.Plane, s, dof float64, o *Outcome) {
	lo, hi := outlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	tilt := math.Abs(pl.B)*w + math.Abs(pl.C)*h
	t := p.floorTilt(pl, s)
	high := edgeName(pl.B*w, pl.C*h)
	corners := []fit.Point{{X: lo.X, Y: lo.Y}, {X: hi.X, Y: lo.Y}, {X: hi.X, Y: hi.Y}, {X: lo.X, Y: hi.Y}}
	shims := pl.Shims(corners)
	switch t.Verdict {
	case Fail:
		t.Words = fmt.Sprintf("The floor leans by %s over the pocket, high at %s: a chip under the fixture there. Lift the fixture, wipe it and the table, and begin at the edge again.", p.len(tilt), high)
		if !shims.DoNot {
			var ts []string
			for i, x := range shims.Thick {
				ts = append(ts, cornerName[i]+" "+p.num(x))
			}
			t.Words += " If it repeats, pack under the fixture: " + strings.Join(ts, ", ") + "."
		} else {
			t.Words += " Do not pack: the touches are bowed, or one is on a chip."
		}
	case NotProven:
		t.Words = fmt.Sprintf("The floor leans by %s, high at %s; these touches can't prove that it is little enough. Wipe and touch all again.", p.len(tilt), high)
	}
	form := Judged(p.Limit("floor.form"), pl.Range.V, 0)
	nm := pl.NamePoint(budget.Spread{S: s, Dof: dof})
	switch {
	case nm.Verdict == fit.Named:
		side, what := "high", "a chip under the stylus"
		if nm.Deviation < 0 {
			side, what = "low", "a dent, or a wrong key"
		}
		form.Verdict = Fail
		n := len(p.floorPoints())
		form.Words = fmt.Sprintf("Touch %d is %s by %s: %s. Wipe there and touch again.", nm.Index%n+1, side, p.len(math.Abs(nm.Deviation)), what)
		o.Named = "chip-on-floor"
		o.Next = append(o.Next, Act{Do: "wipe", Of: "pocket", Words: form.Words}, Act{Do: "again", Of: floorField(nm.Index%n, nm.Index/n+1)})
	case form.Verdict == Fail:
		form.Words = "The touches do not lie in a plane: wipe the floor and touch all again."
		o.Next = append(o.Next, Act{Do: "wipe", Of: "pocket", Words: form.Words}, Act{Do: "round"})
	case t.Verdict == Fail:
		o.Next = append(o.Next, Act{Do: "wipe", Of: "pocket", Words: t.Words}, Act{Do: "declare", Of: "fixture-tapped"})
	case t.Verdict == NotProven:
		o.Next = append(o.Next, Act{Do: "wipe", Of: "pocket", Words: t.Words}, Act{Do: "round"})
	}
	o.Checks = append(o.Checks, t, form)
	o.Lines = append(o.Lines, Row{Label: "tilt over pocket", Value: tilt, Guard: t.Guard, Unit: unit.KLength}, Row{Label: "flat within", Value: pl.Range.V, Unit: unit.KLength})
}
