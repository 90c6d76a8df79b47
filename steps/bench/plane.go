package bench

import "math"

// xy is a place or a direction in plan, mm.
type xy struct{ x, y float64 }

func (a xy) add(b xy) xy        { return xy{a.x + b.x, a.y + b.y} }
func (a xy) sub(b xy) xy        { return xy{a.x - b.x, a.y - b.y} }
func (a xy) times(s float64) xy { return xy{a.x * s, a.y * s} }
func (a xy) dot(b xy) float64   { return float64(a.x*b.x) + float64(a.y*b.y) }
func (a xy) long() float64      { return math.Hypot(a.x, a.y) }
func (a xy) along(axis string) float64 {
	if axis == "y" {
		return a.y
	}
	return a.x
}

// turned is a turned counter-clockwise.
func (a xy) turned(by float64) xy {
	s, c := math.Sincos(by)
	return xy{float64(c*a.x) - float64(s*a.y), float64(s*a.x) + float64(c*a.y)}
}

// toward is the unit vector in a direction given in degrees.
func toward(deg float64) xy {
	switch math.Mod(math.Mod(deg, 360)+360, 360) {
	case 0:
		return xy{1, 0}
	case 90:
		return xy{0, 1}
	case 180:
		return xy{-1, 0}
	case 270:
		return xy{0, -1}
	}
	s, c := math.Sincos(deg * math.Pi / 180)
	return xy{c, s}
}

// way is the unit vector of an axis direction or of a word for it.
func way(word string) (xy, bool) {
	switch word {
	case "x+", "right":
		return xy{1, 0}, true
	case "x-", "left":
		return xy{-1, 0}, true
	case "y+", "away", "far":
		return xy{0, 1}, true
	case "y-", "toward", "toward you", "near":
		return xy{0, -1}, true
	}
	return xy{}, false
}

// pose is a rigid placement: p goes to p turned, then shifted.
type pose struct {
	at   xy
	turn float64
}

func (m pose) of(p xy) xy { return p.turned(m.turn).add(m.at) }

// about is the pose after a further turn about c and a shift.
func (m pose) about(c xy, turn float64, shift xy) pose {
	return pose{m.at.sub(c).turned(turn).add(c).add(shift), m.turn + turn}
}

// level is a height over the plan: z at a place is h + tx*x + ty*y.
type level struct{ h, tx, ty float64 }

func (l level) at(p xy) float64 { return l.h + float64(l.tx*p.x) + float64(l.ty*p.y) }

// roundTo is v on a scale of that step; a step of 0 leaves it.
func roundTo(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return math.Round(v/step) * step
}
