package unit_test

import (
	"fmt"
	"testing"

	"fliptrue/calc/unit"
)

func ExampleParse() {
	for _, text := range []string{"12,5", "1/32in", "5Nm", "1,234.5"} {
		n, err := unit.Parse(text, unit.KLength, unit.Metric)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(unit.Echo(n, unit.Metric))
	}
	// Output:
	// 12.5 mm
	// 1/32 in = 0.79375 mm
	// "5Nm": a length is asked, N·m is a torque; units: mm, um, cm, m, in, thou, ft
	// "1,234.5": both a point and a comma: which is the decimal point is not certain; type it without grouping, with one decimal point
}

func ExampleShow() {
	const slope = 0.010 / 100
	fmt.Println(unit.Show(slope, unit.KSlope, unit.Metric, 0))
	fmt.Println(unit.Show(slope, unit.KSlope, unit.Imperial, 0))
	fmt.Println(unit.Show(58.1, unit.KTorque, unit.Metric, 0))
	fmt.Println(unit.Show(58.1, unit.KTorque, unit.Imperial, 0))
	// Output:
	// 0.010 mm per 100 mm
	// 0.10 thou per in
	// 58 mN·m
	// 8.2 in-oz
}

func ExampleSlips() {
	w := unit.Window{Want: 12.346, Half: 0.5}
	for _, text := range []string{"123.46", "-12.346", "0.48606", "12.5"} {
		n, _ := unit.Parse(text, unit.KLength, unit.Metric)
		for _, s := range unit.Slips(n.Value, w, unit.SlipContext{Kind: unit.KLength, Text: text}) {
			fmt.Println(s.Words)
		}
	}
	// Output:
	// looks like the decimal point one place too far right: 123.46 / 10
	// looks like the wrong sign: -12.346
	// looks like inches typed as mm: 0.48606 x 25.4
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := unit.Parse("-312.4450", unit.KLength, unit.Metric); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormat(b *testing.B) {
	for b.Loop() {
		unit.Format(-312.4451, unit.KLength, unit.Metric, 0.001)
	}
}
