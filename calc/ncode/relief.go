package ncode

import "math"

// relief is a height map of the stock as it stands: a grid of places, each with the
// height there. The first and last lie on the rim of the part, so that a cut along a side
// is seen however narrow it is. Tiles of places know an upper bound of what is in them: a
// tool that passes over them looks no further.
//
// Heights are kept from the top of the uncut stock downward, so that a float32 holds them
// to a millionth of the depth.
type relief struct {
	x0, y0, dx, dy float64 // place i, j stands at x0+i*dx, y0+j*dy
	ix             float64 // 1/dx
	nx, ny         int
	top            float64   // of the uncut stock, W
	h              []float32 // row by row; 0 uncut
	tx, ty         int       // tiles a row, rows of tiles
	most           []float32 // of a tile: nothing in it is higher
	idle           []int32   // of a tile: places looked at in vain since most was last counted
	state          []uint8   // of a tile: what is known of most
	caps           []float32 // of a tile: its places are no higher, whatever h says
	done           []uint32  // of a tile: the turn that has dealt with it as a whole
	turn           uint32
	whole          bool      // tiles are cut as a whole where they can be
	gx             int       // groups a row of tiles
	group          []float32 // of tiles in a row: the largest most
	stale          []bool    // of a group: a tile of it has changed

	rows  []stretch // of the rows at work
	bites []nibble
	now   sweep
	over  course     // of what turns over the tip
	last  [3]float64 // where the cutter of the shape below was pressed last
	shape shape

	riseOf shape // that rise is of
	rise   [2 * riseSteps]float32
}

// nibble is one place that was cut: how deep, and where across the path.
type nibble struct{ depth, across float32 }

// The grid: places are finest apart, or closer where a cutter is so small that it would
// slip between them, and never more than mostPlaces.
const (
	finest     = 0.25
	leastCell  = 0.05
	mostPlaces = 1_200_000
	tileShift  = 4
	tileSize   = 1 << tileShift
	groupTiles = 8
	diagonal   = 0.7072 // of half a cell: no place of the plane is further from the grid
)

// near is what counts as the same height, mm.
const near = 1e-3

// newRelief returns the map of the part with its stock, or nil where there is no part to speak of.
func newRelief(ex *Expect) *relief {
	if ex.Part == nil {
		return nil
	}
	lx, ly := ex.Part.Max[0]-ex.Part.Min[0], ex.Part.Max[1]-ex.Part.Min[1]
	if !(lx > 0) || !(ly > 0) || !(lx < maxNumber) || !(ly < maxNumber) {
		return nil
	}
	cell := finest
	for _, t := range ex.Tools {
		if t.Radius > 0 {
			cell = min(cell, max(t.Radius/diagonal, leastCell))
		}
	}
	// (lx/c+2)*(ly/c+2) places at most.
	for (lx/cell+2)*(ly/cell+2) > mostPlaces {
		cell *= 1.02
	}
	r := &relief{whole: true, x0: ex.Part.Min[0], y0: ex.Part.Min[1], top: ex.Part.Max[2] + ex.Stock}
	nx, ny := max(int(math.Ceil(lx/cell-rounding)), 1), max(int(math.Ceil(ly/cell-rounding)), 1)
	r.nx, r.ny, r.dx, r.dy = nx+1, ny+1, lx/float64(nx), ly/float64(ny)
	r.ix = 1 / r.dx
	r.h = make([]float32, r.nx*r.ny)
	r.tx, r.ty = (r.nx+tileSize-1)>>tileShift, (r.ny+tileSize-1)>>tileShift
	r.most, r.idle = make([]float32, r.tx*r.ty), make([]int32, r.tx*r.ty)
	r.state, r.caps, r.done = make([]uint8, r.tx*r.ty), make([]float32, r.tx*r.ty), make([]uint32, r.tx*r.ty)
	r.gx = (r.tx + groupTiles - 1) / groupTiles
	r.group, r.stale = make([]float32, r.gx*r.ty), make([]bool, r.gx*r.ty)
	for k := range r.caps {
		r.state[k], r.caps[k] = flat, uncapped
	}
	r.last[0] = math.Inf(1)
	for _, o := range ex.Open {
		at := [3]float64{o.At[0], o.At[1], o.Bottom}
		p := straight(at, at, r.top)
		r.press(&p, &shape{r: o.Radius}, nil)
	}
	return r
}

// cell is the larger distance of two places.
func (r *relief) cell() float64 { return max(r.dx, r.dy) }

// shape is what a cutter leaves: a flat bottom, its corner rounded. A ball has its radius there.
type shape struct{ r, corner float64 }

// rise is how much higher than the tip the cutter is at that distance from its axis, squared.
func (s *shape) rise(d2 float64) float64 {
	if s.corner == 0 {
		return 0
	}
	e := math.Sqrt(d2) - (s.r - s.corner)
	if e <= 0 {
		return 0
	}
	return s.corner - math.Sqrt(max(s.corner*s.corner-e*e, 0))
}

