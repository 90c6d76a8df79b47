package dowel

import "math"

// GoNoGo is a hole between the largest pin that goes in and the smallest that does not: its middle,
// and the standard uncertainty of a rectangle that wide.
func GoNoGo(goes, stops float64) (dia, u float64) {
	return (goes + stops) / 2, (stops - goes) / 2 / math.Sqrt(3)
}

// OverPins is the distance of two holes by a micrometer over gauge pins that stand in them, and its standard
// uncertainty. uMic is that of the micrometer. Either gauge leans anywhere in its play, and the micrometer presses
// both inward: half of each play is added, with a rectangle of as much.
//
//	over - (g1 + g2)/2 + (j1 + j2)/4
func OverPins(over float64, gauge, hole [2]float64, uMic float64) (apart, u float64) {
	j1, j2 := hole[0]-gauge[0], hole[1]-gauge[1]
	const quarter = 1.0 / 4
	return over - (gauge[0]+gauge[1])/2 + quarter*(j1+j2), math.Hypot(uMic, math.Hypot(quarter*j1, quarter*j2)/math.Sqrt(3))
}
