package clearance

import (
	"fmt"
	"math"
)

// Obstacle is something that stands on the table.
type Obstacle struct {
	Name    string
	Outline Outline
	Top     float64 // height of its highest place
}

// Margins are the distances kept: sideways and over the top.
type Margins struct{ XY, Z float64 }

// Usual are the margins used unless the shop says otherwise. Common practice, from memory.
var Usual = Margins{XY: 2, Z: 2}

// Field is a set of obstacles made ready for many questions. It is not changed by them.
type Field struct {
	obstacles []Obstacle
	m         Margins
	top       float64 // of the highest obstacle, margin included
}

// NewField makes a field. It refuses obstacles without an outline or a finite top, and
// negative margins.
func NewField(m Margins, obstacles ...Obstacle) (*Field, error) {
	if !(m.XY >= 0) || !(m.Z >= 0) {
		return nil, fmt.Errorf("margins %g sideways and %g over the top must not be below 0; 2 mm is usual", m.XY, m.Z)
	}
	f := &Field{obstacles: append([]Obstacle(nil), obstacles...), m: m, top: math.Inf(-1)}
	for _, o := range obstacles {
		if len(o.Outline.p) == 0 || math.IsNaN(o.Top) || math.IsInf(o.Top, 0) {
			return nil, fmt.Errorf("obstacle %q needs an outline and a finite top, has top %g; correct the job", o.Name, o.Top)
		}
		f.top = math.Max(f.top, o.Top+m.Z)
	}
	return f, nil
}

// Approach is the nearest that a tool comes to an obstacle, measured against what is
// needed: Short > 0 is a conflict, Short < 0 is room to spare.
type Approach struct {
	Obstacle         int    // index in the field; -1 when nothing came into question
	Part             string // tool, neck, shank or holder
	Distance, Needed float64
	At               Point3 // place of the tip
}

// Nothing is the approach to begin with; passed along from question to question it
// collects the nearest of all.
func Nothing() Approach { return Approach{Obstacle: -1, Distance: math.Inf(1)} }

// ConflictsOnly begins a search that looks at nothing which is clear: faster, and
// Obstacle stays -1 when all is clear.
func ConflictsOnly() Approach { return Approach{Obstacle: -1} }

// Short is what is missing, mm; minus infinity when nothing came into question.
func (a Approach) Short() float64 { return a.Needed - a.Distance }

// Clear tells whether enough room is left; a shortfall below a nanometre is rounding.
func (a Approach) Clear() bool { return a.Short() <= 1e-6 }

// Line judges a straight move. The answer is the worse of best and this one, as in all questions to a field. Of a sloping
// move only the stretch on which a cylinder is lower than the obstacle's top plus margin counts.
func (f *Field) Line(t *Tool, a, b Point3, best Approach) Approach {
	low := math.Min(a.Z, b.Z)
	if low >= f.top {
		return best
	}
	box := Box{math.Min(a.X, b.X), math.Min(a.Y, b.Y), math.Max(a.X, b.X), math.Max(a.Y, b.Y)}
	for i := range f.obstacles {
		o := &f.obstacles[i]
		if !f.near(t, o, box, low, best) {
			continue
		}
		for _, c := range t.parts {
			t0, t1, any := below(a.Z, b.Z, o.Top+f.m.Z-c.From)
			if !any {
				break // the parts above are higher still
			}
			d, at := segment(o.Outline.p, mix(a, b, t0).plan(), mix(a, b, t1).plan())
			if need := c.R + f.m.XY; need-d > best.Short() {
				best = Approach{i, c.Name, d, need, mix(a, b, t0+at*(t1-t0))}
			}
		}
	}
	return best
}

// Arc judges a circular or helical move in plan.
func (f *Field) Arc(t *Tool, a Arc, best Approach) Approach {
	low := math.Min(a.Z0, a.Z1)
	if low >= f.top {
		return best
	}
	box := a.box()
	for i := range f.obstacles {
		o := &f.obstacles[i]
		if !f.near(t, o, box, low, best) {
			continue
		}
		for _, c := range t.parts {
			t0, t1, any := below(a.Z0, a.Z1, o.Top+f.m.Z-c.From)
			if !any {
				break
			}
			s := a.part(t0, t1)
			d, at := arc(o.Outline.p, s)
			if need := c.R + f.m.XY; need-d > best.Short() {
				p := s.point(s.Start + at*s.Sweep)
				best = Approach{i, c.Name, d, need, Point3{p.X, p.Y, s.Z0 + at*(s.Z1-s.Z0)}}
			}
		}
	}
	return best
}

// Rapid judges a rapid move as the box it spans, at its lowest: each axis may arrive at
// any time of its own.
func (f *Field) Rapid(t *Tool, a, b Point3, best Approach) Approach {
	z := math.Min(a.Z, b.Z)
	lo, hi := Point{math.Min(a.X, b.X), math.Min(a.Y, b.Y)}, Point{math.Max(a.X, b.X), math.Max(a.Y, b.Y)}
	if lo.X == hi.X || lo.Y == hi.Y { // the box is a line: it stays in it whenever each axis moves
		return f.Line(t, Point3{lo.X, lo.Y, z}, Point3{hi.X, hi.Y, z}, best)
	}
	p := [4]Point{lo, {hi.X, lo.Y}, hi, {lo.X, hi.Y}}
	return f.area(t, p[:], z, best)
}

// area judges a tip that may stand anywhere in a convex area, at height z or above.
func (f *Field) area(t *Tool, p []Point, z float64, best Approach) Approach {
	if z >= f.top {
		return best
	}
	box := boxOf(p)
	for i := range f.obstacles {
		o := &f.obstacles[i]
		if !f.near(t, o, box, z, best) {
			continue
		}
		d := -1.0
		for _, c := range t.parts {
			if z+c.From >= o.Top+f.m.Z {
				break
			}
			if d < 0 {
				d = math.Max(0, separation(o.Outline.p, p))
			}
			if need := c.R + f.m.XY; need-d > best.Short() {
				best = Approach{i, c.Name, d, need, closest(p, o.Outline.p, z)}
			}
		}
	}
	return best
}

// closest is a place of the area p that comes nearest to the obstacle q.
func closest(p, q []Point, z float64) Point3 {
	if signed(p, q[0]) <= 0 { // the obstacle stands in the area, at least with this corner
		return Point3{q[0].X, q[0].Y, z}
	}
	best, at := math.Inf(1), p[0]
	a := p[len(p)-1]
	for _, b := range p {
		if d, t := segment(q, a, b); d < best {
			best, at = d, Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)}
		}
		a = b
	}
	return Point3{at.X, at.Y, z}
}

// near tells whether the obstacle can give an approach worse than best: by its box, and
// by its height against the lowest tip.
func (f *Field) near(t *Tool, o *Obstacle, box Box, low float64, best Approach) bool {
	if low >= o.Top+f.m.Z {
		return false
	}
	return t.reach+f.m.XY-box.gap(o.Outline.box) > best.Short()
}

// below returns the stretch of an even change from z0 to z1 that is lower than limit.
func below(z0, z1, limit float64) (t0, t1 float64, any bool) {
	switch {
	case z0 < limit && z1 < limit:
		return 0, 1, true
	case z0 >= limit && z1 >= limit:
		return 0, 0, false
	case z0 < limit:
		return 0, (limit - z0) / (z1 - z0), true
	}
	return (limit - z0) / (z1 - z0), 1, true
}

func mix(a, b Point3, t float64) Point3 {
	return Point3{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y), a.Z + t*(b.Z-a.Z)}
}
