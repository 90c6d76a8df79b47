package frame

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// StockSide is one side face of the stock as picked up: a point on it and its direction.
type StockSide struct {
	Wall Wall       // which side of the stock it is
	At   Vec        // a point of the face, in the part's coordinates, mm
	Lean unit.Angle // of the face against X (toward, away) or Y (left, right), counter-clockwise
	U    float64    // standard uncertainty of what is left at the worst end, mm
}

// Cover is how much material one side leaves outside the finished part, mm.
type Cover struct {
	Wall       Wall
	Least      float64 // at the worse end; negative: air, by so much
	End        Vec     // that corner of the part
	Other      float64 // at the other end
	U          float64
	AirLength  float64 // of the finished edge that has nothing outside it
	EdgeLength float64
}

// Covers returns for each side what is left between the part, from (0, 0) to size, and the
// stock: the lean times the length against the stock left. A corner of the stock that is out of
// square by 1.43 degrees takes 1.6 mm over 64.
func Covers(size Vec, sides []StockSide) ([]Cover, error) {
	if !(size.X > 0) || !(size.Y > 0) || math.IsInf(size.X, 1) || math.IsInf(size.Y, 1) {
		return nil, fmt.Errorf("part of %g by %g has no size; give its length and width", size.X, size.Y)
	}
	out := make([]Cover, len(sides))
	for i, s := range sides {
		if s.Wall < Left || s.Wall > Away {
			return nil, fmt.Errorf("side %d: %s is no side; name left, right, toward or away", i+1, s.Wall)
		}
		if !(math.Abs(float64(s.Lean)) < math.Pi/4) || math.IsNaN(s.At.X+s.At.Y) {
			return nil, fmt.Errorf("side %s leans by %.1f deg: pick it up again", s.Wall, float64(s.Lean)*180/math.Pi)
		}
		out[i] = s.cover(size)
	}
	return out, nil
}

func (s StockSide) cover(size Vec) Cover {
	n := s.Wall.Dir()
	ends := [2]Vec{{0, 0}, {0, size.Y}} // of the part's edge at that side
	if n.X == 0 {
		ends = [2]Vec{{0, 0}, {size.X, 0}}
	}
	for i := range ends {
		if s.Wall == Right {
			ends[i].X = size.X
		}
		if s.Wall == Away {
			ends[i].Y = size.Y
		}
	}
	outward := n.Turned(float64(s.Lean))
	// Measured square to the part's edge, as a calliper would.
	left := func(e Vec) float64 { return s.At.Sub(e).Dot(outward) / outward.Dot(n) }
	a, b := left(ends[0]), left(ends[1])
	c := Cover{Wall: s.Wall, Least: a, End: ends[0], Other: b, U: s.U, EdgeLength: ends[1].Sub(ends[0]).Len()}
	if b < a {
		c.Least, c.End, c.Other = b, ends[1], a
	}
	switch {
	case c.Least >= 0:
	case c.Other <= 0:
		c.AirLength = c.EdgeLength
	default:
		c.AirLength = c.EdgeLength * c.Least / (c.Least - c.Other)
	}
	return c
}

// Worst is the side that leaves least; ok is false without any.
func Worst(cs []Cover) (c Cover, ok bool) {
	for i, o := range cs {
		if i == 0 || o.Least < c.Least {
			c, ok = o, true
		}
	}
	return c, ok
}
