package given

import (
	"math"
	"strings"
	"testing"
)

func TestRefuses(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, f := range []func(...any) error{Finite, Above} {
			if err := f("a", 1.0, "width", bad); err == nil || !strings.Contains(err.Error(), "width is ") {
				t.Errorf("%g: %v", bad, err)
			}
			if err := f("width", bad, "a", 1.0); err == nil {
				t.Errorf("%g was taken", bad)
			}
		}
	}
	for _, low := range []float64{0, -1} {
		if Finite("a", low) != nil || Above("a", low) == nil {
			t.Errorf("%g", low)
		}
	}
	if Finite() != nil || Above("a", 1e-300) != nil {
		t.Error("good numbers were refused")
	}
}
