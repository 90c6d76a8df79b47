package stick

import (
	"fmt"

	"fliptrue/calc/given"
	"fliptrue/calc/hold"
)

// gridAcross is how many points along its longer side a face is taken as.
const gridAcross = 24

// Face is a rectangle that sticks, in the middle of a part, mm.
type Face struct{ Long, Short float64 }

// valid is an error unless it lies in the part.
func (f Face) valid(part Face) error {
	if err := given.Above("face", f.Long, "face", f.Short, "part", part.Long, "part", part.Short); err != nil {
		return err
	}
	if f.Long > part.Long || f.Short > part.Short {
		return fmt.Errorf("face %g x %g is larger than the part %g x %g; give the area that sticks", f.Long, f.Short, part.Long, part.Short)
	}
	return nil
}

// Area is in mm².
func (f Face) Area() float64 { return f.Long * f.Short }

// Turning is the share of its sideways capacity that a face bears when the force acts at the
// corner of the part in the worst direction, so that it slips and turns at once:
//
//	least over poles c of mean|p - c| / |corner - c|
//
// over a grid of points of equal grip (hold.Slides, exact for points). Slip alone would be 1.
func (f Face) Turning(part Face) (float64, error) {
	if err := f.valid(part); err != nil {
		return 0, err
	}
	long, short := max(f.Long, f.Short), min(f.Long, f.Short)
	nx, ny := gridAcross, max(2, int(gridAcross*short/long+0.5))
	if f.Long < f.Short {
		nx, ny = ny, nx
	}
	n := float64(nx * ny)
	var points [][2]float64
	var grip []float64
	for i := range nx {
		for k := range ny {
			points = append(points, [2]float64{f.Long * ((float64(i)+0.5)/float64(nx) - 0.5), f.Short * ((float64(k)+0.5)/float64(ny) - 0.5)})
			grip = append(grip, 1/n)
		}
	}
	return hold.Slides(points, grip, [2]float64{part.Long / 2, part.Short / 2}).Force, nil
}
