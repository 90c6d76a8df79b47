package reuse

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/asmade"
	"fliptrue/calc/growth"

	"pgregory.net/rapid"
)

// A plate is laid out as it truly is: so much warmer than its thermometer says, and so much damper. Two bores give one number; a
// plate that is only warmer gives that warmth back, and there is a damper one, as warm as read, that no reading tells from it.
func TestHeatOrDamp(t *testing.T) {
	const alpha, steel, perRH = 20e-6, 11.7e-6, 2e-5
	made := growth.Air{C: 20, RH: 45, Read: true}
	read := func(shown, hidden, damper float64) Split {
		heat, err := growth.Since(growth.Temp{C: 20, Read: true}, growth.Temp{C: shown, Read: true}).Heat("plate",
			growth.Coef{Low: alpha, Nominal: alpha, High: alpha}, steel)
		if err != nil {
			t.Fatal(err)
		}
		is := shown + hidden - 20
		q := (1 + alpha*is + perRH*damper) / (1 + steel*is) // the machine's scales are as warm as the plate
		s, err := Scale{Q: q, U: 1e-6, Heat: heat, PerK: alpha - steel, Damp: asmade.Even(perRH), Made: made}.Split()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	rapid.Check(t, func(t *rapid.T) {
		shown, hidden := rapid.Float64Range(12, 30).Draw(t, "shown"), rapid.Float64Range(-10, 10).Draw(t, "hidden")
		hot := read(shown, hidden, 0)
		if math.Abs(hot.Warmer-hidden) > 0.01 {
			t.Fatalf("%g K warmer come back as %g", hidden, hot.Warmer)
		}
		wet := read(shown, 0, hidden*(alpha-steel)/perRH)
		if math.Abs(hot.Rest-wet.Rest) > 1e-7 || math.Abs(hot.Warmer-wet.Warmer) > 0.02 || math.Abs(hot.RH-wet.RH) > 0.01 {
			t.Fatalf("a plate %g K warmer and one damper are told apart: %+v %+v", hidden, hot, wet)
		}
	})
	// Its doubt, drawn: the spacing, and an expansion that is up to a tenth off.
	s, err := Scale{Q: 1 + 5*(alpha-steel), U: 5e-6, PerK: alpha - steel, UAlpha: 0.1 * alpha / math.Sqrt(3), Made: made}.Split()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(5, 8))
	var sum, sq float64
	const n = 40000
	for range n {
		k := (s.Rest + 5e-6*r.NormFloat64()) / (alpha*(1+0.1*(2*r.Float64()-1)) - steel)
		sum, sq = sum+k, sq+k*k
	}
	drawn := math.Sqrt(sq/n - sum*sum/n/n)
	near(t, "its doubt", s.WarmerG/1.645, drawn, 0.06*drawn) // what is divided by is a tenth off: second order
	alike, err := Scale{Q: 1.0001, U: 1e-6, PerK: 0.5e-6, Made: made}.Split()
	if err != nil || alike.Warmer != 0 {
		t.Errorf("a plate that grows as the machine does: %+v %v", alike, err)
	}
}
