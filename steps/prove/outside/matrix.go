package outside

import "math"

// Vec is a point or a direction, mm.
type Vec struct{ X, Y, Z float64 }

func (a Vec) plus(b Vec) Vec        { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) minus(b Vec) Vec       { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) times(k float64) Vec   { return Vec{k * a.X, k * a.Y, k * a.Z} }
func (a Vec) dot(b Vec) float64     { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) unit() Vec             { return a.times(1 / math.Sqrt(a.dot(a))) }
func (a Vec) cross(b Vec) Vec       { return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X} }
func (a Vec) towards(b Vec) float64 { return math.Atan2(b.Y-a.Y, b.X-a.X) } // angle of b seen from a, in plan

// Mat moves points: a 4x4 matrix of homogeneous coordinates whose last row is 0 0 0 1.
type Mat [4][4]float64

// One leaves a point where it is.
func One() Mat { return Mat{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}} }

// Move shifts.
func Move(v Vec) Mat { return Mat{{1, 0, 0, v.X}, {0, 1, 0, v.Y}, {0, 0, 1, v.Z}, {0, 0, 0, 1}} }

// Stretch makes longer along the axes, by factors near 1.
func Stretch(x, y, z float64) Mat { return Mat{{x, 0, 0, 0}, {0, y, 0, 0}, {0, 0, z, 0}, {0, 0, 0, 1}} }

// Shear lets the Y axis lean toward X by xy, and Z toward X and Y.
func Shear(xy, xz, yz float64) Mat {
	return Mat{{1, xy, xz, 0}, {0, 1, yz, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}}
}

// Turn turns about an axis through the origin, counter-clockwise seen from its end.
func Turn(axis byte, angle float64) Mat {
	s, c := math.Sincos(angle)
	switch axis {
	case 'x':
		return Mat{{1, 0, 0, 0}, {0, c, -s, 0}, {0, s, c, 0}, {0, 0, 0, 1}}
	case 'y':
		return Mat{{c, 0, s, 0}, {0, 1, 0, 0}, {-s, 0, c, 0}, {0, 0, 0, 1}}
	}
	return Mat{{c, -s, 0, 0}, {s, c, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}}
}

// TurnAbout turns about an upright axis through a point.
func TurnAbout(at Vec, angle float64) Mat {
	return Move(at.times(-1)).Then(Turn('z', angle)).Then(Move(at))
}

// Then is both movements, this one first.
func (a Mat) Then(b Mat) Mat {
	var m Mat
	for i := range 4 {
		for j := range 4 {
			for k := range 4 {
				m[i][j] += b[i][k] * a[k][j]
			}
		}
	}
	return m
}

// Of is where a point comes to.
func (a Mat) Of(v Vec) Vec {
	return Vec{a[0][0]*v.X + a[0][1]*v.Y + a[0][2]*v.Z + a[0][3],
		a[1][0]*v.X + a[1][1]*v.Y + a[1][2]*v.Z + a[1][3],
		a[2][0]*v.X + a[2][1]*v.Y + a[2][2]*v.Z + a[2][3]}
}

// Det is how much a volume grows; +1 for a rigid movement, -1 for a mirror.
func (a Mat) Det() float64 {
	x, y, z := Vec{a[0][0], a[1][0], a[2][0]}, Vec{a[0][1], a[1][1], a[2][1]}, Vec{a[0][2], a[1][2], a[2][2]}
	return x.cross(y).dot(z)
}

// plane is a flat face: a point on it and its outward normal.
type plane struct{ at, out Vec }

// through is the plane through three points, its normal on the side of toward.
func through(a, b, c, toward Vec) plane {
	n := b.minus(a).cross(c.minus(a)).unit()
	if n.dot(toward) < 0 {
		n = n.times(-1)
	}
	return plane{a, n}
}

// over is the signed distance of a point from the plane, positive outside.
func (p plane) over(v Vec) float64 { return v.minus(p.at).dot(p.out) }
