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
	nx, ny         int
	top            float64   // of the uncut stock, W
	h              []float32 // row by row; 0 uncut
	tx, ty         int       // tiles a row, rows of tiles
	most           []float32 // of a tile: nothing in it is higher
	work           []uint16  // of a tile: places looked at since most was last counted

	lo, hi []int32 // of the rows of a sweep: the places that it covers
	bites  []nibble
}

// nibble is one place that was cut: how deep, and where across the path.
type nibble struct{ depth, across float32 }

// The grid: places are finest apart, or closer where a cutter is so small that it would
// slip between them, and never more than mostPlaces.
const (
	finest     = 0.2
	leastCell  = 0.05
	mostPlaces = 4_000_000
	tileShift  = 4
	tileSize   = 1 << tileShift
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
	r := &relief{x0: ex.Part.Min[0], y0: ex.Part.Min[1], top: ex.Part.Max[2] + ex.Stock}
	nx, ny := max(int(math.Ceil(lx/cell-rounding)), 1), max(int(math.Ceil(ly/cell-rounding)), 1)
	r.nx, r.ny, r.dx, r.dy = nx+1, ny+1, lx/float64(nx), ly/float64(ny)
	r.h = make([]float32, r.nx*r.ny)
	r.tx, r.ty = (r.nx+tileSize-1)>>tileShift, (r.ny+tileSize-1)>>tileShift
	r.most, r.work = make([]float32, r.tx*r.ty), make([]uint16, r.tx*r.ty)
	r.lo, r.hi = make([]int32, r.ny), make([]int32, r.ny)
	for _, o := range ex.Open {
		r.press(&course{ax: o.At[0], ay: o.At[1], bx: o.At[0], by: o.At[1], za: o.Bottom - r.top, zb: o.Bottom - r.top}, &shape{r: o.Radius}, nil)
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
	step  float64    // deepest, mm
	front float64    // the same of what the side of the cutter meets
	at    [2]float64 // where
	load  float64    // of what may be carried: above 1 is too much; 0 where it is not known
	width float64    // where load was found
	holds float64    // the depth that is carried at that width
	down  bool       // it goes straight down
}

// covers finds the rows and the places in them that lie within radius of the path, and the
// tiles about them; ok is false where there are none.
func (r *relief) covers(p *course, radius float64) (j0, j1, t0, t1 int, ok bool) {
	x0, y0, x1, y1 := p.box()
	a, b := (x0-radius-r.x0)/r.dx, (x1+radius-r.x0)/r.dx
	c, d := (y0-radius-r.y0)/r.dy, (y1+radius-r.y0)/r.dy
	if b < 0 || d < 0 || a > float64(r.nx-1) || c > float64(r.ny-1) {
		return 0, 0, 0, 0, false
	}
	i0, i1 := int(math.Ceil(max(a, 0)-rounding)), int(min(b, float64(r.nx-1))+rounding)
	j0, j1 = int(math.Ceil(max(c, 0)-rounding)), int(min(d, float64(r.ny-1))+rounding)
	return j0, j1, i0 >> tileShift, i1 >> tileShift, i0 <= i1 && j0 <= j1
}

// row notes which places of row j lie within radius of the path.
func (r *relief) row(p *course, radius float64, j int) {
	a, b := p.row(r.y0+float64(j)*r.dy, radius)
	f := max(math.Ceil((a-r.x0)/r.dx-rounding), 0)
	g := min(math.Floor((b-r.x0)/r.dx+rounding), float64(r.nx-1))
	if !(f <= g) {
		f, g = 1, 0
	}
	r.lo[j], r.hi[j] = int32(f), int32(g)
}

// higher calls at for each place within radius of the path that is higher than z, and
// stores what it returns. Tiles that are lower are passed over.
func (r *relief) higher(p *course, radius, z float64, at func(x, y float64, h float32) float32) {
	j0, j1, t0, t1, ok := r.covers(p, radius)
	if !ok {
		return
	}
	low := float32(z)
	for ty := j0 >> tileShift; ty <= j1>>tileShift; ty++ {
		first, last := max(j0, ty<<tileShift), min(j1, ty<<tileShift+tileSize-1)
		ranged := false
		for tx := t0; tx <= t1; tx++ {
			k := ty*r.tx + tx
			if r.most[k] <= low {
				continue
			}
			if r.work[k] >= tileSize*tileSize {
				if r.count(tx, ty); r.most[k] <= low {
					continue
				}
			}
			if !ranged {
				ranged = true
				for j := first; j <= last; j++ {
					r.row(p, radius, j)
				}
			}
			r.tile(tx, first, last, low, &r.work[k], at)
		}
	}
}

// tile is the part of higher within one tile.
func (r *relief) tile(tx, first, last int, low float32, work *uint16, at func(x, y float64, h float32) float32) {
	left, right := int32(tx<<tileShift), int32(tx<<tileShift+tileSize-1)
	for j := first; j <= last; j++ {
		a, b := max(r.lo[j], left), min(r.hi[j], right)
		if a > b {
			continue
		}
		*work += uint16(b - a + 1)
		hs := r.h[j*r.nx+int(a) : j*r.nx+int(b)+1]
		for i, h := range hs {
			if h > low {
				hs[i] = at(r.x0+float64(int(a)+i)*r.dx, r.y0+float64(j)*r.dy, h)
			}
		}
	}
}

// tallest is an upper bound of what stands within radius of the path.
func (r *relief) tallest(p *course, radius float64) float64 {
	most := float32(math.Inf(-1))
	j0, j1, t0, t1, ok := r.covers(p, radius)
	if !ok {
		return float64(most)
	}
	for ty := j0 >> tileShift; ty <= j1>>tileShift; ty++ {
		for _, m := range r.most[ty*r.tx+t0 : ty*r.tx+t1+1] {
			most = max(most, m)
		}
	}
	return float64(most)
}

// count finds the highest place of a tile anew.
func (r *relief) count(tx, ty int) {
	most := float32(math.Inf(-1))
	for j := ty << tileShift; j < min(r.ny, (ty+1)<<tileShift); j++ {
		for _, h := range r.h[j*r.nx+tx<<tileShift : j*r.nx+min(r.nx, (tx+1)<<tileShift)] {
			most = max(most, h)
		}
	}
	k := ty*r.tx + tx
	r.most[k], r.work[k] = most, 0
}
