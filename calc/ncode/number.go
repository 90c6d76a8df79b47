package ncode

import "strconv"

// maxNumber bounds every number: a coordinate of a thousand kilometres is an
// error, and a bound keeps all later arithmetic finite.
const maxNumber = 1e9

// pow10 are the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// number reads the decimal at t[i]: an optional sign, digits with at most one
// point, no exponent (3.3.2.1). It returns the value and the index after it, and
// ok false where there is no digit, where a second point follows, or where the
// value is past maxNumber.
//
// Up to 15 digits the value is a whole number below 2^53 over an exact power of
// ten, so one division gives the correctly rounded result; longer ones go to
// strconv. t must end in a byte that belongs to no number.
func number(t []byte, i int) (v float64, next int, ok bool) {
	start := i
	neg := false
	switch t[i] {
	case '-':
		neg = true
		i++
	case '+':
		i++
	}
	first := i
	var m uint64
	for c := t[i] - '0'; c <= 9; c = t[i] - '0' {
		m = m*10 + uint64(c)
		i++
	}
	digits, scale := i-first, 0
	if t[i] == '.' {
		i++
		from := i
		for c := t[i] - '0'; c <= 9; c = t[i] - '0' {
			m = m*10 + uint64(c)
			i++
		}
		scale = i - from
		digits += scale
		if t[i] == '.' {
			return 0, i, false
		}
	}
	if digits == 0 {
		return 0, i, false
	}
	if digits > 15 {
		var err error
		if v, err = strconv.ParseFloat(string(t[start:i]), 64); err != nil || v > maxNumber || v < -maxNumber {
			return 0, i, false
		}
		return v, i, true
	}
	v = float64(m)
	if scale > 0 {
		v /= pow10[scale]
	}
	if v > maxNumber {
		return 0, i, false
	}
	if neg {
		v = -v
	}
	return v, i, true
}
