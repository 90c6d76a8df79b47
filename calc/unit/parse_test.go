package unit

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"
)

// What people and gauges type. Values are exact by the definitions of the units;
// those with many digits are computed here, with exact fractions.
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text     string
		kind     Kind
		sys      System
		value    float64
		unit     string
		decimals int
	}{
		{"12.5", KLength, Metric, 12.5, "mm", 1},
		{"12,5", KLength, Metric, 12.5, "mm", 1},
		{"12,345", KLength, Metric, 12.345, "mm", 3},
		{".5", KLength, Metric, 0.5, "mm", 1},
		{",5", KLength, Metric, 0.5, "mm", 1},
		{"12.", KLength, Metric, 12, "mm", 0},
		{"+0.012", KLength, Metric, 0.012, "mm", 3},
		{"-0.003", KLength, Metric, -0.003, "mm", 3},
		{"- 0.003", KLength, Metric, -0.003, "mm", 3},
		{"-0.000", KLength, Metric, 0, "mm", 3},
		{"+0012.345", KLength, Metric, 12.345, "mm", 3},
		{"  -312.4450  ", KLength, Metric, -312.445, "mm", 4},
		{"12.345mm", KLength, Imperial, 12.345, "mm", 3},
		{"12.345 mm", KLength, Metric, 12.345, "mm", 3},
		{"3MM", KLength, Metric, 3, "mm", 0},
		{"45um", KLength, Metric, 0.045, "um", 0},
		{"45µm", KLength, Metric, 0.045, "um", 0},
		{"45μm", KLength, Metric, 0.045, "um", 0},
		{"0.5thou", KLength, Metric, 0.0127, "thou", 1},
		{"2cm", KLength, Metric, 20, "cm", 0},
		{"0.5m", KLength, Metric, 500, "m", 1},
		{"1ft", KLength, Metric, 304.8, "ft", 0},
		{"1/32in", KLength, Metric, 0.79375, "in", 0},
		{"1/32", KLength, Imperial, 0.79375, "in", 0},
		{"-1/8in", KLength, Metric, -3.175, "in", 0},
		{"1-1/2in", KLength, Metric, 38.1, "in", 0},
		{"1 1/2 in", KLength, Metric, 38.1, "in", 0},
		{"-1-1/2in", KLength, Metric, -38.1, "in", 0},
		{"3/2in", KLength, Metric, 38.1, "in", 0},
		{`0.25"`, KLength, Metric, 6.35, "in", 2},
		{"0.25in.", KLength, Metric, 6.35, "in", 2},
		{"0.0001", KLength, Imperial, 0.00254, "in", 4},
		{"0.002", KLength, Imperial, 0.0508, "in", 3},

		{"20.5C", KTemperature, Metric, 20.5, "°C", 1},
		{"20.5 °C", KTemperature, Metric, 20.5, "°C", 1},
		{"68F", KTemperature, Imperial, 20, "°F", 0},
		{"293.15K", KTemperature, Metric, 20, "K", 2},
		{"20", KTemperature, Imperial, 20, "°C", 0},

		{"1Nm", KTorque, Metric, 1000, "N·m", 0},
		{"1", KTorque, Metric, 1000, "N·m", 0},
		{"0.058", KTorque, Metric, 58, "N·m", 3},
		{"1 N·m", KTorque, Metric, 1000, "N·m", 0},
		{"1N-m", KTorque, Metric, 1000, "N·m", 0},
		{"1 N m", KTorque, Metric, 1000, "N·m", 0},
		{"58mNm", KTorque, Metric, 58, "mN·m", 0},
		{"58Nmm", KTorque, Metric, 58, "N·mm", 0},
		{"0.6kgfcm", KTorque, Metric, 58.8399, "kgf·cm", 1},
		{"8.23in-oz", KTorque, Metric, 58.11657143108034, "in-oz", 2},
		{"8.23", KTorque, Imperial, 58.11657143108034, "in-oz", 2},
		{"8.23 oz-in", KTorque, Metric, 58.11657143108034, "in-oz", 2},
		{"2in-lb", KTorque, Metric, 225.9696580552334, "in-lb", 0},
		{"2 ft-lb", KTorque, Metric, 2711.6358966628008, "ft-lb", 0},

		{"0.05deg", KAngle, Metric, 0.0008726646259971648, "deg", 2},
		{"0.05°", KAngle, Metric, 0.0008726646259971648, "deg", 2},
		{"0.05", KAngle, Imperial, 0.0008726646259971648, "deg", 2},
		{"0.2mrad", KAngle, Metric, 0.0002, "mrad", 1},
		{"360", KAngle, Metric, 2 * math.Pi, "deg", 0},

		{"0.010/100", KSlope, Metric, 1e-4, "", 3},
		{"-0.010/300", KSlope, Metric, -1e-2 / 300, "", 3},
		{"0,010/100", KSlope, Metric, 1e-4, "", 3},
		{"0/100", KSlope, Metric, 0, "", 0},
		{"0.0001", KSlope, Imperial, 1e-4, "", 4},
		{"0.010mm/100mm", KSlope, Imperial, 1e-4, "mm/mm", 3},
		{"0.010 mm per 100 mm", KSlope, Imperial, 1e-4, "mm/mm", 3},
		{"0.010/100mm", KSlope, Imperial, 1e-4, "mm/mm", 3},
		{"0.0005/5in", KSlope, Imperial, 1e-4, "in/in", 4},
		{"0.0012in/ft", KSlope, Metric, 1e-4, "in/ft", 4},
		{"1.2thou/ft", KSlope, Metric, 1e-4, "thou/ft", 1},
		{"0.1 thou per in", KSlope, Metric, 1e-4, "thou/in", 1},
		{"0.1mm/m", KSlope, Metric, 1e-4, "mm/m", 1},

		{"12N", KForce, Imperial, 12, "N", 0},
		{"10lbf", KForce, Metric, 44.482216152605, "lbf", 0},
		{"35MPa", KStress, Metric, 35, "MPa", 0},
		{"35N/mm2", KStress, Metric, 35, "MPa", 0},
		{"35 N/mm²", KStress, Metric, 35, "MPa", 0},
		{"3.2GPa", KStress, Metric, 3200, "GPa", 1},
		{"1000psi", KStress, Metric, 6.894757293168361, "psi", 0},
		{"10min", KDuration, Metric, 10, "min", 0},
		{"90s", KDuration, Metric, 1.5, "s", 0},
		{"2h", KDuration, Metric, 120, "h", 0},
		{"4", Count, Metric, 4, "", 0},
		{"0", Count, Metric, 0, "", 0},
		{"-2.5", Scalar, Metric, -2.5, "", 1},
		{"1/4", Scalar, Metric, 0.25, "", 0},
	} {
		n, err := Parse(c.text, c.kind, c.sys)
		want := Number{c.value, c.kind, c.text, c.unit, c.decimals}
		if err != nil || n != want || math.Signbit(n.Value) != math.Signbit(c.value) {
			t.Errorf("Parse(%q, %v, %v) = %+v, %v; want %+v", c.text, c.kind, c.sys, n, err, want)
		}
	}
}

