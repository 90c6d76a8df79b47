package bench

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// mistakes are those of the trade that cost most (common practice, from memory).
var mistakes = []Mistake{
	{Name: "tapped-after-bore", Size: 0.1, Unit: "mm", Cost: "The whole side would have been cut off its place by the tap.",
		when: "before read probe floor", make: func(w *World, h *happening) {
			w.fixture = w.fixture.about(w.onFixture(xy{}), 0, xy{0.6 * h.size, -0.8 * h.size})
			w.moves++
		}},
	{Name: "clamp-left-on", Size: 1, Unit: "clamps", Cost: "The cutter would have met a clamp, and the clamp would have flown.",
		when: "after do unstrap clamps", make: func(w *World, h *happening) { w.hand.straps = int(h.size) },
		cures: []string{"unstrap clamps"}},
	{Name: "length-convention", Size: 80, Unit: "mm", Cost: "The tool would have gone too deep by the reference tool's whole length.",
		make: func(w *World, h *happening) { // it stands in the table whoever reads it
			for n := range w.plan.Job.Tools {
				s := strconv.Itoa(n)
				w.hand.table[s] = gaugeLength(s) - h.size
			}
		},
		shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			n, ok := strings.CutPrefix(a.What.Of, "tool/")
			if !ok || n == "probe" || a.What.By != "control" {
				return "", false
			}
			w.hand.table[n] = gaugeLength(n) - h.size
			return w.typed(w.hand.table[n], a.Unit, w.Effects.Readout), true
		}, cures: []string{"measure tools"}},
	{Name: "other-offset-number", Size: 1, Unit: "numbers", Cost: "The program would have cut where another job's offset points.",
		shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if a.What.Of != "offset-word" && a.What.Dir != "offset-word" {
				return "", false
			}
			if n, err := strconv.Atoi(strings.TrimPrefix(w.setup.Offset, "G")); err == nil && n < 59 {
				return "G" + strconv.Itoa(n+1), true
			}
			return "G54", true
		}},
	{Name: "seated-on-chip", Size: 0.05, Unit: "mm", Cost: "The part would have been cut tilted, its floor thin on one side.",
		when: "after do seat part", make: func(w *World, h *happening) {
			w.part.chip, w.part.corner = h.size, int(4*w.lot.stream("chip corner").Float64())
		}, cures: []string{"wipe pocket", "wipe part", "seat part"}, undo: func(w *World, _ *happening) { w.part.chip = 0 }},
	{Name: "part-rotated", Size: 180, Unit: "deg", Cost: "The part would have been cut end for end: scrap.",
		when: "after do seat part", make: func(w *World, h *happening) { w.part.turned = true },
		shows: toldWrong("part", "edge", "corner", "mark"), cures: []string{"seat part"},
		undo: func(w *World, _ *happening) { w.part.turned = false }},
	{Name: "flipped-wrong-axis", Size: 180, Unit: "deg", Cost: "Side 2 would have been cut end for end against side 1: scrap.",
		when: "after do seat part", make: func(w *World, h *happening) { w.part.wrong = true },
		shows: toldWrong("part", "edge", "flip", "mark"), cures: []string{"seat part"},
		undo: func(w *World, _ *happening) { w.part.wrong = false }},
	{Name: "wrong-side-up", Size: 1, Unit: "sides", Cost: "Side 1 would have been cut away.",
		when: "after do seat part", shows: toldUp, cures: []string{"seat part"}},
	{Name: "tapped-wrong-way", Size: 1, Unit: "times the tap", Cost: "The skew would have doubled, or been believed away.",
		when: "before do tap fixture", make: func(w *World, h *happening) { w.hand.backwards = h.size }, cures: []string{"tap fixture"}},
	{Name: "chip-in-bore", Size: 0.06, Unit: "mm", Cost: "The bore's centre, and all of side 2 with it, would have been off by about a third of the chip.",
		cures: []string{"wipe bore", "wipe pin"}},
	{Name: "coolant-drop", Size: 0.02, Unit: "mm", Cost: "One early trigger would have moved the bore's centre.",
		cures: []string{"wipe bore", "wipe pin", "wipe probe"}, alike: []string{"chip-in-bore"}},
	{Name: "z0-other", Size: 1, Unit: "words", Cost: "Side 2 would have been too high or too deep by the part's thickness.",
		shows: toldWrong("offset", "z0")},
	{Name: "soft-thread", Size: 1, Unit: "screws", Cost: "One screw would have held nothing, and the part could have been thrown.",
		when: "after do screw screws", make: func(w *World, h *happening) { w.hand.soft = int(h.size) },
		shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if a.What.Of != "soft-screws" {
				return "", false
			}
			return strconv.Itoa(int(h.size)), true
		}, cures: []string{"thread holes"}, undo: func(w *World, _ *happening) { w.hand.soft = 0 }},
	{Name: "screw-bottomed", Size: 1, Unit: "screws", Cost: "A screw tight on the bottom of its hole would have clamped nothing.",
		when: "after do screw screws", shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if !strings.Contains(a.What.Of+a.What.Dir, "washer") {
				return "", false
			}
			if a.Kind == fold.Count {
				return strconv.Itoa(int(h.size)), true
			}
			return other(a), true
		}, cures: []string{"screw screws"}},
	{Name: "screw-head-high", Size: 0.5, Unit: "mm", Cost: "The cutter would have run through a screw head.",
		when: "after do screw screws", shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if !strings.Contains(a.What.Of+a.What.Dir, "head") || a.Window == nil {
				return "", false
			}
			return w.typed(a.Window.Want+h.size, a.Unit, 0), true
		}, cures: []string{"screw screws"}},
	{Name: "strap-over-hollow", Size: 0.08, Unit: "mm", Cost: "The part would have been cut bowed, and sprung back by as much.",
		when: "after do strap clamps", make: func(w *World, h *happening) {
			w.part.bow = -h.size
			w.move("strap", xy{}, h.size)
		}, cures: []string{"strap clamps", "unstrap clamps"}},
	{Name: "offset-slip", Size: 10, Unit: "mm", Cost: "The tool would have gone to another place by the slip.",
		when: "after do key offset", make: func(w *World, h *happening) { w.hand.slip = h.size; w.hand.keyed["x"] += h.size },
		cures: []string{"key offset"}, undo: func(w *World, h *happening) { w.hand.slip = 0 }},
	{Name: "rotation-left-active", Size: 0.5, Unit: "deg", Cost: "Everything would have been cut turned about the part zero.",
		make: func(w *World, h *happening) { w.hand.keyed["page"] = h.size * math.Pi / 180 },
		shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if !strings.HasPrefix(a.What.Of, "rotation") {
				return "", false
			}
			switch a.Kind {
			case fold.Count:
				return strconv.Itoa(int(math.Ceil(h.size))), true
			case fold.Choice, fold.Text:
				return other(a), true
			}
			return w.typed(h.size*math.Pi/180, a.Unit, 0), true
		}, cures: []string{"cancel rotation"}, undo: func(w *World, _ *happening) { w.hand.keyed["page"] = 0 }},
	{Name: "tool-pulled", Size: 0.3, Unit: "mm", Cost: "The floor would have been cut thin by the pull, or through.",
		when: "before do drill", make: func(w *World, h *happening) { w.part.pulled, w.part.deep = h.size, h.size },
		cures: []string{"read control", "read touch"}, undo: func(w *World, _ *happening) { w.part.pulled, w.part.deep = 0, 0 }},
	{Name: "drill-through", Size: 2, Unit: "mm", Cost: "The threads would have been drilled away and the table marked.",
		when: "before do drill", make: func(w *World, h *happening) { w.part.deep = h.size }, alike: []string{"tool-pulled"}},
	{Name: "cold-fixture", Size: 6, Unit: "K", Cost: "The fixture would have been shorter than its card says, and the part off its place.",
		make: func(w *World, h *happening) { w.setWarmth(-h.size) }},
	{Name: "bumped-part", Size: 0.05, Unit: "mm", Cost: "The part would have been cut where it stood before the bump.",
		when: "before do screw screws", make: func(w *World, h *happening) {
			w.part.shift = w.part.shift.add(xy{0.6 * h.size, 0.8 * h.size})
		}, cures: []string{"seat part"}, alike: []string{"shift-at-swap"},
		sees: "part-bumped", seenFrom: 0.3},
	{Name: "shift-at-swap", Size: 0.04, Unit: "mm", Cost: "The part would have been cut where the straps had held it, not where the screws do.",
		when: "after do unstrap clamps", make: func(w *World, h *happening) {
			w.part.shift = w.part.shift.add(xy{-0.8 * h.size, 0.6 * h.size})
			w.part.turn += 0.2 * h.size / w.size.x
		}, cures: []string{"seat part"}},
	{Name: "refitted-probe", Size: 0.01, Unit: "mm", Cost: "A probe put back a little beside would have been taken for a part that moved.",
		when: "before do unstrap clamps", make: func(w *World, h *happening) {
			w.ball.ecc = w.ball.ecc.add(xy{h.size, -h.size})
			w.probe += 2 *
				h.size
		}},
	{Name: "clearance-not-pushed", Size: 0.02, Unit: "mm", Cost: "The part would have been cut off its walls by the clearance.",
		when: "after do seat part", make: func(w *World, h *happening) {
			w.hand.off = w.inward().times(h.size)
			w.part.shift, w.part.free = w.part.shift.add(w.hand.off), true
		}, cures: []string{"push part", "seat part"}, undo: func(w *World, _ *happening) {
			if w.part.free {
				w.part.shift, w.part.free = w.part.shift.sub(w.hand.off), false
			}
		}},
	{Name: "bolts-snug", Size: 0.08, Unit: "mm", Cost: "The fixture would have crept on the table under the first cut.",
		when: "after do tighten fixture", make: func(w *World, h *happening) { w.hand.snug = h.size },
		shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if a.What.Of != "fixture-bolts" {
				return "", false
			}
			if a.What.Dir == "loose" {
				return "1", true
			}
			return strconv.Itoa(fixtureBolts - 1), true
		}, undo: func(w *World, h *happening) { w.hand.snug = 0; w.tighten() }},
	{Name: "wrong-stylus", Size: 0.05, Unit: "mm", Cost: "Every face found from one side would have been off by the difference of the radii.",
		make: func(w *World, h *happening) { w.ball.rx, w.ball.ry = w.ball.rx+h.size, w.ball.ry+h.size }},
	{Name: "spindle-unmarked", Size: 0.01, Unit: "mm", Cost: "The bore would have been off by twice the probe's eccentricity.",
		make:  func(w *World, h *happening) { w.ball.ecc = w.ball.ecc.times(-1).add(xy{h.size, 0}) },
		shows: toldWrong("spindle", "mark"), cures: []string{"mark spindle"},
		undo: func(w *World, h *happening) { w.ball.ecc = w.ball.ecc.sub(xy{h.size, 0}).times(-1) }},
	{Name: "collet-runout", Size: 0.03, Unit: "mm", Cost: "A chip in the collet would have broken the cutter, or cut every wall thin.",
		make:  func(w *World, h *happening) { w.part.runs = h.size },
		cures: []string{"wipe collet"}, undo: func(w *World, _ *happening) { w.part.runs = 0 }},
	{Name: "program-edited", Size: 1, Unit: "programs", Cost: "The program that was checked would not have been the one that cut.",
		shows: toldWrong("program", "same")},
	{Name: "part-hot", Size: 8, Unit: "K", Cost: "The part would have shrunk in its pocket after it was cut.",
		make:  func(w *World, h *happening) { w.part.heat(w, h.size) },
		cures: []string{"wait part"}, undo: func(w *World, h *happening) { w.part.heat(w, -h.size) }},
}

// heat makes the part warmer, and larger.
func (p *part) heat(w *World, by float64) {
	a := alphaOf(w.plan.Job.Part.Material)
	p.hot, p.strain = p.hot+by, p.strain.add(w.along(xy{by * a, by * a}, woodAlong/max(a, woodAlong)))
}

// inward is the direction away from the datum walls.
func (w *World) inward() xy {
	var d xy
	for _, a := range w.setup.Against {
		if t, ok := way(a); ok {
			d = d.sub(t)
		}
	}
	return d
}
