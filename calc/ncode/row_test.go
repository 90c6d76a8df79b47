package ncode

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// rowsProgram faces in rows of short collinear moves, some rows askew, links between them; every
// other move has a feed of its own where alone is set, so that no two are joined.
func rowsProgram(rng *rand.Rand, alone bool) string {
	var b strings.Builder
	b.WriteString("G21 G17 G90 G94 G40 G49 G80\nG54\nT1 M6\nS9000 M3\nG43 H1\nG0 Z5.\nX-3. Y0.\nG1 Z0. F900.\n")
	n := 0
	put := func(x, y, z float64) {
		feed := ""
		if n++; alone {
			feed = fmt.Sprintf(" F%d", 900+n%2)
		}
		fmt.Fprintf(&b, "G1 X%.3f Y%.3f Z%.3f%s\n", x, y, z, feed)
	}
	z := 0.0
	for range 3 {
		z -= 0.1 + 0.2*math.Round(rng.Float64()*10)/10
		step := 0.3 + rng.Float64()*2
		slant := math.Round(rng.Float64()*4) / 4
		for y := -1.0; y < 9; y += step {
			depth := z
			if rng.IntN(6) == 0 {
				depth -= 0.4 // one that is the deepest
			}
			put(-2, y, depth)
			for x := -2.0; x < 12; x += 0.5 {
				put(x, y+slant*math.Max(x, 0)/4, depth)
			}
			if rng.IntN(3) == 0 { // to and fro, round corners, back over itself
				x, y := 9.0, y+step/2
				for range 14 {
					x, y = x+1.5*rng.NormFloat64()-0.5, y+1.5*rng.NormFloat64()
					put(x, y, depth)
				}
			}
			if rng.IntN(3) == 0 {
				fmt.Fprintf(&b, "G0 Z3.\nX-2.\nG1 Z%.3f\n", z)
			}
		}
	}
	b.WriteString("G0 Z5.\nG53 G0 Z0.\nM30\n")
	return b.String()
}

// Joined to rows, the moves are judged as they are one by one, and the map is never lower than the stock.
func TestRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for round := range 8 {
		radius := 0.5 + 2.5*rng.Float64()
		ex := Expect{System: 1, Units: MM, Part: &Cuboid{Min: [3]float64{0, 0, -6}, Max: [3]float64{10, 8, 0}}, Tools: map[int]Tool{1: {Length: 70, Radius: radius}}}
		ex.Carries = func(c Cut) float64 { return 0.3 * math.Sqrt(2*radius/min(c.Width, 2*radius)) }
		seed := rng.Uint64()
		var ws [2]*walker
		var moves []Move
		for k := range ws {
			text := rowsProgram(rand.New(rand.NewPCG(seed, 1)), k == 1)
			w := newWalker(context.Background(), bytes.NewReader([]byte(text)), Options{Expect: ex, Lenient: true}, movesOf{&moves})
			if k == 1 {
				w.sink = nil
			}
			how, err := w.run(&plain{c: cutter{r: w.r, size: blockSize}}, nil)
			w.finish(how, err)
			ws[k] = w
		}
		a, b := ws[0].sum.Tools[0], ws[1].sum.Tools[0]
		if math.Abs(a.Step-b.Step) > near || a.Step == b.Step && a.StepLine != b.StepLine {
			t.Errorf("round %d: step %v in line %d joined, %v in line %d one by one", round, a.Step, a.StepLine, b.Step, b.StepLine)
		}
		if math.Abs(a.Heaviest.Load-b.Heaviest.Load) > 0.005*b.Heaviest.Load || a.Heaviest.Line != b.Heaviest.Line {
			t.Errorf("round %d: %+v joined, %+v one by one", round, a.Heaviest, b.Heaviest)
		}
		brute := newSlow(&ex, 0.1)
		for i := range moves {
			if moves[i].Kind != Rapid {
				brute.cut(&moves[i], shape{r: radius})
			}
		}
		r := ws[0].relief
		for j := range r.ny {
			for i := range r.nx {
				x, y, h := r.x0+float64(i)*r.dx, r.y0+float64(j)*r.dy, float64(r.height(i, j))
				low, high := brute.about(x, y)
				if h < low-0.01 || h > high+0.02 {
					t.Fatalf("round %d: the map stands at %.4f at X%.2f Y%.2f, the stock between %.4f and %.4f", round, h, x, y, low, high)
				}
				if one := float64(ws[1].relief.height(i, j)); h > one+near {
					t.Fatalf("round %d: joined %.4f is left at X%.2f Y%.2f, one by one %.4f", round, h, x, y, one)
				}
			}
		}
	}
}

