package fit

import (
	"math"

	"fliptrue/calc/budget"
)

// FaceHit is a ball centre on a face and the way the probe moved to get there.
type FaceHit struct {
	Point
	Moved Direction
}

// Corner is where two faces meet.
type Corner struct {
	At       Point
	Skew     float64 // direction of the face probed along Y against X, rad, counter-clockwise +
	Lean     float64 // direction of the face probed along X against Y, rad, counter-clockwise +
	Interior float64 // angle of material (outside corner) or of the pocket (inside corner), rad
	XFace    Orthogonal
	YFace    Orthogonal
	cross    float64
}

// Ball is the effective ball radius, mm, per axis; equal unless the probe lobes.
type Ball struct{ RX, RY float64 }

// EvenBall is a ball with the same radius along X and Y.
func EvenBall(r float64) Ball { return Ball{r, r} }

// ToCorner fits a line through the ball centres on each face (2 hits exact, 3 or more by
// total least squares), shifts it by the ball radius along the normal into the material,
// and intersects.
//
//	surface = ball centre + r·n, n the face's normal on the side the probe moved to
//	interior = 90° + lean - skew at a corner with X+ and Y+ probing, from the rays
//	           along the two faces in general
//
// One face is probed along X, the other along Y; each must be probed one way only. Units
// mm, rad. Errors: DegenerateError for fewer than two different hits on a face or faces
// that do not cross (|sin| < 0.5: a wrong face was chosen). Derived.
func ToCorner(hits []FaceHit, ball Ball) (Corner, error) {
	var px, py []Point
	dx, dy := Direction(-1), Direction(-1)
	for _, h := range hits {
		switch {
		case h.Moved == ZMinus:
			return Corner{}, &DegenerateError{What: "corner", Why: Parallel}
		case h.Moved.AlongX():
			if dx >= 0 && dx != h.Moved {
				return Corner{}, &DegenerateError{What: "corner", Why: Parallel}
			}
			dx = h.Moved
			px = append(px, h.Point)
		default:
			if dy >= 0 && dy != h.Moved {
				return Corner{}, &DegenerateError{What: "corner", Why: Parallel}
			}
			dy = h.Moved
			py = append(py, h.Point)
		}
	}
	fx, err := faceLine("face probed along X", px)
	if err != nil {
		return Corner{}, err
	}
	fy, err := faceLine("face probed along Y", py)
	if err != nil {
		return Corner{}, err
	}
	ux, uy := toward(fx.Dir, dy.Vec()), toward(fy.Dir, dx.Vec()) // rays along the faces, away from the corner
	nx, ny := toward(fx.Normal, dx.Vec()), toward(fy.Normal, dy.Vec())
	cross := ux.X*uy.Y - ux.Y*uy.X
	if math.Abs(cross) < 0.5 {
		return Corner{}, &DegenerateError{What: "corner", Why: Parallel}
	}
	c := Corner{XFace: fx, YFace: fy, cross: cross}
	p := Point{fx.Through.X + ball.RX*nx.X, fx.Through.Y + ball.RX*nx.Y}
	q := Point{fy.Through.X + ball.RY*ny.X, fy.Through.Y + ball.RY*ny.Y}
	d := q.Sub(p)
	t := (d.X*uy.Y - d.Y*uy.X) / cross
	c.At = Point{p.X + t*ux.X, p.Y + t*ux.Y}
	skew := toward(fy.Dir, Point{1, 0})
	lean := toward(fx.Dir, Point{0, 1})
	c.Skew = math.Atan2(skew.Y, skew.X)
	c.Lean = math.Atan2(-lean.X, lean.Y)
	c.Interior = math.Acos(math.Max(-1, math.Min(1, ux.X*uy.X+ux.Y*uy.Y)))
	return c, nil
}

func faceLine(what string, ps []Point) (Orthogonal, error) {
	if d, i, j := distinct(ps, 2); d < 2 {
		return Orthogonal{}, &DegenerateError{What: what, Why: TooFew, Need: 2, Got: d, I: i, J: j}
	}
	return ToOrthogonal(ps)
}

// toward returns v or -v, whichever points to the side of d.
func toward(v, d Point) Point {
	if v.X*d.X+v.Y*d.Y < 0 {
		return Point{-v.X, -v.Y}
	}
	return v
}

// Covariance returns the covariance of (At.X, At.Y, Skew) for a scatter s of the hits:
// each face carries s²(1/n + t²/Spread) at distance t along it and s²/Spread in
// direction.
func (c Corner) Covariance(s float64) [3][3]float64 {
	// small shifts a of the X face and b of the Y face along their normals move the
	// corner to where both lines stand then
	nx, ny := c.XFace.Normal, c.YFace.Normal
	det := nx.X*ny.Y - nx.Y*ny.X
	gx := Point{ny.Y / det, -ny.X / det} // corner per shift of the X face
	gy := Point{-nx.Y / det, nx.X / det} // corner per shift of the Y face
	tx := along(c.XFace, c.At)
	ty := along(c.YFace, c.At)
	vx, vy := c.XFace.Variance(s, tx), c.YFace.Variance(s, ty)
	vs := s * s / c.YFace.Spread
	cs := ty * vs // of the Y face's shift at the corner with its direction
	return [3][3]float64{
		{gx.X*gx.X*vx + gy.X*gy.X*vy, gx.X*gx.Y*vx + gy.X*gy.Y*vy, gy.X * cs},
		{gx.X*gx.Y*vx + gy.X*gy.Y*vy, gx.Y*gx.Y*vx + gy.Y*gy.Y*vy, gy.Y * cs},
		{gy.X * cs, gy.Y * cs, vs},
	}
}

func along(o Orthogonal, p Point) float64 {
	d := p.Sub(o.Through)
	return d.X*o.Dir.X + d.Y*o.Dir.Y
}

// FaceAngle returns the standard uncertainty of the direction of a face, rad, for probe
// scatter s: s/√Spread; √2·s/L for two hits L apart.
func FaceAngle(o Orthogonal, probe budget.Spread) float64 { return probe.S / math.Sqrt(o.Spread) }
