package fit

import (
	"math"
	"testing"
)

// Against the circle fitted through hits that a lobed probe takes, in the worst of many attitudes.
func TestLobingByFit(t *testing.T) {
	const a, r = 1e-4, 4.0
	for lobes := 2; lobes <= 6; lobes++ {
		for n := 3; n <= 9; n++ {
			worst := 0.0
			for k := range 48 {
				phase := 2 * math.Pi * float64(k) / 48
				for m := range 16 {
					turn := 2 * math.Pi * float64(m) / 16 / float64(n)
					ps := make([]Point, n)
					for i := range ps {
						phi := turn + 2*math.Pi*float64(i)/float64(n)
						d := r + a*math.Cos(float64(lobes)*phi+phase)
						ps[i] = Point{d * math.Cos(phi), d * math.Sin(phi)}
					}
					c, err := ToCircle(ps)
					if err != nil {
						t.Fatal(err)
					}
					worst = math.Max(worst, c.Center.Len())
				}
			}
			if want := Lobing(n, lobes); math.Abs(worst/a-want) > 0.02*math.Max(1, want) {
				t.Errorf("%d hits, %d lobes: centre off by %.3f of the lobe, Lobing says %g", n, lobes, worst/a, want)
			}
		}
	}
	if Lobing(4, 3) != 1 || Lobing(6, 3) != 0 || Lobing(2, 3) != 0 {
		t.Error("three lobes: whole with four hits, none with six")
	}
}
