package unit

import (
	"math/big"
	"strings"
	"sync"
)

// measure is one unit: value in the internal unit = (typed + zero) * scale.
// Scales are exact ratios, so that what is read is rounded once.
type measure struct {
	name    string // as printed
	write   string // as written to a file: ASCII, no blanks
	kind    Kind
	scale   *big.Rat
	zero    *big.Rat // nil means 0
	aliases string   // blank separated, as typed after clean

	f        float64 // scale
	num, den float64 // the scale's whole numbers where both are exact, else 0
}

// typed is a value in the internal unit as a number of this unit.
func (m *measure) typed(value *big.Rat) *big.Rat {
	x := new(big.Rat).Quo(value, m.scale)
	if m.zero != nil {
		x.Sub(x, m.zero)
	}
	return x
}

// factor is the scale as a float64.
func (m *measure) factor() float64 { return m.f }

// reckon keeps the scale as numbers.
func (m *measure) reckon() {
	m.f, _ = m.scale.Float64()
	if n, d := m.scale.Num(), m.scale.Denom(); n.BitLen() <= 53 && d.BitLen() <= 53 {
		m.num, _ = new(big.Float).SetInt(n).Float64()
		m.den, _ = new(big.Float).SetInt(d).Float64()
	}
}

// Exact by definition: the inch 25.4 mm and the pound 0.45359237 kg (1959
// agreement), standard gravity 9.80665 m/s² (3rd CGPM 1901), hence the
// pound-force 4.4482216152605 N. Pi to 50 places.
const (
	poundForce = "4.4482216152605"
	pi50       = "3.14159265358979323846264338327950288419716939937511"
)

// measures are the units. They are made when the first number is read or printed: exact ratios
// would slow every start.
func measures() []measure {
	return []measure{
		{name: "", kind: Scalar, scale: ratio("1")},

		{name: "mm", kind: KLength, scale: ratio("1"), aliases: "mm MM Mm"},
		{name: "um", kind: KLength, scale: ratio("1/1000"), aliases: "um UM micron microns"},
		{name: "cm", kind: KLength, scale: ratio("10"), aliases: "cm"},
		{name: "m", kind: KLength, scale: ratio("1000"), aliases: "m"},
		{name: "in", kind: KLength, scale: ratio("25.4"), aliases: `in IN In in. inch INCH inches "`},
		{name: "thou", kind: KLength, scale: ratio("0.0254"), aliases: "thou THOU"},
		{name: "ft", kind: KLength, scale: ratio("304.8"), aliases: "ft FT foot feet"},

		{name: "deg", kind: KAngle, scale: ratio(pi50, "1/180"), aliases: "deg DEG degree degrees"},
		{name: "mrad", kind: KAngle, scale: ratio("1/1000"), aliases: "mrad"},
		{name: "rad", kind: KAngle, scale: ratio("1"), aliases: "rad"},

		// Printed only: what is typed as a slope is two lengths, see slope.go.
		{name: "mm per 100 mm", write: "mm/100mm", kind: KSlope, scale: ratio("1/100")},
		{name: "thou per in", write: "thou/in", kind: KSlope, scale: ratio("1/1000")},

		{name: "N", kind: KForce, scale: ratio("1"), aliases: "N n"},
		{name: "kN", kind: KForce, scale: ratio("1000"), aliases: "kN"},
		{name: "lbf", kind: KForce, scale: ratio(poundForce), aliases: "lbf lb lbs LBF"},
		{name: "kgf", kind: KForce, scale: ratio("9.80665"), aliases: "kgf"},

		{name: "N·m", write: "Nm", kind: KTorque, scale: ratio("1000"), aliases: "Nm nm NM"},
		{name: "mN·m", write: "mNm", kind: KTorque, scale: ratio("1"), aliases: "mNm mnm"},
		{name: "N·mm", write: "Nmm", kind: KTorque, scale: ratio("1"), aliases: "Nmm nmm"},
		{name: "N·cm", write: "Ncm", kind: KTorque, scale: ratio("10"), aliases: "Ncm ncm"},
		{name: "in-oz", kind: KTorque, scale: ratio(poundForce, "1/16", "25.4"), aliases: "inoz ozin inozf ozfin INOZ OZIN"},
		{name: "in-lb", kind: KTorque, scale: ratio(poundForce, "25.4"), aliases: "inlb lbin inlbs inlbf lbfin INLB LBIN"},
		{name: "ft-lb", kind: KTorque, scale: ratio(poundForce, "304.8"), aliases: "ftlb lbft ftlbs ftlbf lbfft FTLB LBFT"},
		{name: "kgf·cm", write: "kgfcm", kind: KTorque, scale: ratio("98.0665"), aliases: "kgfcm kgcm"},

		{name: "MPa", kind: KStress, scale: ratio("1"), aliases: "MPa N/mm2"},
		{name: "GPa", kind: KStress, scale: ratio("1000"), aliases: "GPa"},
		{name: "kPa", kind: KStress, scale: ratio("1/1000"), aliases: "kPa"},
		{name: "psi", kind: KStress, scale: ratio(poundForce, "1/25.4", "1/25.4"), aliases: "psi PSI"},
		{name: "ksi", kind: KStress, scale: ratio(poundForce, "1000", "1/25.4", "1/25.4"), aliases: "ksi KSI"},

		{name: "°C", write: "C", kind: KTemperature, scale: ratio("1"), aliases: "C c degC"},
		{name: "°F", write: "F", kind: KTemperature, scale: ratio("5/9"), zero: ratio("-32"), aliases: "F f degF"},
		{name: "K", kind: KTemperature, scale: ratio("1"), zero: ratio("-273.15"), aliases: "K"},

		// A difference is typed as a temperature is, and has no zero.
		{name: "°C", write: "C", kind: KWarmth, scale: ratio("1")},
		{name: "°F", write: "F", kind: KWarmth, scale: ratio("5/9")},
		{name: "K", kind: KWarmth, scale: ratio("1")},

		// A vacuum is typed as a stress is. inHg at 0 °C: NIST SP 811, table B.8, 3.386389 kPa.
		{name: "kPa", kind: KVacuum, scale: ratio("1/1000")},
		{name: "MPa", kind: KVacuum, scale: ratio("1")},
		{name: "psi", kind: KVacuum, scale: ratio(poundForce, "1/25.4", "1/25.4")},
		{name: "inHg", kind: KVacuum, scale: ratio("3.386389", "1/1000"), aliases: "inHg inhg"},

		{name: "min", kind: KDuration, scale: ratio("1"), aliases: "min MIN mins minutes"},
		{name: "s", kind: KDuration, scale: ratio("1/60"), aliases: "s sec"},
		{name: "h", kind: KDuration, scale: ratio("60"), aliases: "h hr hrs"},
	}
}

