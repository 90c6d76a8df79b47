package bench

import (
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// finished is a finished part on a bench: two outlines, one on the other, each a rectangle as the cutter left it.
//
// The outline of side 2 is laid out corner by corner and cut by the line along which the stylus comes, so that it
// shares no formula with what reckons the steps.
type finished struct {
	w      *World
	shift  xy      // of side 2 on side 1, about the middle
	turn   float64 // counter-clockwise
	size   float64 // further out on each face
	shear  float64 // X per Y of side 2 less side 1
	cavity xy      // side 1's inside off its outline
	floor  level   // beyond its thickness, about the middle
	burr   float64
	sense  float64 // of the dial: -1 reads the other way
	drift  float64 // of a hole, by its drill alone
	high   float64 // the finishing cutter over its program

	onFixture bool // still screwed down: it was cut in this record
}

// Half-widths of what a finished part is off (common practice, from memory).
const (
	floorHalf = 0.010
	turnHalf  = 0.15e-3
)

func newFinished(w *World) bed {
	g := &finished{w: w, sense: 1, shift: w.part.feature.times(-1), size: w.lot.within("side two cutter", w.Effects.Cutter/2),
		shear: 2 * w.square}
	if w.Effects.SideOne > 0 {
		g.turn = w.lot.within("side two turn", turnHalf)
		g.floor = level{w.lot.within("floor left", floorHalf), w.lot.within("floor x", floorHalf) / w.size.x, w.lot.within("floor y", floorHalf) /
			w.size.y}
	}
	return g
}

func (g *finished) part(p xy) xy { return p }
func (g *finished) cut(p xy) xy  { return p }
func (g *finished) lay(string)   {}

// corners are those of side 2, counter-clockwise from the near left one, from the part's middle.
func (g *finished) corners() (out [4]xy) {
	a, b := g.w.size.x/2+g.size, g.w.size.y/2+g.size
	for i, c := range []xy{{-a, -b}, {a, -b}, {a, b}, {-a, b}} {
		c.x += float64(g.shear * c.y)
		out[i] = c.turned(g.turn).add(g.shift)
	}
	return out
}

// ends are the corners of a face, and the axis along it.
var ends = map[string]struct {
	from, to int
	along    string
	out      float64
}{"part-right": {1, 2, "y", 1}, "part-left": {3, 0, "y", -1}, "part-rear": {2, 3, "x", 1}, "part-front": {0, 1, "x", -1}}

// step is how much further out side 2 stands on a face, at a place along it in program coordinates.
func (g *finished) step(of, at string) (float64, bool) {
	e, ok := ends[of]
	p, err := place(at)
	if !ok || err != nil {
		return 0, false
	}
	across, half, mid := "x", g.w.size.x/2, g.w.size.y/2
	if e.along == "x" {
		across, half, mid = "y", g.w.size.y/2, g.w.size.x/2
	}
	c := g.corners()
	a, b := c[e.from], c[e.to]
	f := (p.x - mid - a.along(e.along)) / (b.along(e.along) - a.along(e.along))
	return e.out*(a.along(across)+f*(b.along(across)-a.along(across))) - half, true
}

func (g *finished) read(q fold.What) (v, step float64, ok bool) {
	noise := g.w.gauss(g.w.Effects.Noise)
	fine := 0.001
	if g.w.Effects.Readout == 0 {
		fine = 1e-9
	}
	if v, step, ok = g.readAt(q, noise, fine); ok {
		return v, step, true
	}
	switch q.By + " " + q.Dir {
	case "dial sign":
		return g.sense * (g.w.plan.Sensible(0.1) + noise), g.w.Effects.DialRound, true
	case "micrometer width-x":
		return g.w.size.x + 2*g.size + noise, fine, true
	case "micrometer width-y":
		return g.w.size.y + 2*g.size + noise, fine, true
	case "micrometer dia":
		return pinDia(g.w.plan.Job.Unit) + noise, fine, true
	case "micrometer before1", "micrometer before2", "micrometer before3", "micrometer after1", "micrometer after2", "micrometer after3":
		strip, after := strings.CutPrefix(q.Dir, "after")
		v := 12 + g.w.lot.within("offcut "+q.Dir[len(q.Dir)-1:], 0.02)
		if strip != "" && after {
			v -= 2 * (sanded + g.w.lot.within("sanded "+strip, sanded/5))
		}
		return v + noise, fine, true
	case "hygrometer ":
		return math.Round(50 + 3*noise), 1, true
	}
	return 0, 0, false
}

// readAt is what is read at a place of the part.
func (g *finished) readAt(q fold.What, noise, fine float64) (v, step float64, ok bool) {
	w := g.w
	of, at, _ := strings.Cut(q.Of, "@")
	p, err := place(at)
	switch q.By + " " + q.Dir {
	case "dial step":
		s, ok := g.step(of, at)
		if of == "part-right" && p.x < w.size.y/2 { // the burr stands there
			s += g.burr
		}
		return g.sense * (s + noise), w.Effects.DialRound, ok
	case "micrometer wall":
		return g.wall(of, at, noise, fine)
	case "gauge floor":
		return w.setup.Inspect.Floor[0] + g.floor.at(p.sub(w.size.times(0.5))) + noise, fine, err == nil
	case "calliper x", "calliper y":
		d := g.displaced(p)
		d.x += g.drift
		return p.add(d).along(q.Dir) + pinDia(w.plan.Job.Unit)/2 + w.gauss(5*w.Effects.Noise), 10 * fine, err == nil
	case "probe z-":
		if of == "part-top" && g.onFixture {
			top := w.floor.at(p.add(xy{w.card.AsMade.PartZero.X, w.card.AsMade.PartZero.Y})) + w.plan.Job.Part.Size[2] + g.high
			return top + w.probe + noise, w.Effects.Readout, err == nil
		}
	}
	return 0, 0, false
}

// wall is a wall between an outer face of side 2 and side 1's inside, or side 2's.
func (g *finished) wall(of, at string, noise, fine float64) (v, step float64, ok bool) {
	s, ok := g.step(of, at)
	out, t := ends[of].out, g.w.setup.Inspect.Wall[0]
	if g.w.setup.Inspect.Cavity == "side 2" { // its inside goes where side 2 does
		return t - s + g.size + noise, fine, ok
	}
	inside := g.cavity.x
	if ends[of].along == "x" {
		inside = g.cavity.y
	}
	return t + s - out*inside + noise, fine, ok
}

func (g *finished) say(a fold.Ask) (string, bool) {
	if a.What.Dir == "screwed" && !g.onFixture {
		return a.Options[1], true
	}
	return "", false
}

// displaced is how far side 2 lies beside its drawing at a place of it.
func (g *finished) displaced(p xy) xy {
	mid := g.w.size.times(0.5)
	q := p.sub(mid)
	q.x += float64(g.shear * q.y)
	return q.turned(g.turn).add(g.shift).sub(p.sub(mid))
}

// sanded is what a sequence of grits takes of a face, mm (common practice, from memory).
const sanded = 0.02

// pinDia is the pin at hand, mm.
func pinDia(s unit.System) float64 {
	if s == unit.Imperial {
		return 3.175
	}
	return 4
}

// onBench is the finished part, nil in another kind of setup.
func (w *World) onBench() *finished { g, _ := w.bed.(*finished); return g }

// Finished is the truth of a finished part: side 2 on side 1 about the middle, turned (rad), further out on each face, out of
// square (X per Y), and its floor beyond its thickness; ok is false for another setup.
func (w *World) Finished() (shift Pair, turn, size, square, thick float64, ok bool) {
	g := w.onBench()
	if g == nil {
		return Pair{}, 0, 0, 0, 0, false
	}
	return Pair{g.shift.x, g.shift.y}, g.turn, g.size, g.shear, g.floor.at(xy{}), true
}

// finishedMistakes are those of a finished part on the bench (common practice, from memory).
var finishedMistakes = []Mistake{
	{Name: "dial-backwards", Size: 1, Unit: "count", Cost: "The card would have been corrected the wrong way, and the next part be off by twice as much.", when: "after do fit dial",
		make: func(w *World, _ *happening) { w.onBench().sense = -1 }, cures: []string{"fit dial"},
		undo: func(w *World, _ *happening) { w.onBench().sense = 1 }},
	{Name: "odd-step", Size: 0.08, Unit: "mm", Cost: "A burr would have passed for a shift and a turn.",
		make: func(w *World, h *happening) { w.onBench().burr = h.size }, cures: []string{"wipe part"},
		undo: func(w *World, _ *happening) { w.onBench().burr = 0 }},
	{Name: "part-warm", Size: 4, Unit: "K", Cost: "The part would have been measured larger than it is.", alike: []string{"part-hot"},
		make: func(w *World, h *happening) { w.part.hot = h.size }, cures: []string{"wait part"},
		undo: func(w *World, _ *happening) { w.part.hot = 0 }},
	{Name: "cavity-off", Size: 0.03, Unit: "mm", Cost: "Thin walls would have been laid on the fixture, which is right.", alike: []string{"wall-off"},
		make: func(w *World, h *happening) { w.onBench().cavity = xy{h.size, 0} }},
	{Name: "hole-off", Size: 0.12, Unit: "mm", Cost: "A drill that wandered would have been laid on the fixture, and the next hole be off by its correction.",
		make: func(w *World, h *happening) { w.onBench().drift = h.size }},
	{Name: "moved-in-cut", Size: 0.05, Unit: "mm", Cost: "A card would have been corrected for a fixture that crept in one cut.", alike: []string{"fixture-moved"}, when: "before read probe bore",
		make: func(w *World, h *happening) { w.fixture.at = w.fixture.at.add(xy{0.6 * h.size, 0.8 * h.size}) }},
	{Name: "pulled-in-cut", Size: 0.05, Unit: "mm", Cost: "A cutter that slipped out would have been taken for a thick program.", alike: []string{"tool-pulled"}, when: "before read touch tool",
		make: func(w *World, h *happening) { w.part.pulled += h.size }},
	{Name: "side-off", Size: 0.09, Unit: "mm", Cost: "The part would have gone to its mate with a step on it.", alike: []string{"wall-off"},
		make: func(w *World, h *happening) { w.onBench().shift.x += h.size }},
}
