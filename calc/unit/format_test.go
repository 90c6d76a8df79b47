package unit

import (
	"math"
	"strconv"
	"testing"
)

func TestRough(t *testing.T) {
	for _, c := range []struct {
		v    float64
		sys  System
		want string
	}{{60, Metric, "60"}, {60, Imperial, "8700"}, {0.4136854375901017, Metric, "0.414"}, {0.4136854375901017, Imperial, "60"}, {12000, Metric, "12000"}, {12345, Metric, "12300"}, {0, Metric, "0.0"}} {
		if got := Rough(c.v, KStress, c.sys); got != c.want {
			t.Errorf("%v in %v: %q, want %q", c.v, c.sys, got, c.want)
		}
	}
}

func TestFormat(t *testing.T) {
	const deg = math.Pi / 180
	for _, c := range []struct {
		v    float64
		kind Kind
		sys  System
		step float64
		want string
	}{
		{12.3456, KLength, Metric, 0, "12.346"},
		{-267.449875, KLength, Metric, 0, "-267.450"},
		{12.3456, KLength, Metric, 0.01, "12.35"},
		{12.3456, KLength, Metric, 0.002, "12.346"},
		{12.3456, KLength, Metric, 0.005, "12.346"},
		{12.3456, KLength, Metric, 0.025, "12.346"},
		{12.3456, KLength, Metric, 0.25, "12.35"},
		{12.3456, KLength, Metric, 0.5, "12.3"},
		{12.3456, KLength, Metric, 1, "12"},
		{12.3456, KLength, Metric, 10, "12"},
		{12.3456, KLength, Metric, 1e-30, "12.345600000"},
		{12.3456, KLength, Metric, -1, "12.346"},
		{12.3456, KLength, Metric, math.NaN(), "12.346"},
		{12.3456, KLength, Metric, math.Inf(1), "12.346"},
		{12.7, KLength, Imperial, 0, "0.5000"},
		{12.7, KLength, Imperial, 0.001, "0.5000"},    // a metric readout in an inch job
		{12.7, KLength, Imperial, 0.0127, "0.5000"},   // 0.0005 in
		{12.7, KLength, Imperial, 0.00127, "0.50000"}, // 0.00005 in
		{12.7, KLength, Metric, 0.00254, "12.700"},    // an inch readout in a metric job

		// Half away from zero on the decimal value, whichever side the binary form lies.
		{1.0005, KLength, Metric, 0, "1.001"},
		{-1.0005, KLength, Metric, 0, "-1.001"},
		{0.0005, KLength, Metric, 0, "0.001"},
		{0.0025, KLength, Metric, 0, "0.003"},
		{0.00049999, KLength, Metric, 0, "0.000"},
		{2.5, KLength, Metric, 1, "3"},
		{0.00005 * 25.4, KLength, Imperial, 0, "0.0001"},
		{999.9996, KLength, Metric, 0, "1000.000"},
		{9.5, KLength, Metric, 1, "10"},
		{0.9996, KLength, Metric, 0, "1.000"},
		{1e-300, KLength, Metric, 0, "0.000"},

		// Nothing but digits: no negative zero, no NaN, no overflow.
		{math.Copysign(0, -1), KLength, Metric, 0, "0.000"},
		{-0.0004, KLength, Metric, 0, "0.000"},
		{math.NaN(), KLength, Metric, 0, "-"},
		{math.Inf(1), KLength, Metric, 0, "-"},
		{math.Inf(-1), KLength, Imperial, 0, "-"},
		{1e12, KLength, Metric, 0, "-"},
		{-1e308, KStress, Metric, 0, "-"},
		{999999999999, KLength, Metric, 1, "999999999999"},

		{0.0057 * deg, KAngle, Metric, 0, "0.0057"},
		{-0.0077069 * deg, KAngle, Imperial, 0, "-0.0077"},
		{90 * deg, KAngle, Metric, 0, "90.0000"},
		{1e-4, KSlope, Metric, 0, "0.010"},  // 0.010 mm per 100 mm
		{1e-4, KSlope, Imperial, 0, "0.10"}, // 0.1 thou per in
		{58.1, KTorque, Metric, 0, "58"},    // mN·m
		{58.1, KTorque, Imperial, 0, "8.2"}, // in-oz: 58.1/7.0615518 = 8.2277 (computed here)
		{58.1, KTorque, Imperial, 0.01 * 7.0615518142, "8.23"},
		{52.44, KForce, Metric, 0, "52.4"},
		{44.482216152605, KForce, Imperial, 0, "10.0"},
		{35, KStress, Metric, 0, "35.0"},
		{6.894757293168361, KStress, Imperial, 0, "1000"},
		{20.45, KTemperature, Metric, 0, "20.5"},
		{20.45, KTemperature, Imperial, 0, "68.8"},
		{-20, KTemperature, Imperial, 0, "-4.0"},
		{20.45, KWarmth, Metric, 0, "20.5"},
		{1, KWarmth, Imperial, 0, "1.8"},
		{14.4, KDuration, Metric, 0, "14"},
		{3, Count, Metric, 0, "3"},
		{2.0416, Scalar, Metric, 0, "2.042"},
	} {
		if got := Format(c.v, c.kind, c.sys, c.step); got != c.want {
			t.Errorf("Format(%v, %v, %v, %v) = %q, want %q", c.v, c.kind, c.sys, c.step, got, c.want)
		}
	}
}