// reach is the shape that the map can see: one that is smaller than the grid is widened to it.
func (r *relief) reach(s shape) shape {
	if least := diagonal * r.cell(); s.r < least {
		return shape{r: least}
	}
	return s
}

// bite is what a move takes.
type bite struct {
	step  float64 // deepest, mm
	front float64 // the same of what the side of the cutter meets
	load  float64 // of what may be carried: above 1 is too much; 0 where it is not known
	width float64 // where load was found
	holds float64 // the depth that is carried at that width
	down  bool    // it goes straight down
}

// places are where a sweep looks: in each row one or two runs.
type places struct {
	p      *course
	r      float64  // within that of the course
	but    bool     // but not within r of its start
	short  bool     // the end alone: what its sides reach beyond start and end is thinner than rim
	chain  []course // these instead of p
	behind float64  // nor further behind its start than that; 0 for no such limit
}

// covers finds the rows that lie within radius of the course, and the tiles about them; ok is
// false where there are none.
func (r *relief) covers(p *course, radius float64) (j0, j1, t0, t1 int, ok bool) {
	x0, y0, x1, y1 := p.box()
	a, b := (x0-radius-r.x0)/r.dx, (x1+radius-r.x0)/r.dx
	c, d := (y0-radius-r.y0)/r.dy, (y1+radius-r.y0)/r.dy
	if b < 0 || d < 0 || a > float64(r.nx-1) || c > float64(r.ny-1) {
		return 0, 0, 0, 0, false
	}
	i0, i1 := between(a, b, r.nx)
	j0, j1 = between(c, d, r.ny)
	return j0, j1, i0 >> tileShift, i1 >> tileShift, i0 <= i1 && j0 <= j1
}

// between are the first and the last whole number from a to b, of n from 0 on.
func between(a, b float64, n int) (first, last int) {
	last = n - 1
	if a > 0 {
		first = int(a + (1 - rounding))
	}
	if b < float64(last) {
		last = int(b + rounding)
	}
	return first, last
}

// stretch is a run of places in one row, from i to last.
type stretch struct{ j, i, last int }

// higher shows the sweep each run of places that may be higher than z. Tiles that are lower
// are passed over.
func (r *relief) higher(v *sweep, z float64) {
	w := &v.places
	low := float32(z)
	j0, j1, t0, t1, ok := r.area(w)
	if !ok {
		return
	}
	coarse := v.coarse()
	r.turn++
	for ty := j0 >> tileShift; ty <= j1>>tileShift; ty++ {
		if coarse {
			r.tiles(v, ty, t0, t1)
		}
		most := r.highest(ty, t0, t1)
		if most <= low {
			continue
		}
		first, last := max(j0, ty<<tileShift), min(j1, ty<<tileShift+tileSize-1)
		a, b := r.lay(w, v.narrow(float64(most)), first, last)
		a, b = r.wake(ty, a>>tileShift, b>>tileShift, last-first+1, low)
		if a > b {
			continue
		}
		a, b = a<<tileShift, b<<tileShift+tileSize-1
		for k := range r.rows {
			s := &r.rows[k]
			if s.i < a {
				s.i = a
			}
			if s.last > b {
				s.last = b
			}
			r.run(s, low, v)
		}
	}
}

// highest bounds what stands in the tiles from t0 to t1 that are not dealt with.
func (r *relief) highest(ty, t0, t1 int) float32 {
	most := float32(math.Inf(-1))
	for k := ty*r.tx + t0; k <= ty*r.tx+t1; k++ {
		if h := r.most[k]; h > most && r.done[k] != r.turn {
			most = h
		}
	}
	return most
}

// wake makes the places of those tiles ready that are higher than low, counting anew where
// many were looked at in vain, and returns the first and the last of them.
func (r *relief) wake(ty, t0, t1, rows int, low float32) (first, last int) {
	first, last = 0, -1
	for tx := t0; tx <= t1; tx++ {
		k := ty*r.tx + tx
		if r.most[k] <= low || r.done[k] == r.turn {
			continue
		}
		if r.idle[k] >= tileSize*tileSize {
			if r.count(tx, ty, low); r.most[k] <= low {
				continue
			}
		}
		r.idle[k] += int32(rows * tileSize / 2)
		r.settle(tx, ty)
		if last < 0 {
			first = tx
		}
		last = tx
	}
	return first, last
}

