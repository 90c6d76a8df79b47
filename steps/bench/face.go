package bench

import (
	"strconv"

	"fliptrue/steps/fold"
)

// face is a part held by the face under it: a pump and a seal, or tape.
type face struct {
	w    *World
	draw float64 // vacuum under the part, pump on, kPa
	leak float64 // share of it that is lost in 30 s, valve shut
	lost bool    // it has let go
	slid xy      // by how much the part moved while it was drawn down

	pressed int     // minutes, of a film
	hot     float64 // film over the room, K
}

func newFace(w *World) *face {
	return &face{w: w, draw: 80 + w.lot.within("pump", 5*min(1, 1e3*w.Effects.Noise)), leak: 0.03 + w.lot.within(
		"seal", 0.02*min(1, 1e3*w.Effects.Noise)), pressed: 15}
}

// gaugeRound is the least that the gauge shows, MPa.
const gaugeRound = 0.0001

// read is what gauge and dial show.
func (f *face) read(q fold.What) (v, step float64, ok bool) {
	switch q.By + " " + q.Of + " " + q.Dir {
	case "gauge vacuum on":
		return f.draw / 1000, gaugeRound, true
	case "gauge vacuum off":
		return f.draw * (1 - f.leak) / 1000, gaugeRound, true
	case "thermometer tape ":
		return f.w.warm + f.hot + f.w.lot.within("thermometer", f.w.Effects.Thermometer), 0.1, true
	case "dial part hold":
		v = f.slid.along(q.Axis)
		if q.Axis == "z" {
			v = 0
		}
		return v + f.w.gauss(0.1*f.w.Effects.DialRound), f.w.Effects.DialRound, true
	}
	return 0, 0, false
}

// say is what is seen of it.
func (f *face) say(a fold.Ask) (string, bool) {
	if f.lost && a.What.By == "eye" && (a.What.Dir == "gate" || a.What.Dir == "firm") {
		return other(a), true
	}
	if a.What.Of == "tape" && a.What.Dir == "minutes" {
		return strconv.Itoa(f.pressed), true
	}
	return "", false
}

// hold draws the part down: it shifts by as much as the strap of other plans.
func (f *face) hold() {
	w := f.w
	f.slid, f.lost = xy{w.uniform(w.Effects.Swap), w.uniform(w.Effects.Swap)}, false
	w.part.shift = w.part.shift.add(f.slid)
}

// heldMistakes are those of a part that the face under it holds, by vacuum or by tape (common practice, from memory).
var heldMistakes = []Mistake{
	{Name: "hold-lost", Size: 1, Unit: "parts", Cost: "The part would have been thrown.",
		when: "after do skim part", make: func(w *World, _ *happening) { w.face.lost = true },
		cures: []string{"hold part"}},
	{Name: "drawn-askew", Size: 0.05, Unit: "mm", Cost: "The part would have been cut off its walls by what it was pulled or pressed over.",
		when: "after do hold part", make: func(w *World, h *happening) {
			w.face.slid = w.face.slid.add(xy{h.size, 0})
			w.part.shift = w.part.shift.add(xy{h.size, 0})
		}, cures: []string{"seat part"}},
}

// vacuumMistakes are those of pump and seal.
var vacuumMistakes = []Mistake{
	{Name: "seal-leaks", Size: 0.3, Unit: "shares", Cost: "The part would have been loose before anybody was there, had the pump stopped.",
		when: "after do hold part", make: func(w *World, h *happening) { w.face.leak += h.size },
		cures: []string{"hold part"}, undo: func(w *World, h *happening) { w.face.leak -= h.size }},
	{Name: "pump-weak", Size: 30, Unit: "kPa", Cost: "The part would have slid under the first deep cut.",
		when: "after do hold part", make: func(w *World, h *happening) { w.face.draw -= h.size },
		cures: []string{"hold part"}, undo: func(w *World, h *happening) { w.face.draw += h.size }},
}

// tapeMistakes are those of a film.
var tapeMistakes = []Mistake{
	{Name: "film-not-pressed", Size: 15, Unit: "minutes", Cost: "The film would have borne a share of its test, and let go at a corner.",
		when: "after do hold part", make: func(w *World, h *happening) { w.face.pressed = max(15-int(h.size), 0) }, cures: []string{"hold part"},
		undo: func(w *World, _ *happening) { w.face.pressed = 15 }},
	{Name: "tape-dirty", Size: 1, Unit: "faces", Cost: "The film would have peeled off the grease under the first cut.",
		shows: toldWrong("tape", "clean"), cures: []string{"hold part"}},
	{Name: "film-short", Size: 1, Unit: "strips", Cost: "The part would have been held by half of what was counted.",
		shows: toldWrong("tape", "covers"), cures: []string{"hold part"}},
	{Name: "film-hot", Size: 12, Unit: "K", Cost: "A film that softens creeps: the part would have walked while it was cut.",
		make: func(w *World, h *happening) { w.face.hot = h.size }, cures: []string{"wait fixture"},
		undo: func(w *World, _ *happening) { w.face.hot = 0 }},
}
