package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Against sorting the angles.
func TestLargestGap(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	for trial := range 3000 {
		n := 2 + rng.IntN(40)
		ds, angles := make([]Point, n), make([]float64, n)
		for i := range ds {
			a := 2 * math.Pi * rng.Float64()
			switch trial % 3 {
			case 1:
				a = math.Pi / 4 * float64(rng.IntN(8))
			case 2:
				a = -0.3 + 0.6*rng.Float64()
			}
			r := 1 + rng.Float64()
			s, c := math.Sincos(a)
			ds[i] = Point{r * c, r * s}
			angles[i] = math.Atan2(ds[i].Y, ds[i].X)
		}
		slices.Sort(angles)
		want := angles[0] + 2*math.Pi - angles[n-1]
		for i := 1; i < n; i++ {
			want = max(want, angles[i]-angles[i-1])
		}
		if got := largestGap(ds); math.Abs(got-want) > 1e-9 {
			t.Fatalf("trial %d, %d directions: gap %.12g, by sorting %.12g", trial, n, got, want)
		}
	}
}