// lay finds the stretches of some rows within radius, and the first and the last column of them all.
func (r *relief) lay(w *places, radius float64, first, last int) (i0, i1 int) {
	p := w.p
	r.rows = r.rows[:0]
	i0, i1 = r.nx, -1
	for j := first; j <= last; j++ {
		y := r.y0 + float64(j)*r.dy
		if len(w.chain) > 0 {
			i0, i1 = r.linked(w, j, y, i0, i1)
			continue
		}
		a, b, c, d := w.row(y, radius)
		if w.behind > 0 {
			a, b = p.ahead(y, w.behind, a, b)
		}
		if !w.but || c > d {
			i0, i1 = r.put(j, a, b, i0, i1)
			continue
		}
		// What lies about the start is no higher than the tool stood there.
		if c > b {
			c = b
		}
		i0, i1 = r.put(j, a, c, i0, i1)
		if d < a {
			d = a
		}
		i0, i1 = r.put(j, d, b, i0, i1)
	}
	return i0, i1
}

// put adds a stretch from a to b, and returns the first and the last column with it.
func (r *relief) put(j int, a, b float64, i0, i1 int) (int, int) {
	fa, fb := (a-r.x0)*r.ix, (b-r.x0)*r.ix
	if !(fa <= fb) || fb < -rounding || fa > float64(r.nx) {
		return i0, i1
	}
	i, end := between(fa, fb, r.nx)
	if i > end {
		return i0, i1
	}
	r.rows = append(r.rows, stretch{j, i, end})
	return min(i0, i), max(i1, end)
}

// row is where a row meets what lies within radius of the course, and of its start.
func (w *places) row(y, radius float64) (a, b, c, d float64) {
	p := w.p
	c, d = about(p.ax, p.ay, y, radius)
	switch {
	case w.short:
		a, b = about(p.bx, p.by, y, radius)
	case p.arc:
		a, b = p.row(y, radius)
	default:
		a, b = p.along(y, radius, c, d)
	}
	return a, b, c, d
}

// run shows the sweep one stretch, without what lies low at its ends.
func (r *relief) run(s *stretch, low float32, v *sweep) {
	if s.i > s.last {
		return
	}
	hs := r.h[s.j*r.nx:][:s.last+1]
	i := s.i
	for i < len(hs) && hs[i] <= low {
		i++
	}
	if i == len(hs) {
		return
	}
	last := s.last
	for hs[last] <= low {
		last--
	}
	y, tiles := r.y0+float64(s.j)*r.dy, (s.j>>tileShift)*r.tx
	for i <= last {
		k := tiles + i>>tileShift
		end := i | (tileSize - 1)
		if end > last {
			end = last
		}
		if r.most[k] > low && r.done[k] != r.turn {
			v.most = float64(r.most[k])
			if hits := v.look(y, i, hs[i:end+1]); hits > 0 {
				r.state[k] = bound
				r.idle[k] = max(r.idle[k]-int32(hits), -8*tileSize*tileSize)
			}
		}
		i = end + 1
	}
}

// tallest is an upper bound of what stands within radius of the course.
func (r *relief) tallest(p *course, radius float64) float64 {
	most := float32(math.Inf(-1))
	j0, j1, t0, t1, ok := r.covers(p, radius)
	if !ok {
		return float64(most)
	}
	for ty := j0 >> tileShift; ty <= j1>>tileShift; ty++ {
		row := r.most[ty*r.tx:][:r.tx]
		for t := t0; t <= t1; {
			end := min((t/groupTiles+1)*groupTiles, r.tx)
			if t%groupTiles == 0 && end <= t1+1 {
				if m := r.grouped(ty, t, row[t:end]); m > most {
					most = m
				}
			} else if m := largest(row[t:min(end, t1+1)]); m > most {
				most = m
			}
			t = end
		}
	}
	return float64(most)
}

func largest(hs []float32) float32 {
	most := float32(math.Inf(-1))
	for _, h := range hs {
		if h > most {
			most = h
		}
	}
	return most
}

// grouped is the largest most of a whole group that begins with tile tx.
func (r *relief) grouped(ty, tx int, row []float32) float32 {
	g := ty*r.gx + tx/groupTiles
	if r.stale[g] {
		r.stale[g], r.group[g] = false, largest(row)
	}
	return r.group[g]
}

// sink sets what bounds a tile.
func (r *relief) sink(tx, ty int, most float32) {
	r.most[ty*r.tx+tx] = most
	r.stale[ty*r.gx+tx/groupTiles] = true
}

// count finds the highest place of a tile anew. Where that was of no use the next time comes later.
func (r *relief) count(tx, ty int, low float32) {
	r.settle(tx, ty)
	most, least := float32(math.Inf(-1)), float32(math.Inf(1))
	for j := ty << tileShift; j < min(r.ny, (ty+1)<<tileShift); j++ {
		for _, h := range r.h[j*r.nx+tx<<tileShift : j*r.nx+min(r.nx, (tx+1)<<tileShift)] {
			if h > most {
				most = h
			}
			if h < least {
				least = h
			}
		}
	}
	k := ty*r.tx + tx
	r.sink(tx, ty, most)
	r.idle[k], r.state[k] = 0, found
	if most == least {
		r.state[k] = flat
	}
	if most > low {
		r.idle[k] = -8 * tileSize * tileSize
	}
}