// A row no deeper than what was cut before, and yet heavier since it is wider.
func TestRowWiderThanBefore(t *testing.T) {
	opts, _, _ := setupOf(t, "lid")
	opts.Expect.Carries = func(c Cut) float64 { return 0.8 * math.Sqrt(3.175/min(c.Width, 3.175)) }
	s, _ := walkText(t, "G21 G17 G90 G94 G40 G49 G80\nG54\nT3 M6\nS9000 M3\nG53 G0 Z0.\nX-5. Y-1.1\nG43 H3 Z20.\nG1 Z15.5 F300.\n"+
		"X20.\nX40.\nX100.\nY70.\nX-5.\nY30.\nZ15.8\nX20.\nX30.\nX40.\nX50.\nG0 Z20.\nG53 G0 Z0.\nM30\n", opts)
	if h := s.Tools[0].Heaviest; h.Line < 16 || h.Line > 19 || math.Abs(h.Load-0.7/0.8) > 0.01 {
		t.Errorf("heaviest %+v, want 0.875 in the row at the end", h)
	}
}

type movesOf struct{ to *[]Move }

func (k movesOf) Move(m *Move) { *k.to = append(*k.to, *m) }

// What must be said of a row that runs into more than it may is said of the line that does.
func TestRowIntoAWall(t *testing.T) {
	opts, _, _ := setupOf(t, "lid")
	head := "G21 G17 G90 G94 G40 G49 G80\nG54\nT3 M6\nS9000 M3\nG53 G0 Z0.\nX-5. Y30.\nG43 H3 Z20.\nG1 Z16.3 F300.\n"
	tail := "G0 Z20.\nG53 G0 Z0.\nM30\n"
	// It faces the left half, comes back one step lower there, and goes on into what is left.
	s, _ := walkText(t, head+"X20.\nX40.\nZ15.5\nX30.\nX20.\nX10.\nX20.\nX30.\nX38.\nX45.\nX50.\n"+tail, opts)
	if u := s.Tools[0]; math.Abs(u.Step-1) > 0.001 || u.StepLine != 18 {
		t.Errorf("step %.4f in line %d, want 1.0 in line 18", u.Step, u.StepLine)
	}
}

// dotted is stock as scattered dots, cut by the distance to a line alone: it shares nothing with the map.
type dotted struct{ x, y, h, deep, across []float64 }

// cut takes a straight move of a flat cutter, the depth as seen where its side comes.
func (d *dotted) cut(a, b [3]float64, r float64) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	for i := range d.x {
		d.deep[i] = 0
		along, q := ((d.x[i]-a[0])*dx+(d.y[i]-a[1])*dy)/l, ((d.y[i]-a[1])*dx-(d.x[i]-a[0])*dy)/l
		d.across[i] = q
		if math.Abs(q) > r {
			continue
		}
		w := math.Sqrt(r*r - q*q)
		in, out := max(along-w, 0)/l, min(along+w, l)/l
		if in > 1 || out < 0 {
			continue
		}
		zi, zo := a[2]+in*(b[2]-a[2]), a[2]+out*(b[2]-a[2])
		d.deep[i] = max(d.h[i]-zi, 0)
		d.h[i] = min(d.h[i], zi, zo)
	}
}

// load is the integral of what is cut, layer by layer, by what is carried at the width of each.
func (d *dotted) load(c carry, cutter float64) (load, width float64) {
	const layer = 0.01
	for z := layer; ; z += layer {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i, deep := range d.deep {
			if deep >= z {
				lo, hi = min(lo, d.across[i]), max(hi, d.across[i])
			}
		}
		if lo > hi {
			return load, width
		}
		if z == layer {
			width = hi - lo
		}
		load += layer / c(max(min(hi-lo, cutter), 0.1), false)
	}
}

