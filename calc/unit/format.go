package unit

import (
	"math"
	"strconv"
	"strings"
)

// None is printed where there is no number: NaN, an infinity, or a magnitude
// that no dimension has (1e12 and more in the unit shown).
const None = "-"

// Format prints v (internal unit) as the one printer of dimensions, in UnitName(k, sys)
// and without it. The step (internal unit, 0 for Step(k, sys)) decides the digits:
// as many as it takes to write a step of 1, 2, 5 or 25 in some decade (0.005 gives
// 3), else those of the nearest decade (a step of 0.001 mm gives 4 digits in inches).
//
// Rounding is half away from zero, taken on the decimal value to 15 significant
// digits: 1.0005 prints as 1.001 although its binary form lies below. What rounds
// to zero has no sign.
func Format(v float64, k Kind, sys System, step float64) string {
	return printed(v, k, sys, step, halfAway)
}

// Signed is Format with the sign always printed. What rounds to zero has none:
// a plus would claim a side that the digits do not show.
func Signed(v float64, k Kind, sys System, step float64) string {
	s := Format(v, k, sys, step)
	if s == None || s[0] == '-' || strings.Trim(s, "0.") == "" {
		return s
	}
	return "+" + s
}

// Show is Format followed by the unit: "12.346 mm", "0.010 mm per 100 mm".
// Parse reads it back.
func Show(v float64, k Kind, sys System, step float64) string {
	return withUnit(Format(v, k, sys, step), k, sys)
}

// FormatU prints a value and its guard or expanded uncertainty with the same
// digits: "12.346 ± 0.003 mm". The guard is rounded up, so that it never claims
// more than is known (JCGM 100:2008, 7.2.6, allows it; from memory).
func FormatU(v, guard float64, k Kind, sys System, step float64) string {
	s := Format(v, k, sys, step) + " ± " + printed(math.Abs(guard), k.apart(), sys, step, up)
	return withUnit(s, k, sys)
}

func withUnit(s string, k Kind, sys System) string {
	if u := UnitName(k, sys); u != "" {
		return s + " " + u
	}
	return s
}

// apart is the kind of a difference of two such quantities.
func (k Kind) apart() Kind {
	if k == KTemperature {
		return KWarmth
	}
	return k
}

func printed(v float64, k Kind, sys System, step float64, how rounding) string {
	m := k.shown(sys)
	f := m.factor()
	if !(step > 0) || math.IsInf(step, 0) {
		step = Step(k, sys)
	}
	x := v / f
	if m.zero != nil {
		zero, _ := m.zero.Float64()
		x -= zero
	}
	return round(x, places(step/f), how)
}

// maxPlaces is the most decimals printed: 1e-9 of any unit here is below what is measured.
const maxPlaces = 9

// places is the number of decimals a step asks for.
func places(step float64) int {
	const slack = 1e-9 // of the significand: steps come through unit conversions
	decade := math.Floor(math.Log10(step) + slack)
	lead := step / math.Pow(10, decade)
	d := -decade
	switch {
	case near(lead, 2.5, slack):
		d++
	case near(lead, 1, slack), near(lead, 2, slack), near(lead, 5, slack):
	default:
		d = math.Round(-math.Log10(step))
	}
	return int(min(max(d, 0), maxPlaces))
}

func near(x, want, tol float64) bool { return math.Abs(x-want) <= tol*want }

type rounding int

const (
	halfAway rounding = iota
	up                // away from zero, whatever follows
)

// round writes x with d decimals from its 15 significant digits.
func round(x float64, d int, how rounding) string {
	if math.IsNaN(x) || math.Abs(x) >= 1e12 {
		return None
	}
	mantissa, exp, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', 14, 64), "e")
	e, _ := strconv.Atoi(exp)
	ds := []byte(strings.Replace(mantissa, ".", "", 1)) // value = 0.ds * 10^(e+1)

	// Digits up to the last place kept, with zeros where the number starts later or ends sooner.
	whole := e + 1
	if whole < 1 {
		pad := min(1-whole, maxPlaces+3) // further zeros change no digit kept
		ds = append([]byte(strings.Repeat("0", pad)), ds...)
		whole = 1
	}
	for len(ds) <= whole+d {
		ds = append(ds, '0')
	}
	keep, tail := ds[:whole+d], ds[whole+d:]
	carry := tail[0] >= '5'
	if how == up {
		carry = strings.Trim(string(tail), "0") != ""
	}
	for i := len(keep) - 1; carry && i >= 0; i-- {
		if keep[i]++; keep[i] <= '9' {
			carry = false
		} else {
			keep[i] = '0'
		}
	}
	s := string(keep)
	if carry {
		s, whole = "1"+s, whole+1
	}
	if d > 0 {
		s = s[:whole] + "." + s[whole:]
	}
	if x < 0 && strings.Trim(s, "0.") != "" {
		s = "-" + s
	}
	return s
}
