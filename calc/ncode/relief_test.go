package ncode

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// slow is the same stock on a grid five times as fine, cut by stepping along: nothing but
// the shape of a cutter is shared with what it judges.
type slow struct {
	x0, y0, cell float64
	nx, ny       int
	h            []float64
	depth        []float64 // what the last move took at each place, as relief counts it
}

func newSlow(e *Expect, cell float64) *slow {
	p := e.Part
	s := &slow{x0: p.Min[0], y0: p.Min[1], cell: cell, nx: int(math.Round((p.Max[0]-p.Min[0])/cell)) + 1, ny: int(math.Round((p.Max[1]-p.Min[1])/cell)) + 1}
	s.h, s.depth = make([]float64, s.nx*s.ny), make([]float64, s.nx*s.ny)
	for i := range s.h {
		s.h[i] = p.Max[2] + e.Stock
	}
	return s
}

// bottom is the height of a cutter over a place, infinite beside it.
func bottom(d2 float64, s shape) float64 {
	d := math.Sqrt(d2)
	switch {
	case d > s.r+1e-9:
		return math.Inf(1)
	case d <= s.r-s.corner:
		return 0
	}
	e := d - (s.r - s.corner)
	return s.corner - math.Sqrt(max(s.corner*s.corner-e*e, 0))
}

// cut steps along a move. A place that the cutter comes to is cut from its height down to the
// cutter's; one under its end from what it was before the move; by a round corner all that it loses.
func (s *slow) cut(m *Move, sh shape) {
	for i := range s.depth {
		s.depth[i] = 0
	}
	before := append([]float64(nil), s.h...)
	length := math.Abs(m.Sweep) * m.Radius
	if !m.Arc() {
		length = math.Hypot(m.To[0]-m.From[0], m.To[1]-m.From[1])
	}
	n := int(max(length/0.02, math.Abs(m.To[2]-m.From[2])/0.004)) + 1
	last := m.From
	for k := range n + 1 {
		p := m.At(float64(k) / float64(n))
		for j := max(int((p[1]-sh.r-s.y0)/s.cell), 0); j <= min(int((p[1]+sh.r-s.y0)/s.cell)+1, s.ny-1); j++ {
			for i := max(int((p[0]-sh.r-s.x0)/s.cell), 0); i <= min(int((p[0]+sh.r-s.x0)/s.cell)+1, s.nx-1); i++ {
				x, y := s.x0+float64(i)*s.cell, s.y0+float64(j)*s.cell
				d2 := (x-p[0])*(x-p[0]) + (y-p[1])*(y-p[1])
				z := p[2] + bottom(d2, sh)
				q := j*s.nx + i
				if math.IsInf(z, 1) || s.h[q] <= z {
					continue
				}
				comes := k == 0 || (x-last[0])*(x-last[0])+(y-last[1])*(y-last[1]) > sh.r*sh.r
				switch {
				case sh.corner > 0:
					s.depth[q] = before[q] - z
				case k == n:
					s.depth[q] = max(s.depth[q], before[q]-z)
				case comes:
					s.depth[q] = max(s.depth[q], s.h[q]-z)
				}
				s.h[q] = z
			}
		}
		last = p
	}
}

// about is the lowest and the highest of the places next to one: which side of a rim it lies on is rounding.
func (s *slow) about(x, y float64) (low, high float64) {
	i, j := int(math.Round((x-s.x0)/s.cell)), int(math.Round((y-s.y0)/s.cell))
	low, high = math.Inf(1), math.Inf(-1)
	for b := max(j-1, 0); b <= min(j+1, s.ny-1); b++ {
		for a := max(i-1, 0); a <= min(i+1, s.nx-1); a++ {
			low, high = min(low, s.h[b*s.nx+a]), max(high, s.h[b*s.nx+a])
		}
	}
	return low, high
}

// wide is the largest depth that a whole square of that side is cut to; most the largest of any place.
func (s *slow) wide(side float64) (wide, most float64) {
	k := int(math.Ceil(side/s.cell)) + 1
	row := make([]float64, len(s.depth))
	for j := range s.ny {
		for i := 0; i+k <= s.nx; i++ {
			least := math.Inf(1)
			for q := range k {
				least = min(least, s.depth[j*s.nx+i+q])
			}
			row[j*s.nx+i] = least
		}
	}
	for j := 0; j+k <= s.ny; j++ {
		for i := 0; i+k <= s.nx; i++ {
			least := math.Inf(1)
			for q := range k {
				if least = min(least, row[(j+q)*s.nx+i]); least <= wide {
					break
				}
			}
			wide = max(wide, least)
		}
	}
	for _, d := range s.depth {
		most = max(most, d)
	}
	return wide, most
}

