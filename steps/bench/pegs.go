package bench

import (
	"math"
	"strings"

	"fliptrue/steps/fold"
)

// pegs are two pins of the fixture and two holes of the part that go on them.
//
// Pin and part are solids here: a hole goes to where it meets its pin, found by looking along the outline.
type pegs struct {
	w     *World
	at    [2]xy      // of the holes in the part, as side 1 was to ream them
	hole  [2]float64 // diameters
	apart float64    // of the second hole beyond its place, along the line
	lean  xy         // of the first pin up to the part
	stuck bool       // laid on with force: it did not fall on
	along float64    // the first hole off its pin, along the line
	side  [2]float64 // each hole off its pin, across
	loose bool       // it was not pushed
	press float64    // how far a micrometer presses gauge pins over in their holes, a share
}

// gaugeStep is the step of the set of gauge pins, mm.
const gaugeStep = 0.005

func newPegs(w *World) bed {
	d := w.setup.Dowels
	play := d.Play
	if play == 0 {
		play = 0.01
	}
	g := &pegs{w: w, at: [2]xy{{-w.card.AsMade.PartZero.X, -w.card.AsMade.PartZero.Y}}}
	g.at[1] = g.at[0]
	if b := w.card.AsMade.Bore2; b != nil {
		g.at[1] = g.at[0].add(xy{b.At.X, b.At.Y})
	}
	for i, n := range []string{"hole 1", "hole 2"} {
		g.hole[i] = w.boreD[i] + play + w.lot.within(n, w.Effects.BoreSize/2)
	}
	g.apart = w.lot.within("holes apart", w.Effects.Bore2Place)
	g.press = 0.5
	if w.Effects.Bore2Place > 0 {
		g.press = w.lot.stream("pressed over").Float64()
	}
	return g
}

// pins are where the pins stand at the height of the part, and the direction of their line.
func (g *pegs) pins() (a, b, dir xy) {
	c, _ := g.w.datum("pin")
	a, b = g.w.onFixture(c).add(g.lean), g.w.onFixture(g.w.bore2)
	d := b.sub(a)
	return a, b, d.times(1 / d.long())
}

// holes are where the holes are in the part.
func (g *pegs) holes() (a, b xy) {
	line := g.at[1].sub(g.at[0])
	return g.cut(g.at[0]), g.cut(g.at[1]).add(line.times(g.apart / line.long()))
}

// cut is where side 1 cut what should be at p: by the holes, which it reamed in the same clamping, grown about the
// first, and out of square about it, turned over. The holes are where they are.
func (g *pegs) cut(p xy) xy {
	w, q := g.w, p
	if p != g.at[0] && p != g.at[1] {
		q = p.add(w.part.feature)
	}
	q.x += float64(w.part.strain.x*(p.x-g.at[0].x)) - float64(w.square*(p.y-g.at[0].y))
	q.y += float64(w.part.strain.y * (p.y - g.at[0].y))
	return q
}

// part is where a place of the part stands: the first hole about its pin, the line of the holes as the pins have it.
func (g *pegs) part(p xy) xy {
	a, b, dir := g.pins()
	n := xy{-dir.y, dir.x}
	h, k := g.holes()
	line := k.sub(h)
	turn := math.Atan2(dir.y, dir.x) - math.Atan2(line.y, line.x) + (g.side[1]-g.side[0])/b.sub(a).long()
	return p.sub(h).turned(turn).add(a).add(dir.times(g.along)).add(n.times(g.side[0]))
}

// goesOver says whether a hole that stands off its pin by so much clears it: every place of the pin's outline
// lies in the hole. A land of 0 is a round pin.
func goesOver(hole, pin, land, along, across float64) bool {
	for i := range 721 {
		s, c := math.Sincos(float64(i) * math.Pi / 360)
		x, y := pin/2*c, pin/2*s
		if land > 0 && math.Abs(x) > land/2 {
			x = math.Copysign(land/2, x)
		}
		if math.Hypot(x-along, y-across) > hole/2 {
			return false
		}
	}
	return true
}