// Away from ties the digits are those of the standard library, which rounds the
// binary value correctly. (A fixed walk: no two steps of it hit a tie.)
func TestFormatAgainstStrconv(t *testing.T) {
	for i := range 20000 {
		v := math.Sin(float64(i)) * math.Pow(10, float64(i%12-6))
		for d, step := range []float64{1, 0.1, 0.01, 0.001, 0.0001} {
			want := strconv.FormatFloat(v, 'f', d, 64)
			if f, _ := strconv.ParseFloat(want, 64); f == 0 {
				want = strconv.FormatFloat(0, 'f', d, 64)
			}
			if got := Format(v, KLength, Metric, step); got != want {
				t.Fatalf("Format(%v, step %v) = %q, want %q", v, step, got, want)
			}
		}
	}
}

func TestSigned(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0.012, "+0.012"}, {-0.012, "-0.012"}, {0, "0.000"}, {0.0004, "0.000"}, {-0.0004, "0.000"}, {0.0005, "+0.001"}, {math.NaN(), "-"}} {
		if got := Signed(c.v, KLength, Metric, 0); got != c.want {
			t.Errorf("Signed(%v) = %q, want %q", c.v, got, c.want)
		}
	}
}

func TestFormatU(t *testing.T) {
	for _, c := range []struct {
		v, guard float64
		sys      System
		want     string
	}{
		{0.0097, 0.002362, Metric, "0.010 ± 0.003 mm"}, // up: 0.002 would claim too much
		{12.3456, 0.003, Metric, "12.346 ± 0.003 mm"},  // exact in decimals: not raised
		{12.3456, 0.9991, Metric, "12.346 ± 1.000 mm"},
		{12.3456, 0, Metric, "12.346 ± 0.000 mm"},
		{12.3456, 1e-20, Metric, "12.346 ± 0.001 mm"},
		{12.3456, -0.003, Metric, "12.346 ± 0.003 mm"},
		{12.7, 0.0508, Imperial, "0.5000 ± 0.0020 in"},
		{math.NaN(), math.Inf(1), Metric, "- ± - mm"},
	} {
		if got := FormatU(c.v, c.guard, KLength, c.sys, 0); got != c.want {
			t.Errorf("FormatU(%v, %v) = %q, want %q", c.v, c.guard, got, c.want)
		}
	}
}

