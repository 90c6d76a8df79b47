package bench

import (
	"math"

	"fliptrue/steps/fold"
)

// returned is a fixture that comes out of its box for another season: grown by its air, worn by its uses.
type returned struct {
	w     *World
	rh    float64 // humidity of the air, percent
	warp  float64 // of the floor's middle
	nick  float64 // at the far end of the edge
	rocks float64
}

// dampGrowth is the growth of a plastic for 1 % of humidity, by a word in its name: sheet makers' data.
var dampGrowth = map[string]float64{"acrylic": 3.3e-5}

func newReturned(w *World) bed {
	g := &returned{w: w, rh: side1Humidity}
	if w.Effects.Growth > 0 {
		g.rh += w.lot.within("season", 10)
	}
	made := w.card.AsMade.Humidity
	if made > 0 {
		w.growth *= 1 + dampOf(w.card.Material)*(g.rh-made)
	}
	return g
}

func dampOf(material string) float64 {
	for word, d := range dampGrowth {
		if alphaOf(material) == alphaOf(word) {
			return d
		}
	}
	return 0
}

func (g *returned) part(p xy) xy { return p }
func (g *returned) cut(p xy) xy  { return p }
func (g *returned) lay(string)   {}

// rise is what the floor has warped by in its middle.
func (g *returned) rise(of string, p xy) float64 {
	lo, hi := g.w.extent()
	if of == "floor" && math.Abs(p.x-(lo.x+hi.x)/2) < 0.3*(hi.x-lo.x) {
		return g.warp
	}
	return 0
}

func (g *returned) read(q fold.What) (v, step float64, ok bool) {
	switch q.By + " " + q.Of + " " + q.Dir {
	case "hygrometer air ":
		return math.Round(g.rh), 1, true
	case "micrometer bore size", "micrometer pin size", "micrometer square size":
		return g.w.boreD[0]*g.w.growth + g.w.gauss(0.001), 0.001, true
	case "dial trial rock":
		return g.rocks, g.w.Effects.DialRound, true
	}
	return 0, 0, false
}

func (g *returned) say(fold.Ask) (string, bool) { return "", false }

// fromBox is the fixture that came back, nil in another kind of setup.
func (w *World) fromBox() *returned { g, _ := w.bed.(*returned); return g }

// counted answers a count of a thing with another number than the good one.
func counted(of, dir string) func(*World, *happening, fold.Ask) (string, bool) {
	return func(_ *World, h *happening, a fold.Ask) (string, bool) {
		if a.Kind != fold.Count || a.What.Of != of || a.What.Dir != dir {
			return "", false
		}
		return string(rune('0' + int(h.size))), true
	}
}

// returnedMistakes are those of a fixture that comes back (common practice, from memory).
var returnedMistakes = []Mistake{
	{Name: "wrong-fixture", Size: 1, Unit: "fixtures", Cost: "Its sister's numbers would have been believed of it.", shows: toldWrong("fixture", "id")},
	{Name: "boss-crazed", Size: 1, Unit: "bosses", Cost: "The screw would have come out with its boss, hours later.", shows: counted("bosses", "crazed"), cures: []string{"mark boss"}},
	{Name: "not-this-fixture", Size: 2.5e-3, Unit: "share", Cost: "A cracked plate would have been taken for a damp one.",
		make: func(w *World, h *happening) { w.growth *= 1 + h.size }},
	{Name: "bore-worn", Size: 0.03, Unit: "mm", Cost: "The part zero would have followed a worn bore.",
		make: func(w *World, h *happening) { w.boreD[0] += h.size }},
	{Name: "edge-nicked", Size: 0.06, Unit: "mm", Cost: "The fixture would have been set turned by the nick.",
		make: func(w *World, h *happening) { w.fromBox().nick = h.size }, cures: []string{"wipe edge"},
		undo: func(w *World, _ *happening) { w.fromBox().nick = 0 }},
	{Name: "floor-warped", Size: 0.05, Unit: "mm", Cost: "Each part would have rocked on the crown.",
		make: func(w *World, h *happening) { w.fromBox().warp = h.size }},
	{Name: "thread-soft", Size: 1, Unit: "threads", Cost: "One screw would have held nothing under the cut.", shows: counted("threads", "soft"), cures: []string{"thread holes"}},
	{Name: "part-jams", Size: 1, Unit: "parts", Cost: "The part would have been pressed in, and split.", shows: toldWrong("trial", "goes")},
}
