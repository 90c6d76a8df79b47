package bench

import "math"

// makingMistakes are those of making a fixture that cost most (common practice, from memory).
var makingMistakes = []Mistake{
	{Name: "blank-uneven", Size: 0.15, Unit: "mm", Cost: "Bolted down it would have bent, and sprung back with the pocket in it.",
		make: func(w *World, h *happening) { w.onTable().uneven = h.size }, cures: []string{"face blank"},
		undo: func(w *World, _ *happening) { w.onTable().uneven = 0 }},
	{Name: "blank-bowed", Size: 0.04, Unit: "mm", Cost: "The floor would have been cut hollow over a chip under the plate.",
		make: func(w *World, h *happening) { w.onTable().bow = h.size }, cures: []string{"wipe table"},
		undo: func(w *World, _ *happening) { w.onTable().bow = 0 }},
	{Name: "blank-warm", Size: 5, Unit: "K", Cost: "The pocket would have shrunk as it cooled, and the card with it been wrong.",
		make: func(w *World, h *happening) { w.onTable().hot = h.size }, cures: []string{"wait fixture"},
		undo: func(w *World, _ *happening) { w.onTable().hot = 0 }},
	{Name: "finisher-off", Size: 0.05, Unit: "mm", Cost: "The pocket would have been tight by twice as much, and jammed.", when: "after do cut finish",
		make: func(w *World, h *happening) { w.onTable().small += h.size; w.cutFixture(w.onTable()) }, cures: []string{"cut finish"},
		undo: func(w *World, h *happening) { w.onTable().small -= h.size; w.cutFixture(w.onTable()) }},
	{Name: "pad-off", Size: 0.02, Unit: "mm", Cost: "Each part would have been cut off its place by what another cutter left on the pad.", alike: []string{"burr-on-pad"},
		make: func(w *World, h *happening) { w.onTable().pads[0] += h.size }},
	{Name: "burr-on-pad", Size: 0.03, Unit: "mm", Cost: "Each part would have stood off its wall by the burr, until it was rubbed off.", alike: []string{"pad-off"}, when: "after do wipe pocket",
		make: func(w *World, h *happening) { w.onTable().burr = h.size }, cures: []string{"wipe pocket"},
		undo: func(w *World, _ *happening) { w.onTable().burr = 0 }},
	{Name: "pad-leans", Size: 0.03, Unit: "mm", Cost: "The part would have ridden up on the lean, and lain tilted.", alike: []string{"pad-off"},
		make: func(w *World, h *happening) { w.onTable().lean = h.size }, cures: []string{"cut spring-pass"},
		undo: func(w *World, _ *happening) { w.onTable().lean = 0 }},
	{Name: "chain-broken", Size: 0.03, Unit: "mm", Cost: "The bore would have been said to be off by what the plate had slid.", when: "before do wipe bore|before read finder bore",
		make: func(w *World, h *happening) {
			w.fixture.at = w.fixture.at.add(xy{0.6 * h.size, 0.8 * h.size})
			w.moves++
		}, cures: []string{"cut finish"},
		undo: func(w *World, h *happening) { w.cutFixture(w.onTable()) }},
	{Name: "floor-crowned", Size: 0.04, Unit: "mm", Cost: "Each part would have rocked on the crown and been cut tilted.", alike: []string{"chip-on-floor"}, when: "after do wipe floor",
		make: func(w *World, h *happening) { w.onTable().crown = h.size }, cures: []string{"wipe floor"},
		undo: func(w *World, _ *happening) { w.onTable().crown = 0 }},
	{Name: "plate-sprung", Size: 0.04, Unit: "mm", Cost: "The fixture would have lain otherwise than it was measured, each time it was bolted down.",
		make: func(w *World, h *happening) { w.onTable().stress = h.size }, cures: []string{"cut stress"},
		undo: func(w *World, _ *happening) { w.onTable().stress = 0 }},
	{Name: "part-rocks", Size: 0.05, Unit: "mm", Cost: "A chip under the part would have gone for the pocket's fault.", when: "after do trial part",
		make: func(w *World, h *happening) { w.onTable().rocks = h.size }, cures: []string{"wipe pocket"},
		undo: func(w *World, _ *happening) { w.onTable().rocks = 0 }},
	{Name: "thread-weak", Size: 0.98, Unit: "share", Cost: "The first cut would have pulled the part out of its threads.",
		make: func(w *World, h *happening) { w.onTable().weak = math.Min(h.size, 0.98) }},
}
