package dowel

import (
	"fmt"

	"fliptrue/calc/given"
)

// PlayMost is the most play that a locating pin is given, mm. Common practice.
const PlayMost = 0.012

// ContactU is the standard uncertainty of a pin that bears against its hole, mm. Common practice, from memory.
const ContactU = 0.002

// Pins are two pins in two holes: diameters of hole and pin each, and the distance of the pins.
type Pins struct {
	Hole1, Pin1 float64 // round, it holds both ways
	Hole2, Pin2 float64 // holds across the line
	Apart       float64
}

// Play is what the pins leave, diametral, mm, and the most that the part may turn, rad.
type Play struct{ J1, J2, Turn, apart float64 }

// Play is hole less pin, and (j1 + j2)/(2 L). A pin that is not smaller than its hole is an error.
func (p Pins) Play() (Play, error) {
	if err := given.Above("hole 1", p.Hole1, "pin 1", p.Pin1, "hole 2", p.Hole2, "pin 2", p.Pin2, "distance of the pins",
		p.Apart); err != nil {
		return Play{}, err
	}
	j := Play{J1: p.Hole1 - p.Pin1, J2: p.Hole2 - p.Pin2, apart: p.Apart}
	for i, v := range [2]float64{j.J1, j.J2} {
		if v <= 0 {
			return Play{}, fmt.Errorf("pin %d is larger than its hole by %.4f: take a smaller one", i+1, -v)
		}
	}
	j.Turn = (j.J1 + j.J2) / (2 * p.Apart)
	return j, nil
}
