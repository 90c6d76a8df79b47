package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Cut is one way of milling, and the specific force of the material.
type Cut struct {
	Dia    unit.Length
	Teeth  int
	Ae, Ap unit.Length // radial and axial depth
	Fz     unit.Length // feed per tooth
	Helix  unit.Angle  // of the flutes; 0 for straight ones
	Down   bool        // left-hand helix: the lift presses the part down
	Kc11   float64     // specific force at 1 mm chip thickness, MPa
	Mc     float64     // its exponent
	Wear   float64     // multiplies the force; 1 sharp, 1.3 a worn edge
	Corner float64     // multiplies the force where the engagement rises: 2 with inside corners or plunging, 1 without
}

// Estimates of the force's other parts as shares of the tangential one, from memory.
const (
	RadialShare = 0.5 // radial force
	LiftShare   = 0.6 // upward force of a 30° right-hand helix; scaled with the tangent of the helix
	WornEdge    = 1.3
	InCorner    = 2.0
	helix30     = math.Pi / 6
)

// Load is the force of one cut on the part, before the corner factor.
type Load struct {
	HMax, HMean unit.Length // chip thickness
	Kc          unit.Stress
	Ft, Fh, Fa  unit.Force // tangential, in the plane (tangential and radial), up (negative: down)
	Arc         unit.Angle // engagement
	TeethIn     float64    // mean number of teeth in the cut; the force counts the next whole number
	Thin        bool       // chip below 0.02 mm: the specific force is extrapolated
	Upper       bool       // more than one tooth along the helix: the force is an upper estimate
	ApLinear    unit.Length
}

// Kienzle is the specific cutting force kc1.1 h^-mc in MPa, h in mm.
// Source: Kienzle, values by VDI 3323 group.
func Kienzle(kc11, mc float64, h unit.Length) unit.Stress {
	return unit.Stress(kc11 * math.Pow(float64(h), -mc))
}

// Valid returns an error for a cut that can't be computed.
func (c Cut) Valid() error {
	if err := positive("tool diameter", float64(c.Dia), "radial depth ae", float64(c.Ae), "axial depth ap", float64(c.Ap),
		"feed per tooth", float64(c.Fz), "specific force kc1.1", c.Kc11, "wear factor", c.Wear, "corner factor", c.Corner); err != nil {
		return err
	}
	if err := notNegative("helix", float64(c.Helix), "exponent mc", c.Mc); err != nil {
		return err
	}
	switch {
	case c.Teeth < 1:
		return fmt.Errorf("tool has %d teeth: it needs at least 1; count the flutes", c.Teeth)
	case c.Ae > c.Dia:
		return fmt.Errorf("radial depth ae %g is larger than the tool diameter %g; a slot is ae = diameter", float64(c.Ae), float64(c.Dia))
	case float64(c.Helix) >= math.Pi/2:
		return fmt.Errorf("helix %g rad is not below a right angle; give it in degrees with its unit", float64(c.Helix))
	case c.Mc >= 1:
		return fmt.Errorf("exponent mc %g is not below 1; take it from the same table as kc1.1", c.Mc)
	}
	return nil
}

// Load computes the force. Ft = kc ap hmax wear, times the whole number of teeth engaged;
// hmax = 2 fz sqrt(ae/D (1 - ae/D)), or fz from ae = D/2 up. The lift and the radial part
// are estimates.
func (c Cut) Load() (Load, error) {
	if err := c.Valid(); err != nil {
		return Load{}, err
	}
	q := float64(c.Ae / c.Dia)
	fz := float64(c.Fz)
	h := fz
	if q < 0.5 {
		h = 2 * fz * math.Sqrt(q*(1-q))
	}
	arc := math.Acos(1 - 2*q)
	in := float64(c.Teeth) * arc / (2 * math.Pi)
	kc := Kienzle(c.Kc11, c.Mc, unit.Length(h))
	// The tolerance keeps a slot with two teeth (exactly 1) from counting as two.
	ft := float64(kc) * float64(c.Ap) * h * c.Wear * math.Max(1, math.Ceil(in-1e-9))
	lift := LiftShare * math.Tan(float64(c.Helix)) / math.Tan(helix30)
	if c.Down {
		lift = -lift
	}
	l := Load{
		HMax: unit.Length(h), HMean: unit.Length(fz * math.Sqrt(q)), Kc: kc,
		Ft: unit.Force(ft), Fh: unit.Force(ft * math.Sqrt(1+RadialShare*RadialShare)), Fa: unit.Force(lift * ft),
		Arc: unit.Angle(arc), TeethIn: in, Thin: h < 0.02, ApLinear: c.ApLinear(),
	}
	l.Upper = c.Ap > l.ApLinear
	return l, nil
}

// ApLinear is the axial depth up to which one tooth at a time stands along the helix:
// pi D / (z tan helix). Above it the force, taken as linear in ap, is an upper estimate.
// Infinite for straight flutes.
func (c Cut) ApLinear() unit.Length {
	if c.Helix == 0 {
		return unit.Length(math.Inf(1))
	}
	return unit.Length(math.Pi * float64(c.Dia) / (float64(c.Teeth) * math.Tan(float64(c.Helix))))
}