// Every refusal names its reason and leaves nothing behind.
func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		sys  System
		what string // part of the reason
		hint string // part of the hint
	}{
		{"", KLength, Metric, "nothing typed", "type a number"},
		{"    ", KLength, Metric, "nothing typed", ""},
		{"-", KLength, Metric, "a sign without a number", "digits"},
		{"+-1", KLength, Metric, "two signs", ""},
		{"1-", KLength, Metric, "a sign in the middle", ""},
		{"1-2", KLength, Metric, "a sign in the middle", ""},
		{".", KLength, Metric, "not a number", "12.5"},
		{"1_000", KLength, Metric, "underscore", "without grouping"},
		{"0x10", KLength, Metric, "hexadecimal", "decimals"},
		{"-0X1p4", KLength, Metric, "hexadecimal", ""},
		{"0b11", KLength, Metric, `unit "b11" is not known`, "mm"},
		{"0o17", KLength, Metric, `unit "o17" is not known`, "mm"},
		{"12:30", KLength, Metric, "colon", "12.5min"},
		{"no", KLength, Metric, "not a number", ""},
		{"yes", KLength, Metric, "not a number", ""},
		{"~", KLength, Metric, "not a number", ""},
		{"NaN", KLength, Metric, "not a number", ""},
		{".nan", KLength, Metric, "not a number", ""},
		{"Inf", KLength, Metric, "not a number", ""},
		{"-inf", KLength, Metric, "not a number", ""},
		{"+.inf", KLength, Metric, "not a number", ""},
		{"1e308", KLength, Metric, "exponent", "without"},
		{"1E5", KLength, Metric, "exponent", ""},
		{"1.5e-3mm", KLength, Metric, "exponent", ""},
		{"1.e5", KLength, Metric, "exponent", ""},
		{"1.2.3", KLength, Metric, "two decimal points", ""},
		{"12..5", KLength, Metric, "two decimal points", ""},
		{"1,234,567", KLength, Metric, "two decimal points", ""},
		{"1,234.5", KLength, Metric, "both a point and a comma", "without grouping"},
		{"1.234,5", KLength, Metric, "both a point and a comma", "without grouping"},
		{"1 234.5", KLength, Metric, "two numbers", ""},
		{"1'234.5", KLength, Metric, "is not known", ""},
		{"１２", KLength, Metric, "U+FF11", "0 to 9"},
		{"٣", KLength, Metric, "U+0663", "0 to 9"},
		{"1\u00a0mm", KLength, Metric, "U+00A0", ""},
		{"\u22125", KLength, Metric, "U+2212", "plain -"},
		{"½in", KLength, Metric, "U+00BD", ""},
		{"1\x00", KLength, Metric, "control character U+0000", ""},
		{"1\x1b[2J", KLength, Metric, "control character U+001B", ""},
		{"1\t2", KLength, Metric, "control character U+0009", ""},
		{"12.5\r\n", KLength, Metric, "control character U+000D", ""},
		{"\ufeff1", KLength, Metric, "U+FEFF", ""},
		{"1\xff", KLength, Metric, "not valid text", ""},
		{strings.Repeat("1", 65), KLength, Metric, "65 characters", "one number"},
		{strings.Repeat("1", 10<<20), KLength, Metric, "10485760 characters", ""},
		{strings.Repeat("1", 25), KLength, Metric, "more than 24 digits", ""},
		{"1/1234567890123in", KLength, Metric, "more than 12 digits", ""},
		{"1/0in", KLength, Metric, "division by zero", ""},
		{"1-1/00in", KLength, Metric, "division by zero", ""},
		{"1-3/2in", KLength, Metric, "not less than 1", ""},
		{"1-2/2in", KLength, Metric, "not less than 1", ""},
		{"1/32", KLength, Metric, "a fraction without its unit", "1/32in"},
		{"1/2", KTorque, Metric, "a fraction without its unit", "decimal"},
		{"1/", KLength, Imperial, "does not end well", "1/32in"},
		{"1/2.5in", KLength, Metric, "does not end well", ""},
		{"1.5/2in", KLength, Metric, "not a ratio", ""},
		{"0.010/100", KLength, Metric, "a length is asked, not a ratio", ""},
		{"5mil", KLength, Metric, `unit "mil" is not known`, "thou"},
		{"5m m", KLength, Metric, "is not known", ""},
		{"5mm3", KLength, Metric, "is not known", ""},
		{"12.5 mm 3", KLength, Metric, "is not known", ""},
		{"5 per 3", KLength, Metric, "is not known", ""},
		{"5mm", KTorque, Metric, "a torque is asked, mm is a length", "mNm"},
		{"20deg", KTemperature, Metric, "a temperature is asked, deg is an angle", ""},
		{"5N", KTorque, Metric, "a torque is asked, N is a force", ""},
		{"5mm", Count, Metric, "a count is asked, mm is a length", "without a unit"},
		{"5mm", Scalar, Metric, "a plain number is asked, mm is a length", ""},
		{"5 clamps", Count, Metric, `"clamps" after the number`, ""},
		{"58", KTorque, Metric, "would be 58 N·m", "58mNm"},
		{"-58", KTorque, Metric, "would be -58 N·m", "-58mNm"},
		{"1MNm", KTorque, Metric, "is not known", ""},
		{"68", KTemperature, Imperial, "beyond 122 °F", "ends in F"},
		{"10000.001", KLength, Metric, "beyond 10 m", "decimal point"},
		{"-400in", KLength, Metric, "beyond 10 m", ""},
		{"360.0001", KAngle, Metric, "beyond 360 deg", ""},
		{"201kN", KForce, Metric, "beyond 200 kN", ""},
		{"1001GPa", KStress, Metric, "beyond 1000 GPa", ""},
		{"0.2", KSlope, Metric, "beyond 10 mm per 100 mm", ""},
		{"0.2mrad", KSlope, Metric, "a slope is asked, mrad is an angle", "0.010/100"},
		{"5mm", KSlope, Metric, "a slope is asked, mm is a length", ""},
		{"0.01/0", KSlope, Metric, "division by zero", ""},
		{"0.01/", KSlope, Metric, "nothing after", ""},
		{"/100", KSlope, Metric, "nothing before", ""},
		{"0.01/-100", KSlope, Metric, "sign after the line", ""},
		{"0.01/100/2", KSlope, Metric, "two lines", ""},
		{"1-1/2/100", KSlope, Metric, `a sign in the middle`, ""},
		{"1.2/ft", KSlope, Metric, "ft on one side only", "both units"},
		{"5um/100", KSlope, Metric, "um on one side only", ""},
		{"5N/100mm", KSlope, Metric, "N is a force", ""},
		{"1.5", Count, Metric, "whole number", ""},
		{"1/2", Count, Metric, "whole number", ""},
		{"4/2", Count, Metric, "whole number", ""},
		{"-1", Count, Metric, "not negative", ""},
		{"1000001", Count, Metric, "beyond 1000000", ""},
	} {
		n, err := Parse(c.text, c.kind, c.sys)
		var e *EntryError
		if !errors.As(err, &e) || n != (Number{}) {
			t.Errorf("Parse(%.70q, %v) = %+v, %v; want an *EntryError and nothing else", c.text, c.kind, n, err)
			continue
		}
		if !strings.Contains(e.What, c.what) || !strings.Contains(e.Hint, c.hint) || e.Hint == "" {
			t.Errorf("Parse(%.70q, %v): what %q, hint %q; want %q, %q in them", c.text, c.kind, e.What, e.Hint, c.what, c.hint)
		}
		if strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' || r == 0x7f }) || len(err.Error()) > 400 {
			t.Errorf("Parse(%.70q): the error is not fit for a terminal: %q", c.text, err.Error())
		}
	}
}

