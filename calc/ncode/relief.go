package ncode

import "math"

// relief is a height map of what stands, for the step in Z of each cut. A cell stands
// for its middle: a strip narrower than a cell may be missed. The step is the drop of
// the tip below the highest cell that the cutter sweeps: an upper bound to within a
// cell, since the cutter may take less of it in width.
type relief struct {
	x0, y0, cell float64
	nx, ny       int
	h            []float64 // what stands
}

// reliefCells bounds the map along each axis; a cell is at least reliefCell mm.
const (
	reliefCells = 200
	reliefCell  = 1.0
)

// newRelief returns the map of the part with its stock, or nil where there is no part to speak of.
func newRelief(ex *Expect) *relief {
	if ex.Part == nil {
		return nil
	}
	lx, ly := ex.Part.Max[0]-ex.Part.Min[0], ex.Part.Max[1]-ex.Part.Min[1]
	if !(lx > 0) || !(ly > 0) || !(lx < maxNumber) || !(ly < maxNumber) {
		return nil
	}
	r := &relief{x0: ex.Part.Min[0], y0: ex.Part.Min[1], cell: max(reliefCell, lx/reliefCells, ly/reliefCells)}
	r.nx, r.ny = max(int(math.Ceil(lx/r.cell-rounding)), 1), max(int(math.Ceil(ly/r.cell-rounding)), 1)
	r.h = make([]float64, r.nx*r.ny)
	for i := range r.h {
		r.h[i] = ex.Part.Max[2] + ex.Stock
	}
	return r
}

// near is what counts as the same height; slope is how much a piece of a sloping move
// may fall and be taken as level, at its lower end.
const (
	near  = 1e-3
	slope = 0.01
)

// cut lowers the map along the move of a cutter of that radius and returns the largest step.
func (r *relief) cut(m *Move, radius float64) (step float64) {
	if m.Kind == Feed && m.From[2] == m.To[2] {
		return r.sweep(m.From, m.To, radius, rimLine)
	}
	lo, hi := m.Bounds()
	if hi[0] < r.x0-radius || hi[1] < r.y0-radius ||
		lo[0] > r.x0+float64(r.nx)*r.cell+radius || lo[1] > r.y0+float64(r.ny)*r.cell+radius {
		return 0
	}
	n, rim := 1.0, rimLine
	if m.Arc() || m.From[0] != m.To[0] || m.From[1] != m.To[1] { // not straight down
		n = max(n, math.Ceil(math.Abs(m.To[2]-m.From[2])/slope))
	}
	if m.Arc() {
		// Chords; what lies within their sagitta of the rim another pass may touch: not a cut.
		n = max(n, math.Ceil(math.Abs(m.Sweep)/(2*math.Acos(max(1-sagitta/m.Radius, 0.5)))))
		rim = 1.1 * sagitta
	}
	if n = min(n, maxPieces); n == 1 {
		return r.sweep(m.From, m.To, radius, rim)
	}
	from := m.From
	for i := range int(n) {
		to := m.At(float64(i+1) / n)
		step = max(step, r.sweep(from, to, radius, rim))
		from = to
	}
	return step
}

// maxPieces bounds the work of one move. rimLine is the rounding at the edge of a straight one.
const (
	maxPieces = 5000
	rimLine   = 1e-6
)

// capsule is what a cutter sweeps in plan on its way from a to b.
type capsule struct {
	ax, ay, bx, by float64
	r              float64
	nx, ny         float64 // from the path to its left side
}

func newCapsule(a, b [3]float64, r float64) capsule {
	c := capsule{ax: a[0], ay: a[1], bx: b[0], by: b[1], r: r}
	if l := math.Hypot(c.bx-c.ax, c.by-c.ay); l > 0 {
		c.nx, c.ny = -(c.by-c.ay)/l*r, (c.bx-c.ax)/l*r
	}
	return c
}

