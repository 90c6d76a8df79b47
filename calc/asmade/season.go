package asmade

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
	"fliptrue/calc/growth"
)

// Damp is how much a plastic has grown by humidity since it was dry: rising pairs of percent
// of humidity and growth as a fraction, straight between them.
type Damp [][2]float64

// Acrylic is cast acrylic: 0.2, 0.3 and 0.6 % at 60, 80 and 100 % (one sheet maker's text,
// verified copy). Its slope is 3.3e-5 for 1 % up to 60, half as much again to 80 and four and
// a half times as much beyond.
var Acrylic = Damp{{0, 0}, {60, 0.002}, {80, 0.003}, {100, 0.006}}

// At is the growth at a humidity; beyond the ends that of the end.
func (d Damp) At(rh float64) float64 {
	for i, p := range d {
		if rh <= p[0] {
			if i == 0 {
				return p[1]
			}
			q := d[i-1]
			return q[1] + (p[1]-q[1])*(rh-q[0])/(p[0]-q[0])
		}
	}
	if len(d) == 0 {
		return 0
	}
	return d[len(d)-1][1]
}

// RH is the humidity at which it has grown so much, percent; false beyond the ends or where it
// does not rise.
func (d Damp) RH(growth float64) (float64, bool) {
	for i := 1; i < len(d); i++ {
		p, q := d[i-1], d[i]
		if q[1] > p[1] && growth >= p[1] && growth <= q[1] {
			return p[0] + (q[0]-p[0])*(growth-p[1])/(q[1]-p[1]), true
		}
	}
	return 0, false
}

// Even is a plastic that grows by perRH for each percent of humidity.
func Even(perRH float64) Damp { return Damp{{0, 0}, {100, 100 * perRH}} }

// Season is a pocket of a length in one direction and the part in it, both the same size on
// the day the fixture was made.
type Season struct {
	Length       float64
	Part         float64 // expansion of the part, for 1 K
	PerPercent   float64 // growth of the part for 1 % of moisture content, share of stabilised wood and all
	Fixture      float64 // expansion of the fixture, for 1 K
	Damp         Damp    // of the fixture
	Made         growth.Air
	NoWood       bool // the part takes up no moisture
	FixtureFixed bool // bolted down so that it cannot grow: reckoned as not growing at all
}

// Moved is how much part and fixture have grown by a day, mm.
type Moved struct {
	Part    float64
	Settled float64 // fixture, when it has taken up the humidity: weeks
	Fresh   float64 // fixture, when it has not yet
}

// Tightest is the most that the part outgrows the pocket by, whatever the plate has taken up.
func (m Moved) Tightest() float64 { return m.Part - math.Min(m.Settled, m.Fresh) }

// On is the growth by a day.
//
//	part = L (α dT + β dM)      fixture = L (α dT + damp(RH) - damp(RH made)), or L α dT while fresh
//
// dM by growth.EMC; the part is taken as settled. Errors: lengths not above 0, an impossible air.
func (s Season) On(day growth.Air) (Moved, error) {
	if err := given.Above("length", s.Length); err != nil {
		return Moved{}, err
	}
	if err := given.Finite("expansion of the part", s.Part, "movement of the part", s.PerPercent, "expansion of the fixture",
		s.Fixture); err != nil {
		return Moved{}, err
	}
	made, err := growth.EMC(s.Made)
	if err != nil {
		return Moved{}, fmt.Errorf("the day the fixture was made: %w", err)
	}
	now, err := growth.EMC(day)
	if err != nil {
		return Moved{}, err
	}
	if s.NoWood {
		made, now = 0, 0
	}
	dT := day.C - s.Made.C
	m := Moved{Part: s.Length * (s.Part*dT + s.PerPercent*(now-made))}
	if !s.FixtureFixed {
		m.Fresh = s.Length * s.Fixture * dT
		m.Settled = m.Fresh + s.Length*(s.Damp.At(day.RH)-s.Damp.At(s.Made.RH))
	}
	return m, nil
}

// Clearance is the least play over both sides that lets the part in on every day given, and
// the day, from 0, that asks most; -1: none asks more than sliding does.
//
//	slide + max over days of (part - fixture)
//
// It is asked of the free walls; pads stay where the drawing has them.
func (s Season) Clearance(days []growth.Air) (least float64, worst int, err error) {
	least, worst = growth.Slide, -1
	for i, d := range days {
		m, err := s.On(d)
		if err != nil {
			return 0, 0, fmt.Errorf("day %d: %w", i+1, err)
		}
		if c := growth.Slide + m.Tightest(); c > least {
			least, worst = c, i
		}
	}
	return least, worst, nil
}
