package frame

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"pgregory.net/rapid"
)

const deg = math.Pi / 180

func near(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tol)
	}
}

func nearVec(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want Vec, tol float64) {
	t.Helper()
	near(t, what+" x", got.X, want.X, tol)
	near(t, what+" y", got.Y, want.Y, tol)
}

func drawVec(t *rapid.T, what string, most float64) Vec {
	r := rapid.Float64Range(-most, most)
	return Vec{r.Draw(t, what+" x"), r.Draw(t, what+" y")}
}

func drawMotion(t *rapid.T, what string) Motion {
	return Motion{unit.Angle(rapid.Float64Range(-4, 4).Draw(t, what+" turn")), drawVec(t, what, 400)}
}

// Half a femtometre a millimetre: what double precision leaves of 400 mm turned a few times.
const tiny = 1e-11

func TestMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMotion(t, "m")
		p, q := drawVec(t, "p", 400), drawVec(t, "q", 400)
		nearVec(t, "move", m.Move(p), m.Apply(p).Sub(p), tiny)
		near(t, "distance kept", m.Apply(p).Sub(m.Apply(q)).Len(), p.Sub(q).Len(), tiny)
		c := p.Sub(q)
		to := m.Apply(p).Sub(m.Apply(q))
		near(t, "turned by its angle", math.Remainder(math.Atan2(c.Cross(to), c.Dot(to))-float64(m.Turn), 2*math.Pi), 0, 1e-9)

		// The Jacobian against differences of the motion itself.
		const h = 1e-5
		j := m.Jacobian(p)
		for k, d := range []Motion{{0, Vec{h, 0}}, {0, Vec{0, h}}, {h, Vec{}}} {
			hi := Motion{m.Turn + d.Turn, m.Shift.Add(d.Shift)}.Apply(p)
			lo := Motion{m.Turn - d.Turn, m.Shift.Sub(d.Shift)}.Apply(p)
			nearVec(t, "jacobian", Vec{j[0][k], j[1][k]}, hi.Sub(lo).Times(1/(2*h)), 1e-5)
		}
	})
}

// A small turn keeps its digits where cos θ - 1 would lose them: x error -θ²x/2 at 1e-9 rad is 5e-17 mm at 100 mm.
func TestMoveSmall(t *testing.T) {
	d := Motion{Turn: 1e-9}.Move(Vec{100, 0})
	near(t, "x", d.X, -5e-17, 1e-24)
	near(t, "y", d.Y, 1e-7, 1e-20)
}

func TestCovAtMotion(t *testing.T) {
	// dx, dy independent, a turn of 1e-4 rad: levers of 60 and 80 mm
	c := Motion{}.CovAt(Vec{80, 60}, [3][3]float64{{4e-6}, {0, 1e-6}, {0, 0, 1e-8}})
	u := c.U()
	near(t, "u x", u.X, math.Sqrt(4e-6+0.006*0.006), 1e-12)
	near(t, "u y", u.Y, math.Sqrt(1e-6+0.008*0.008), 1e-12)
	near(t, "cov", c[0][1], -0.006*0.008, 1e-12)
}

func TestMiddle(t *testing.T) {
	nearVec(t, "middle", Middle([]Vec{{0, 0}, {84, 0}, {10, 54}, {84, 20}}), Vec{42, 27}, 0)
	nearVec(t, "none", Middle(nil), Vec{}, 0)
}