// The load of a large cutter over whole tiles is no less than what dots of the stock say, and
// whether tiles are cut as a whole or place by place comes to the same.
func TestLoadOverTiles(t *testing.T) {
	rng := rand.New(rand.NewPCG(50, 50))
	ex := &Expect{Part: &Cuboid{Min: [3]float64{0, 0, -30}, Max: [3]float64{600, 400, 0}}}
	const radius = 25.0
	c := &capacity{at: func(w float64, _ bool) float64 { return 0.3 * math.Sqrt(2*radius/min(w, 2*radius)) }}
	c.full = [2]float64{c.at(2*radius, false), c.at(2*radius, true)}
	for round := range 4 {
		on, off := newRelief(ex), newRelief(ex)
		off.whole = false
		var d dotted
		for range 12_000 {
			d.x, d.y = append(d.x, rng.Float64()*600), append(d.y, rng.Float64()*400)
		}
		d.h, d.deep, d.across = make([]float64, len(d.x)), make([]float64, len(d.x)), make([]float64, len(d.x))
		at := [3]float64{-30, 200, -0.4}
		heavy := 0
		for k := range 16 {
			to := [3]float64{rng.Float64()*660 - 30, rng.Float64()*460 - 30, at[2] - 0.002*float64(round%2)}
			if k%3 == 2 {
				to[2] -= 0.5
				p := straight(at, [3]float64{at[0], at[1], to[2]}, 0)
				on.press(&p, &shape{r: radius}, nil)
				off.press(&p, &shape{r: radius}, nil)
				for i := range d.x {
					if math.Hypot(d.x[i]-at[0], d.y[i]-at[1]) <= radius {
						d.h[i] = min(d.h[i], to[2])
					}
				}
				at[2] = to[2]
			}
			p, q := straight(at, to, 0), straight(at, to, 0)
			a, b := on.press(&p, &shape{r: radius}, c), off.press(&q, &shape{r: radius}, c)
			d.cut(at, to, radius-2*rim)
			load, width := d.load(c.at, 2*radius)
			if load > 1 {
				heavy++
			}
			if a.load < load-0.05 || a.width < width-0.01 && a.step > c.full[0] {
				t.Errorf("round %d, move %d: load %.4f at width %.2f, the dots say %.4f at %.2f", round, k, a.load, a.width, load, width)
			}
			if math.Abs(a.step-b.step) > 0.005 || a.load < b.load-0.02 || a.load > b.load*1.05+0.05 || math.Abs(a.width-b.width) > 2*on.cell() {
				t.Errorf("round %d, move %d: step %.4f, load %.4f, width %.2f with whole tiles; %.4f, %.4f, %.2f without", round, k, a.step, a.load, a.width, b.step, b.load, b.width)
			}
			at = to
		}
		if heavy < 3 {
			t.Errorf("round %d: only %d moves are heavy", round, heavy)
		}
	}
}

// A chain leaves what its moves leave one by one, no less and no more, and is as deep as the deepest of them.
func TestChain(t *testing.T) {
	rng := rand.New(rand.NewPCG(77, 1))
	e := &Expect{Part: &Cuboid{Min: [3]float64{0, 0, -6}, Max: [3]float64{30, 20, 0}}}
	for round := range 60 {
		s := shape{r: 0.3 + 3*rng.Float64()}
		wide := shape{r: s.r + 0.001}
		chain, one, over := newRelief(e), newRelief(e), newRelief(e)
		at := [3]float64{rng.Float64() * 30, rng.Float64() * 20, -1}
		for range 3 {
			var ps []course
			for range 2 + rng.IntN(11) {
				to := [3]float64{at[0] + 2*rng.NormFloat64(), at[1] + 2*rng.NormFloat64(), at[2]}
				ps = append(ps, straight(at, to, 0))
				at = to
			}
			deep, step := chain.deepest(ps, &s), 0.0
			chain.chain(ps, &s)
			for k := range ps {
				p, q := ps[k], ps[k]
				step = max(step, one.press(&p, &s, nil).step)
				over.last[0] = math.Inf(1) // nothing is left out about its start
				over.press(&q, &wide, nil)
			}
			if deep < step-1e-6 {
				t.Fatalf("round %d: the chain is %.4f deep, its moves are %.4f", round, deep, step)
			}
			for j := range one.ny {
				for i := range one.nx {
					h, most, least := chain.height(i, j), one.height(i, j), over.height(i, j)
					if h > most+near || h < least-near {
						t.Fatalf("round %d: %.4f is left at %d, %d, want %.4f to %.4f", round, h, i, j, least, most)
					}
				}
			}
			at[2] -= rng.Float64()
		}
	}
}

// height is that of one place.
func (r *relief) height(i, j int) float32 {
	return min(r.h[j*r.nx+i], r.caps[(j>>tileShift)*r.tx+i>>tileShift])
}
