package inspect

import (
	"testing"

	"fliptrue/calc/fit"

	"pgregory.net/rapid"
)

// Second look: side 1's outline is scaled about where it was held, side 2's is the drawing's; the steps between them, laid out face by
// face, make the displacement that growth is said to make.
func TestGrewByItsOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, g := rapid.Float64Range(20, 300).Draw(t, "length"), rapid.Float64Range(-1e-3, 1e-3).Draw(t, "growth")
		held := rapid.Float64Range(0, 1).Draw(t, "held") * l
		face := func(at float64) float64 { return held + (1+g)*(at-held) } // of side 1, by now
		right, left := l-face(l), face(0)                                  // side 2 less side 1, further out is +
		steps := []Step{{Face: fit.XPlus, Height: right}, {Face: fit.XMinus, Height: left}, {Face: fit.YPlus}, {Face: fit.YMinus}}
		for i := range steps {
			steps[i].U = 0.001
		}
		m, err := ToMismatch(steps, nil)
		if err != nil {
			t.Fatal(err)
		}
		if d := m.DX - Grew(g, l/2-held); d > 1e-12 || d < -1e-12 {
			t.Fatalf("the steps say %.6f, growth by %.2g from %.1f of %.1f says %.6f", m.DX, g, held, l, Grew(g, l/2-held))
		}
	})
}
