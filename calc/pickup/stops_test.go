package pickup

import (
	"math"
	"testing"

	"fliptrue/calc/frame"

	"pgregory.net/rapid"
)

// touched is where the spindle of a ball stands at a stop's flat face, found by drawing it: the stops turned by t
// about their corner, the ball moved along an axis until its centre is one radius off the face.
func touched(s Stops, corner frame.Vec, t, radius float64, wall frame.Wall, along float64) float64 {
	n := wall.Dir().Turned(t)       // out of the part, into the stop
	tangent := frame.Vec{X: 1}      // the axis along the face
	across := frame.Vec{X: 0, Y: 1} // and the one that is read
	if wall.Dir().X != 0 {
		tangent, across = frame.Vec{Y: 1}, frame.Vec{X: 1}
	}
	// Spindle at corner + along·tangent + r·across with n·(spindle - corner) = -radius.
	at := corner.Add(tangent.Times(along))
	r := (-radius - n.Dot(at.Sub(corner))) / n.Dot(across)
	p := at.Add(across.Times(r))
	if wall.Dir().X != 0 {
		return p.X
	}
	return p.Y
}

func TestStops(t *testing.T) {
	walls := [][2]frame.Wall{{frame.Away, frame.Left}, {frame.Toward, frame.Right}, {frame.Left, frame.Away}, {frame.Right, frame.Toward}}
	rapid.Check(t, func(t *rapid.T) {
		w := walls[rapid.IntRange(0, 3).Draw(t, "walls")]
		s := Stops{Long: w[0], End: w[1], At: [2]float64{rapid.Float64Range(5, 30).Draw(t, "a"), rapid.Float64Range(60, 110).Draw(t, "b")}, EndAt: rapid.Float64Range(-70, 70).Draw(t, "end")}
		corner := frame.Vec{X: rapid.Float64Range(-300, 0).Draw(t, "x"), Y: rapid.Float64Range(-200, 0).Draw(t, "y")}
		turn := rapid.Float64Range(-1e-3, 1e-3).Draw(t, "turn")
		read := func(wall frame.Wall, at float64) float64 { return touched(s, corner, turn, 1, wall, at) }
		f, err := s.Find(read(s.Long, s.At[0]), read(s.Long, s.At[1]), read(s.End, s.EndAt), Contact{Radius: 1, S: 0.001}, 0)
		if err != nil {
			t.Fatal(err)
		}
		if d := f.Corner.Sub(corner).Len(); d > 1.2e-4 || math.Abs(float64(f.Turn)-turn) > 1e-7 {
			t.Fatalf("corner off by %g, turn %g for %g", d, float64(f.Turn), turn)
		}
		if got, _ := s.Direction(read(s.Long, s.At[0]), read(s.Long, s.At[1]), Contact{}); math.Abs(float64(got)-turn) > 1e-7 {
			t.Fatalf("direction %g for %g", float64(got), turn)
		}
		// The covariance by moving each reading in turn.
		base := [3]float64{read(s.Long, s.At[0]), read(s.Long, s.At[1]), read(s.End, s.EndAt)}
		var cov [3][3]float64
		for i := range base {
			m := base
			m[i] += 1e-3
			g, _ := s.Find(m[0], m[1], m[2], Contact{Radius: 1, S: 0.001}, 0)
			d := [3]float64{g.Corner.X - f.Corner.X, g.Corner.Y - f.Corner.Y, float64(g.Turn - f.Turn)}
			for j := range d {
				for k := range d {
					cov[j][k] += d[j] * d[k]
				}
			}
		}
		for j := range cov {
			for k := range cov {
				if scale := math.Sqrt(cov[j][j]*cov[k][k]) + 1e-15; math.Abs(f.Cov[j][k]-cov[j][k]) > 0.4*scale { // jogged to by eye adds
					t.Fatalf("cov %d %d: %g, by differences %g", j, k, f.Cov[j][k], cov[j][k])
				}
			}
		}
	})
}

// Stops away at 20 and 90, left at -40, touched square with a ball of 1: drawn by hand.
func TestStopsByHand(t *testing.T) {
	s := Stops{Long: frame.Away, End: frame.Left, At: [2]float64{20, 90}, EndAt: -40}
	f, err := s.Find(-101, -100.93, -201+2, Contact{Radius: 1, S: 0.001}, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	// Turn 0.07/70 = 1 mrad; y = -101 + 1 - 20e-3; x = -199 - 1 - 40e-3.
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"turn", float64(f.Turn), 1e-3}, {"x", f.Corner.X, -200.04}, {"y", f.Corner.Y, -100.02}, {"var x", f.Cov[0][0], (1e-6+1e-6/3)*(1+2*1600/4900.0) + 4e-6},
		{"var y", f.Cov[1][1], (1e-6+1e-6/3)*(math.Pow(90/70.0, 2)+math.Pow(20/70.0, 2)) + 4e-6}, {"var turn", f.Cov[2][2], 2 * (1e-6 + 1e-6/3) / 4900}} {
		if math.Abs(c.got-c.want) > 1e-9*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s %.9g, want %.9g", c.what, c.got, c.want)
		}
	}
	for _, bad := range []Stops{{Long: frame.Away, End: frame.Toward, At: [2]float64{1, 2}}, {Long: frame.Away, End: frame.Left, At: [2]float64{2, 2}}} {
		if _, err := bad.Find(0, 0, 0, Contact{}, 0); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}
