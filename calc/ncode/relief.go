package ncode

import "math"

// relief is a height map of what stands, for the step in Z of each cut. It is coarse:
// a cell counts as touched when its middle lies under the cutter, so that a strip
// narrower than a cell may be missed and what stands in a cell is what stood at its
// middle. The step it gives is the drop of the tip below the highest touched cell:
// an upper bound to within a cell, since the cutter may take less of it in width.
type relief struct {
	x0, y0, cell float64
	nx, ny       int
	h            []float64 // what stands
	seen         []float64 // lowest height at which the middle of this tool has been in the cell
	tool         int
	radius       float64
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
	r.h, r.seen = make([]float64, r.nx*r.ny), make([]float64, r.nx*r.ny)
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
		r.tool, r.radius = m.Tool, radius
		for i := range r.seen {
			r.seen[i] = math.MaxFloat64
		}
	}
	n := 1
	if m.Arc() {
		n = samples(math.Abs(m.Sweep)*m.Radius, r.cell/2)
	} else {
		dx, dy := m.To[0]-m.From[0], m.To[1]-m.From[1]
		if d := max(math.Abs(dx), math.Abs(dy)); d > r.cell/2 {
			n = samples(d, r.cell/2)
		}
	}
	if n == 1 {
		return r.at(&m.To)
	}
	for i := range n {
		p := m.At(float64(i+1) / float64(n))
		step = max(step, r.at(&p))
	}
	return step
}

// samples is how many pieces a length is cut into; a move of many kilometres is outside any part.
func samples(length, piece float64) int { return int(min(max(math.Ceil(length/piece), 1), 100_000)) }

// at presses the cutter at p into the map.
func (r *relief) at(p *[3]float64) (step float64) {
	z := p[2]
	fx, fy := (p[0]-r.x0)/r.cell, (p[1]-r.y0)/r.cell
	reach := r.radius / r.cell
	if fx < -reach || fy < -reach || fx > float64(r.nx)+reach || fy > float64(r.ny)+reach {
		return 0
	}
	own := -1
	if cx, cy := int(math.Floor(fx)), int(math.Floor(fy)); cx >= 0 && cy >= 0 && cx < r.nx && cy < r.ny {
		own = cy*r.nx + cx
		if r.seen[own] <= z+near {
			return 0
		}
		r.seen[own] = z
	}
	touch := func(i int) {
		if d := r.h[i] - z; d > near {
			step = max(step, d)
			r.h[i] = z
		}
	}
	if own >= 0 {
		touch(own)
	}
	x1, x2 := max(int(math.Ceil(fx-reach-0.5)), 0), min(int(math.Floor(fx+reach-0.5)), r.nx-1)
	y1, y2 := max(int(math.Ceil(fy-reach-0.5)), 0), min(int(math.Floor(fy+reach-0.5)), r.ny-1)
	for y := y1; y <= y2; y++ {
		dy := float64(y) + 0.5 - fy
		for x := x1; x <= x2; x++ {
			dx := float64(x) + 0.5 - fx
			if dx*dx+dy*dy <= reach*reach {
				touch(y*r.nx + x)
			}
		}
	}
	return step
}
