package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Reach is a tool as a stepped cantilever: flutes (weaker than their diameter), then shank.
type Reach struct {
	Dia, Flute  unit.Length
	Shank, Free unit.Length // shank diameter, and its length from flutes to holder
	Core        float64     // share of the diameter that carries; 0 takes 0.8
	E           unit.Stress // 0 takes carbide, 600 000
	Strength    unit.Stress // 0 takes 1000
}

// Stiff is what a tool's slenderness allows. All numbers per tool, force at its tip.
type Stiff struct {
	Slender      float64 // flute length over diameter
	FluteD       unit.Length
	I            float64     // of the fluted part, mm⁴
	Flute, Shank float64     // deflection per newton, mm/N
	Total        float64     // mm/N
	StressPerN   unit.Stress // at the root of the flutes
	Break        unit.Force
}

// Stiffness computes deflection and breaking force:
//
//	F L³/(3 E I1) + F ((L+Ls)³ - L³)/(3 E I2),  stress 32 F L/(π d³)
func (r Reach) Stiffness() (Stiff, error) {
	if r.Core == 0 {
		r.Core = 0.8
	}
	if r.E == 0 {
		r.E = 600_000
	}
	if r.Strength == 0 {
		r.Strength = 1000
	}
	if err := positive("tool diameter", float64(r.Dia), "flute length", float64(r.Flute), "shank diameter", float64(r.Shank),
		"core share", r.Core, "stiffness", float64(r.E), "strength", float64(r.Strength)); err != nil {
		return Stiff{}, err
	}
	if err := notNegative("free shank", float64(r.Free)); err != nil {
		return Stiff{}, err
	}
	if r.Core > 1 {
		return Stiff{}, fmt.Errorf("core share %g is above 1; carbide end mills carry with about 0.8 of their diameter", r.Core)
	}
	d, l, ls, e := r.Core*float64(r.Dia), float64(r.Flute), float64(r.Free), float64(r.E)
	inertia := func(d float64) float64 { return math.Pi * math.Pow(d, 4) / 64 }
	s := Stiff{Slender: l / float64(r.Dia), FluteD: unit.Length(d), I: inertia(d)}
	s.Flute = l * l * l / (3 * e * s.I)
	s.Shank = (math.Pow(l+ls, 3) - l*l*l) / (3 * e * inertia(float64(r.Shank)))
	s.Total = s.Flute + s.Shank
	stress := 32 * l / (math.Pi * d * d * d)
	s.StressPerN = unit.Stress(stress)
	s.Break = unit.Force(float64(r.Strength) / stress)
	return s, nil
}

// Runout is the largest total runout for a chip load: half of it, or one tooth does the
// work of two. Common practice, from memory.
func Runout(fz unit.Length) unit.Length { return fz / 2 }

// BallDiameter is the cutting diameter of a ball of diameter d at depth ap:
// 2 sqrt(ap (d - ap)); d from half the ball up. The surface speed follows from it.
func BallDiameter(d, ap unit.Length) (unit.Length, error) {
	if err := positive("ball diameter", float64(d), "axial depth ap", float64(ap)); err != nil {
		return 0, err
	}
	if ap >= d/2 {
		return d, nil
	}
	return unit.Length(2 * math.Sqrt(float64(ap*(d-ap)))), nil
}

// Scallop is the height of the ridge a ball leaves between passes: R - sqrt(R² - s²/4).
func Scallop(d, step unit.Length) (unit.Length, error) {
	if err := positive("ball diameter", float64(d), "stepover", float64(step)); err != nil {
		return 0, err
	}
	if step > d {
		return 0, fmt.Errorf("stepover %g is wider than the ball %g: strips stay uncut; use a smaller stepover", float64(step), float64(d))
	}
	r, s := float64(d)/2, float64(step)
	return unit.Length(s * s / 4 / (r + math.Sqrt(r*r-s*s/4))), nil
}

// Plunge is how deep a tool goes, for the check of what of it meets the wall.
type Plunge struct {
	Ap, Depth   unit.Length // of one pass; lowest tip below the top of the wall beside it
	Flute       unit.Length
	Neck, Reach unit.Length // neck diameter (0: none) and the height above the tip to which flutes and neck reach
	Dia, Shank  unit.Length
	Stickout    unit.Length
}

// ReachRoom is the room wanted above the plunge depth. Common practice, from memory.
const ReachRoom unit.Length = 0.5

// Faults lists what of the tool does not reach, in the order to check: flutes shorter than
// one pass, flutes and neck shorter than the plunge, shank and holder into the wall top.
// It is empty for a tool that reaches.
func (p Plunge) Faults() ([]string, error) {
	if err := positive("axial depth ap", float64(p.Ap), "plunge depth", float64(p.Depth), "flute length", float64(p.Flute),
		"tool diameter", float64(p.Dia), "shank diameter", float64(p.Shank), "stick-out", float64(p.Stickout)); err != nil {
		return nil, err
	}
	if err := notNegative("neck diameter", float64(p.Neck), "reach", float64(p.Reach)); err != nil {
		return nil, err
	}
	reach := max(p.Flute, p.Reach)
	var out []string
	if p.Flute < p.Ap {
		out = append(out, fmt.Sprintf("flutes %g are shorter than one pass %g; use a smaller ap", float64(p.Flute), float64(p.Ap)))
	}
	if p.Neck > p.Dia {
		out = append(out, fmt.Sprintf("neck %g is thicker than the tool %g and rubs; check the tool", float64(p.Neck), float64(p.Dia)))
	}
	// A shank no thicker than the flutes follows them down.
	if p.Shank > p.Dia && reach < p.Depth+ReachRoom {
		out = append(out, fmt.Sprintf("flutes and neck reach %g, the plunge needs %g: the shank %g meets the wall; use a longer neck",
			float64(reach), float64(p.Depth+ReachRoom), float64(p.Shank)))
	}
	if p.Shank <= p.Dia && p.Neck == 0 && reach < p.Depth+ReachRoom {
		out = append(out, fmt.Sprintf("flutes reach %g, the plunge needs %g: the shank rubs above them; use longer flutes or a relieved neck",
			float64(reach), float64(p.Depth+ReachRoom)))
	}
	if p.Stickout < p.Depth+ReachRoom {
		out = append(out, fmt.Sprintf("stick-out %g is less than the plunge needs, %g: the holder meets the wall; pull the tool out or use a "+
			"longer one", float64(p.Stickout), float64(p.Depth+ReachRoom)))
	}
	return out, nil
}
