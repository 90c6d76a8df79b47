package unit

import (
	"math"
	"strconv"
)

// Rough prints an estimate in UnitName(k, sys), without it: three digits, no zeros behind a
// point, no exponent. 60 MPa is "60" and "8700", 0.41368 MPa is "0.414" and "60".
func Rough(v float64, k Kind, sys System) string {
	const digits = 3
	x := v / k.shown(sys).factor()
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return Format(v, k, sys, 0)
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	return strconv.FormatFloat(x, 'f', -1, 64)
}
