package bench

import (
	"math"
	"strings"

	"fliptrue/steps/fold"
)

// nested is a part in a nest cut into soft jaws: it lies against the fixed jaw and a stop as against three stops.
type nested struct {
	stopped
	spare  float64 // nest wider than the part
	wall   float64 // by how much closing moves the middle of the wall
	rise   float64 // and the part up
	repeat float64 // how far apart two closings leave it
	taper  float64
	slack  bool // it has let go
}

func newNested(w *World) bed {
	on := min(1, 1e3*w.Effects.Noise)
	return &nested{stopped: stopped{w: w}, spare: 0.010 + w.lot.within("nest", 0.006*on), wall: math.Abs(w.lot.within("squeeze", 0.004*on)),
		rise: math.Abs(w.lot.within("jaw rise", 0.004*on)), repeat: w.lot.within("closed again", 0.003*on),
		taper: w.lot.within("grip taper", 0.003*on)}
}

// inNest is the bed of soft jaws, nil in another kind of setup.
func (w *World) inNest() *nested { g, _ := w.bed.(*nested); return g }

// cutNest leaves a nest that lies as the machine travels, as wide as it grows on the day.
func (w *World) cutNest() {
	w.fixture.turn, w.growth = 0, 1
	w.moves++
}

// closeJaws presses the part to the fixed jaw.
func (g *nested) closeJaws() {
	g.slack = false
	g.w.part.shift = g.w.part.shift.add(xy{g.w.uniform(0.001), g.w.uniform(0.001)}.times(min(1, 1e3*g.w.Effects.Noise)))
}

func (g *nested) read(q fold.What) (v, step float64, ok bool) {
	w := g.w
	fine := 0.001
	if w.Effects.Readout == 0 {
		fine = 1e-9
	}
	axis := "y"
	if s := w.card.AsMade.Stops; s.Long == "left" || s.Long == "right" {
		axis = "x"
	}
	width, _ := w.widthAgain(fold.What{By: "micrometer", Of: "part", Dir: "again-" + axis})
	graduation := w.Effects.DialRound
	switch what := strings.TrimSuffix(q.Dir, "-"+axis); q.By + " " + q.Of + " " + what {
	case "gauge nest wide":
		return width + math.Abs(g.taper) + g.spare, fine, true
	case "micrometer part grip-1":
		return width, fine, true
	case "micrometer part grip-2":
		return width + g.taper, fine, true
	case "micrometer part grip-wall":
		return w.setup.Jaws.Wall + w.gauss(w.Effects.Noise), fine, true
	case "dial part close":
		if q.Axis == "z" {
			return g.rise + w.gauss(0.1*graduation), graduation, true
		}
		return g.wall + w.gauss(0.1*graduation), graduation, true
	case "dial part one.close":
		return w.gauss(0.1 * graduation), graduation, true
	case "dial part two.close":
		return g.repeat + w.gauss(0.1*graduation), graduation, true
	}
	return 0, 0, false
}

func (g *nested) say(a fold.Ask) (string, bool) {
	if g.slack && a.What.By == "eye" && a.What.Of == "jaws" && a.What.Dir == "firm" {
		return other(a), true
	}
	return "", false
}

// nestMistakes are those of soft jaws that cost most (common practice, from memory).
var nestMistakes = []Mistake{
	{Name: "jaws-lift", Size: 0.04, Unit: "mm", Cost: "The part would have been cut tilted: the jaws were cut without load.",
		when: "after do cut nest", make: func(w *World, h *happening) { w.inNest().rise += h.size }, cures: []string{"cut nest"},
		undo: func(w *World, h *happening) { w.inNest().rise -= h.size }},
	{Name: "wall-squeezed", Size: 0.05, Unit: "mm", Cost: "The wall would have been cut straight while bowed, and sprung back.",
		when: "after do hold part", make: func(w *World, h *happening) { w.inNest().wall += h.size }, cures: []string{"hold part"},
		undo: func(w *World, h *happening) { w.inNest().wall -= h.size }},
	{Name: "nest-wide", Size: 0.05, Unit: "mm", Cost: "The part would have borne on two lines, and turned under the cut.",
		when: "after do cut nest", make: func(w *World, h *happening) { w.inNest().spare += h.size }, cures: []string{"cut nest"},
		undo: func(w *World, h *happening) { w.inNest().spare -= h.size }},
	{Name: "jaws-repeat", Size: 0.03, Unit: "mm", Cost: "Each part would have lain elsewhere in the nest.",
		when: "after do open jaws", make: func(w *World, h *happening) { w.inNest().repeat = h.size }, cures: []string{"seat part"},
		undo: func(w *World, _ *happening) { w.inNest().repeat = 0 }},
	{Name: "jaws-slack", Size: 1, Unit: "parts", Cost: "The part would have been thrown.",
		when: "after do skim part", make: func(w *World, _ *happening) { w.inNest().slack = true }, cures: []string{"hold part"}},
}
