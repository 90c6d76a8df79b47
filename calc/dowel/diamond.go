package dowel

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
)

// Diamond is a pin cut away on two sides, its land pointing across the line of the pins.
type Diamond struct {
	Hole, Pin float64
	Land      float64 // width of the land, along the line
}

// valid is an error unless the land is narrower than the pin and the pin smaller than the hole.
func (d Diamond) valid() error {
	if err := given.Above("hole", d.Hole, "pin", d.Pin, "land", d.Land); err != nil {
		return err
	}
	if d.Land > d.Pin || d.Pin > d.Hole {
		return fmt.Errorf("land %g, pin %g and hole %g must rise; measure them again", d.Land, d.Pin, d.Hole)
	}
	return nil
}

// Free is how far it lets the hole go along the line, either way, the part in the middle across it.
//
//	-w/2 + √(w²/4 + (D² - d²)/4)
//
// Exact: the land's corner meets the hole. The short form of books is j D/(2 w). It is no slot:
// with tight play a wide land frees nothing.
func (d Diamond) Free() (float64, error) {
	if err := d.valid(); err != nil {
		return 0, err
	}
	return -d.Land/2 + math.Sqrt(d.Land*d.Land/4+(d.Hole*d.Hole-d.Pin*d.Pin)/4), nil
}

// Across is how far the part can still be pushed across the line when it is off along it by f:
// at f 0 half the play, at Free none. A part that heat has moved along the line does not come to bear fully.
//
//	√(D²/4 - (w/2 + |f|)²) - √(d²/4 - w²/4)    where the land's corner bears
//	√(j²/4 - f²)                               where its arc does: |f| d/j <= w/2
//
// Beyond Free it is an error.
func (d Diamond) Across(f float64) (float64, error) {
	free, err := d.Free()
	if err != nil {
		return 0, err
	}
	if !(math.Abs(f) <= free*(1+1e-12)) {
		return 0, fmt.Errorf("off by %.4f along the line, and the diamond frees %.4f: it jams; do not press", f, free)
	}
	if half := (d.Hole - d.Pin) / 2; math.Abs(f)*d.Pin/2 <= d.Land/2*half {
		return math.Sqrt(half*half - f*f), nil
	}
	corner := d.Land/2 + math.Abs(f)
	return math.Max(0, math.Sqrt(d.Hole*d.Hole/4-corner*corner)-math.Sqrt(d.Pin*d.Pin/4-d.Land*d.Land/4)), nil
}

// Seat says whether a part goes on and what is to spare.
type Seat struct {
	Bears   float64 // how far the distances of holes and pins may differ
	Differ  float64 // by how much they do, signed: part less pins
	GoesOn  bool
	Pushes  float64 // how far it can be pushed across at pin 2 then
	Diamond bool
}

// Fits holds the distance of the holes in the part against that of the pins, with what the two
// have grown apart (growth: part less fixture, mm). land 0 is a second round pin.
//
//	two round pins bear (j1 + j2)/2, a diamond Free + j1/2
//
// A part that does not go on is never pressed: it would bow.
func (p Pins) Fits(holes, growth, land float64) (Seat, error) {
	j, err := p.Play()
	if err != nil {
		return Seat{}, err
	}
	if err := given.Above("distance of the holes", holes); err != nil {
		return Seat{}, err
	}
	if math.IsNaN(growth) || math.IsInf(growth, 0) {
		return Seat{}, fmt.Errorf("growth %g must be finite; enter the temperatures again", growth)
	}
	s := Seat{Differ: holes - p.Apart + growth, Diamond: land != 0}
	if !s.Diamond {
		s.Bears = (j.J1 + j.J2) / 2
		s.GoesOn = math.Abs(s.Differ) <= s.Bears
		left := math.Max(0, math.Abs(s.Differ)-j.J1/2) // pin 1 gives way first
		s.Pushes = math.Sqrt(math.Max(0, j.J2*j.J2/4-left*left))
		return s, nil
	}
	d := Diamond{Hole: p.Hole2, Pin: p.Pin2, Land: land}
	free, err := d.Free()
	if err != nil {
		return Seat{}, err
	}
	s.Bears = free + j.J1/2
	if s.GoesOn = math.Abs(s.Differ) <= s.Bears; s.GoesOn {
		s.Pushes, err = d.Across(math.Max(0, math.Abs(s.Differ)-j.J1/2))
	}
	return s, err
}

// Apart is how much farther the holes have grown apart than the pins, mm: L (α part - α fixture) dT.
func Apart(length, part, fixture, dT float64) float64 { return length * (part - fixture) * dT }
