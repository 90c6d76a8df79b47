package register

import (
	"math"
	"testing"

	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
	"pgregory.net/rapid"
)

// A fixture that grew by g takes its part along: by matrices, the same part on a fixture whose scale is 1 + g. Each axis for
// itself, once the part is in, and only where one bore leaves it open.
func TestDampFixtureTakesThePartAlong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, q := drawSetup(t), drawVec(t, "q", 90)
		f := &s.Offset.Fixture
		f.Skew, f.Q, f.Cov = 0, 1, frame.Independent(1e-3, 1e-3, 1e-5, 0)
		g := rapid.Float64Range(-1e-3, 1e-3).Draw(t, "g")
		dry := s.At(Feature{"a", q})
		grown := *f
		grown.Q = 1 + g
		want := stands(grown, q).Sub(stands(*f, q))
		s.Damp, _ = growth.Damp(growth.Coef{Low: 1e-5, Nominal: 1e-5, High: 1e-5}, growth.Air{RH: 50, Read: true}, growth.Air{RH: 50 + 2*g/1e-5, Read: true})
		damp := s.At(Feature{"a", q})
		near(t, "x", damp.Error[0]-dry.Error[0], want.X, 1e-9)
		near(t, "y", damp.Error[1]-dry.Error[1], want.Y, 1e-9)
		// by hand: half of the way either way
		near(t, "half of it", line(t, damp.Lines[0], "humidity").Std()*math.Sqrt(3), math.Abs(want.X), 1e-9)
		near(t, "hygrometers", line(t, damp.Lines[1], "humidity, hygrometers").Std()*math.Sqrt(3), 1e-5*3*math.Sqrt2*math.Abs(f.V.Y+f.Held.Y), 1e-9)
		bare := s
		bare.In = false
		none(t, bare.At(Feature{"a", q}).Lines[0], "humidity")
		f.Cov[3][3] = 1e-12
		none(t, s.At(Feature{"a", q}).Lines[0], "humidity")
	})
}

// Side 1 was cut somewhere else than the fixture was made: its own line over what lies between the wall and the feature.
func TestLeadOfSide1(t *testing.T) {
	c := &Close{Lead: Lead{Per300: 0.03, Moved: &[2]float64{20, 20}, Side1: 20}}
	p := Part{Size: [3]float64{84, 54, 14}, Against: []frame.Wall{frame.Left, frame.Away}}
	o := Offset{Fixture: frame.Fixture{V: frame.Vec{X: 45, Y: 20}, Q: 1}}
	for _, w := range []struct {
		at   frame.Vec
		want [2]float64
	}{{frame.Vec{X: 60, Y: 50}, [2]float64{0.002, 0.0004}}, {frame.Vec{X: 10, Y: 14}, [2]float64{0.001, 0.002}}} {
		for axis, want := range w.want {
			near(t, "half width", line(t, c.lines(o, Machine{}, p, w.at, axis), "lead of side 1").Value, want, 1e-12)
		}
	}
	c.Lead.Side1 = 0
	none(t, c.lines(o, Machine{}, p, frame.Vec{X: 60}, 0), "lead of side 1")
}
