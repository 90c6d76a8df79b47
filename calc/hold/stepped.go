package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Cutter is a tool as a stepped cantilever from its tip to the holder: flutes (weaker than
// their diameter), neck where there is one, shank. Reach is the same without neck and
// without the stress of the steps.
type Cutter struct {
	Dia, Flute    unit.Length
	NeckDia, Neck unit.Length // of a relieved neck above the flutes; 0, 0: none
	Shank         unit.Length
	Stickout      unit.Length // tip to holder
	Core          float64     // share of the diameter that carries in the flutes; 0 takes 0.8
	E             unit.Stress // 0 takes carbide, 600 000
	Strength      unit.Stress // 0 takes 1000
}

// Section is one step of a cutter. Its stress is largest at its upper end.
type Section struct {
	Name     string      // "flutes", "neck" or "shank"
	Dia      unit.Length // that carries
	From, To unit.Length // from the tip
	Bend     float64     // its share of the bending, mm/N
	Stress   unit.Stress // per newton, at To
	Break    unit.Force
}

// Bending is what a force at the tip of a cutter does.
type Bending struct {
	Slender  float64 // flute length over diameter
	Sections []Section
	Total    float64    // mm/N
	Break    unit.Force // least of the sections'
	At       int        // the section that breaks, index into Sections
}

// Bending computes bending and breaking force of a cutter under a force at its tip:
//
//	sum of F (b³ - a³)/(3 E I) over the steps, I = pi d⁴/64,  stress 32 F b/(pi d³) at each step's upper end
//
// a and b are the ends of a step from the tip. Euler-Bernoulli beam, no fillet: a sharp
// inside corner at a step breaks below it. Core, carbide and strength: common practice, from memory.
func (c Cutter) Bending() (Bending, error) {
	if c.Core == 0 {
		c.Core = 0.8
	}
	if c.E == 0 {
		c.E = 600_000
	}
	if c.Strength == 0 {
		c.Strength = 1000
	}
	if err := c.valid(); err != nil {
		return Bending{}, err
	}
	steps := []Section{{Name: "flutes", Dia: unit.Length(c.Core) * c.Dia, To: c.Flute}}
	if c.Neck > 0 {
		steps = append(steps, Section{Name: "neck", Dia: c.NeckDia, To: c.Flute + c.Neck})
	}
	if c.Stickout > c.Flute+c.Neck {
		steps = append(steps, Section{Name: "shank", Dia: c.Shank, To: c.Stickout})
	}
	out := Bending{Slender: float64(c.Flute / c.Dia), Break: unit.Force(math.Inf(1))}
	var from unit.Length
	for i, s := range steps {
		d, a, b := float64(s.Dia), float64(from), float64(s.To)
		s.From, from = from, s.To
		s.Bend = (b*b*b - a*a*a) / (3 * float64(c.E) * math.Pi * d * d * d * d / 64)
		s.Stress = unit.Stress(32 * b / (math.Pi * d * d * d))
		s.Break = unit.Force(c.Strength / s.Stress)
		out.Sections, out.Total = append(out.Sections, s), out.Total+s.Bend
		if s.Break < out.Break {
			out.Break, out.At = s.Break, i
		}
	}
	return out, nil
}

func (c Cutter) valid() error {
	if err := positive("tool diameter", float64(c.Dia), "flute length", float64(c.Flute), "shank diameter", float64(c.Shank), "stick-out",
		float64(c.Stickout),
		"core share", c.Core, "stiffness", float64(c.E), "strength", float64(c.Strength)); err != nil {
		return err
	}
	if err := notNegative("neck length", float64(c.Neck), "neck diameter", float64(c.NeckDia)); err != nil {
		return err
	}
	switch {
	case c.Core > 1:
		return fmt.Errorf("core share %g is above 1; carbide end mills carry with about 0.8 of their diameter", c.Core)
	case c.Neck > 0 && c.NeckDia == 0:
		return fmt.Errorf("neck of %g has no diameter; give it, or leave the neck out", float64(c.Neck))
	case c.NeckDia > 0 && c.Neck == 0:
		return fmt.Errorf("neck diameter %g has no length; give how far the neck goes above the flutes, or leave it out", float64(c.NeckDia))
	case c.Flute > c.Stickout+1e-9:
		return fmt.Errorf("flutes of %g are longer than the stick-out %g; both count from the tip", float64(c.Flute), float64(c.Stickout))
	case c.Flute+c.Neck > c.Stickout+1e-9:
		return fmt.Errorf("flutes and neck of %g are longer than the stick-out %g; the neck ends in the holder: give what stands out",
			float64(c.Flute+c.Neck), float64(c.Stickout))
	}
	return nil
}

// ForceFor is the force that bends the tip by the given amount.
func (b Bending) ForceFor(bend unit.Length) unit.Force { return unit.Force(float64(bend) / b.Total) }

// Where says in words where it breaks: "at the holder", "at the top of the neck".
func (b Bending) Where() string {
	if b.At == len(b.Sections)-1 {
		return "at the holder"
	}
	return "at the top of the " + b.Sections[b.At].Name
}
