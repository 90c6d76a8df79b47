package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// flooring probes the bare pocket floor and the fixture's Z witness.
type flooring struct {
	p        *fold.Plan
	pts, rim []jobs.Point
	s, dof   float64 // of one touch
	tool     bool    // touched by the first tool over a block
	dial     bool    // the corners are swept by a dial
}

func flooringOf(p *fold.Plan) flooring {
	f := flooring{p: p, pts: kit.FloorPlaces(p), rim: kit.Rim(p), tool: kit.TouchBy(p) == "tool", dial: floorSwept(p)}
	if !p.Reads(fold.Past) { // else what waits for all touches would wait for one that no level asks
		f.rim = f.rim[:min(len(f.rim), 1)]
	}
	f.s, f.dof = kit.TouchS(p)
	return f
}

// floor is that as a step.
func floor(p *fold.Plan) *fold.Spec {
	f := flooringOf(p)
	return &fold.Spec{
		Title: kit.Bed(p).Floor, Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"), fold.AsRead("bore", kit.ZDatum(p)),
			fold.IfThere("offset"), fold.Whether("seat")), Makes: []fold.FactID{"floor"}, Bare: fold.UnlessSeated,
		Asks: f.asks, Judge: f.judge, Page: f.page,
	}
}

func (f flooring) touch(field, label, of string, w *fold.Window) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: kit.TouchBy(f.p), Of: of, Dir: "z-", Axis: "z"}, Window: w}
}

// place is where the k-th look reads a place: 3 mm beside the look before, toward the middle, since a face reads the same at one spot.
func (f flooring) place(v fold.View, i, k int) jobs.Point {
	q := f.pts[i]
	if !v.Walks(4) || k == 1 {
		return q
	}
	beside := kit.Even(f.p, math.Min(3, 0.05*(f.pts[1].X-f.pts[0].X)), 0.1, 0.01) * float64(k-1)
	if i == 1 || i == 2 {
		beside = -beside
	}
	return jobs.Point{X: q.X + beside, Y: q.Y}
}

// plane is the floor as touched, each place at most so often, heights as machine Z at the trigger.
func (f flooring) plane(v fold.View, most int) (fit.Plane, []fit.Point3, error) {
	var ps []fit.Point3
	if f.dial {
		ps = f.swept(v, most)
		pl, err := fit.ToPlane(ps)
		return pl, ps, err
	}
	for k := 1; k <= most; k++ {
		for i := range f.pts {
			q := f.place(v, i, k)
			if z, ok := v.Num(floorField(i, k), unit.KLength); ok {
				ps = append(ps, fit.Point3{X: q.X, Y: q.Y, Z: z})
			}
		}
	}
	pl, err := fit.ToPlane(ps)
	return pl, ps, err
}

func (f flooring) asks(v fold.View) []fold.Ask {
	asks := append(f.floorAsks(v), f.rimAsks(v)...)
	bore, found := v.Fact("bore")
	if f.dial && !v.Standing("seat") {
		asks = append(asks, f.sweep(v, 1)...)
	}
	// Where one look can't prove the tilt, more are asked of each place.
	for k := 2; k <= floorLooks(v) && !v.Standing("seat") && allTaken(v, asks); k++ {
		pl, _, err := f.plane(v, k-1)
		if err != nil || f.tilt(v, pl, f.goes(v)).Verdict != fold.NotProven {
			break
		}
		if f.dial {
			asks = append(asks, f.sweep(v, k)...)
			continue
		}
		for i := range f.pts {
			if i == len(f.pts)-1 && v.Walks(4) {
				continue // the middle tells no tilt
			}
			q := f.place(v, i, k)
			of := fmt.Sprintf("floor@%s,%s", kit.Place(q.X), kit.Place(q.Y))
			z, _ := v.Num(floorField(i, 1), unit.KLength)
			asks = append(asks, f.touch(floorField(i, k), "once more, floor "+kit.FloorName[i]+": "+kit.OnFixture(f.p, q, bore, found), of,
				kit.Around(z, 0.05, "the touch before")))
		}
	}
	return asks
}

// floorAsks are the first touch of each place, none with the part in: then the floor comes from the rim and the card.
func (f flooring) floorAsks(v fold.View) []fold.Ask {
	var asks []fold.Ask
	w := kit.TravelWindow(f.p, "z")
	bore, found := v.Fact("bore")
	n := 0
	if f.tool {
		asks, n = append(asks, kit.BlockAsk(f.p)), 1
	}
	if !v.Standing("seat") { // with the part in, the floor comes from the rim and the card
		for i, q := range f.pts {
			if f.dial && i < len(f.pts)-1 {
				continue // the dial tells how much the corners stand over the middle
			}
			of := fmt.Sprintf("floor@%s,%s", kit.Place(q.X), kit.Place(q.Y))
			asks = append(asks, f.touch(fmt.Sprintf("z%d", i+1), "floor "+kit.FloorName[i]+": "+kit.OnFixture(f.p, q, bore, found), of, w))
			if z, ok := v.Num("z1", unit.KLength); ok {
				w = kit.Around(z, 0.5, "the first touch")
				w.Slips = kit.Slips(f.p, v, "z", kit.BallRadius(f.p, v), nil)
				w.Slips.RefLength = v.Len("block")
			}
		}
		places := floorPlaces(f.p, ", then")
		if f.dial {
			places = middleAndRim(", then")
		}
		words := "Wipe the " + kit.Bed(f.p).Floor + " and its trench. Touch " + places + "."
		if f.tool {
			words = "First tool in, the block wiped. " + words
		}
		asks[n].Do = []fold.Act{{Do: "wipe", Of: "pocket", Words: words}}
	}
	return asks
}