// across is how far a hole can be pushed across when it is off along.
func across(hole, pin, land, along float64) float64 {
	lo, hi := 0.0, hole
	for range 50 {
		if m := (lo + hi) / 2; goesOver(hole, pin, land, along, m) {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// lay drops the part over its pins and pushes it, where the job does.
func (g *pegs) lay(draw string) {
	w := g.w
	g.along, g.side, g.loose, g.stuck = 0, [2]float64{}, false, false
	a, b, dir := g.pins()
	h, k := g.holes()
	_, d1 := w.datum("pin")
	_, d2 := w.datum("pin2")
	off := k.sub(h).long() - b.sub(a).long() // of the second hole, the first about its pin
	play := math.Max(g.hole[0]-d1, 0)
	clears := func(along float64) bool { return goesOver(g.hole[1], d2, w.setup.Dowels.Land, off+along, 0) }
	least := math.Copysign(math.Min(play/2, math.Abs(off)), -off) // as far as the first pin gives way
	if g.stuck = g.hole[0] < d1 || !clears(0) && !clears(least); g.stuck {
		return
	}
	if g.along = least; clears(0) {
		g.along = 0
	}
	r := w.lot.stream(draw + " along")
	for i := 0; i < 30 && w.Effects.WallContact > 0; i++ { // anywhere in the first pin's play
		f, out := 2*math.Pi*r.Float64(), play/2*math.Sqrt(r.Float64())
		if c := out * math.Cos(f); clears(c) {
			g.along, g.side[0] = c, out*math.Sin(f)
			break
		}
	}
	free := across(g.hole[1], d2, w.setup.Dowels.Land, off+g.along)
	if w.Effects.WallContact > 0 {
		g.side[1] = w.lot.within(draw+" second", free)
	}
	if way := g.way(dir); way != 0 {
		contact := 0.7 * w.Effects.WallContact
		g.side[0] = way*across(g.hole[0], d1, 0, g.along) + w.lot.within(draw+" bears 1", contact)
		g.side[1] = way*free + w.lot.within(draw+" bears 2", contact)
	}
}

// way is the side that the part is pushed to, across the line.
func (g *pegs) way(dir xy) float64 {
	to, ok := way(map[string]string{"left": "x-", "right": "x+", "away": "y+", "toward": "y-"}[g.w.setup.Dowels.Push])
	if !ok {
		return 0
	}
	return math.Copysign(1, (xy{-dir.y, dir.x}).dot(to))
}

// gauges are the largest gauge pin that goes into a hole, and the smallest that does not.
func (g *pegs) gauges(i int) (goes, stops float64) {
	goes = math.Floor(g.hole[i]/gaugeStep+1e-9) * gaugeStep
	return goes, goes + gaugeStep
}

func (g *pegs) read(q fold.What) (v, step float64, ok bool) {
	w := g.w
	fine := 0.001
	if w.Effects.Readout == 0 {
		fine = 1e-9
	}
	_, d1 := w.datum("pin")
	_, d2 := w.datum("pin2")
	a, b, _ := g.pins()
	noise := w.gauss(w.Effects.Noise)
	switch q.By + " " + q.Of + " " + q.Dir {
	case "micrometer pin size":
		return d1 + noise, fine, true
	case "micrometer pin2 size":
		return d2 + noise, fine, true
	case "micrometer pins over":
		return b.sub(a.sub(g.lean)).long() + (d1+d2)/2 + noise, fine, true
	case "dial pin up":
		return g.lean.along(q.Axis) + w.uniform(w.Effects.DialRound/2), w.Effects.DialRound, true
	case "dial pin2 up":
		return w.uniform(w.Effects.DialRound / 2), w.Effects.DialRound, true
	case "micrometer reamed over":
		h, k := g.holes()
		g1, _ := g.gauges(0)
		g2, _ := g.gauges(1)
		return k.sub(h).long() + (g1+g2)/2 - g.press*(g.hole[0]-g1+g.hole[1]-g2)/2 + noise, fine, true
	}
	if n, is := strings.CutPrefix(q.Of, "reamed/"); is && q.By == "gauge" {
		goes, stops := g.gauges(toolNumber(n) - 1)
		if q.Dir == "go" {
			return goes, fine, true
		}
		return stops, fine, true
	}
	return 0, 0, false
}

func (g *pegs) say(a fold.Ask) (string, bool) {
	if a.What.By == "eye" && a.What.Of == "part" && (a.What.Dir == "falls" && g.stuck || a.What.Dir == "pushed" && g.loose) {
		return other(a), true
	}
	return "", false
}

// onPegs is the bed of pins, nil in another kind of setup.
func (w *World) onPegs() *pegs { g, _ := w.bed.(*pegs); return g }

// pegMistakes are those of two pins that cost most (common practice, from memory).
var pegMistakes = []Mistake{
	{Name: "pin-bent", Size: 0.03, Unit: "mm", Cost: "The part would have lain off by the bend, and turned with it.",
		make:  func(w *World, h *happening) { w.onPegs().lean = xy{0.6 * h.size, 0.8 * h.size} },
		cures: []string{"change pin"}, undo: func(w *World, _ *happening) { w.onPegs().lean = xy{} }},
	{Name: "pin-small", Size: 0.02, Unit: "mm", Cost: "The part would have lain anywhere on a pin that was too small for its hole.", alike: []string{"hole-wide"},
		make: func(w *World, h *happening) { w.boreD[0] -= h.size }, cures: []string{"change pin"},
		undo: func(w *World, h *happening) { w.boreD[0] += h.size }},
	{Name: "holes-apart", Size: 0.06, Unit: "mm", Cost: "The part would have been pressed onto its pins, bowed, and cut so.",
		make: func(w *World, h *happening) { w.onPegs().apart += h.size }},
	{Name: "hole-wide", Size: 0.02, Unit: "mm", Cost: "The part would have lain anywhere in a hole that was reamed too wide.",
		make: func(w *World, h *happening) { w.onPegs().hole[0] += h.size }},
	{Name: "pins-not-pushed", Size: 0.01, Unit: "mm", Cost: "The part would have been cut off by its play on the pins, and turned.",
		when: "after do push part", make: func(w *World, h *happening) {
			g := w.onPegs()
			_, _, dir := g.pins()
			g.loose, g.side[0], g.side[1] = true, g.side[0]-g.way(dir)*h.size, g.side[1]-g.way(dir)*h.size
		}, cures: []string{"push part"}, undo: func(w *World, h *happening) {
			g := w.onPegs()
			_, _, dir := g.pins()
			g.loose, g.side[0], g.side[1] = false, g.side[0]+g.way(dir)*h.size, g.side[1]+g.way(dir)*h.size
		}},
}
