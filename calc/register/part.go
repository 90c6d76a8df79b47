package register

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
)

// Relative change of wood across the grain that is assumed between the sides: 0.2 percent
// of moisture, tangential (maple, USDA Wood Handbook, verified copy), and the share of it
// that stabilised wood keeps (estimate).
const (
	woodMoves  = 0.0035 * 0.2
	stabilised = 0.2
)

// WoodMoves is the relative change of a wood's size that is assumed between the sides.
func WoodMoves(isStabilised bool) float64 {
	w := float64(woodMoves)
	if isStabilised {
		w *= stabilised
	}
	return w
}

// Part is the part in its pocket and what side 1 left of it.
type Part struct {
	Size      [3]float64   // finished, mm
	Against   []frame.Wall // the pocket's walls it is pushed to; fewer than two leave it the clearance
	Floating  bool         // pushed to none, whatever Against says
	Clearance float64      // between part and pocket on each side when it stands in the middle, mm
	Alpha     float64      // expansion per K, 0 when it is not known
	Moves     float64      // relative change of size by moisture since side 1: see WoodMoves; 0 for no wood
	Pickup    Pickup
	Stops     *Stopped   // it lies against three stops in place of walls
	On        *Located   // it lies on what the fixture is found by; overrules its walls
	Beyond    [2]float64 // outer width along X and Y beyond the drawing, mm
	WidthU    [2]float64 // standard uncertainty of those widths, 0 when they were not measured
	CardU     [2]float64 // standard uncertainty of its place against the fixture's walls as made, 0 when it is not known
}

// Pickup is how well side 1 was picked up. The zero value is assumed.
type Pickup struct {
	Half   float64        // half-width as given, mm; 0 takes AssumedPickup
	Given  bool           // by Source
	Source string         //
	Cov    *[2][2]float64 // of the corner of side 1 as this program found it, mm²: overrules the rest
}

func (p Part) loose() bool { return p.Floating || len(p.Against) < 2 }

// Stopped is a part whose one side lies flat against two stops, the side square to it against a third.
type Stopped struct {
	Along int     // axis along which what is out of square leads astray: the third stop's
	From  float64 // place of the third stop on the other axis, part coordinates: there it touches
	Apart float64 // between the two stops, mm
}

// turn is the half-width of what a turn by the contacts of the two stops does at q.
func (s *Stopped) turn(p Part, q frame.Vec, axis int) float64 {
	return math.Sqrt2 * AssumedContact / s.Apart * math.Abs(axisOf(q, 1-axis)-axisOf(p.Held(), 1-axis))
}

// Located is how a part lies on pins beyond the drawing, about the place that they hold.
type Located struct {
	At     frame.Vec     // that place, part coordinates
	Motion frame.Motion  // known, about At
	Cov    [3][3]float64 // of its X, Y (mm²) and turn
	Along  int           // axis of the line from one to the other: out of square, places off that line go astray along it
}

// move is where a place goes, and the covariance of that.
func (l *Located) move(q frame.Vec) (frame.Vec, frame.Cov2) {
	q = q.Sub(l.At)
	return l.Motion.Move(q), l.Motion.CovAt(q, l.Cov)
}

// Held is the place on the part that the pocket's walls hold, part coordinates: its corner
// at two walls, else the middle on the axis that has none.
func (p Part) Held() frame.Vec {
	w, h := p.Size[0], p.Size[1]
	c := frame.Vec{X: w / 2, Y: h / 2}
	if p.On != nil {
		return p.On.At
	}
	if p.Floating {
		return c
	}
	for _, wall := range p.Against {
		switch wall {
		case frame.Left:
			c.X = 0
		case frame.Right:
			c.X = w
		case frame.Toward:
			c.Y = 0
		case frame.Away:
			c.Y = h
		}
	}
	return c
}

// Outline is by how much the outline that side 1 left carries the features away from the
// walls, side-2 coordinates: half of what the part is beyond the drawing, the error of the
// outline being the same on both of its sides (a cutter's size is). 0 for a part that no
// two walls hold.
func (p Part) Outline() frame.Vec {
	var e frame.Vec
	if p.loose() {
		return e
	}
	for _, wall := range p.Against {
		switch wall {
		case frame.Left:
			e.X = p.Beyond[0] / 2
		case frame.Right:
			e.X = -(p.Beyond[0] / 2)
		case frame.Toward:
			e.Y = p.Beyond[1] / 2
		case frame.Away:
			e.Y = -(p.Beyond[1] / 2)
		}
	}
	return e
}

// lines are those of side 1, of the part in its pocket and of the cutter, at q on an axis.
func (p Part) lines(m Machine, q frame.Vec, axis int) []budget.Line {
	ls := []budget.Line{p.pickup(axis), budget.R("machine, side 1", m.LostMotion).From("machine card: lost motion"),
		budget.R("cutter", AssumedCutter).From("size and deflection, per side").AsAssumed()}
	lever := math.Abs(axisOf(q, axis) - axisOf(p.Held(), axis))
	if p.Alpha > 0 {
		a := math.Abs(p.Alpha - MachineAlpha)
		ls = append(ls, budget.R("part heat", a*lever*heldWarmth).From("1 °C (1.8 °F) of part and machine since side 1").AsAssumed())
	}
	if p.Moves > 0 {
		ls = append(ls, budget.R("moisture", p.Moves*lever).From("0.2 percent of moisture, across the grain").AsAssumed())
	}
	if p.On != nil {
		_, c := p.On.move(q)
		return append(ls, budget.N("place on its locator", math.Sqrt(c[axis][axis]), typeB).From("play and contact"))
	}
	if p.loose() {
		ls = append(ls, budget.R("clearance", p.Clearance).From("fixture card"))
	} else {
		ls = append(ls, budget.R("wall contact", AssumedContact).From("what two walls leave").AsAssumed())
		if p.Stops != nil {
			ls = append(ls, budget.R("turn at the stops", p.Stops.turn(p, q, axis)).From("contact at two stops").AsAssumed())
		}
	}
	if u := p.CardU[axis]; u > 0 {
		ls = append(ls, budget.N("place on its card", u, typeB).From("fixture card: part-zero-u"))
	}
	if u := p.WidthU[axis]; u > 0 && !p.Floating {
		ls = append(ls, budget.N("size of side 1", u/2, typeB))
	}
	return ls
}

// pickup is the line of the place that side 1 was cut from. A part on a locator lies by holes or edges that
// side 1 cut itself: how far those stand from the rest is as large, and has its name.
func (p Part) pickup(axis int) budget.Line {
	if p.On == nil {
		return p.Pickup.line(axis)
	}
	l := Pickup{Half: p.Pickup.Half, Given: p.Pickup.Given, Source: p.Pickup.Source}.line(axis)
	l.Name = "holes of side 1"
	return l
}

// line is the pickup's: as measured, as given, or assumed.
func (k Pickup) line(axis int) budget.Line {
	const name = "side-1 pickup"
	if k.Cov != nil {
		return budget.N(name, math.Sqrt(k.Cov[axis][axis]), typeB).From("corner of side 1, in this record")
	}
	half := k.Half
	if !(half > 0) {
		half = AssumedPickup
	}
	if k.Given {
		return budget.R(name, half).From(k.Source)
	}
	return budget.R(name, half).AsAssumed()
}
