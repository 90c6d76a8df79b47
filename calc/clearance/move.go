package clearance

import (
	"container/heap"
	"fmt"
	"math"
)

// Sweep is where a tip goes as far as it is stated at the desk: one point is a hole, two a
// straight cut, three or more the corners of a convex region; Z is its lowest height.
type Sweep struct {
	Name string
	Tool Tool
	Over []Point
	Z    float64
	area []Point
}

// NewSweep checks a sweep. The error for a region is that of NewOutline.
func NewSweep(name string, t Tool, z float64, over ...Point) (Sweep, error) {
	if len(t.parts) == 0 {
		return Sweep{}, fmt.Errorf("sweep %q has no tool; give its number and dimensions", name)
	}
	if len(over) == 0 || math.IsNaN(z) || math.IsInf(z, 0) {
		return Sweep{}, fmt.Errorf("sweep %q needs a place and a finite lowest height, has %d places and height %g", name, len(over), z)
	}
	s := Sweep{Name: name, Tool: t, Over: over, Z: z, area: over}
	for i, p := range over {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			return Sweep{}, &Fault{i, fmt.Sprintf("place %d (%g, %g) of sweep %q is not finite; enter it again", i+1, p.X, p.Y, name)}
		}
	}
	if len(over) == 2 && over[0] == over[1] {
		s.area = over[:1]
	}
	if len(over) >= 3 {
		o, err := NewOutline(over)
		if err != nil {
			return Sweep{}, err
		}
		s.area = o.p
	}
	return s, nil
}

// Sweep judges a sweep.
func (f *Field) Sweep(s *Sweep, best Approach) Approach { return f.area(&s.Tool, s.area, s.Z, best) }

// Clamp is a clamp that may be moved: the obstacle, and where its tip presses.
type Clamp struct {
	Obstacle
	Tip Point
	Pad float64 // radius of the tip's pad, 0 for a point; it must stand wholly on the support
}

// Shift is a proposed move of a clamp, plan mm.
type Shift struct {
	By   Point
	Far  float64 // its length
	Room float64 // what is left over the margins after it
}

// moveStep is the fineness of the search for a move. A gap narrower than this may be missed.
const moveStep = 0.01

// moveCells bounds the work of one search; a search that reaches it returns the best found.
const moveCells = 200_000

// Move returns the smallest translation of the clamp, to moveStep, with which it clears
// all sweeps with the margins, shares no area with the other obstacles, stands wholly on
// the table (nil: no limit) and has its tip on solid support. Without such a place ok is
// false: "none" is an answer. A clamp that is already fine needs no move, By (0, 0).
//
// The search divides the plane of translations and throws away every square that the
// distance functions, which change by at most 1 mm per mm, prove bad; what it returns has
// been checked at its own place.
func (c Clamp) Move(m Margins, sweeps []Sweep, others []Obstacle, table *Outline, support []Outline) (s Shift, ok bool) {
	if len(support) == 0 {
		return Shift{}, false
	}
	w := moving{c: c, bars: c.constraints(m, sweeps, others, table), ground: NewGround(support...), far: math.Inf(1)}
	w.try(Point{})
	// The tip can only go where there is support: that bounds the search.
	q := cells{w.whole(support)}
	for n := 0; len(q) > 0 && n < moveCells; n++ {
		e := heap.Pop(&q).(cell)
		if e.least >= w.far-moveStep {
			break
		}
		live, divide := w.look(e)
		if !divide {
			continue
		}
		h := e.half / 2
		for _, d := range [4]Point{{-h, -h}, {h, -h}, {-h, h}, {h, h}} {
			if k := newCell(Point{e.c.X + d.X, e.c.Y + d.Y}, h, live); k.least < w.far {
				heap.Push(&q, k)
			}
		}
	}
	if math.IsInf(w.far, 1) {
		return Shift{}, false
	}
	return Shift{By: w.best, Far: w.far, Room: w.room(w.best)}, true
}

// constraint is one thing the clamp must keep away from: moved by t it has room
// sign·signed(shape, t) - need.
type constraint struct {
	shape []Point
	need  float64
	inner bool // the clamp must stay inside the shape instead
}

func (c *constraint) room(t Point) float64 {
	if c.inner {
		return -signed(c.shape, t)
	}
	return signed(c.shape, t) - c.need
}

// constraints turns everything into shapes in the plane of translations: what is kept away
// from becomes the Minkowski sum of it and the mirrored clamp; the table is shrunk by the
// clamp's reach along each side.
func (c Clamp) constraints(m Margins, sweeps []Sweep, others []Obstacle, table *Outline) []constraint {
	var g []constraint
	for _, s := range sweeps {
		need := math.Inf(-1)
		for _, p := range s.Tool.parts {
			if s.Z+p.From < c.Top+m.Z {
				need = math.Max(need, p.R+m.XY)
			}
		}
		if !math.IsInf(need, -1) {
			g = append(g, constraint{shape: difference(s.area, c.Outline.p), need: need})
		}
	}
	for _, o := range others {
		g = append(g, constraint{shape: difference(o.Outline.p, c.Outline.p)})
	}
	if table != nil {
		for _, v := range c.Outline.p {
			p := make([]Point, len(table.p))
			for i, q := range table.p {
				p[i] = Point{q.X - v.X, q.Y - v.Y}
			}
			g = append(g, constraint{shape: p, inner: true})
		}
	}
	return g
}

// difference is the convex outline of all a - b, both convex: the places t with a point of
// b + t on a point of a.
func difference(a, b []Point) []Point {
	pts := make([]Point, 0, len(a)*len(b))
	for _, p := range a {
		for _, q := range b {
			pts = append(pts, Point{p.X - q.X, p.Y - q.Y})
		}
	}
	return hull(pts)
}

// cell is a square of the plane of translations.
type cell struct {
	c     Point
	half  float64
	least float64 // distance of its nearest place from no move at all
	live  []int32 // constraints not yet met everywhere in it
}

func newCell(c Point, half float64, live []int32) cell {
	e := cell{c: c, half: half, live: live}
	n := e.nearest()
	e.least = math.Hypot(n.X, n.Y)
	return e
}

func (e cell) nearest() Point {
	return Point{math.Max(e.c.X-e.half, math.Min(0, e.c.X+e.half)), math.Max(e.c.Y-e.half, math.Min(0, e.c.Y+e.half))}
}

func allOf(n int) []int32 {
	l := make([]int32, n)
	for i := range l {
		l[i] = int32(i)
	}
	return l
}

// cells is a heap by least move, equal ones by place: the search has one order.
type cells []cell

func (q cells) Len() int { return len(q) }
func (q cells) Less(i, k int) bool {
	a, b := &q[i], &q[k]
	switch {
	case a.least != b.least:
		return a.least < b.least
	case a.c.X != b.c.X:
		return a.c.X < b.c.X
	}
	return a.c.Y < b.c.Y
}
func (q cells) Swap(i, k int) { q[i], q[k] = q[k], q[i] }
func (q *cells) Push(x any)   { *q = append(*q, x.(cell)) }
func (q *cells) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