// first is the first touch of the floor in this round, wherever it was.
func (f flooring) first(v fold.View) (z float64, ok bool) {
	for i := range f.pts {
		if z, ok = v.Num(floorField(i, 1), unit.KLength); ok {
			return z, true
		}
	}
	return 0, false
}

func (f flooring) rimAsks(v fold.View) (asks []fold.Ask) {
	bore, found := v.Fact("bore")
	for i, q := range f.rim {
		of := fmt.Sprintf("rim@%s,%s", kit.Place(q.X), kit.Place(q.Y))
		wr := kit.RimNow(f.p, v, q, kit.OverFloor)
		if z, ok := f.first(v); ok {
			wr = kit.Around(z+kit.RimHeight(f.p), kit.OverFloor, "the floor and the card's depth")
		}
		asks = append(asks, f.touch(fmt.Sprintf("rim%d", i+1), "fixture rim: "+kit.OnFixture(f.p, q, bore, found), of, wr))
	}
	return asks
}

func (f flooring) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	x, ok := f.asTouched(v, &o)
	if !ok {
		return o
	}
	o.Facts = []fold.Known{facts.Floor.Is(facts.FloorFact{Z: unit.Length(x.Z), TiltX: unit.Angle(x.TiltX), TiltY: unit.Angle(x.TiltY),
		Rim: unit.Length(x.Rim), Block: unit.Length(x.Block), Cov: fold.NewCov("z", [][]float64{{x.U * x.U}}), Dof: f.dof})}
	o.Lines = append(o.Lines, fold.Row{Label: "floor Z (offset)", Value: x.Z, Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: "rim over floor", Value: x.Rim - x.Z, Unit: unit.KLength})
	o.Learned = fmt.Sprintf("The floor is Z %s as an offset, within %s (95 %%). The rim stands %s above it.", f.p.Num(x.Z), f.p.Len(2*x.U),
		f.p.Len(x.Rim-x.Z))
	return o
}

// asTouched is the floor by one touch, by the rim alone, or by all touches.
func (f flooring) asTouched(v fold.View, o *fold.Outcome) (pickup.Floor, bool) {
	l := lengthOf(facts.Length.Of(kit.ZDatum(f.p).Thing()).In(v))
	h := v.Len("block")
	rim := [2]float64{v.Len("rim1"), v.Len("rim1")}
	if v.Has("rim2") {
		rim[1] = v.Len("rim2")
	}
	mid := frame.Vec{X: (f.pts[0].X + f.pts[1].X) / 2, Y: (f.pts[0].Y + f.pts[2].Y) / 2}
	pl, one := oneFloor(f.p, v)
	switch {
	case one && f.dial && v.Has(f.field(0, 1)):
		overFloor(f.p, v, pl.A, o)
		pl, _, err := f.plane(v, floorLooks(v))
		if err != nil {
			o.Checks = append(o.Checks, judge.Refused("floor.plane", "floor touches against a plane", err))
			return pickup.Floor{}, false
		}
		f.weigh(v, pl, o)
		pl.N = 1 // the dial knows no height: that of the middle is one touch
		return pickup.FloorOf(pl, mid, rim, l, h, f.s), true
	case one:
		overFloor(f.p, v, pl.A, o)
		o.Notes = append(o.Notes, "One touch shows no tilt of the floor.")
	case !v.Has("z1"):
		o.Notes = append(o.Notes, "Part in: the floor is taken from the rim and the card's height of rim over floor.")
		return pickup.FloorByRim(rim, kit.RimHeight(f.p), l, h, f.s), true
	default:
		var err error
		if pl, _, err = f.plane(v, floorLooks(v)); err != nil {
			o.Checks = append(o.Checks, judge.Refused("floor.plane", "floor touches against a plane", err))
			return pickup.Floor{}, false
		}
		f.weigh(v, pl, o)
	}
	return pickup.FloorOf(pl, mid, rim, l, h, f.s), true
}

func (f flooring) page(v fold.View) fold.Page {
	pg := fold.Page{Why: "Side 2 is measured from the " + kit.Bed(f.p).Floor + ". No part thickness, no burr and no tape is in the datum.",
		Act:     "Touch the bare floor at " + floorPlaces(f.p, ", and") + ".",
		Read:    "Machine Z at the trigger, no length taken off.",
		Caution: "SPINDLE STOPPED, probe fitted: its command stays off."}
	if f.tool {
		pg.Act = "Touch the bare floor with the first tool over the block at " + floorPlaces(f.p, ", and") + "."
		pg.Read = "Z when the block just slides under the tool; neither length nor block taken off."
		pg.Caution = "SPINDLE STOPPED. Never lower the tool onto the block: slide the block in, from above."
	}
	if f.dial {
		f.sweepPage(v, &pg)
	} else if len(f.asks(v)) > len(f.floorAsks(v))+len(f.rimAsks(v)) {
		pg.Read = "One look cannot prove the tilt: touch beside each place once more. " + pg.Read
	}
	pl, ps, _ := f.plane(v, floorLooks(v)) // without a plane there is no tilt to draw
	var marks []fold.Shape
	if pg.Scene.Tilt, marks = kit.TouchPicture(pl, ps, f.pts); pg.Scene.Tilt != nil {
		pg.Scene.Tilt.Limit = f.p.Limit("floor.tilt").Max
	}
	pg.Scene.Shapes = kit.Scene(f.p, v, marks).Shapes
	return pg
}