// row returns where the capsule meets the line of that y; x1 > x2 where it does not.
func (c *capsule) row(y float64) (x1, x2 float64) {
	x1, x2 = math.MaxFloat64, -math.MaxFloat64
	if d := y - c.ay; d*d <= c.r*c.r {
		h := math.Sqrt(c.r*c.r - d*d)
		x1, x2 = c.ax-h, c.ax+h
	}
	if c.ax == c.bx && c.ay == c.by {
		return x1, x2
	}
	if d := y - c.by; d*d <= c.r*c.r {
		h := math.Sqrt(c.r*c.r - d*d)
		x1, x2 = min(x1, c.bx-h), max(x2, c.bx+h)
	}
	if dy := c.by - c.ay; dy != 0 {
		// The sides; each meets the line at one place at most.
		if t := (y - c.ay - c.ny) / dy; t >= 0 && t <= 1 {
			x := c.ax + c.nx + t*(c.bx-c.ax)
			x1, x2 = min(x1, x), max(x2, x)
		}
		if t := (y - c.ay + c.ny) / dy; t >= 0 && t <= 1 {
			x := c.ax - c.nx + t*(c.bx-c.ax)
			x1, x2 = min(x1, x), max(x2, x)
		}
	}
	return x1, x2
}

// sweep presses the cutter into the map from a to b, at the lower of the two. Cells
// within rim of the edge are lowered and not counted.
func (r *relief) sweep(a, b [3]float64, radius, rim float64) (step float64) {
	low := min(a[2], b[2])
	z := low + near
	// The cell under the end, for cutters that may miss the middle of every cell.
	if fx, fy := (b[0]-r.x0)/r.cell, (b[1]-r.y0)/r.cell; fx >= 0 && fy >= 0 && fx < float64(r.nx) && fy < float64(r.ny) {
		if h := &r.h[int(fy)*r.nx+int(fx)]; *h > z {
			step = *h - low
			*h = low
		}
	}
	y1, y2 := r.cells(a[1], b[1], radius, r.y0, r.ny)
	x1, x2 := r.cells(a[0], b[0], radius, r.x0, r.nx)
	if y1 > y2 || x1 > x2 || !r.higher(int(x1), int(x2), int(y1), int(y2), z) {
		return step
	}
	c := newCapsule(a, b, radius)
	for row := y1; row <= y2; row++ {
		y := r.y0 + (row+0.5)*r.cell
		p, q := c.row(y)
		f1 := max(math.Ceil((p-r.x0)/r.cell-0.5), 0)
		f2 := min(math.Floor((q-r.x0)/r.cell-0.5), float64(r.nx-1))
		if f1 > f2 {
			continue
		}
		x1 := int(f1)
		cells := r.h[int(row)*r.nx+x1 : int(row)*r.nx+int(f2)+1]
		highest := z
		for _, h := range cells {
			highest = max(highest, h)
		}
		if highest == z {
			continue
		}
		in := newCapsule(a, b, radius-rim)
		p, q = 1, 0
		if in.r > 0 {
			p, q = in.row(y)
		}
		for i, h := range cells {
			if h <= z {
				continue
			}
			cells[i] = low
			if x := r.x0 + (float64(x1+i)+0.5)*r.cell; x >= p && x <= q {
				step = max(step, h-low)
			}
		}
	}
	return step
}

// cells returns the first and last cell along one axis whose middles lie within radius of a to b.
func (r *relief) cells(a, b, radius, from float64, n int) (first, last float64) {
	return max(math.Ceil((min(a, b)-radius-from)/r.cell-0.5), 0), min(math.Floor((max(a, b)+radius-from)/r.cell-0.5), float64(n-1))
}

// higher reports whether anything in the block of cells is higher than z: mostly not, and then that is all.
func (r *relief) higher(x1, x2, y1, y2 int, z float64) bool {
	for y := y1; y <= y2; y++ {
		for _, h := range r.h[y*r.nx+x1 : y*r.nx+x2+1] {
			if h > z {
				return true
			}
		}
	}
	return false
}
