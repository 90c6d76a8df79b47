package unit

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// Number is one number as it was understood.
type Number struct {
	Value    float64 // in the internal unit of its kind, rounded once from the exact value
	Kind     Kind
	Text     string // as typed
	Unit     string // unit understood, as printed: "mm", "in", "N·m"; "" for a plain number or ratio
	Decimals int    // digits typed after the point; 0 for a fraction
}

// Parse reads a number of kind k as a person or a gauge types it. Without a unit
// it is in EntryUnit(k, sys); fractions of an inch are exact.
//
//	12.5  12,5  .5  12.  +0.012  -0.003  +0012.345  3mm  45um  0.5thou  1/32in  1-1/2in  0.25"
//	0.010/100  0.0012in/ft  0.05deg  0.2mrad  58mNm  8.2in-oz  20.5C  68F  12N  35MPa  10min
//
// One decimal point or one decimal comma, never both. A fraction needs its unit
// where the system is metric. A slope is two lengths or a plain ratio. Everything
// else is an *EntryError, and the Number is then zero. Exponents, hexadecimal,
// digit grouping, clock times and words are refused, as is a magnitude beyond Limit(k).
func Parse(text string, k Kind, sys System) (Number, error) {
	k.row() // an unknown kind is a misuse even when the text is bad
	if n, ok := quick(text, k, sys); ok {
		return n, nil
	}
	n, bad := parse(text, k, sys)
	if bad != nil {
		return Number{}, &EntryError{Text: cut(text), What: bad.what, Hint: bad.hint}
	}
	return n, nil
}

func parse(text string, k Kind, sys System) (Number, *refusal) {
	e, bad := read(text, k, sys)
	if bad != nil {
		return Number{}, bad
	}
	v, _ := e.value.Float64()
	if limit, words := Limit(k, sys); math.Abs(v) > limit {
		hint := "check the decimal point and the unit"
		if k == KTemperature {
			hint = "a temperature in Fahrenheit ends in F"
		}
		return Number{}, refuse(hint, "beyond %s, more than %s can be here", words, k)
	}
	if k == Count {
		if e.decimals > 0 || e.fraction {
			return Number{}, refuse("type whole digits", "a count is a whole number")
		}
		if v < 0 {
			return Number{}, refuse("type it without a sign", "a count is not negative")
		}
	}
	return Number{Value: v, Kind: k, Text: text, Unit: e.unit, Decimals: e.decimals}, nil
}

// entry is what was read, exact.
type entry struct {
	value    *big.Rat // internal unit
	tidy     string   // magnitude rewritten plainly: "0.5", "-1-1/2", "0.010/100"
	unit     string   // as Number.Unit
	write    string   // unit as written to a file
	decimals int
	fraction bool
}

func read(text string, k Kind, sys System) (entry, *refusal) {
	s, bad := clean(text)
	if bad != nil {
		return entry{}, bad
	}
	if k == KSlope {
		return readSlope(s)
	}
	m, rest, bad := readMagnitude(s)
	if bad != nil {
		return entry{}, bad
	}
	u, bad := m.measure(rest, k, sys)
	if bad != nil {
		return entry{}, bad
	}
	v := new(big.Rat).Set(m.exact)
	if u.zero != nil {
		v.Add(v, u.zero)
	}
	v.Mul(v, u.scale)
	return entry{value: v, tidy: m.tidy, unit: u.name, write: u.write, decimals: m.decimals, fraction: m.fraction}, nil
}

// measure decides the unit of a magnitude from what was typed after it.
func (m magnitude) measure(rest string, k Kind, sys System) (*measure, *refusal) {
	if rest == "" {
		u := k.entry(sys)
		if m.fraction && k != Scalar && k != Count && u.name != "in" {
			hint := "give the unit, or type a decimal"
			if k == KLength {
				hint = fmt.Sprintf("type %sin for inches, or a decimal", m.tidy)
			}
			return nil, refuse(hint, "a fraction without its unit")
		}
		most := k.row().bareMax[sys.index()]
		f, _ := m.exact.Float64()
		if most > 0 && math.Abs(f) > most {
			return nil, refuse(fmt.Sprintf("type %smNm or %sNm", m.tidy, m.tidy),
				"%s without a unit would be %s %s", k, m.tidy, u.name)
		}
		return u, nil
	}
	u := lookUp(rest)
	if u == nil {
		return nil, badRest(m, rest, k)
	}
	if k == KWarmth && u.kind == KTemperature || k == KVacuum && u.kind == KStress {
		if same := table().byName[named{k, u.name}]; same != nil {
			u = same
		}
	}
	if u.kind != k {
		return nil, refuse(hintFor(k), "%s is asked, %s is %s", k, u.name, u.kind)
	}
	return u, nil
}

func hintFor(k Kind) string {
	if us := unitsOf(k); us != "" {
		return "units: " + us
	}
	if k == KSlope {
		return "type 0.010/100 or 0.0012in/ft"
	}
	return "type it without a unit"
}

// badRest names what is wrong with the text after a magnitude.
func badRest(m magnitude, rest string, k Kind) *refusal {
	first := rest[0]
	switch {
	case first == '_':
		return refuse("type the digits without grouping", "an underscore has no place in a number")
	case first == ':':
		return refuse("type one number; minutes and seconds as 12.5min", "a colon has no place in a number")
	case (first == 'x' || first == 'X') && strings.TrimLeft(m.tidy, "+-") == "0":
		return refuse("type it in decimals", "a hexadecimal number")
	case (first == 'e' || first == 'E') && len(rest) > 1 && strings.IndexByte("+-0123456789", rest[1]) >= 0:
		return refuse("type it without an exponent", "an exponent form")
	case first == '.' || first == ',':
		if m.point != 0 && m.point != first {
			return refuse("type it without grouping, with one decimal point", "both a point and a comma: which is the decimal point is not certain")
		}
		return refuse("type one decimal point", "two decimal points")
	case first == '/' && k == KSlope:
		return refuse("type 0.010/100", "two lines of a fraction")
	case first == '/':
		if m.decimals > 0 || m.point != 0 {
			return refuse(hintFor(k), "%s is asked, not a ratio", k)
		}
		return refuse("type whole numbers on both sides, as 1/32in", "a fraction that does not end well")
	case first == '+' || first == '-':
		return refuse("type one number", "a sign in the middle")
	case strings.Contains(rest, "/") || strings.Contains(rest, " per "):
		if k != KStress {
			return refuse(hintFor(k), "%s is asked, not a ratio", k)
		}
	case digit(first):
		return refuse("type one number", "two numbers")
	}
	if k == Scalar || k == Count {
		return refuse(hintFor(k), "%q after the number is not understood", rest)
	}
	return refuse(hintFor(k), "unit %q is not known", rest)
}
