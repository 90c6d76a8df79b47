package frame

// Z0 says where side 2's program has its Z zero. The offset and the program must say the same: between the two lies the thickness.
type Z0 int

const (
	Floor       Z0 = iota // the pocket floor that the seat face lies on
	FinishedTop           // the top as it will be, one finished thickness above the floor
)

// Over flips a part of finished size into a program with this zero. seat is the height of the seat face in
// side-1 coordinates (0, or the height of the shoulder it rests on); for FinishedTop side 1's zero is its finished top.
func (z Z0) Over(a Axis, size Vec3, seat float64) Flip {
	if z == FinishedTop {
		return OverTop(a, size)
	}
	return OverFloor(a, size, seat)
}
