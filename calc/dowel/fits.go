package dowel

import (
	"fmt"
	"strings"

	"fliptrue/calc/given"
)

// fitRow are limits of sizes over, up to and including, mm; deviations in µm, least and most.
type fitRow struct {
	over, to                   float64
	h7, h6hole                 float64 // H7, H6: from 0 to this
	h6, h7shaft                float64 // h6, h7: from -this to 0
	g6low, g6high, m6low, m6hi float64
	f7low, f7high              float64
}

// fitRows: ISO 286-2, tables of limit deviations (verified copy for 4 H7/h6 and 6 H7/g6; the rest from
// memory, held against the standard's own formulas in the test).
var fitRows = []fitRow{
	{0, 3, 10, 6, 6, 10, -8, -2, 2, 8, -16, -6},
	{3, 6, 12, 8, 8, 12, -12, -4, 4, 12, -22, -10},
	{6, 10, 15, 9, 9, 15, -14, -5, 6, 15, -28, -13},
	{10, 18, 18, 11, 11, 18, -17, -6, 7, 18, -34, -16},
	{18, 30, 21, 13, 13, 21, -20, -7, 8, 21, -41, -20},
}

// Limits are the least and most of a size, mm, by ISO 286: holes H6, H7; pins f7, g6, h6, h7, m6;
// sizes over 0 up to 30. Anything else is an error that lists what there is.
func Limits(size float64, class string) (least, most float64, err error) {
	for _, r := range fitRows {
		if size > r.over && size <= r.to {
			d, ok := map[string][2]float64{"H6": {0, r.h6hole}, "H7": {0, r.h7}, "h6": {-r.h6, 0}, "h7": {-r.h7shaft, 0},
				"g6": {r.g6low, r.g6high}, "m6": {r.m6low, r.m6hi}, "f7": {r.f7low, r.f7high}}[strings.TrimSpace(class)]
			if !ok {
				return 0, 0, fmt.Errorf("tolerance class %q is not in the table; it has H6, H7, f7, g6, h6, h7 and m6", class)
			}
			return size + d[0]/1000, size + d[1]/1000, nil
		}
	}
	return 0, 0, fmt.Errorf("size %g is not in the table; it goes over 0 up to 30", size)
}

// FitPlay is the least and most play of a hole and a pin of one size, mm; negative: press.
func FitPlay(size float64, hole, pin string) (least, most float64, err error) {
	h0, h1, err := Limits(size, hole)
	if err != nil {
		return 0, 0, err
	}
	p0, p1, err := Limits(size, pin)
	if err != nil {
		return 0, 0, err
	}
	return h0 - p1, h1 - p0, nil
}

// FixedFastener is the least hole over a pin or screw that is fixed in one part, where each part's
// place has a position tolerance as a diameter: H = F + T1 + T2. Source: ASME Y14.5, appendix on
// formulas for positional tolerancing (from memory: H = F + 2T for equal ones).
func FixedFastener(fastener, fixed, through float64) (float64, error) {
	if err := given.Above("fastener", fastener); err != nil {
		return 0, err
	}
	if !(fixed >= 0) || !(through >= 0) {
		return 0, fmt.Errorf("position tolerances %g and %g must be 0 or more; enter them again", fixed, through)
	}
	return fastener + fixed + through, nil
}
