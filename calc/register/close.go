package register

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
	"fliptrue/calc/unit"
)

// Close is what the third walk on reckons with beyond the first two: how the part has grown
// since side 1, how it leans and turns at its walls, the probe's lobes, and the lead of the screws.
type Close struct {
	Grown  [2]growth.Growth // of the part since side 1, along X and Y; replaces Part.Alpha and Part.Moves
	Seat   *frame.Seat      // against two walls; nil in the middle of its pocket
	Turn   unit.Angle       // of the part against its pocket, as touched
	TurnU  float64          // its standard uncertainty, rad; 0: not touched, strips saw it within Strips
	Strips unit.Angle       // turn that strips at the walls can't see
	Lobing float64          // half-width of what the probe's lobes put into the centre of the first bore, mm
	Lead   Lead
}

// Lead is the lead error of the machine's screws between the place where the fixture was made and where it stands.
type Lead struct {
	Per300  float64     // mm in any 300 mm: see frame.LeadError
	Assumed bool        // the machine card gives none
	Moved   *[2]float64 // by how much the fixture stands elsewhere, mm; nil: not known, so anywhere
	Side1   float64     // how far from here side 1 was cut, assumed, mm; 0 as earlier walks reckoned: at this very place
	Near    string      // the same in the unit of the job
}

// walled says that squareness is told by how the part lies against its walls.
func (s Setup) walled() bool { return s.In && s.Close != nil && s.Close.Seat != nil }

// lean is what squareness and turn do at a place of a part against its walls. Of the squareness only the
// magnitude is taken: which way it leans is known of few machines, and both ways touch the wall.
func (c *Close) lean(m Machine, q frame.Vec) (frame.OneSided, error) {
	if c.Seat == nil {
		return frame.OneSided{}, nil
	}
	turn, half := c.Turn, unit.Angle(0)
	if c.TurnU == 0 {
		turn, half = 0, c.Strips
	}
	return c.Seat.Leaning(unit.Slope(m.Squareness), turn, half, q)
}

// known is the signed error of growth and lean at a place.
func (c *Close) known(m Machine, p Part, q frame.Vec) frame.Vec {
	held := p.Held()
	x, _ := c.Grown[0].At(q.X - held.X)
	y, _ := c.Grown[1].At(q.Y - held.Y)
	l, _ := c.lean(m, q) // what can't be computed is a line that proves nothing
	return frame.Vec{X: x, Y: y}.Add(l.Value)
}

// lines are those of growth, lean, turn and lead at q on an axis.
func (c *Close) lines(o Offset, m Machine, p Part, q frame.Vec, axis int) []budget.Line {
	held := p.Held()
	_, ls := c.Grown[axis].At(axisOf(q, axis) - axisOf(held, axis))
	if c.Seat != nil {
		l, err := c.lean(m, q)
		half := axisOf(l.Half, axis)
		if err != nil {
			half = math.Inf(1)
		}
		name, from := "squareness and turn at the walls", "machine card, and strips that see no less"
		if c.TurnU > 0 {
			name, from = "squareness", "machine card: one end of the wall touches"
		}
		ls = append(ls, m.told(budget.R(name, half).From(from)))
		if c.TurnU > 0 {
			other := 1 - axis // an error in X by the distance along Y
			far := math.Max(math.Abs(axisOf(q, other)), math.Abs(p.Size[other]-axisOf(q, other)))
			ls = append(ls, budget.N("turn at the walls", c.TurnU*far, typeB).From("its face touched at both ends"))
		}
	}
	reach := axisOf(o.Fixture.V.Add(q), axis)
	moved, from := math.Abs(reach), "screws, between where the fixture was made and here: not known how far"
	if c.Lead.Moved != nil {
		moved, from = c.Lead.Moved[axis], "screws, between where the fixture was made and here"
	}
	lead := budget.R("lead", frame.LeadError(c.Lead.Per300, reach, moved)).From(from)
	if c.Lead.Assumed {
		lead = lead.AsAssumed()
	}
	ls = append(ls, lead)
	if c.Lead.Side1 > 0 { // the place of side 1 has nothing to do with that of the fixture: they add as squares
		from := axisOf(q, axis) - axisOf(held, axis)
		ls = append(ls, budget.R("lead of side 1", frame.LeadError(c.Lead.Per300, from, c.Lead.Side1)).From(
			"screws, side 1 taken as cut within "+c.Lead.Near+" of here: more counts in proportion").AsAssumed())
	}
	return ls
}
