package unit

import (
	"math/big"
	"strings"
)

// magnitude is a signed number without its unit.
//
//	magnitude = [sign] blanks ( decimal | fraction | whole ("-" | blanks) fraction )
//	decimal   = digits [ mark [digits] ] | mark digits        mark = "." | ","
//	fraction  = digits "/" digits
type magnitude struct {
	exact    *big.Rat
	tidy     string // rewritten: no plus, no leading zeros, point for comma
	decimals int
	point    byte // the decimal mark typed, or 0
	fraction bool
}

// readMagnitude reads a magnitude off the front of s, and returns what follows
// it with the blanks off.
func readMagnitude(s string) (magnitude, string, *refusal) {
	sign := ""
	if s[0] == '+' || s[0] == '-' {
		if s[0] == '-' {
			sign = "-"
		}
		s = strings.TrimLeft(s[1:], " ")
		if s == "" {
			return magnitude{}, "", refuse("type the digits too", "a sign without a number")
		}
		if s[0] == '+' || s[0] == '-' {
			return magnitude{}, "", refuse("type one sign", "two signs")
		}
	}
	m, rest, bad := readDecimal(s)
	if bad != nil {
		return magnitude{}, "", bad
	}
	if m.point == 0 {
		if f, after, ok, bad := readFraction(m.tidy, rest); bad != nil {
			return magnitude{}, "", bad
		} else if ok {
			m, rest = f, after
		}
	}
	if sign != "" && m.exact.Sign() != 0 {
		m.exact.Neg(m.exact)
		m.tidy = sign + m.tidy
	}
	return m, strings.TrimLeft(rest, " "), nil
}

// Digits of one number, leading zeros apart. Far more than any instrument shows;
// with these, what Canonical and Write make is never longer than MaxText.
const (
	maxDigits     = 24
	maxFractional = 12 // in each number of a fraction
)

func tooLong(most int) *refusal {
	return refuse("type the number again", "more than %d digits", most)
}

// readDecimal reads an unsigned decimal off the front of s.
func readDecimal(s string) (magnitude, string, *refusal) {
	whole, rest := digits(s)
	var point byte
	part := ""
	if rest != "" && (rest[0] == '.' || rest[0] == ',') {
		p, after := digits(rest[1:])
		if whole != "" || p != "" {
			point, part, rest = rest[0], p, after
		}
	}
	if whole == "" && part == "" {
		return magnitude{}, "", refuse("type a number, as 12.5 or 1/32in", "not a number")
	}
	tidy := plain(whole)
	if len(tidy)+len(part) > maxDigits {
		return magnitude{}, "", tooLong(maxDigits)
	}
	if part != "" {
		tidy += "." + part
	}
	return magnitude{exact: decimal(tidy), tidy: tidy, decimals: len(part), point: point}, rest, nil
}

// readFraction reads the rest of a fraction or a mixed number whose first digits
// are read already. It is not ok when there is none.
func readFraction(first, rest string) (m magnitude, after string, ok bool, bad *refusal) {
	whole, num := "", first
	if body := strings.TrimLeft(rest, " "); body != "" && (body[0] == '-' || len(body) < len(rest)) {
		n, slash := digits(strings.TrimPrefix(body, "-"))
		if n == "" || slash == "" || slash[0] != '/' {
			return magnitude{}, rest, false, nil
		}
		whole, num, rest = first, plain(n), slash
	}
	if rest == "" || rest[0] != '/' {
		return magnitude{}, rest, false, nil
	}
	d, after := digits(rest[1:])
	if d == "" || after != "" && (after[0] == '.' || after[0] == ',') {
		return magnitude{}, rest, false, nil
	}
	d = plain(d)
	if max(len(whole), len(num), len(d)) > maxFractional {
		return magnitude{}, "", false, tooLong(maxFractional)
	}
	if d == "0" {
		return magnitude{}, "", false, refuse("type the number under the line again", "division by zero")
	}
	x := ratio(num + "/" + d)
	tidy := num + "/" + d
	if whole != "" {
		if x.Cmp(big.NewRat(1, 1)) >= 0 {
			return magnitude{}, "", false, refuse("type it as one fraction or a decimal", "the fraction after the whole number is not less than 1")
		}
		x.Add(x, decimal(whole))
		tidy = whole + "-" + tidy
	}
	return magnitude{exact: x, tidy: tidy, fraction: true}, after, true, nil
}

// digits splits the leading ASCII digits off s.
func digits(s string) (ds, rest string) {
	i := 0
	for i < len(s) && digit(s[i]) {
		i++
	}
	return s[:i], s[i:]
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

// plain drops leading zeros, but never the last digit.
func plain(ds string) string {
	ds = strings.TrimLeft(ds, "0")
	if ds == "" {
		return "0"
	}
	return ds
}
