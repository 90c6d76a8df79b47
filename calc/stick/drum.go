package stick

import (
	"math"

	"fliptrue/calc/given"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Sag is how far a thin floor is drawn into a hollow under it: a plate that rests on the hollow's
// edges, under the pressure (hold.Plate, exact series). FarOver in it means far too much.
func Sag(hollow Face, thick unit.Length, e unit.Stress, pressure unit.Stress) (hold.PlateBow, error) {
	return hold.Plate{Long: unit.Length(max(hollow.Long, hollow.Short)), Short: unit.Length(min(hollow.Long, hollow.Short)), Thick: thick,
		E: e}.Pressed(pressure)
}

// Grid is the widest square of open hollow between supports that draws a floor in by no more than
// sag: fill the hollow with a plateau, and cut grooves of that grid into it.
//
//	(sag E t³/(α q))^(1/4), α that of a square plate at rest
func Grid(sag, thick unit.Length, e, pressure unit.Stress) (unit.Length, error) {
	if err := given.Above("sag", float64(sag)); err != nil {
		return 0, err
	}
	one, err := hold.Plate{Long: 1, Short: 1, Thick: thick, E: e}.Pressed(pressure)
	if err != nil {
		return 0, err
	}
	return unit.Length(math.Pow(float64(sag/one.Bow), 0.25)), nil
}
