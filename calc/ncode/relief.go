package ncode

import "math"

// relief is a height map of what stands, for the step in Z of each cut. It is coarse:
// a cell stands for its middle, so that a strip narrower than a cell may be missed. The
// step it gives is the drop of the tip below the highest cell under the cutter: an upper
// bound to within a cell, since the cutter may take less of it in width.
type relief struct {
	x0, y0, cell float64
	nx, ny       int
	h            []float64 // what stands
	tool         int
	radius       float64 // of the tool
	piece        float64 // between samples of a move
	inner        float64 // what lies further out than this is lowered but not counted
}

// reliefCells bounds the map; a cell is at least reliefCell mm.
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
	r := &relief{x0: ex.Part.Min[0], y0: ex.Part.Min[1], cell: max(reliefCell, lx/reliefCells, ly/reliefCells), tool: -1}
	r.nx, r.ny = max(int(math.Ceil(lx/r.cell-rounding)), 1), max(int(math.Ceil(ly/r.cell-rounding)), 1)
	r.h = make([]float64, r.nx*r.ny)
	for i := range r.h {
		r.h[i] = ex.Part.Max[2] + ex.Stock
	}
	return r
}

// near is what counts as the same height.
const near = 1e-3

// cut lowers the map along the move and returns the largest step.
func (r *relief) cut(m *Move, radius float64) (step float64) {
	if m.Tool != r.tool || radius != r.radius {
		r.tool, r.radius, r.piece = m.Tool, radius, max(r.cell/2, radius/4)
		// Between two samples a scallop is left that another path may touch: not a cut.
		r.inner = math.Sqrt(max(radius*radius-r.piece*r.piece/4, 0)) - near
	}
	t0, t1, length := 0.0, 1.0, 0.0
	if m.Arc() {
		lo, hi := m.Bounds()
		if !r.meets(&lo, &hi) {
			return 0
		}
		length = math.Abs(m.Sweep) * m.Radius
	} else {
		length = max(math.Abs(m.To[0]-m.From[0]), math.Abs(m.To[1]-m.From[1]))
		if length <= r.piece {
			return r.at(&m.To)
		}
		if t0, t1 = r.inside(m); t0 > t1 {
			return 0
		}
	}
	n := int(min(max(math.Ceil((t1-t0)*length/r.piece), 1), maxSamples))
	for i := range n + 1 {
		p := m.At(t0 + (t1-t0)*float64(i)/float64(n))
		step = max(step, r.at(&p))
	}
	return step
}

// maxSamples bounds the work of one move: enough for the longest within any map, and for an arc of 5 m.
const maxSamples = 10_000

// meets reports whether the box lies over the map, or near enough to touch it.
func (r *relief) meets(lo, hi *[3]float64) bool {
	return hi[0] >= r.x0-r.radius && hi[1] >= r.y0-r.radius &&
		lo[0] <= r.x0+float64(r.nx)*r.cell+r.radius && lo[1] <= r.y0+float64(r.ny)*r.cell+r.radius
}

// inside returns the stretch of a straight move that lies over the map, t0 > t1 where none does.
func (r *relief) inside(m *Move) (t0, t1 float64) {
	t1 = 1
	lo := [2]float64{r.x0 - r.radius, r.y0 - r.radius}
	hi := [2]float64{r.x0 + float64(r.nx)*r.cell + r.radius, r.y0 + float64(r.ny)*r.cell + r.radius}
	for i := range 2 {
		d := m.To[i] - m.From[i]
		if d == 0 {
			if m.To[i] < lo[i] || m.To[i] > hi[i] {
				return 1, 0
			}
			continue
		}
		a, b := (lo[i]-m.From[i])/d, (hi[i]-m.From[i])/d
		t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
	}
	return t0, t1
}

// at presses the cutter at p into the map.
func (r *relief) at(p *[3]float64) (step float64) {
	z := p[2] + near
	fx, fy := (p[0]-r.x0)/r.cell, (p[1]-r.y0)/r.cell
	reach := r.radius / r.cell
	if !(fx > -reach && fy > -reach && fx < float64(r.nx)+reach && fy < float64(r.ny)+reach) {
		return 0
	}
	if fx >= 0 && fy >= 0 {
		// The cell under the middle, for cutters that may miss the middle of every cell.
		if x, y := int(fx), int(fy); x < r.nx && y < r.ny {
			if h := &r.h[y*r.nx+x]; *h > z {
				step = *h - p[2]
				*h = p[2]
			}
		}
	}
	inner := r.inner / r.cell
	for y := max(int(math.Ceil(fy-reach-0.5)), 0); y < r.ny; y++ {
		dy := float64(y) + 0.5 - fy
		if dy > reach {
			break
		}
		half := math.Sqrt(reach*reach - dy*dy)
		x1, x2 := max(int(math.Ceil(fx-half-0.5)), 0), min(int(math.Floor(fx+half-0.5)), r.nx-1)
		if x1 > x2 {
			continue
		}
		row := r.h[y*r.nx+x1 : y*r.nx+x2+1]
		for i, h := range row {
			if h <= z {
				continue
			}
			row[i] = p[2]
			if dx := float64(x1+i) + 0.5 - fx; dx*dx+dy*dy <= inner*inner {
				step = max(step, h-p[2])
			}
		}
	}
	return step
}
