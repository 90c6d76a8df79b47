package fit

import (
	"math"
	"testing"
)

// A small shop to measure in: straight edges, round bores and pins, balls and dials as
// shapes, found by walking along rays until the surface is met. It shares no formula with
// the package: no least squares, no scale, no small-angle step.

// surface is where a shape is solid: inside is negative, outside positive.
type surface func(Point) float64

// edgeSurface is a half plane through at whose solid lies on the far side of faces,
// turned by turn about pivot.
func edgeSurface(faces Direction, pivot Point, turn float64) surface {
	return func(p Point) float64 {
		q := turned(p.Sub(pivot), -turn)
		f := faces.Vec()
		return q.X*f.X + q.Y*f.Y
	}
}

func turned(p Point, a float64) Point {
	s, c := math.Sincos(a)
	return Point{c*p.X - s*p.Y, s*p.X + c*p.Y}
}

func roundPin(c Point, r float64) surface {
	return func(p Point) float64 { return math.Hypot(p.X-c.X, p.Y-c.Y) - r }
}
func roundBore(c Point, r float64) surface {
	return func(p Point) float64 { return r - math.Hypot(p.X-c.X, p.Y-c.Y) }
}

// meet walks from p along the unit vector u, at most reach, to where s turns solid.
func meet(s surface, p, u Point, reach float64) float64 {
	lo, hi := 0.0, reach
	if s(p) <= 0 || s(Point{p.X + hi*u.X, p.Y + hi*u.Y}) > 0 {
		panic("no surface on the way")
	}
	for range 100 {
		mid := (lo + hi) / 2
		if s(Point{p.X + mid*u.X, p.Y + mid*u.Y}) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// needle is a dial whose carrier stands at p and whose stylus looks for the surface
// against the way it faces. Pushed the way the edge pushes it, the needle goes clockwise
// or not; it shows gain times the push.
type needle struct {
	clockwise bool
	gain      float64
	zero      float64
}

func (n needle) read(s surface, carrier Point, faces Direction) float64 {
	f := faces.Vec()
	// the free stylus reaches 2 beyond the carrier; the edge pushes it back
	push := 2 - meet(s, Point{carrier.X + 8*f.X, carrier.Y + 8*f.Y}, Point{-f.X, -f.Y}, 20) + 8
	if !n.clockwise {
		push = -push
	}
	return n.zero + n.gain*push
}

// Every facing, needle sense, tilt sign, pivot end and way to the scale: doing what the
// result says leaves an edge that is square, and a dial left standing there moves by what
// it said.
func TestIndicatorSignsExhaustively(t *testing.T) {
	cases := 0
	for _, faces := range []Direction{XPlus, XMinus, YPlus, YMinus} {
		for _, clockwise := range []bool{true, false} {
			for _, turn := range []float64{0.4e-3, -0.4e-3} {
				for _, pivotAt := range []float64{0, 60, 120} {
					for _, jogged := range []bool{true, false} {
						cases++
						dial := needle{clockwise: clockwise, gain: 1 / math.Cos(rad(25)), zero: 0.137}
						alongY := faces.AlongX()
						place := func(u float64) Point {
							if alongY {
								return Point{0, u}
							}
							return Point{u, 0}
						}
						pivot := place(pivotAt)
						now := edgeSurface(faces, pivot, turn)
						r := Run{AlongY: alongY, Graduation: 0.001}
						if jogged {
							to := Point{0, 0.2}
							if alongY {
								to = Point{0.2, 0}
							}
							s, err := JogScale(0.2, dial.read(now, place(0), faces), dial.read(now, place(0).Add(to), faces), 0.001)
							if err != nil {
								t.Fatal(err)
							}
							r.Scale = s
						} else {
							r.Scale = NeedleScale(faces, clockwise, rad(25), 0)
						}
						for u := 0.0; u <= 120; u += 20 {
							r.Stations = append(r.Stations, u)
							r.Readings = append(r.Readings, dial.read(now, place(u), faces))
						}
						r.Closing = Known(r.Readings[0])
						e, err := r.Edge()
						if err != nil {
							t.Fatal(err)
						}
						name := [...]string{"right", "left", "away", "toward"}[faces]
						if math.Abs(e.Theta-turn) > 1e-9 {
							t.Errorf("faces %s, clockwise %v: theta %.6g, is %.6g", name, clockwise, e.Theta, turn)
						}
						// tap: the far end (or both, about the middle) is pushed by Move along + of
						// the facing axis; a rigid fixture turns about its pivot
						at := 120.0
						if pivotAt == 120 {
							at = 0
						}
						tap := tapOf(e, pivotAt, at)
						arm := at - pivotAt
						by := math.Asin(tap.move / arm)
						if alongY {
							by = -by // a push toward +X at +Y turns it clockwise
						}
						after := edgeSurface(faces, pivot, turn+by)
						if math.Abs(turn+by) > 0.01*math.Abs(turn) {
							t.Errorf("faces %s, clockwise %v, turn %g, pivot %g, jog %v: %g left after the tap", name, clockwise, turn, pivotAt, jogged, turn+by)
						}
						moved := dial.read(after, place(at), faces) - dial.read(now, place(at), faces)
						if math.Abs(moved-tap.needle) > 1e-6 {
							t.Errorf("faces %s, clockwise %v, turn %g, pivot %g: needle moved %.6f, said %.6f", name, clockwise, turn, pivotAt, moved, tap.needle)
						}
					}
				}
			}
		}
	}
	if cases != 4*2*2*3*2 {
		t.Errorf("%d cases walked", cases)
	}
}

// A dial carried round by the spindle inside a bore and outside a pin, either needle
// sense, offset into every quarter: making the move puts the axis on the centre.
func TestSweptInsideAndOutside(t *testing.T) {
	for _, outside := range []bool{false, true} {
		for _, sense := range []float64{1, -1} {
			for q := range 8 {
				c := Point{-312.445 + 0.012*math.Cos(float64(q)), -158.221 + 0.012*math.Sin(float64(q))}
				at := Point{-312.445, -158.221}
				wall, start := roundBore(c, 4), 0.0
				if outside {
					wall, start = roundPin(c, 4), 12
				}
				read := func(axis Point, d Direction) float64 {
					u := d.Vec()
					if !outside {
						return sense * 0.98 * meet(wall, axis, u, 12)
					}
					return sense * 0.98 * (start - meet(wall, Point{axis.X + start*u.X, axis.Y + start*u.Y}, Point{-u.X, -u.Y}, 12))
				}
				sc, err := JogScale(0.1, read(at, XPlus), read(at.Add(Point{0.1, 0}), XPlus), 0.002)
				if err != nil {
					t.Fatal(err)
				}
				s, err := ToSwept(at, SweptReadings{read(at, XPlus), read(at, XMinus), read(at, YPlus), read(at, YMinus)}, sc, 0.002)
				if err != nil {
					t.Fatal(err)
				}
				if d := s.Center.Sub(c).Len(); d > 1e-4 {
					t.Errorf("outside %v, sense %g, quarter %d: centre off by %g", outside, sense, q, d)
				}
				if math.Abs(s.Redundancy) > 1e-4 {
					t.Errorf("redundancy %g in a round bore", s.Redundancy)
				}
			}
		}
	}
}

// Hole centre and diameter from four touches: first an X pair wherever the probe came
// down, then a Y pair at the new X, then an X pair again; diameter = difference + 2 tip
// radii; the difference of the diameters checks the shape. Source of the procedure:
// NISTIR 6556, 3.5.9.3 and Table 6 (verified copy); it prints no numbers, so the hole is
// simulated here.
func TestHoleFromTouches(t *testing.T) {
	c, tip, hole := Point{3.417, -8.209}, 0.5, 6.0
	ball := roundBore(c, hole-tip) // where the ball's centre can go
	at := Point{4.9, -6.8}
	pair := func(at Point, plus, minus Direction) (float64, float64) {
		p, m := meet(ball, at, plus.Vec(), 30), meet(ball, at, minus.Vec(), 30)
		if plus.AlongX() {
			return at.X + p, at.X - m
		}
		return at.Y + p, at.Y - m
	}
	var h Touches
	h.XPlus, h.XMinus = pair(at, XPlus, XMinus)
	if d := h.XPlus - h.XMinus + 2*tip; d > 2*hole-0.1 {
		t.Fatalf("first pair is no chord: %g", d)
	}
	at.X = h.Center().X
	h.YPlus, h.YMinus = pair(at, YPlus, YMinus)
	at.Y = h.Center().Y
	h.XPlus, h.XMinus = pair(at, XPlus, XMinus)
	near(t, "x", h.Center().X, c.X, 1e-9)
	near(t, "y", h.Center().Y, c.Y, 1e-9)
	near(t, "diameter along X", h.XPlus-h.XMinus+2*tip, 12, 1e-9)
	near(t, "diameter along Y", h.YPlus-h.YMinus+2*tip, 12, 1e-9)
}

// Corners inside and outside, all four quadrants, turned faces: probed by a ball, the
// corner comes out where the shape has it.
func TestCornerAllQuadrants(t *testing.T) {
	at, r := Point{12.3, -45.6}, 0.991
	for _, dx := range []Direction{XPlus, XMinus} {
		for _, dy := range []Direction{YPlus, YMinus} {
			for _, a := range [][2]float64{{0.01, -0.02}, {-0.03, 0.015}, {0, 0}} {
				fx := edgeSurface(opposite(dx), at, a[0])
				fy := edgeSurface(opposite(dy), at, a[1])
				ball := func(s surface) surface { return func(p Point) float64 { return s(p) - r } }
				var hits []FaceHit
				for _, k := range []float64{8, 30, 51} {
					p := Point{at.X - 20*dx.Sign(), at.Y + k*dy.Sign()}
					d := meet(ball(fx), p, dx.Vec(), 60)
					hits = append(hits, FaceHit{Point{p.X + d*dx.Sign(), p.Y}, dx})
					p = Point{at.X + k*dx.Sign(), at.Y - 20*dy.Sign()}
					d = meet(ball(fy), p, dy.Vec(), 60)
					hits = append(hits, FaceHit{Point{p.X, p.Y + d*dy.Sign()}, dy})
				}
				c, err := ToCorner(hits, EvenBall(r))
				if err != nil {
					t.Fatal(err)
				}
				if c.At.Sub(at).Len() > 1e-9 {
					t.Errorf("%v %v %v: corner %v, is %v", dx, dy, a, c.At, at)
				}
				near(t, "skew", c.Skew, a[1], 1e-9)
				near(t, "lean", c.Lean, a[0], 1e-9)
				// turning the X face counter-clockwise opens two of the four quadrants
				want := math.Pi/2 + (a[0]-a[1])*dx.Sign()*dy.Sign()
				near(t, "interior", c.Interior, want, 1e-9)
			}
		}
	}
}

func opposite(d Direction) Direction { return d ^ 1 }

// tap is what turns an edge square: how far it goes where it is tapped, and what a dial there shows of it.
type tap struct{ move, needle float64 }

// tapOf is it at a station, about another. Along Y the axis that an edge faces lies the other way round its turn.
func tapOf(e Edge, pivot, at float64) tap {
	move := -e.Theta * (at - pivot)
	if e.AlongY {
		move = -move
	}
	return tap{move, move / e.Scale.V}
}
