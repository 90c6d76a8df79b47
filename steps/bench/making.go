package bench

import (
	"math"
	"strings"

	"fliptrue/steps/fold"
)

// making is a fixture that is being cut: a plate on the table, three pads, two bores, one finisher.
//
// Bores and pads are faces where the cutter's flank was; nothing here knows what a card makes of them.
type making struct {
	w      *World
	small  float64    // the finisher's radius under its nominal
	pads   [3]float64 // faces off, towards the wall: cutter pushed off
	burr   float64    // on the second pad
	lean   float64    // of the first pad, into the pocket, from lip to floor
	rim    float64    // over the drawing
	uneven float64    // the blank at its third corner
	bow    float64    // as it is bolted
	hot    float64    // the plate over the room
	stress float64    // movement of its middle once the bolts are let go
	crown  float64    // of the floor's middle
	rocks  float64
	weak   float64 // share of what the thread should bear that is missing
	loose  bool
}

func newMaking(w *World) bed {
	e := w.Effects
	g := &making{w: w, small: w.lot.within("finisher", e.Cutter), rim: w.lot.within("rim", e.BoreSize)}
	for i, n := range []string{"pad 1", "pad 2", "pad 3"} {
		g.pads[i] = w.lot.within(n, e.BoreSize/2)
	}
	if e.FloorForm > 0 { // sawn sheet, annealed
		g.stress, g.bow = w.lot.within("stress", 0.004), w.lot.within("bow", 0.004)
	}
	w.growth = 1 // it is as large as it is cut
	w.hand.mounted = true
	w.cutFixture(g)
	return g
}

// cutFixture cuts it where the machine cuts when it is told the programmed places.
func (w *World) cutFixture(g *making) {
	m := w.setup.Make
	w.fixture = pose{w.stand(w.nominal).add(w.positioning), 0}
	w.bore2 = xy{m.Bore2.X, m.Bore2.Y}.add(w.lot.pair("bore2", w.Effects.Bore2Place))
	w.boreD = [2]float64{m.Bore - 2*g.small, m.Bore - 2*g.small}
}

func (g *making) part(p xy) xy { return p }
func (g *making) cut(p xy) xy  { return p }
func (g *making) lay(string)   {}

// face is where a pad's face is, from bore 1, at a height under the rim; its wall, and its index.
func (g *making) face(wall string, along, z float64) (at float64, ok bool) {
	d, _ := way(wall)
	for i, pad := range g.w.setup.Make.Pads {
		p := xy{pad.At.X, pad.At.Y}
		off := math.Abs(p.x - along)
		if d.x != 0 {
			off = math.Abs(p.y - along)
		}
		if pad.Wall != wall || off > 1 {
			continue
		}
		out := d.x + d.y // towards the wall
		in := g.small - g.pads[i]
		if i == 0 {
			deep := math.Max(g.w.card.AsMade.Floor.Depth, 1)
			in += g.lean * math.Min(1, -z/deep)
		}
		if i == 1 {
			in += g.burr
		}
		return math.Abs(d.x)*p.x + math.Abs(d.y)*p.y - out*in, true
	}
	return 0, false
}

// onPad is the spindle at the trigger on a pad.
func (g *making) onPad(by *tip, wall, at string, dir xy) (xy, bool) {
	p, err := place(at)
	if err != nil {
		return xy{}, false
	}
	f, ok := g.face(wall, p.x, p.y)
	if !ok {
		return xy{}, false
	}
	c := xy{f, p.x}
	if dir.x == 0 {
		c = xy{p.x, f}
	}
	stop := g.w.onFixture(c).sub(dir.times(g.w.trigger(by, dir))).sub(by.ecc)
	return g.w.report(by, stop, dir), true
}

// rise is what floor and rim have come up by at a place since they were cut.
func (g *making) rise(of string, p xy) float64 {
	lo, hi := g.w.extent()
	mid, half := lo.add(hi).times(0.5), hi.sub(lo).times(0.5)
	u := p.sub(mid)
	bend := math.Max(0, 1-(u.x*u.x)/(half.x*half.x))
	z := 0.0
	if g.loose {
		z += g.stress * bend
	}
	if of == "floor" && math.Abs(u.x) < 0.3*half.x {
		z += g.crown
	}
	return z
}

// edgeMoves is how far the edge has come toward the person at a station once the bolts are let go.
func (g *making) edgeMoves(share float64) float64 {
	if !g.loose {
		return 0
	}
	return g.stress * share * share
}

func (g *making) read(q fold.What) (v, step float64, ok bool) {
	w := g.w
	of, at, _ := strings.Cut(q.Of, "@")
	fine := 0.001
	if w.Effects.Readout == 0 {
		fine = 1e-9
	}
	noise := w.gauss(w.Effects.Noise)
	dir, cardinal := way(q.Dir)
	switch wall, pad := strings.CutPrefix(of, "pad-"); {
	case pad && cardinal:
		p, ok := g.onPad(map[string]*tip{"probe": &w.ball, "finder": &w.finder}[q.By], wall, at, dir)
		return p.along(q.Axis), w.Effects.Readout, ok
	case q.By == "control" && of == "program-zero":
		m := w.setup.Make.At
		return w.nominal.sub(xy{m.X, m.Y}).along(q.Axis), w.Effects.Readout, true
	case q.By == "thermometer" && (of == "fixture" || of == "table"):
		v := w.warm + w.lot.within("thermometer", w.Effects.Thermometer)
		if of == "fixture" {
			v += g.hot
		}
		return v + w.uniform(0.1*w.Effects.Thermometer), 0.1, true
	case q.By == "gauge" && of == "made/1":
		goes := math.Floor(w.boreD[0]/gaugeStep+1e-9) * gaugeStep
		if q.Dir == "go" {
			return goes, fine, true
		}
		return goes + gaugeStep, fine, true
	}
	switch q.By + " " + of + " " + q.Dir {
	case "micrometer blank thickness-3":
		return w.setup.Make.Blank + g.uneven + 3*noise, fine, true
	case "micrometer blank thickness-1", "micrometer blank thickness-2", "micrometer blank thickness-4", "micrometer blank thickness-5":
		return w.setup.Make.Blank + 3*noise, fine, true
	case "micrometer part width-x":
		return w.size.x + noise, fine, true
	case "micrometer part width-y":
		return w.size.y + noise, fine, true
	case "dial blank bolt":
		return g.bow, w.Effects.DialRound, true
	case "dial trial rock":
		return g.rocks, w.Effects.DialRound, true
	}
	return 0, 0, false
}

func (g *making) say(fold.Ask) (string, bool) { return "", false }

// onTable is the fixture in the making, nil in another kind of setup.
func (w *World) onTable() *making { g, _ := w.bed.(*making); return g }
