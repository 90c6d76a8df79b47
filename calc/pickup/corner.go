package pickup

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
)

// Stock is where the program zero of side 1 stands, by the faces of its stock.
type Stock struct {
	Zero     frame.Vec
	Cov      frame.Cov2
	Skew     float64 // of the face along X, rad
	USkew    float64
	Interior float64    // angle of the material at the corner, rad; 0 by the middle
	Lean     float64    // of the face along Y, rad; 0 by the middle
	FaceU    float64    // of the direction of the face along X as its hits alone say, rad; 0 by the middle
	Width    [2]float64 // between opposite faces, mm; 0 at a corner
}

// Touch is a place on a face touched twice: where the spindle stood, the reading along the
// way of approach once more, and that way.
type Touch struct {
	At    fit.Point
	Again float64
	Moved fit.Direction
}

// Pair is its two readings along the way of approach.
func (t Touch) Pair() [2]float64 {
	if t.Moved.AlongX() {
		return [2]float64{t.At.X, t.Again}
	}
	return [2]float64{t.At.Y, t.Again}
}

// Mean is where the spindle stood, both readings meaned.
func (t Touch) Mean() fit.Point {
	p, pair := t.At, t.Pair()
	if t.Moved.AlongX() {
		p.X = (pair[0] + pair[1]) / 2
	} else {
		p.Y = (pair[0] + pair[1]) / 2
	}
	return p
}

// Corner is the program zero by the true intersection of two faces, each touched at two
// places. off is how far the ball stands off the spindle axis, s the scatter of one touch.
// The zero lies at the near left corner of a part of that size: from a face that was
// come to from the right or from behind it is one size away. Errors are those of fit.ToCorner.
func Corner(ts []Touch, off frame.Vec, ball fit.Ball, s float64, size [2]float64) (Stock, error) {
	var hits []fit.FaceHit
	for _, t := range ts {
		p := t.Mean()
		hits = append(hits, fit.FaceHit{Point: fit.Point{X: p.X - off.X, Y: p.Y - off.Y}, Moved: t.Moved})
	}
	c, err := fit.ToCorner(hits, ball)
	if err != nil {
		return Stock{}, err
	}
	mean := s / math.Sqrt2 // two readings a place
	cov := c.Covariance(mean)
	k := Stock{Zero: frame.Vec{X: c.At.X, Y: c.At.Y}, Cov: frame.Cov2{{cov[0][0], cov[0][1]}, {cov[1][0], cov[1][1]}},
		Skew: c.Skew, USkew: math.Sqrt(cov[2][2]), Interior: c.Interior, Lean: c.Lean, FaceU: fit.FaceAngle(c.YFace, budget.Spread{S: mean})}
	for _, t := range ts {
		if t.Moved == fit.XMinus {
			k.Zero.X = c.At.X - size[0]
		}
		if t.Moved == fit.YMinus {
			k.Zero.Y = c.At.Y - size[1]
		}
	}
	return k, nil
}

// Sides are the four faces of a piece, each touched twice in its middle, and one of the
// two faces along X once more, run to the right of its middle: that gives the skew.
type Sides struct {
	Left, Right, Front, Rear [2]float64
	Third, Run               float64
	OnRear                   bool // the third touch is on the rear face
}

// Zero is the program zero by the middle between opposite faces: what the ball adds on one
// side it adds on the other. Errors are those of fit.ToWidth.
func (m Sides) Zero(off frame.Vec, c Contact, size [2]float64) (Stock, error) {
	mean := func(p [2]float64) float64 { return (p[0] + p[1]) / 2 }
	x, err := fit.ToWidth(fit.Web, fit.WallHit{U: mean(m.Left)}, fit.WallHit{U: mean(m.Right)}, nil, c.Radius)
	if err != nil {
		return Stock{}, err
	}
	third := fit.WallHit{U: m.Third, V: m.Run}
	y, err := fit.ToWidth(fit.Web, fit.WallHit{U: mean(m.Front)}, fit.WallHit{U: mean(m.Rear)}, &third, c.Radius)
	if err != nil {
		return Stock{}, err
	}
	on := mean(m.Front)
	if m.OnRear {
		on = mean(m.Rear)
	}
	u2 := c.S * c.S / 4 // two faces, two readings each
	return Stock{Zero: frame.Vec{X: x.Center - off.X - size[0]/2, Y: y.Center - off.Y - size[1]/2}, Cov: frame.Cov2{{u2, 0}, {0, u2}},
		Skew: math.Atan((m.Third - on) / m.Run), USkew: c.S * math.Sqrt(1.5) / m.Run, Width: [2]float64{x.Width, y.Width}}, nil
}
