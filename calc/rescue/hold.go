package rescue

import (
	"fmt"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Holds is what is left of a hold-down; one more screw may be lost in it (hold.Together).
type Holds struct {
	Slips   unit.Length // deepest cut that does not slip
	Throws  unit.Length // deepest cut that does not lift the part off its seat; never waived
	Ends    hold.Ends
	Screws  int
	Straps  int  // that are counted on top
	Planned bool // the planned depth holds against both at the low end
}

// Without is a hold-down that has lost screws (indices into c.Holding.Screws). Losing all of them, or
// one twice, is an error.
func Without(c hold.Case, lost ...int) (Holds, error) {
	c, err := without(c, lost)
	if err != nil {
		return Holds{}, err
	}
	e, err := c.Together()
	if err != nil {
		return Holds{}, err
	}
	return holdsOf(e, len(c.Holding.Screws)), nil
}

// without is the case with the screws that are left.
func without(c hold.Case, lost []int) (hold.Case, error) {
	gone := map[int]bool{}
	for _, k := range lost {
		if k < 0 || k >= len(c.Holding.Screws) || gone[k] {
			return c, fmt.Errorf("screw %d is not one of %d, or is named twice; name each lost screw once", k+1, len(c.Holding.Screws))
		}
		gone[k] = true
	}
	var left [][2]float64
	for k, p := range c.Holding.Screws {
		if !gone[k] {
			left = append(left, p)
		}
	}
	c.Holding.Screws = left
	return c, nil
}

func holdsOf(e hold.Ends, screws int) Holds {
	return Holds{Slips: e.Low.Ceiling.Least, Throws: e.Low.Retention.Ceiling, Ends: e, Screws: screws,
		Planned: e.Register == hold.Holds && e.Retention == hold.Holds}
}

// NextSize is the next thread cut into a hole whose thread was stripped.
type NextSize struct {
	Times float64    // what it carries for each mm, over the old one
	Strip unit.Force // at the engaged length
	Cuts  bool       // its tap drill is at least as large as the torn hole
}

// ToNextSize compares threads; engaged full thread in mm, shear of the material (its low end). The
// torn hole is taken as large as the old thread. Source of the shear areas: FED-STD-H28.
func ToNextSize(old, next hold.Thread, engaged unit.Length, shear unit.Stress) (NextSize, error) {
	holes, err := hold.HolesOf(next)
	if err != nil {
		return NextSize{}, err
	}
	if !(engaged > 0) || !(shear > 0) {
		return NextSize{}, fmt.Errorf("engaged length %g and shear strength %g must be above 0; enter them again",
			float64(engaged), float64(shear))
	}
	n := NextSize{Times: next.NutShear() / old.NutShear(), Strip: unit.Force(next.NutShear() * float64(engaged) * float64(shear))}
	n.Cuts = holes.Tap >= old.D
	return n, nil
}
