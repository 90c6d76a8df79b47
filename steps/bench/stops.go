package bench

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// threeStops are a datum: one side of the part lies at two of them, the side square to it at the third.
type threeStops struct{ *jobs.Stops }

// alongY says that the long side runs along Y.
func (d threeStops) alongY() bool { return d.Long == "left" || d.Long == "right" }

// edge: a dial reads two stops as the ends of a line; a probe touches them.
func (d threeStops) edge(p *fold.Plan) *jobs.Edge {
	if p.Setup.Finds == "probe" {
		return nil
	}
	from, _ := d.line()
	return &jobs.Edge{Side: map[string]string{"away": "front", "toward": "rear", "left": "right", "right": "left"}[d.Long],
		From: jobs.Point{X: from.x, Y: from.y}, Length: d.At[1] - d.At[0]}
}

func (d threeStops) line() (low, high xy) {
	if d.alongY() {
		return xy{0, d.At[0]}, xy{0, d.At[1]}
	}
	return xy{d.At[0], 0}, xy{d.At[1], 0}
}

func (d threeStops) bed(w *World) bed { return &stopped{w: w} }
func (d threeStops) own() string      { return "stops" }

func (d threeStops) touch(w *World, by *tip, of string, at float64, dir xy) (xy, bool, error) {
	if !strings.HasPrefix(of, "stop-") {
		return xy{}, false, nil
	}
	trip, err := w.onStop(by, of, at, dir)
	return trip, true, err
}

// stopped is a part against three stops: a solid whose one side lies flat on two of them, its other side on the third.
type stopped struct {
	w       *World
	contact [3]float64 // how far the part stands off each stop
}

// stops are the three on the card: two of the long side, the third, and which way out of each is the part.
func (g *stopped) stops() (at [3]xy, out [2]xy) {
	s := g.w.card.AsMade.Stops
	place := func(side string, n float64) xy {
		if d, _ := way(side); d.x != 0 {
			return xy{0, n}
		}
		return xy{n, 0}
	}
	long, _ := way(s.Long)
	end, _ := way(s.End)
	return [3]xy{place(s.Long, s.At[0]), place(s.Long, s.At[1]), place(s.End, s.EndAt)}, [2]xy{long.times(-1), end.times(-1)}
}

// leant is a place of the part as side 1 cut it, its axes out of square and turned over since.
func (g *stopped) leant(p xy) xy {
	return xy{p.x - float64(g.w.square*(p.y-g.w.size.y/2)), p.y}
}

func (g *stopped) part(p xy) xy {
	w := g.w
	at, out := g.stops()
	zero := xy{w.card.AsMade.PartZero.X, w.card.AsMade.PartZero.Y}
	var stop, face [3]xy
	for i, c := range at {
		stop[i] = w.onFixture(c).add(out[i/2].turned(w.fixture.turn).times(g.contact[i]))
		face[i] = g.leant(c.sub(zero))
	}
	line, edge := stop[1].sub(stop[0]), face[1].sub(face[0])
	turn := math.Atan2(line.y, line.x) - math.Atan2(edge.y, edge.x)
	lay := func(q xy) xy { return q.sub(face[0]).turned(turn).add(stop[0]) }
	t := line.times(1 / line.long())
	return lay(p).add(t.times(stop[2].sub(lay(face[2])).dot(t)))
}

func (g *stopped) cut(p xy) xy {
	w := g.w
	cx, cy, _ := w.walls()
	q := g.leant(p).add(w.part.feature)
	q.x += float64(w.part.strain.x * (p.x - cx))
	q.y += float64(w.part.strain.y * (p.y - cy))
	return q
}

func (g *stopped) lay(draw string) {
	for i := range g.contact {
		g.contact[i] = g.w.lot.within(fmt.Sprint(draw, " stop ", i), g.w.Effects.WallContact)
	}
}

func (g *stopped) read(fold.What) (float64, float64, bool) { return 0, 0, false }
func (g *stopped) say(fold.Ask) (string, bool)             { return "", false }

// chipAtStop is a chip on the first stop of the long side, out of its face.
func (w *World) chipAtStop(of string, at float64) float64 {
	s := w.card.AsMade.Stops
	for _, h := range w.mistakes {
		if h.Name == "chip-at-stop" && h.begun && !h.over && of == "stop-"+s.Long && at == s.At[0] {
			h.met = true
			return h.size
		}
	}
	return 0
}

// onStop is the spindle at the trigger on a stop of the fixture, coming along an axis: a flat face on the line
// through the card's corner, seen from the part.
func (w *World) onStop(by *tip, of string, at float64, dir xy) (xy, error) {
	side := strings.TrimPrefix(of, "stop-")
	toward, ok := way(side)
	if !ok {
		return xy{}, fmt.Errorf("bench: the fixture has no %q", of)
	}
	along := xy{1, 0}
	if toward.x != 0 {
		along = xy{0, 1}
	}
	a, b := w.onFixture(along.times(at-1)), w.onFixture(along.times(at+1))
	t := b.sub(a).times(1 / b.sub(a).long())
	out := xy{t.y, -t.x} // toward the part
	if out.dot(toward) > 0 {
		out = out.times(-1)
	}
	if out.dot(dir) >= -0.5 {
		return xy{}, fmt.Errorf("bench: %s can't be touched moving %v", of, dir)
	}
	// Jogged to by eye along the face; the ball's centre stands off by its radius when it trips.
	beside := w.gauss(200 * w.Effects.Noise)
	aim := w.onFixture(along.times(at)).add(t.times(beside)).sub(dir.times(10))
	gap := aim.add(by.ecc).sub(a).dot(out) - w.trigger(by, dir) - w.chipAtStop(of, at)
	if of == "stop-"+w.card.AsMade.Stops.End {
		if w.hand.pressed++; w.hand.pressed%2 == 0 { // it springs back
			gap += w.hand.gives
		}
	}
	return w.report(by, aim.add(dir.times(gap/-out.dot(dir))), dir), nil
}

// stopMistakes are those of a fixture that is found by stops (common practice, from memory).
var stopMistakes = []Mistake{
	{Name: "chip-at-stop", Size: 0.05, Unit: "mm", Cost: "The whole side would have been cut turned about a chip at a stop.",
		cures: []string{"wipe stops"}},
	{Name: "stop-gives", Size: 0.05, Unit: "mm", Cost: "The part would have been cut off by what the stop gave under its push.",
		make: func(w *World, h *happening) { w.hand.gives = h.size }, alike: []string{"chip-at-stop"}},
	{Name: "off-its-stop", Size: 0.06, Unit: "mm", Cost: "The part would have been cut off by the gap at its stop.", alike: []string{"clearance-not-pushed"},
		when: "after do seat part", make: func(w *World, h *happening) {
			w.hand.off = w.inward().times(h.size)
			w.part.shift, w.part.free = w.part.shift.add(w.hand.off), true
		}, cures: []string{"push part", "seat part"}, undo: func(w *World, _ *happening) {
			if w.part.free {
				w.part.shift, w.part.free = w.part.shift.sub(w.hand.off), false
			}
		}},
}
