package fit

import (
	"flag"
	"math"
	"reflect"
	"testing"

	"fliptrue/calc/budget"
	"pgregory.net/rapid"
)

// One seed, so that a run is the same everywhere; -rapid.seed on the command line wins.
func init() {
	if err := flag.Set("rapid.seed", "20260301"); err != nil {
		panic(err)
	}
}

// move is a rigid motion with a change of scale.
type move struct {
	by    Point
	turn  float64
	scale float64
}

func drawMove(t *rapid.T) move {
	return move{Point{rapid.Float64Range(-400, 400).Draw(t, "x"), rapid.Float64Range(-400, 400).Draw(t, "y")},
		rapid.Float64Range(-3, 3).Draw(t, "turn"), rapid.SampledFrom([]float64{1, 25.4, 1 / 25.4}).Draw(t, "scale")}
}

func (m move) point(p Point) Point {
	q := turned(p, m.turn)
	return Point{m.scale*q.X + m.by.X, m.scale*q.Y + m.by.Y}
}

func (m move) points(ps []Point) []Point {
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[i] = m.point(p)
	}
	return out
}

func drawHits(t *rapid.T) []Point {
	n := rapid.IntRange(5, 24).Draw(t, "n")
	r := rapid.Float64Range(1, 40).Draw(t, "r")
	ps := make([]Point, n)
	for i := range ps {
		a := 2*math.Pi*float64(i)/float64(n) + rapid.Float64Range(-0.1, 0.1).Draw(t, "a")
		d := r + rapid.Float64Range(-0.03, 0.03).Draw(t, "d")
		ps[i] = Point{d * math.Cos(a), d * math.Sin(a)}
	}
	return ps
}

func close(t *rapid.T, what string, got, want, tol float64) {
	if !(math.Abs(got-want) <= tol) {
		t.Fatalf("%s = %.12g, want %.12g", what, got, want)
	}
}

// Moving, turning and scaling the hits moves, turns and scales the circle; residuals,
// arc and iteration do not care where the machine's zero is.
func TestCircleMovesWithItsHits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps, m := drawHits(t), drawMove(t)
		a, err := ToCircle(ps)
		if err != nil {
			t.Fatal(err)
		}
		b, err := ToCircle(m.points(ps))
		if err != nil {
			t.Fatal(err)
		}
		c := m.point(a.Center)
		tol := 1e-11 * (400 + 40*m.scale)
		close(t, "x", b.Center.X, c.X, tol)
		close(t, "y", b.Center.Y, c.Y, tol)
		close(t, "R", b.Radius, m.scale*a.Radius, tol)
		close(t, "rms", b.RMS, m.scale*a.RMS, tol)
		close(t, "arc", b.Arc, a.Arc, 1e-9)
		close(t, "u", b.UCenter.V, m.scale*a.UCenter.V, tol)
	})
}

// Lines and planes move with their points too.
func TestLineAndPlaneMoveWithTheirPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMove(t)
		n := rapid.IntRange(4, 12).Draw(t, "n")
		ps, zs := make([]Point, n), make([]Point3, n)
		for i := range ps {
			ps[i] = Point{20 * float64(i), rapid.Float64Range(-0.5, 0.5).Draw(t, "y")}
			zs[i] = Point3{ps[i].X, 30 * float64(i%3), rapid.Float64Range(-0.1, 0.1).Draw(t, "z")}
		}
		a, err := ToOrthogonal(ps)
		if err != nil {
			t.Fatal(err)
		}
		b, err := ToOrthogonal(m.points(ps))
		if err != nil {
			t.Fatal(err)
		}
		d := math.Mod(b.Angle-a.Angle-m.turn, math.Pi)
		close(t, "angle", math.Abs(math.Sin(d)), 0, 1e-11)
		close(t, "s", b.S.V, m.scale*a.S.V, 1e-10*m.scale)
		l, err := ToLine(ps)
		if err != nil {
			t.Fatal(err)
		}
		shifted := make([]Point, n)
		for i, p := range ps {
			shifted[i] = Point{p.X + m.by.X, p.Y + m.by.Y}
		}
		k, _ := ToLine(shifted)
		close(t, "slope", k.Slope, l.Slope, 1e-13)
		at, _ := k.At(m.by.X)
		close(t, "line", at-m.by.Y, l.Intercept, 1e-11)
		p, err := ToPlane(zs)
		if err != nil {
			t.Fatal(err)
		}
		moved := make([]Point3, n)
		for i, z := range zs {
			q := move{m.by, m.turn, 1}.point(Point{z.X, z.Y})
			moved[i] = Point3{q.X, q.Y, z.Z}
		}
		q, err := ToPlane(moved)
		if err != nil {
			t.Fatal(err)
		}
		g := turned(Point{p.B, p.C}, m.turn)
		close(t, "tilt x", q.B, g.X, 1e-13)
		close(t, "tilt y", q.C, g.Y, 1e-13)
		close(t, "range", q.Range.V, p.Range.V, 1e-11)
	})
}