// Drill sizes from 1/64 to 1 in, exact: n/64 in = n * 0.396875 mm (25.4/64, exact by
// the definition of the inch). The value is the float64 nearest to the exact product.
func TestParseFractions(t *testing.T) {
	step := big.NewRat(396875, 1000000)
	for n := int64(1); n <= 64; n++ {
		want, _ := new(big.Rat).Mul(step, big.NewRat(n, 1)).Float64()
		num, den := n, int64(64)
		for {
			text := big.NewInt(num).String() + "/" + big.NewInt(den).String()
			for _, c := range []struct {
				text string
				sys  System
			}{{text + "in", Metric}, {text + `"`, Metric}, {text, Imperial}} {
				got, err := Parse(c.text, KLength, c.sys)
				if err != nil || got.Value != want {
					t.Errorf("%s = %v mm, %v; want %v", c.text, got.Value, err, want)
				}
			}
			if num%2 != 0 || den == 1 {
				break
			}
			num, den = num/2, den/2
		}
	}
	if n, _ := Parse("1/64in", KLength, Metric); n.Value != 0.396875 {
		t.Errorf("1/64 in = %v, want 0.396875", n.Value)
	}
}

// Definitions against their published values: the digits are those of NIST SP 811
// (2008), appendix B.8 (from memory), which rounds to 7 digits; the
// units derived from pound and inch are exact products (computed here).
func TestScales(t *testing.T) {
	const rounding7 = 1e-6 // SP 811 prints 7 significant digits
	for _, c := range []struct {
		text string
		kind Kind
		want float64
	}{
		{"1lbf", KForce, 4.448222},
		{"1in-lb", KTorque, 112.9848},
		{"1in-oz", KTorque, 7.061552},
		{"1ft-lb", KTorque, 1355.818},
		{"1psi", KStress, 6.894757e-3},
		{"1ksi", KStress, 6.894757},
		{"1kgf", KForce, 9.80665},
		{"1kgf-cm", KTorque, 98.0665},
		{"1deg", KAngle, 1.745329e-2},
	} {
		n, err := Parse(c.text, c.kind, Metric)
		if err != nil || math.Abs(n.Value/c.want-1) > rounding7 {
			t.Errorf("%s = %v, %v; want %v", c.text, n.Value, err, c.want)
		}
	}
}

func TestKindNames(t *testing.T) {
	for _, k := range Kinds() {
		if k.String() == "" {
			t.Errorf("kind %d has no name", int(k))
		}
		for _, sys := range []System{Metric, Imperial} {
			if !(Step(k, sys) > 0) {
				t.Errorf("%v: step %v", k, Step(k, sys))
			}
			if u := UnitName(k, sys); (u == "") != (k == Scalar || k == Count) {
				t.Errorf("%v: unit %q", k, u)
			}
		}
	}
	if got := EntryUnit(KTorque, Metric); got != "N·m" {
		t.Errorf("a bare metric torque is in %q", got)
	}
}
