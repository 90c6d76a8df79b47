package outside

import "math"

// mill is the machine as it really is: what its readout says is not where its spindle stands.
type mill struct {
	axes  Mat     // growth of the screws, and axes that are not square
	waves [3]wave // of the screws: wrong by place along X, Y, Z
	bends [2]wave // of the ways: Y by place along X, X by place along Y
}

type wave struct{ size, length, from float64 }

func (w wave) at(x float64) float64 { return w.size * math.Sin(2*math.Pi*(x-w.from)/w.length) }

// stands is where the spindle stands when the readout says so.
func (m mill) stands(read Vec) Vec {
	return m.axes.Of(read).plus(Vec{
		m.waves[0].at(read.X) + m.bends[1].at(read.Y),
		m.waves[1].at(read.Y) + m.bends[0].at(read.X),
		m.waves[2].at(read.Z)})
}

// reads is what the readout says when the spindle stands there.
func (m mill) reads(place Vec) Vec {
	r := place
	for range 6 { // errors are below a thousandth: each turn gains three digits
		r = r.plus(place.minus(m.stands(r)))
	}
	return r
}

// cuts is the shape that comes of cutting programmed points about a place: a map from the
// program's points to true ones, from the program's zero.
func (m mill) cuts(zero Vec) func(Vec) Vec {
	at := m.stands(zero)
	return func(p Vec) Vec { return m.stands(zero.plus(p)).minus(at) }
}
