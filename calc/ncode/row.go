package ncode

import "math"

// row is level moves of one tool, each straight on from the last: they are pressed into the
// map as one where none of them can be the deepest or the heaviest cut, and one by one where
// one may be.
type row struct {
	use    *use
	cap    capacity
	judged bool // by cap
	ends   []vertex
	at     [3]float64 // its end
	ux, uy float64    // its direction
}

// vertex is a place of a row, and the line of the move that goes there.
type vertex struct {
	x, y float64
	line int
}

// longest is how many vertices a row may have; aside is how far off its line they may lie.
const (
	longest = 1024
	aside   = 1e-6
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
	if len(r.ends) > 0 {
		on := r.use == w.use && r.at == m.From && len(r.ends) < longest && r.judged == (c != nil) && dx*r.ux+dy*r.uy > 0
		if on && c != nil {
			on = r.cap.tool == c.tool && r.cap.feed == c.feed && r.cap.speed == c.speed
		}
		x, y := m.To[0]-r.ends[0].x, m.To[1]-r.ends[0].y
		if on && math.Abs(x*r.uy-y*r.ux) <= aside {
			r.ends = append(r.ends, vertex{m.To[0], m.To[1], m.Line})
			r.at = m.To
			return true
		}
		w.endRow()
	}
	length := math.Sqrt(dx*dx + dy*dy)
	r.use, r.at, r.ux, r.uy = w.use, m.To, dx/length, dy/length
	if r.judged = c != nil; r.judged {
		r.cap = *c
	}
	r.ends = append(r.ends[:0], vertex{m.From[0], m.From[1], m.Line}, vertex{m.To[0], m.To[1], m.Line})
	return true
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
	if n > 2 && w.quiet(ends, c) {
		w.relief.press(w.going(r.course(ends[0], ends[n-1], top)), &r.use.shape, nil)
		return
	}
	for k := 1; k < n; k++ {
		w.bite(r.use, w.going(r.course(ends[k-1], ends[k], top)), c, ends[k].line)
	}
}

func (r *row) course(a, b vertex, top float64) course {
	return straight([3]float64{a.x, a.y, r.at[2]}, [3]float64{b.x, b.y, r.at[2]}, top)
}

// quiet tells whether no move of the row can be deeper or heavier than what its tool has cut before.
func (w *walker) quiet(ends []vertex, c *capacity) bool {
	u := w.row.use
	p := w.row.course(ends[0], ends[len(ends)-1], w.relief.top)
	cut := w.relief.reach(u.shape)
	deep := w.relief.tallest(&p, cut.r) - p.za
	if deep > u.Step || len(u.body) > 0 && deep > u.body[0].From {
		return false
	}
	if c == nil || c.full[0] < 0 {
		return true
	}
	return deep <= c.full[0] && over(deep, c.full[0]) <= u.Heaviest.Load
}
