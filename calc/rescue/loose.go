package rescue

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/given"
)

// Loose is how a part moved that lies in its pocket against no wall and was neither found nor pushed. It was somewhere in its play; it is
// where the cutter left it, which pushes to a wall or a corner (judgement). room is the play at each side, at the corners too: a part that
// is turned by t has room - |t|·height/2 along X and room - |t|·width/2 along Y left. Even over all that fits before; after it the
// turn is that of all that fits, and its place either end of what is left:
//
//	var t = 2 E t², var X = E (room - |t|·height/2)² (1/3 + 1), var Y = E (room - |t|·width/2)² (1/3 + 1)
//
// about the middle, carried to the part zero. beyond is what its place now is more than one anywhere in the play, as which a register
// counts its clearance: half of that.
func Loose(width, height, room float64) (m Moved, beyond [3][3]float64, err error) {
	if err := given.Finite("width", width, "height", height, "play", room); err != nil {
		return m, beyond, err
	}
	if width <= 0 || height <= 0 || room <= 0 {
		return m, beyond, fmt.Errorf("a part %g by %g with %g of play at each side: each has to be above 0", width, height, room)
	}
	var all, tt, xx, yy float64
	most := 2 * room / math.Max(width, height)
	for i, at := range [3]float64{-math.Sqrt(0.6), 0, math.Sqrt(0.6)} { // exact to the fifth power, and these are fourth
		t := most * (1 + at) / 2
		x, y := room-t*height/2, room-t*width/2
		w := [3]float64{5, 8, 5}[i] * x * y
		all, tt, xx, yy = all+w, tt+w*t*t, xx+w*x*x, yy+w*y*y
	}
	tt, xx, yy = 2*tt/all, (1./3+1)*xx/all, (1./3+1)*yy/all
	mx, my := width/2, height/2
	m = Moved{Motion: frame.Motion{}, Dof: math.Inf(1),
		Cov: [3][3]float64{{xx + my*my*tt, -mx * my * tt, my * tt}, {-mx * my * tt, yy + mx*mx*tt, -mx * tt}, {my * tt, -mx * tt, tt}}}
	for i := range m.Cov {
		for k := range m.Cov[i] {
			beyond[i][k] = m.Cov[i][k] / 2
		}
	}
	return m, beyond, nil
}
