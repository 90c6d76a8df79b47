package pickup

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// Stops are three edges that a fixture without a bore is found by: one side of the part stopped at
// two places, and the side square to it at one. Places count from the corner where both lines meet.
type Stops struct {
	Long, End frame.Wall // the part's sides that are stopped
	At        [2]float64 // where the long side is touched, along it
	EndAt     float64    // where the other one is, along it
}

// StopsFound is the corner of the stops and how their long side is turned, counter-clockwise.
type StopsFound struct {
	Corner frame.Vec
	Turn   unit.Angle
	Cov    frame.Cov4 // of corner X, Y and turn; the scale is not measured
}

// ByEye is how far beside its place a stop is touched, half-width, mm: it is jogged to by eye. Common practice.
const ByEye = 1.0

// Valid is an error for stops that make no corner.
func (s Stops) Valid() error {
	if s.Long.Dir().Dot(s.End.Dir()) != 0 {
		return fmt.Errorf("stops %s and %s do not meet: name one of left, right and one of toward, away", s.Long, s.End)
	}
	if s.At[0] == s.At[1] {
		return fmt.Errorf("both touches of the long side at %g: a direction wants two places", s.At[0])
	}
	return nil
}

// Apart is the distance between the touches of the long side.
func (s Stops) Apart() float64 { return math.Abs(s.At[1] - s.At[0]) }

// turnSign is +1 where a rise along + of the axis across is a turn counter-clockwise: the long side lies along X.
func (s Stops) turnSign() float64 {
	if s.Long.Dir().Y != 0 {
		return 1
	}
	return -1
}

// Direction is the turn by both touches of the long side, readings along the axis across, with its standard uncertainty.
func (s Stops) Direction(a, b float64, c Contact) (turn unit.Angle, u float64) {
	l := s.At[1] - s.At[0]
	return unit.Angle(s.turnSign() * math.Atan((b-a)/l)), math.Sqrt2 * c.S / math.Abs(l)
}

// Find is the corner by the two touches of the long side and the one of the other: where the spindle stood,
// along the axis across each. radiusU is the standard uncertainty of the contact's radius, which both touches of the
// long side have in common. Turned by t a stop touched a beside the corner reads a·t off it:
//
//	long side along X:  turn = (b - a)/(xb - xa)    y = a ± r - xa turn    x = e ± r + ye turn
//
// To first order in the turn: within 0.0001 mm up to 2 mrad over 100 mm.
func (s Stops) Find(a, b, e float64, c Contact, radiusU float64) (StopsFound, error) {
	if err := s.Valid(); err != nil {
		return StopsFound{}, err
	}
	long := s.Long.Dir().X + s.Long.Dir().Y // the way of the approach
	end := s.End.Dir().X + s.End.Dir().Y
	l := s.At[1] - s.At[0]
	sign := s.turnSign()
	turn := sign * (b - a) / l
	at := a + long*c.Radius - sign*s.At[0]*turn
	to := e + end*c.Radius + sign*s.EndAt*turn
	// What one of a, b, e does: at, to, turn.
	eye := HalfU(ByEye) * turn
	v := c.S*c.S + eye*eye
	da := [3]float64{1 + s.At[0]/l, -s.EndAt / l, -sign / l}
	db := [3]float64{-s.At[0] / l, s.EndAt / l, sign / l}
	var m [3][3]float64
	for i := range m {
		for j := range m {
			m[i][j] = v * (da[i]*da[j] + db[i]*db[j])
		}
	}
	m[0][0] += radiusU * radiusU
	m[1][1] += v + radiusU*radiusU
	f := StopsFound{Corner: frame.Vec{X: to, Y: at}, Turn: unit.Angle(turn)}
	order := [3]int{1, 0, 2} // X, Y, turn of at, to, turn
	if s.Long.Dir().X != 0 {
		f.Corner, order = frame.Vec{X: at, Y: to}, [3]int{0, 1, 2}
	}
	for i, p := range order {
		for j, q := range order {
			f.Cov[i][j] = m[p][q]
		}
	}
	return f, nil
}
