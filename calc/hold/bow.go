package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// Beam is a strip in bending: length, width, thickness in the direction of bending,
// stiffness E. I = width·thickness³/12.
type Beam struct {
	Length, Width, Thick unit.Length
	E                    unit.Stress
}

// Valid returns an error for a beam that can't be computed.
func (b Beam) Valid() error {
	return positive("length", float64(b.Length), "width", float64(b.Width), "thickness", float64(b.Thick), "stiffness", float64(b.E))
}

// I is the second moment of area, mm⁴.
func (b Beam) I() float64 { return float64(b.Width) * math.Pow(float64(b.Thick), 3) / 12 }

// Support says how a beam is held.
type Support int

const (
	Fixed      Support = iota // both ends fixed, as a wall held by its corners
	Simple                    // both ends resting
	Cantilever                // one end fixed
)

// centre and uniform are the denominators of P L³/(k E I) and w L⁴/(k E I): standard beam
// tables, verified copy. The load of a cantilever stands at its end.
var (
	centre  = [...]float64{Fixed: 192, Simple: 48, Cantilever: 3}
	uniform = [...]float64{Fixed: 384, Simple: 384.0 / 5, Cantilever: 8}
)

// Centre is the largest deflection under a force at mid-length (at the end of a cantilever).
func (b Beam) Centre(s Support, f unit.Force) unit.Length {
	return unit.Length(float64(f) * math.Pow(float64(b.Length), 3) / (centre[s] * float64(b.E) * b.I()))
}

// Middle is the largest deflection under a force at mid-length, of a cantilever too: its end
// then moves 5/2 times as far as its middle does, P L³ 5/(48 E I) (standard beam tables).
func (b Beam) Middle(s Support, f unit.Force) unit.Length {
	if s == Cantilever {
		return b.Centre(s, f) * 5 / 16
	}
	return b.Centre(s, f)
}

// Uniform is the largest deflection under a force spread over the length.
func (b Beam) Uniform(s Support, f unit.Force) unit.Length {
	return unit.Length(float64(f) * math.Pow(float64(b.Length), 3) / (uniform[s] * float64(b.E) * b.I()))
}

// GentlestVise is the least force a vise can be set to by hand with any confidence; it
// closes with thousands. Common practice, from memory.
const GentlestVise unit.Force = 500

// Squeeze is a wall between vise jaws, or under any spread force.
type Squeeze struct {
	Bow     unit.Length // springs back by as much: a wall cut straight comes out barrelled by it
	Allowed unit.Force  // force for the allowed bow
	FarOver bool        // bow above half the thickness: the formula ends, the answer is "far too much"
	Gentle  bool        // some vise setting is gentle enough
}

// TooHard is the honest answer where Gentle is false.
const TooHard = "no vise setting is gentle enough; this is what the fixture is for"

// Squeezed computes the bow of a wall held by its corners (Fixed) or resting (Simple)
// under force f spread over its length, and the force for the allowed bow.
func Squeezed(b Beam, s Support, f unit.Force, allowed unit.Length) (Squeeze, error) {
	if err := b.Valid(); err != nil {
		return Squeeze{}, err
	}
	if err := positive("force", float64(f), "allowed bow", float64(allowed)); err != nil {
		return Squeeze{}, err
	}
	bow := b.Uniform(s, f)
	limit := unit.Force(float64(f) * float64(allowed/bow))
	return Squeeze{Bow: bow, Allowed: limit, FarOver: bow > b.Thick/2, Gentle: limit >= GentlestVise}, nil
}
