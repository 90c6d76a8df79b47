package pickup

import (
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// Faces are the sides of the stock over a part of that size, in the part's coordinates. A
// corner gives the two sides that meet there as they lie; those across are taken as parallel
// to them, as far away as stock says (0: they are left out). Without an Interior the stock
// lies about the middle of the part and its side faces count as square to the long ones.
//
// What is left at the far end of a side that was touched is known within the scatter of its
// direction over its length, and across within the calliper too.
func (k Stock) Faces(size, stock [2]float64, right, rear bool) []frame.StockSide {
	lean, skew := unit.Angle(k.Lean), unit.Angle(k.Skew)
	zero := frame.Vec{}
	if k.Interior == 0 {
		lean = skew
		zero = frame.Vec{X: (size[0] - stock[0]) / 2, Y: (size[1] - stock[1]) / 2}
		right, rear = false, false
	} else {
		if right {
			zero.X = size[0]
		}
		if rear {
			zero.Y = size[1]
		}
	}
	u := k.USkew * size[0] // of either direction over its face: a shorter one is read over as much less
	pair := func(one, other frame.Wall, far bool, across frame.Vec, width float64, angle unit.Angle) []frame.StockSide {
		if far {
			one, other, across = other, one, across.Times(-1)
		}
		out := []frame.StockSide{{Wall: one, At: zero, Lean: angle, U: u}}
		if width > 0 {
			out = append(out, frame.StockSide{Wall: other, At: zero.Add(across.Times(width)), Lean: angle, U: math.Hypot(u, HalfU(Calliper))})
		}
		return out
	}
	out := pair(frame.Left, frame.Right, right, frame.Vec{X: 1}, stock[0], lean)
	return append(out, pair(frame.Toward, frame.Away, rear, frame.Vec{Y: 1}, stock[1], skew)...)
}
