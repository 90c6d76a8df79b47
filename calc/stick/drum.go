package stick

import (
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Sag is how far a thin floor is drawn into a hollow under it: a plate that rests on the hollow's
// edges, under the pressure (hold.Plate, exact series). FarOver in it means far too much.
func Sag(hollow Face, thick unit.Length, e unit.Stress, pressure unit.Stress) (hold.PlateBow, error) {
	return hold.Plate{Long: unit.Length(max(hollow.Long, hollow.Short)), Short: unit.Length(min(hollow.Long, hollow.Short)), Thick: thick,
		E: e}.Pressed(pressure)
}