func TestEcho(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		sys  System
		want string
	}{
		{"12,5", KLength, Metric, "12.5 mm"},
		{"+0012.340", KLength, Metric, "12.340 mm"},
		{".5", KLength, Imperial, "0.5 in"},
		{"-158.221", KLength, Metric, "-158.221 mm"},
		{"1/32in", KLength, Metric, "1/32 in = 0.79375 mm"},
		{"1/32", KLength, Imperial, "1/32 in"},
		{"-1 1/2in", KLength, Metric, "-1-1/2 in = -38.1 mm"},
		{"3mm", KLength, Imperial, "3 mm = 0.1181102... in"}, // 3/25.4 = 0.11811023...
		{"-3mm", KLength, Imperial, "-3 mm = -0.1181102... in"},
		{"0.0001um", KLength, Imperial, "0.0001 um = 0.000000003937007... in"},
		{"0.058", KTorque, Metric, "0.058 N·m = 58 mN·m"},
		{"58mNm", KTorque, Metric, "58 mN·m"},
		{"68F", KTemperature, Metric, "68 °F = 20 °C"},
		{"71F", KTemperature, Metric, "71 °F = 21.66... °C"},
		{"68F", KTemperature, Imperial, "68 °F"},
		{"20C", KTemperature, Imperial, "20 °C = 68 °F"},
		{"3K", KWarmth, Imperial, "3 K = 5.4 °F"},
		{"0.2mrad", KAngle, Metric, "0.2 mrad = 0.01145915... deg"}, // 0.2e-3*180/pi = 0.011459155...
		{"0.010/100", KSlope, Metric, "0.010/100 = 0.01 mm per 100 mm"},
		{"0.0012in/ft", KSlope, Metric, "0.0012in/ft = 0.01 mm per 100 mm"},
		{"0.010/100", KSlope, Imperial, "0.010/100 = 0.1 thou per in"},
		{"0.0001", KSlope, Metric, "0.0001 = 0.01 mm per 100 mm"},
		{"0.01 mm per 100 mm", KSlope, Metric, "0.01mm/100mm = 0.01 mm per 100 mm"},
		{"4", Count, Metric, "4"},
		{"1/4", Scalar, Metric, "1/4 = 0.25"},
		{"-0", Scalar, Metric, "0"},
	} {
		n, err := Parse(c.text, c.kind, c.sys)
		if got := Echo(n, c.sys); err != nil || got != c.want {
			t.Errorf("Echo of %q (%v) = %q, %v; want %q", c.text, c.kind, got, err, c.want)
		}
	}
	if got := Echo(Number{Value: 3.5, Kind: KLength, Unit: "mm"}, Metric); got != "3.500 mm" {
		t.Errorf("Echo of a computed number = %q", got)
	}
}

func TestWrite(t *testing.T) {
	for _, c := range []struct {
		v    float64
		kind Kind
		sys  System
		want string
	}{
		{12.345, KLength, Metric, "12.345mm"},
		{12.7, KLength, Imperial, "0.5in"},
		{0.79375, KLength, Imperial, "0.03125in"},
		{0, KLength, Metric, "0mm"},
		{math.Copysign(0, -1), KLength, Metric, "0mm"},
		{-1e-30, KLength, Metric, "0mm"},
		{1e-7, KLength, Metric, "0.0000001mm"},
		{1e-4, KSlope, Metric, "0.01mm/100mm"},
		{1e-4, KSlope, Imperial, "0.1thou/in"},
		{0.0008726646259971648, KAngle, Metric, "0.05deg"},
		{1.0 / 3, Scalar, Metric, "0.3333333333333333"},
		{20, KTemperature, Imperial, "68F"},
		{1, KWarmth, Imperial, "1.8F"},
		{math.NaN(), KLength, Metric, ""},
		{math.Inf(-1), KLength, Metric, ""},
		{10001, KLength, Metric, ""},
	} {
		if got := Write(c.v, c.kind, c.sys); got != c.want {
			t.Errorf("Write(%v, %v, %v) = %q, want %q", c.v, c.kind, c.sys, got, c.want)
		}
	}
}
