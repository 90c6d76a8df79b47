package ncode

import "math"

// row is straight moves of one tool at one height, each from where the last one ended: they
// are pressed into the map as one where none of them can be the deepest or the heaviest cut,
// and one by one where one may be.
type row struct {
	use     *use
	cap     capacity
	judged  bool // by cap
	ends    []vertex
	bends   int        // straight parts
	at      [3]float64 // its end
	begin   vertex     // of its last straight part
	ux, uy  float64    // the direction of that
	courses []course   // of the straight parts, when it is pressed
}

// vertex is a place of a row, and the line of the move that goes there.
type vertex struct {
	x, y float64
	line int
	bend bool // a straight part ends there
}

// A row has at most that many vertices and straight parts; aside is how far off the line of
// one its vertices may lie.
const (
	mostEnds  = 1024
	mostBends = 12
	aside     = 1e-6
)

// joins takes a move into the row, if it is one for a row; anything else finds the map as all
// the moves before have left it.
func (w *walker) joins(m *Move) bool {
	r := &w.row
	dx, dy := m.To[0]-m.From[0], m.To[1]-m.From[1]
	if m.Kind != Feed || m.Known != 7 || m.From[2] != m.To[2] || m.To[2] >= w.relief.top-near || m.Maybe || w.use.drill ||
		dx == 0 && dy == 0 || !w.use.clears(m.To[2]-w.relief.top) {
		w.endRow()
		return false
	}
	c := w.capacity()
	if len(r.ends) > 0 && !r.takes(m, w.use, c) {
		w.endRow()
	}
	if len(r.ends) == 0 {
		r.use, r.bends = w.use, 0
		if r.judged = c != nil; r.judged {
			r.cap = *c
		}
		r.ends = append(r.ends, vertex{x: m.From[0], y: m.From[1]})
	}
	if n := len(r.ends) - 1; n == 0 || dx*r.ux+dy*r.uy <= 0 || math.Abs((m.To[0]-r.begin.x)*r.uy-(m.To[1]-r.begin.y)*r.ux) > aside {
		length := math.Sqrt(dx*dx + dy*dy)
		r.ends[n].bend = true
		r.begin, r.ux, r.uy = r.ends[n], dx/length, dy/length
		r.bends++
	}
	r.ends = append(r.ends, vertex{x: m.To[0], y: m.To[1], line: m.Line})
	r.at = m.To
	return true
}

// takes tells whether a level move goes on from the row, with the same tool and capacity.
func (r *row) takes(m *Move, u *use, c *capacity) bool {
	if r.use != u || r.at != m.From || len(r.ends) >= mostEnds || r.bends >= mostBends || r.judged != (c != nil) {
		return false
	}
	return c == nil || r.cap.tool == c.tool && r.cap.feed == c.feed && r.cap.speed == c.speed
}

// clears tells whether all that turns above the cutting edges stays over the uncut stock where
// the tip is at that height from its top, or is no wider than the cutter.
func (u *use) clears(z float64) bool {
	for i := range u.body {
		c := &u.body[i]
		if z+c.From >= -near {
			return true // those above it are higher still
		}
		if c.R > u.shape.r+rim {
			return false
		}
	}
	return true
}

// endRow presses the row.
func (w *walker) endRow() {
	r := &w.row
	n := len(r.ends)
	if n == 0 {
		return
	}
	var c *capacity
	if r.judged {
		c = &r.cap
	}
	ends, top := r.ends, w.relief.top
	r.ends = r.ends[:0]
	if n > 2 {
		r.courses = r.courses[:0]
		from := ends[0]
		for k := 1; k < n; k++ {
			if ends[k].bend || k == n-1 {
				r.courses = append(r.courses, r.course(from, ends[k], top))
				from = ends[k]
			}
		}
		if w.quiet(c) {
			w.relief.chain(r.courses, &r.use.shape)
			return
		}
	}
	for k := 1; k < n; k++ {
		w.bite(r.use, w.going(r.course(ends[k-1], ends[k], top)), c, ends[k].line)
	}
}

func (r *row) course(a, b vertex, top float64) course {
	return straight([3]float64{a.x, a.y, r.at[2]}, [3]float64{b.x, b.y, r.at[2]}, top)
}

// quiet tells whether no move of the row can be deeper or heavier than what its tool has cut before.
func (w *walker) quiet(c *capacity) bool {
	r, u := &w.row, w.row.use
	cut, may := w.relief.reach(u.shape), u.Step
	if len(u.body) > 0 {
		may = min(may, u.body[0].From)
	}
	deep := 0.0
	for k := range r.courses {
		p := &r.courses[k]
		deep = max(deep, w.relief.within(p, cut.r, p.za+may)-p.za)
	}
	if deep > may && w.relief.chained(r.courses, &cut) {
		deep = w.relief.deepest(r.courses, &cut)
	}
	if deep > may {
		return false
	}
	if c == nil || c.full[0] < 0 {
		return true
	}
	return deep <= c.full[0] && over(deep, c.full[0]) <= u.Heaviest.Load
}
