package frame

import (
	"fmt"
	"strings"
)

// Z0 says where side 2's program has its Z zero. The offset and the program must say the same: between the two lies the thickness.
type Z0 int

const (
	Floor       Z0 = iota // the pocket floor that the seat face lies on
	FinishedTop           // the top as it will be, one finished thickness above the floor
)

var z0Words = [...]string{"floor", "finished top"}

func (z Z0) String() string {
	if z < Floor || z > FinishedTop {
		return fmt.Sprintf("z0 %d", int(z))
	}
	return z0Words[z]
}

// ParseZ0 reads floor or finished top. The raw top is no zero: it will be cut away and its height is not known.
func ParseZ0(s string) (Z0, error) {
	w := strings.ToLower(strings.Join(strings.Fields(s), " "))
	for i, n := range z0Words {
		if w == n {
			return Z0(i), nil
		}
	}
	return 0, fmt.Errorf("unknown z0 %q: use floor or finished top", s)
}

// Other returns the zero that was not chosen, for naming the mistake.
func (z Z0) Other() Z0 { return FinishedTop - z }

// OffsetZ returns the Z of the work offset, mm: floor is the height of the pocket floor in the same coordinates, thickness that
// of the finished part above its seat.
func (z Z0) OffsetZ(floor, thickness float64) float64 {
	if z == FinishedTop {
		return floor + thickness
	}
	return floor
}

// Over flips a part of finished size into a program with this zero. seat is the height of the seat face in
// side-1 coordinates (0, or the height of the shoulder it rests on); for FinishedTop side 1's zero is its finished top.
func (z Z0) Over(a Axis, size Vec3, seat float64) Flip {
	if z == FinishedTop {
		return OverTop(a, size)
	}
	return OverFloor(a, size, seat)
}
