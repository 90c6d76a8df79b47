package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// A dial carried over the floor with Z left alone tells its tilt much better than a tool over a block tells five heights: what the
// block leaves (0.003 a touch) is a guard as wide as the limit. The height itself stays the one touch in the middle.

// floorSwept says that the corners are read by a dial: where that is half again as good as a touch, and the corners are asked at all.
func floorSwept(p *fold.Plan) bool {
	s, _ := kit.TouchS(p)
	g := p.Job.Machine.Dial.Graduation
	return p.Walks(4) && p.Reads(fold.Irreplaceable) && g > 0 && 1.5*math.Hypot(g/math.Sqrt(12), floorFace) < math.Hypot(s, floorFace)
}

// field names the k-th reading of a place, both from the first: of the middle it is the touch that the dial's zero stands for.
func (f flooring) field(i, k int) string {
	switch {
	case !f.dial:
		return floorField(i, k)
	case i == len(f.pts)-1:
		return floorField(i, 1)
	}
	return kit.RepeatField(fmt.Sprintf("d%d", i+1), k)
}

// swept are the places as a dial read them, at most so many sweeps: corners over the middle, and in each sweep the zero there.
func (f flooring) swept(v fold.View, most int) (ps []fit.Point3) {
	mid := len(f.pts) - 1
	z, ok := v.Num(floorField(mid, 1), unit.KLength)
	for k := 1; ok && k <= most && v.Has(f.field(mid-1, k)); k++ {
		for i := range f.pts {
			q := f.place(v, i, k)
			h := z
			if i < mid {
				h += v.Len(f.field(i, k))
			}
			ps = append(ps, fit.Point3{X: q.X, Y: q.Y, Z: h})
		}
	}
	return ps
}

// sweep asks the k-th sweep of the corners.
func (f flooring) sweep(v fold.View, k int) (asks []fold.Ask) {
	bore, found := v.Fact("bore")
	mid := f.place(v, len(f.pts)-1, k)
	for i := range f.pts[:len(f.pts)-1] {
		q := f.place(v, i, k)
		a := fold.Ask{Field: f.field(i, k), Label: "floor " + kit.FloorName[i] + ", higher is +: " + kit.OnFixture(f.p, q, bore, found),
			Kind: fold.Reading, Unit: unit.KLength, Window: kit.Around(0, 0.3, "a floor that lies level"),
			What: fold.What{By: "dial", Of: "floor@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "swept", Axis: "z"}}
		if k > 1 {
			a.Label = "again, " + a.Label
		}
		if i == 0 {
			a.What.Dir = "from " + kit.Place(mid.X) + "," + kit.Place(mid.Y)
			a.Do = []fold.Act{{Do: "fit", Of: "dial", Words: f.over(v, k)}}
		}
		asks = append(asks, a)
	}
	return asks
}

// over says how the dial comes over the middle.
func (f flooring) over(v fold.View, k int) string {
	bore, found := v.Fact("bore")
	at := kit.OnFixture(f.p, f.place(v, len(f.pts)-1, k), bore, found)
	if k > 1 {
		return "That sweep can't tell yet: the mean of two or three can. Back to " + at + ". Needle to 0, Z left alone from here."
	}
	return "Spindle stopped, drive off: clamp the dial to the head. Stylus on the floor at " + at + ". Needle to 0. Z stays from here on."
}

// sweepPage are the words while the corners are swept.
func (f flooring) sweepPage(v fold.View, pg *fold.Page) {
	pg.Act = "Touch the bare floor at " + middleAndRim(", and") + "; then sweep its corners with the dial."
	if len(f.rim) == 0 || v.Has("rim1") {
		pg.Act, pg.Now = "Carry the dial from the middle to each corner, Z left alone. Lift the stylus by hand over holes.", true
		pg.Read = "The needle, from the 0 it was set to in the middle. Higher is plus."
		pg.Caution = "SPINDLE STOPPED, drive off."
	}
}
