package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// u(angle) of an orthogonal line against the scatter of the angle over many simulated faces:
// ball centres along a face, error in both coordinates.
func TestUAngleBySimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const sets, s = 4000, 0.002
	var sum, squares, said float64
	for range sets {
		ps := make([]Point, 8)
		for i := range ps {
			x := 10 * float64(i)
			ps[i] = Point{x*math.Cos(0.6) + s*rng.NormFloat64(), x*math.Sin(0.6) + s*rng.NormFloat64()}
		}
		l, err := ToOrthogonal(ps)
		if err != nil || !l.UAngle.Has {
			t.Fatal(err)
		}
		sum, squares, said = sum+l.Angle, squares+l.Angle*l.Angle, said+l.UAngle.V*l.UAngle.V
	}
	mean := sum / sets
	seen, stated := math.Sqrt(squares/sets-mean*mean), math.Sqrt(said/sets)
	if math.Abs(seen/stated-1) > 0.05 { // 1/√(2 sets) is 0.011
		t.Errorf("angles scatter by %.3g, u(angle) says %.3g", seen, stated)
	}
	if l, _ := ToOrthogonal([]Point{{0, 0}, {1, 1}}); l.UAngle.Has {
		t.Error("two points know their own error")
	}
}
