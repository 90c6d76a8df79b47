package frame

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Seat is a part pushed against two walls that meet. Side 1 and the pocket lean apart by twice the machine's
// squareness, so where it lies flat at one wall it touches the other at one end only.
type Seat struct {
	Size  Vec     // length along X and width along Y, mm
	Walls [2]Wall // one of left, right and one of toward, away
}

// OneSided is a mismatch that has one sign: part's feature minus where the tool will cut.
// It lies within Half of Value.
type OneSided struct{ Value, Half Vec }

// Leaning returns what a machine out of square by eps (X error for each mm of Y) does to the register at p of a
// part pushed against walls, side-2 coordinates, mm, where the turn of the part against its pocket is known
// within half, rad, of the sign of eps nothing: the wall along Y leans by twice eps and the turn together, the
// wall along X by the turn alone, and each touches at one end. Half 0 is a turn that was measured.
//
// It is exact at the ends of the ranges: between them each mismatch is a piecewise straight
// function with its kink where a wall lies flat, which is tried as well. Derived.
func (s Seat) Leaning(eps unit.Slope, turn, half unit.Angle, p Vec) (OneSided, error) {
	x, y, err := s.walls()
	if err != nil {
		return OneSided{}, err
	}
	for _, v := range []float64{float64(eps), float64(turn), float64(half)} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return OneSided{}, fmt.Errorf("squareness %g and turn %g ± %g must be finite numbers; correct the machine card, or touch the part again",
				float64(eps), float64(turn), float64(half))
		}
	}
	e, h := 2*math.Abs(float64(eps)), math.Abs(float64(half))
	over := func(mid, half, t, length, off float64) (v, r float64) {
		lo, hi := math.Inf(1), math.Inf(-1)
		slopes := []float64{mid - half, mid + half}
		if math.Abs(mid) < half {
			slopes = append(slopes, 0)
		}
		for _, slope := range slopes {
			d := away(slope, t, length, off)
			lo, hi = math.Min(lo, d), math.Max(hi, d)
		}
		return (lo + hi) / 2, (hi - lo) / 2
	}
	var out OneSided
	out.Value.X, out.Half.X = over(-float64(turn), e+h, p.Y, s.Size.Y, -x.Dir().X)
	out.Value.Y, out.Half.Y = over(float64(turn), h, p.X, s.Size.X, -y.Dir().Y)
	return out, nil
}

func (s Seat) walls() (x, y Wall, err error) {
	for _, w := range s.Walls {
		if w < Left || w > Away {
			return 0, 0, fmt.Errorf("%s is no wall; name two of left, right, toward and away", w)
		}
	}
	x, y = s.Walls[0], s.Walls[1]
	if x.Dir().X == 0 {
		x, y = y, x
	}
	if x.Dir().X == 0 || y.Dir().Y == 0 {
		return 0, 0, fmt.Errorf("walls %s and %s do not meet: name one of left, right and one of toward, away", s.Walls[0], s.Walls[1])
	}
	if !(s.Size.X > 0) || !(s.Size.Y > 0) {
		return 0, 0, fmt.Errorf("part of %g by %g has no size; give its length and width", s.Size.X, s.Size.Y)
	}
	return x, y, nil
}

// away is how far a wall of the part stands off its pocket wall: it leans by slope along its length and touches
// at one end, in the direction off (+1 or -1) away from the pocket wall, at t of its length.
func away(slope, t, length, off float64) float64 {
	// slope*t + c has the sign of off everywhere on the wall, and is 0 at one end.
	c := 0.0
	if slope*off < 0 {
		c = -slope * length
	}
	return slope*t + c
}

// TurnAtWalls is the half-width, rad, of a turn that feeler strips at a wall cannot see:
// their thickness over the length between them, mm. Its lever at a feature is the distance
// from where the part touches, along Y for an error in X and along X for one in Y.
func TurnAtWalls(strip, between float64) (unit.Angle, error) {
	if !(strip > 0) || !(between > 0) || math.IsInf(strip, 1) || math.IsInf(between, 1) {
		return 0, fmt.Errorf("strips of %g, %g apart see no turn; give their thickness and how far apart they were tried", strip, between)
	}
	return unit.Angle(strip / between), nil
}

// LeadError is the half-width, mm, of what the lead error of a screw leaves between two
// places on its travel: a length of reach made at one place, moved by moved to another.
//
//	per300 * min(reach, moved)/300, never above per300
//
// per300 is the most the travel varies within any 300 mm (V300p of ISO 3408-3: 0.023 for
// grade 5, 0.052 for grade 7; from memory). Reach and moved stand alike: the four ends of the two
// lengths are the same either way. A length measured where it was made has none.
func LeadError(per300, reach, moved float64) float64 {
	l := math.Min(math.Abs(reach), math.Abs(moved))
	return math.Abs(per300) * math.Min(l/300, 1)
}

// LeadPreset is V300p of a rolled screw of grade 7, mm (ISO 3408-3, from memory): what is
// reckoned with where the machine card gives nothing.
const LeadPreset = 0.052
