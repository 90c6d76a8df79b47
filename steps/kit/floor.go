package kit

import (
	"fmt"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// A floor is touched at five places: its four corners and its middle.

// FloorName names them, in their order.
var FloorName = [...]string{CornerName[0], CornerName[1], CornerName[2], CornerName[3], "MIDDLE"}

// FloorPlaces are they on the bare floor of the fixture's pocket.
func FloorPlaces(p *fold.Plan) []jobs.Point {
	lo, hi := OutlineBox(p.Job.Fixture.Pocket.Outline)
	w, h := hi.X-lo.X, hi.Y-lo.Y
	at := func(a, b float64) jobs.Point {
		return jobs.Point{X: Even(p, lo.X+a*w, 0.1, 0.01), Y: Even(p, lo.Y+b*h, 0.1, 0.01)}
	}
	return []jobs.Point{at(.1, .1), at(.9, .1), at(.9, .9), at(.1, .9), at(.5, .5)}
}

// RimHeight is the rim over the floor by the card.
func RimHeight(p *fold.Plan) float64 {
	if r := p.Job.Fixture.AsMade.Rim; r > 0 {
		return r
	}
	return p.Job.Fixture.AsMade.Floor.Depth
}

// TouchDown is one touch of a face of the fixture, straight down.
func TouchDown(p *fold.Plan, field, label, thing string, q jobs.Point, w *fold.Window) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, Window: w,
		What: fold.What{By: TouchBy(p), Of: thing + "@" + Place(q.X) + "," + Place(q.Y), Dir: "z-", Axis: "z"}}
}

// FloorAndRim is a floor touched at its five places, and the rim beside it at two.
type FloorAndRim struct {
	P      *fold.Plan
	Wipe   string  // what is wiped first
	Rim    float64 // how high it should stand over the floor
	RimWhy string  // what says so
}

func floorField(i int) string { return fmt.Sprintf("z%d", i+1) }
func rimField(i int) string   { return fmt.Sprintf("rim%d", i+1) }

// Asks are those touches.
func (f FloorAndRim) Asks(v fold.View) []fold.Ask {
	var asks []fold.Ask
	if TouchBy(f.P) == "tool" {
		asks = append(asks, BlockAsk(f.P))
	}
	first := len(asks)
	w := TravelWindow(f.P, "z")
	rim := w
	for i, q := range FloorPlaces(f.P) {
		asks = append(asks, TouchDown(f.P, floorField(i), "floor, "+FloorName[i], "floor", q, w))
		if z, ok := v.Num(floorField(0), unit.KLength); ok {
			w = Around(z, 0.5, "the first touch")
			w.Slips = Slips(f.P, v, "z", 0, nil)
			rim = Around(z+f.Rim, OverFloor, f.RimWhy)
		}
	}
	asks[first].Do = []fold.Act{{Do: "wipe", Of: f.Wipe, Words: "Wipe floor and rim. Touch each place straight down."}}
	for i, q := range Rim(f.P) {
		asks = append(asks, TouchDown(f.P, rimField(i), "rim, "+[2]string{"LEFT", "RIGHT"}[i], "rim", q, rim))
	}
	return asks
}

// Read is the floor as touched, the rim over it, and all touches in their order.
func (f FloorAndRim) Read(v fold.View) (pl fit.Plane, rim float64, z []float64, err error) {
	var ps []fit.Point3
	for i, q := range FloorPlaces(f.P) {
		z = append(z, v.Len(floorField(i)))
		ps = append(ps, fit.Point3{X: q.X, Y: q.Y, Z: z[i]})
	}
	if pl, err = fit.ToPlane(ps); err != nil {
		return pl, 0, nil, err
	}
	for i, q := range Rim(f.P) {
		at := v.Len(rimField(i))
		z = append(z, at)
		rim += (at - pl.At(q.X, q.Y)) / 2
	}
	return pl, rim, z, nil
}