// The same motion, read at witnesses moved and turned with the part's coordinates.
func TestMotionIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		by := Point{rapid.Float64Range(-.05, .05).Draw(t, "dx"), rapid.Float64Range(-.05, .05).Draw(t, "dy")}
		rot := rapid.Float64Range(-1e-3, 1e-3).Draw(t, "rot")
		lift, tx, ty := rapid.Float64Range(-.05, .05).Draw(t, "lift"), rapid.Float64Range(-1e-3, 1e-3).Draw(t, "tx"), rapid.Float64Range(-1e-3, 1e-3).Draw(t, "ty")
		refit := Point3{rapid.Float64Range(-1, 1).Draw(t, "rx"), rapid.Float64Range(-1, 1).Draw(t, "ry"), rapid.Float64Range(-1, 1).Draw(t, "rz")}
		var ws []Witness
		add := func(a Axis, p Point, d float64, r float64) {
			base := []float64{p.X, p.Y, -3}[a]
			ws = append(ws, Witness{a, p, []float64{base, base + 0.001}, []float64{base + d + r, base + d + r + 0.001}})
		}
		for _, p := range []Point{{0, 27}, {0, 5}} {
			add(AxisX, p, by.X-rot*p.Y, refit.X)
		}
		for _, p := range []Point{{7, 0}, {77, 0}} {
			add(AxisY, p, by.Y+rot*p.X, refit.Y)
		}
		for _, p := range []Point{{5, 5}, {79, 5}, {79, 49}, {5, 49}} {
			add(AxisZ, p, lift+tx*p.X+ty*p.Y, refit.Z)
		}
		m, err := ToMotion(ws, Reference{Before: Point3{1, 2, 3}, After: Point3{1 + refit.X, 2 + refit.Y, 3 + refit.Z}, Q: [3]float64{1, 1, 1}}, budget.Spread{S: 0.001, Dof: 30})
		if err != nil {
			t.Fatal(err)
		}
		close(t, "dx", m.Move.X, by.X, 1e-12)
		close(t, "dy", m.Move.Y, by.Y, 1e-12)
		close(t, "turn", m.Turn, rot, 1e-13)
		close(t, "lift", m.Lift, lift, 1e-12)
		close(t, "tilt", m.TiltX, tx, 1e-13)
		close(t, "tilt", m.TiltY, ty, 1e-13)
		if m.S != 0.001 || m.BadVerdict != Clean || len(m.Bad) != 0 {
			t.Fatalf("s %g, verdict %v, bad %v", m.S, m.BadVerdict, m.Bad)
		}
	})
}

// Whatever is given, a fit is an error or free of NaN and Inf.
func TestNothingIsNaN(t *testing.T) {
	num := rapid.OneOf(rapid.Float64Range(-500, 500), rapid.SampledFrom([]float64{0, 1, 2, 1e-9, -1e-9, 1e6, 1e-300, 1e14, -1e14, 5, 5 + 1e-12}))
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 9).Draw(t, "n")
		ps, zs := make([]Point, n), make([]Point3, n)
		xs, ys := make([]float64, n), make([]float64, n)
		faces := make([]FaceHit, n)
		var ds []Difference
		for i := range ps {
			ps[i] = Point{num.Draw(t, "x"), num.Draw(t, "y")}
			zs[i] = Point3{ps[i].X, ps[i].Y, num.Draw(t, "z")}
			xs[i], ys[i] = ps[i].X, ps[i].Y
			faces[i] = FaceHit{ps[i], Direction(rapid.IntRange(0, 3).Draw(t, "d"))}
			ds = append(ds, Difference{Axis(rapid.IntRange(0, 2).Draw(t, "axis")), ps[i], zs[i].Z, 1})
		}
		check := func(what string, v any, err error) {
			if err == nil {
				if bad := notFinite(reflect.ValueOf(v)); bad != "" {
					t.Fatalf("%s of %v: %s in %+v", what, zs, bad, v)
				}
			} else if err.Error() == "" {
				t.Fatalf("%s: empty error", what)
			}
		}
		l, err := ToLine(ps)
		check("line", l, err)
		l, err = ToOrigin(ps)
		check("line through the origin", l, err)
		o, err := ToOrthogonal(ps)
		check("orthogonal line", o, err)
		c, err := ToCircle(ps)
		check("circle", c, err)
		h, err := NameHit(ps, Bore, known)
		check("naming", h, err)
		h, err = NameHit(ps, Boss, budget.Spread{})
		check("naming without a probe", h, err)
		p, err := ToPlane(zs)
		check("plane", p, err)
		if err == nil {
			check("point", p.NamePoint(known), nil)
			check("shims", p.Shims(ps), nil)
		}
		s, err := ToSweep(xs, ys, 60)
		check("sweep", s, err)
		e, err := Run{Stations: xs, Readings: ys, Scale: Scale{V: -1}, Graduation: 0.001, Closing: Known(1)}.Edge()
		check("edge", e, err)
		k, err := ToCorner(faces, EvenBall(1))
		check("corner", k, err)
		m, err := SolveMotion(ds, [3]float64{1, 1, 1}, known)
		check("motion", m, err)
	})
}

// notFinite walks exported fields and returns the path of the first NaN or Inf.
func notFinite(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return "value"
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if s := notFinite(v.Index(i)); s != "" {
				return s
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if f.Name == "Dof" || !f.IsExported() { // +Inf means known exactly
				continue
			}
			if s := notFinite(v.Field(i)); s != "" {
				return f.Name + "." + s
			}
		}
	}
	return ""
}
