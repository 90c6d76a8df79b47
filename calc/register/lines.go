package register

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
)

// Half-widths that neither job nor cards give (common practice, from memory).
const (
	AssumedPickup  = 0.005 // side-1 pickup, mm
	AssumedCutter  = 0.006 // cutter size and deflection, per side, mm
	AssumedProbe   = 0.003 // what is left of a probe's bias, mm
	AssumedContact = 0.005 // what a contact with two walls leaves, mm
	AssumedWarmth  = 5     // how far a shop's day is from the day the fixture was made, where no temperature is asked, K
	heldWarmth     = 1     // how well a temperature is known that is asked, K
	plateShare     = 0.5   // of a correction by temperature that is in doubt: a bolted plate does not grow freely
	typeB          = 50    // degrees of freedom of what a card or practice gives
)

// Machine is what a machine's card says.
type Machine struct {
	LostMotion     float64 // half-width of where it stands when it says a number, mm
	Squareness     float64 // X error per Y, signed (ratio)
	SquareMeasured bool
	Probed         bool // a touch probe finds the bore: what is left of its bias counts
}

// square is the line of X and Y out of square at y, from the part's middle line on: it
// doubles after a flip about either axis. Its sign is known and not used.
func (m Machine) square(y, middle float64) budget.Line {
	return m.told(budget.R("squareness", math.Abs(fit.OutOfSquare(m.Squareness, y, middle))).From("machine card"))
}

// told marks a line of the squareness that the card does not give.
func (m Machine) told(l budget.Line) budget.Line {
	if !m.SquareMeasured {
		return l.AsAssumed()
	}
	return l
}

// Heat is what is known of the fixture's warmth.
type Heat struct {
	Alpha    float64 // the fixture's expansion per K, 0 when it is not known
	Asked    bool    // its temperature is asked, and that of its making is on its card
	Days     bool    // a day that no thermometer read counts as another day: see growth.UnreadHalf
	Known    bool    // and was answered
	Measured bool    // by a thermometer
	Warmer   float64 // now less the day it was made, K
}

// lines are those of machine, probe and fixture at q on one axis, but for squareness.
func (o Offset) lines(m Machine, h Heat, q frame.Vec, axis int) []budget.Line {
	const hits = "scatter of the readings that found it"
	var ls []budget.Line
	c := o.Fixture.Cov
	j := o.Fixture.Jacobian(q)[axis]
	if c[0][2] == 0 && c[1][2] == 0 && c[0][3] == 0 && c[1][3] == 0 && c[2][3] == 0 {
		ls = append(ls, budget.N("bore", math.Sqrt(c[axis][axis]), o.Dof).From(hits),
			budget.N("skew", math.Abs(j[2])*math.Sqrt(c[2][2]), math.Inf(1)).From("run of the dial, closing, straightness of the axis"))
		if c[3][3] > 0 {
			ls = append(ls, budget.N("scale", math.Abs(j[3])*math.Sqrt(c[3][3]), math.Inf(1)).From(hits))
		}
	} else { // bore, skew and scale hang together: one line holds them
		at := o.Fixture.CovAt(q)
		ls = append(ls, budget.N("bore, skew and scale", math.Sqrt(at[axis][axis]), o.Dof).From(hits))
	}
	ls = append(ls, budget.R("machine", m.LostMotion).From("machine card: lost motion"))
	if m.Probed {
		ls = append(ls, budget.R("probe", AssumedProbe).From("what is left of the probe's bias").AsAssumed())
	}
	if c[3][3] == 0 { // two bores would have measured the growth
		ls = append(ls, h.lines(axisOf(o.Fixture.V.Add(o.Fixture.Held), axis))...)
	}
	return ls
}

// lines are those of the fixture's growth over a reach from the bore to where the walls
// hold the part, mm: from there on it is the part, which does not grow with the fixture.
// None without an expansion.
func (h Heat) lines(reach float64) []budget.Line {
	if !(h.Alpha > 0) {
		return nil
	}
	a, reach := math.Abs(h.Alpha-MachineAlpha), math.Abs(reach)
	if h.Days && (!h.Asked || h.Known && !h.Measured) {
		return []budget.Line{budget.R("heat", a*reach*growth.UnreadHalf).From(
			"10 °C (18 °F) since the day the fixture was made: no thermometer was read").AsAssumed()}
	}
	if !h.Asked {
		return []budget.Line{budget.R("heat", a*reach*AssumedWarmth).From("5 °C (9 °F) against the day the fixture was made").AsAssumed()}
	}
	heat := budget.R("heat", a*reach*heldWarmth).From("1 °C (1.8 °F) of the fixture against the machine")
	if !h.Known || !h.Measured {
		heat = heat.AsAssumed()
	}
	ls := []budget.Line{heat}
	if h.Known {
		d := math.Abs(h.Warmer)
		ls = append(ls, budget.N("growth by one bore", plateShare*a*d*reach, math.Inf(1)).From("half of the correction by temperature"))
	}
	return ls
}

func axisOf(v frame.Vec, axis int) float64 {
	if axis == 0 {
		return v.X
	}
	return v.Y
}