// named is a unit by its kind and its printed name.
type named struct {
	kind Kind
	name string
}

// table is the units, and how to find one by its printed name and by what is typed for it.
var table = sync.OnceValue(func() (t struct {
	all     []measure
	byName  map[named]*measure
	byAlias map[string]*measure
}) {
	t.all, t.byName, t.byAlias = measures(), map[named]*measure{}, map[string]*measure{}
	for i := range t.all {
		m := &t.all[i]
		m.reckon()
		if m.write == "" {
			m.write = m.name
		}
		t.byName[named{m.kind, m.name}] = m
		for _, a := range strings.Fields(m.aliases) {
			if t.byAlias[a] != nil {
				panic("unit: two units of one name: " + a)
			}
			t.byAlias[a] = m
		}
	}
	return t
})

// lookUp finds a unit as a person types it, nil for an unknown one. In a torque,
// separators between its letters don't count: "N·m", "N-m", "N m" and "Nm" are one.
func lookUp(typed string) *measure {
	typed = strings.Trim(typed, " ")
	if m := table().byAlias[typed]; m != nil {
		return m
	}
	rs := []rune(typed)
	var b strings.Builder
	for i, r := range rs {
		if strings.ContainsRune(" -.*·", r) && i > 0 && i < len(rs)-1 && letter(rs[i-1]) && letter(rs[i+1]) {
			continue
		}
		b.WriteRune(r)
	}
	if m := table().byAlias[b.String()]; m != nil && m.kind == KTorque {
		return m
	}
	return nil
}

func letter(r rune) bool { return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' }

// unitsOf lists the units of k for a hint: "mm, um, cm, m, in, thou, ft".
func unitsOf(k Kind) string {
	var ns []string
	for _, m := range table().all {
		if m.kind == k && m.aliases != "" {
			ns = append(ns, m.write)
		}
	}
	return strings.Join(ns, ", ")
}

// ratio is the exact product of decimals or fractions.
func ratio(fs ...string) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range fs {
		num, den, isFraction := strings.Cut(f, "/")
		p.Mul(p, decimal(num))
		if isFraction {
			p.Quo(p, decimal(den))
		}
	}
	return p
}

// decimal is the exact value of a decimal written with digits, one point and a leading minus only.
func decimal(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("unit: not a decimal: " + s)
	}
	return r
}
