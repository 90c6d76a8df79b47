package frame

import (
	"fmt"
	"strings"
)

// Wall is a wall of the pocket, named from where the operator stands.
type Wall int

const (
	Left   Wall = iota // -X
	Right              // +X
	Toward             // -Y, toward the operator
	Away               // +Y, away from the operator
)

var wallNames = [...]string{"left", "right", "toward", "away"}

func (w Wall) String() string {
	if w < Left || w > Away {
		return fmt.Sprintf("wall %d", int(w))
	}
	return wallNames[w]
}

// Dir returns the unit vector toward the wall.
func (w Wall) Dir() Vec {
	switch w {
	case Left:
		return Vec{-1, 0}
	case Right:
		return Vec{1, 0}
	case Toward:
		return Vec{0, -1}
	case Away:
		return Vec{0, 1}
	}
	panic("frame: no such wall")
}

// Opposite returns the wall across the pocket.
func (w Wall) Opposite() Wall { return w ^ 1 }

// ParseWall reads left, right, toward or away.
func ParseWall(s string) (Wall, error) {
	for i, n := range wallNames {
		if strings.EqualFold(strings.TrimSpace(s), n) {
			return Wall(i), nil
		}
	}
	return 0, fmt.Errorf("unknown wall %q: use left, right, toward or away", s)
}

// Against returns the part zero of a part pushed hard against two walls that meet. middle is the part zero
// of a part in the middle of its pocket and clearance the gap on each side there, mm. A
// pocket cut as part + 2 clearance about its middle moves the part by the clearance toward each wall.
//
// Two walls that do not meet are refused: the part would have no place along them.
func Against(middle Vec, clearance float64, a, b Wall) (Vec, error) {
	if a.Dir().Dot(b.Dir()) != 0 {
		return Vec{}, fmt.Errorf("walls %s and %s do not meet: name one of left, right and one of toward, away", a, b)
	}
	return middle.Add(a.Dir().Add(b.Dir()).Times(clearance)), nil
}