// randomMoves is a path of one cutter: levels, slopes, arcs, helices, straight down and up.
func randomMoves(rng *rand.Rand, n int) (ms []Move) {
	at := [3]float64{rng.Float64() * 10, rng.Float64() * 8, 0.5}
	place := func() [3]float64 {
		return [3]float64{rng.Float64()*14 - 2, rng.Float64()*12 - 2, math.Round(rng.Float64()*-40) / 10}
	}
	for len(ms) < n {
		m := Move{Kind: Feed, Known: 7, Ends: 7, From: at, To: place()}
		switch rng.IntN(6) {
		case 0: // at one height
			m.To[2] = at[2]
		case 1: // a slope
		case 2: // straight down or up
			m.To[0], m.To[1] = at[0], at[1]
		case 3: // nearly level
			m.To[2] = at[2] - 0.004*rng.Float64()
		default: // a helix, or an arc at one height
			m.Kind, m.Radius = ArcCCW, 0.3+3*rng.Float64()
			a := rng.Float64() * 2 * math.Pi
			m.Centre = [3]float64{at[0] - m.Radius*math.Cos(a), at[1] - m.Radius*math.Sin(a), at[2]}
			m.Sweep = (0.1 + 0.9*rng.Float64()) * 2 * math.Pi
			if rng.IntN(2) == 0 {
				m.Kind, m.Sweep = ArcCW, -m.Sweep
			}
			m.To = [3]float64{m.Centre[0] + m.Radius*math.Cos(a+m.Sweep), m.Centre[1] + m.Radius*math.Sin(a+m.Sweep), at[2] - 0.6*rng.Float64()}
			if rng.IntN(3) == 0 {
				m.To[2] = at[2]
			}
		}
		if m.To[2] < -5 {
			m.To[2] = 0
		}
		ms = append(ms, m)
		if at = m.To; rng.IntN(4) == 0 { // it comes from elsewhere
			at = place()
		}
	}
	return ms
}

// The step is an upper bound of what any square of a cell's size is cut to, and not far above
// the deepest place; and the map never stands lower than the stock.
func TestStepAgainstSlowMap(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	e := &Expect{Part: &Cuboid{Min: [3]float64{0, 0, -6}, Max: [3]float64{10, 8, 0}}, Stock: 0.3}
	rounds := 16
	if s := os.Getenv("NCODE_ROUNDS"); s != "" {
		fmt.Sscan(s, &rounds)
	}
	const side = 0.25 + 2*rim
	for round := range rounds {
		s := shape{r: 0.4 + 2*rng.Float64()}
		if round%3 == 0 {
			s.r += 2.5 // it covers whole tiles
		}
		switch round % 4 {
		case 1:
			s.corner = s.r
		case 3:
			s.corner = s.r / 3
		}
		r, brute := newRelief(e), newSlow(e, 0.05)
		if r.cell() > 0.25+1e-9 {
			t.Fatalf("cell %v", r.cell())
		}
		for k, m := range randomMoves(rng, 14) {
			p := straight(m.From, m.To, r.top)
			if m.Arc() {
				p = arcCourse(&m, r.top)
			}
			b := r.press(&p, &s, nil)
			brute.cut(&m, s)
			wide, most := brute.wide(side)
			// What stepping along and the micron at which heights count as one may come to.
			const tol = 0.01
			loose := max(r.gap(&p, &s), 0)
			if s.corner > 0 {
				loose += 0.05 // near its rim it is steep
			}
			if b.step < wide-tol {
				t.Fatalf("round %d, move %d: step %.4f, a whole square is cut to %.4f; %+v, %+v", round, k, b.step, wide, s, m)
			}
			if over := b.step - most; over > tol+loose && most > 0.05 {
				t.Fatalf("round %d, move %d: step %.4f, no place is cut deeper than %.4f; %+v, %+v", round, k, b.step, most, s, m)
			}
			for j := range r.ny {
				for i := range r.nx {
					h := float64(r.height(i, j)) + r.top
					x, y := r.x0+float64(i)*r.dx, r.y0+float64(j)*r.dy
					want, high := brute.about(x, y)
					if s.corner == 0 && h > high+0.02 {
						t.Fatalf("round %d, move %d: the map stands at %.4f at X%.2f Y%.2f, the stock at %.4f only; %+v, %+v", round, k, h, x, y, high, s, m)
					}
					if h < want-tol {
						t.Fatalf("round %d, move %d: the map stands at %.4f at X%.2f Y%.2f, the stock at %.4f; %+v, %+v", round, k, h, x, y, want, s, m)
					}
				}
			}
		}
	}
}

// angle is within 2e-5 of the library's.
func TestAngle(t *testing.T) {
	for k := range 10000 {
		a := float64(k)/10000*2*math.Pi - math.Pi + 1e-6
		y, x := 3*math.Sin(a), 3*math.Cos(a)
		if d := math.Abs(angle(y, x) - math.Atan2(y, x)); d > 2e-5 {
			t.Fatalf("at %v: off by %v", a, d)
		}
	}
}

// What lies about the start of a move is left out only where the tool has just stood there.
func TestStartOfAMove(t *testing.T) {
	e := &Expect{Part: &Cuboid{Min: [3]float64{0, 0, -6}, Max: [3]float64{10, 8, 0}}}
	s := shape{r: 1}
	a, b := [3]float64{2, 4, -1}, [3]float64{6, 4, -1}
	arc := Move{Kind: ArcCCW, Known: 7, Ends: 7, From: a, To: b, Centre: [3]float64{4, 4, -1}, Radius: 2, Sweep: math.Pi}
	up := b
	up[2] = -0.5
	for name, p := range map[string]course{"level": straight(a, b, 0), "arc": arcCourse(&arc, 0), "rising": straight(a, up, 0), "falling": straight(up, a, 0)} {
		r := newRelief(e)
		r.press(&p, &s, nil)
		x, y := p.ax, p.ay
		i, j := int(math.Round(x/r.dx)), int(math.Round(y/r.dy))
		if h := r.height(i, j); h > -0.49 {
			t.Errorf("%s: %v is left at the start", name, h)
		}
	}
}
