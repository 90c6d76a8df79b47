package frame

import (
	"math"
	"testing"
)

// A bore of 7.986 in a fixture whose two bores say 5.35e-4 of growth: 7.990, and 7.990 is sound.
func TestBoreGrown(t *testing.T) {
	b, err := BoreGrown(7.9903, 7.986, 1+5.3501e-4, 0.001, 0.001, 2e-5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wanted", b.Want, 7.990273, 1e-6)
	near(t, "off", b.Off, 0.000027, 1e-6)
	near(t, "u", b.U, math.Sqrt(1e-6+1.0005350*1.0005350*1e-6+7.986*7.986*4e-10), 1e-9)
	for _, bad := range [][2]float64{{0, 1}, {8, 1.1}, {8, math.NaN()}} {
		if _, err := BoreGrown(bad[0], 8, bad[1], 0, 0, 0); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}
