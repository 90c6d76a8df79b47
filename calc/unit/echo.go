package unit

import (
	"math/big"
	"strconv"
	"strings"
)

// Echo says what was understood, exactly, before it counts: the number and its
// unit, and the same in UnitName(n.Kind, sys) where that is another unit. Digits
// that do not end are cut and marked "...".
//
//	12,5      12.5 mm
//	1/32in    1/32 in = 0.79375 mm
//	68F       68 °F = 20 °C
//	0.058     0.058 N·m = 58 mN·m
//	0.010/100 0.010/100 = 0.01 mm per 100 mm
//
// A Number that Parse did not make is shown as Show does.
func Echo(n Number, sys System) string {
	e, ok := n.reread()
	if !ok {
		return Show(n.Value, n.Kind, sys, 0)
	}
	s := e.tidy
	if n.Unit != "" && n.Kind != KSlope {
		s += " " + n.Unit
	}
	u := n.Kind.shown(sys)
	if u.name == n.Unit && !(e.fraction && n.Kind == Scalar) {
		return s
	}
	s += " = " + exact(u.typed(e.value), n.Kind)
	if u.name != "" {
		s += " " + u.name
	}
	return s
}

// Canonical is the number rewritten plainly with its unit, in ASCII and without
// blanks: "12.5mm", "-1-1/2in", "0.010/100". In any system it reads back to the
// same Value. It is empty for a Number that Parse did not make.
func (n Number) Canonical() string {
	e, ok := n.reread()
	if !ok {
		return ""
	}
	return e.tidy + e.write
}

// reread recovers the exact entry. The system it was read in does not matter
// beyond the unit of a bare number, which n.Unit holds.
func (n Number) reread() (entry, bool) {
	for _, sys := range []System{Metric, Imperial} {
		if e, bad := read(n.Text, n.Kind, sys); bad == nil && e.unit == n.Unit {
			return e, true
		}
	}
	return entry{}, false
}

// Write is v (internal unit) for a file: the fewest decimal digits that Parse reads
// back to v itself, to the last bit, with the unit: "12.345mm", "0.486063in". Below
// 1e-6 of the unit it is v to 23 decimals. A NaN, an infinity or a magnitude Parse
// refuses gives "".
func Write(v float64, k Kind, sys System) string {
	if limit, _ := Limit(k, sys); !(v >= -limit && v <= limit) {
		return ""
	}
	u := k.shown(sys)
	x := u.typed(new(big.Rat).SetFloat64(v))
	f, _ := x.Float64()
	for digits := 1; ; digits++ { // 17 digits tell any two neighbouring values apart
		places := min(max(digits-exponent(f), 0), maxDigits-1)
		s := x.FloatString(places)
		if strings.Contains(s, ".") {
			s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		}
		if s == "-0" {
			s = "0"
		}
		n, err := Parse(s+u.write, k, sys)
		if err == nil && n.Value == v || digits > 20 || places == maxDigits-1 {
			return s + u.write
		}
	}
}

// exponent is the number of digits before the point, negative for zeros right after it.
// It is 1 for zero.
func exponent(f float64) int {
	_, exp, _ := strings.Cut(strconv.FormatFloat(f, 'e', -1, 64), "e")
	e, _ := strconv.Atoi(exp)
	return e + 1
}

// exact writes a ratio in full when its decimals end within maxPlaces, else cut
// after 7 significant digits with "...", those of a temperature after two decimals.
func exact(r *big.Rat, k Kind) string {
	if n, ends := r.FloatPrec(); ends && n <= maxPlaces {
		return r.FloatString(n)
	}
	f, _ := r.Float64()
	places := max(7-exponent(f), 1)
	if k == KTemperature {
		places = 2
	}
	// Cut, not rounded: truncate the magnitude times 10^places.
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	n := new(big.Int).Mul(r.Num(), scale)
	n.Quo(n, r.Denom())
	return new(big.Rat).SetFrac(n, scale).FloatString(places) + "..."
}
