package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/steps/fold"
)

// Mistake is something that goes wrong unseen: the bench makes it, the walk has to find it.
type Mistake struct {
	Name string
	Cost string  // what it would have cost
	Size float64 // default
	Unit string  // of Size: mm, deg, K, or a count

	// when is before or after what it happens, | between several: "before read probe floor"; "" from the start
	when  string
	make  func(*World, *happening)                          // what it does to the world, nil for a mere word
	shows func(*World, *happening, fold.Ask) (string, bool) // what the person reads or says instead
	cures []string                                          // acts that undo it once it was met
	undo  func(*World, *happening)
	alike []string // other names under which a walk may name it

	sees     fold.MishapID // what the person declares who sees it happen
	seenFrom float64       // the size from which it can be seen
}

// NamedBy says that a name given by a walk is right for this mistake.
func (m Mistake) NamedBy(name string) bool {
	return name == m.Name || slices.Contains(m.alike, name)
}

// happening is a mistake in a world.
type happening struct {
	Mistake
	size  float64
	begun bool // it has happened
	late  bool // after the first chip
	met   bool // a reading or an answer has shown it
	over  bool
	said  bool // declared
}

// Mistakes are those of any second side, the worst first.
func Mistakes() []Mistake { return append([]Mistake(nil), mistakes...) }

// MistakeNames are the names of all mistakes, those of one kind of setup alone too.
func MistakeNames() []string {
	var out []string
	for _, m := range All() {
		out = append(out, m.Name)
	}
	return out
}

// Make puts a mistake into the world, of its default size when size is 0.
// An unknown name is an error that lists the known.
func (w *World) Make(name string, size float64) error { return w.MakeWhen(name, size, "") }

// MakeWhen is Make at another moment than the usual: "before" or "after", then "read" with an
// instrument and a thing, or "do" with an act and a thing: "before read probe floor",
// "after do seat part". "" is the usual one.
func (w *World) MakeWhen(name string, size float64, when string) error {
	for _, m := range append(MistakesIn(w.plan), wider...) {
		if m.Name != name {
			continue
		}
		if when != "" {
			m.when = when
		}
		h := &happening{Mistake: m, size: size}
		if size == 0 {
			h.size = m.Size
		}
		w.mistakes = append(w.mistakes, h)
		if m.when == "" {
			w.begin(h)
		}
		return nil
	}
	var known []string
	for _, m := range MistakesIn(w.plan) {
		known = append(known, m.Name)
	}
	return fmt.Errorf("mistake %q is not made in a setup of that kind; made there are: %s", name, strings.Join(known, " "))
}

// Seen are the mishaps that happened before the person's eyes since it was last asked.
func (w *World) Seen() []fold.MishapID {
	var out []fold.MishapID
	for _, h := range w.mistakes {
		if h.begun && !h.said && h.sees != "" && math.Abs(h.size) >= h.seenFrom {
			h.said = true
			out = append(out, h.sees)
		}
	}
	return out
}

func (w *World) begin(h *happening) {
	h.begun, h.late = true, w.hand.drilled
	h.met = h.make != nil && h.shows == nil
	if h.make != nil {
		h.make(w, h)
	}
}

func (w *World) before(what string) { w.moment("before " + what) }
func (w *World) after(what string)  { w.moment("after " + what) }

func (w *World) moment(now string) {
	for _, h := range w.mistakes {
		if h.begun || h.when == "" {
			continue
		}
		for one := range strings.SplitSeq(h.when, "|") {
			if !h.begun && strings.HasPrefix(now, one) {
				w.begin(h)
			}
		}
	}
}

// cure ends the mistakes that an act undoes, once they were met.
func (w *World) cure(do, of string) {
	for _, h := range w.mistakes {
		for _, c := range h.cures {
			if h.begun && h.met && !h.over && c == strings.TrimSpace(do+" "+of) {
				w.end(h)
			}
		}
	}
}

func (w *World) end(h *happening) {
	h.over = true
	if h.undo != nil {
		h.undo(w, h)
	}
}

// settle ends a mistake that the work itself has undone, met or not.
func (w *World) settle(name string) {
	for _, h := range w.mistakes {
		if h.Name == name && h.begun && !h.over {
			w.end(h)
		}
	}
}

// Chips says that the first chip was made.
func (w *World) Chips() bool { return w.hand.drilled }

// says is what a mistake makes the person answer.
func (w *World) says(a fold.Ask) (string, bool) {
	for _, h := range w.mistakes {
		if h.begun && !h.over && h.shows != nil {
			if s, ok := h.shows(w, h, a); ok {
				h.met = true
				return s, true
			}
		}
	}
	return "", false
}

// Correct puts right what the answer to an ask has shown: the wrong offset is
// selected anew, the strap forgotten comes off.
func (w *World) Correct(a fold.Ask) {
	for _, h := range w.mistakes {
		if h.begun && !h.over && h.shows != nil {
			if _, ok := h.shows(w, h, a); ok {
				w.end(h)
			}
		}
	}
	if a.What.Of == "clamps" && a.Want == "0" {
		w.hand.straps = 0
	}
}

// Wrong says that a mistake is still in the world.
func (w *World) Wrong() bool {
	for _, h := range w.mistakes {
		if h.begun && !h.over {
			return true
		}
	}
	return false
}

// chipAt is how far a chip stands out of the bore's wall in a direction.
func (w *World) chipAt(deg float64) float64 {
	for _, h := range w.mistakes {
		if (h.Name == "chip-in-bore" || h.Name == "coolant-drop") && h.begun && !h.over {
			n := float64(max(w.setup.Hits, 3))
			if w.plan.Level() != 0 || w.fromBox() != nil { // where a hit meets it
				n = 4
			}
			at := 360 / n * math.Floor(n*w.lot.stream("chip").Float64())
			if math.Abs(math.Remainder(deg-at, 360)) < 15 {
				h.met = true
				return h.size
			}
		}
	}
	return 0
}

// chipInRing is how far a chip stands out of the ring gauge's wall in a direction.
func (w *World) chipInRing(deg float64) float64 {
	for _, h := range w.mistakes {
		if h.Name == "chip-in-ring" && h.begun && !h.over && math.Abs(math.Remainder(deg-90, 360)) < 15 {
			h.met = true
			return h.size
		}
	}
	return 0
}

// toldWrong answers an ask about a thing with a word that is not the good one.
func toldWrong(of string, dirs ...string) func(*World, *happening, fold.Ask) (string, bool) {
	return func(w *World, h *happening, a fold.Ask) (string, bool) {
		if a.Kind != fold.Choice && a.Kind != fold.Text || !strings.HasPrefix(a.What.Of, of) {
			return "", false
		}
		for _, d := range dirs {
			if a.What.Dir == d || a.What.Axis == d {
				return other(a), true
			}
		}
		return other(a), len(dirs) == 0
	}
}

// toldUp is a part whose finished face lies up, as who looks for its face or for an edge of it sees.
func toldUp(w *World, h *happening, a fold.Ask) (string, bool) {
	for _, o := range a.Options {
		if a.What.Of == "part" && strings.HasSuffix(o, "face lies up") {
			return o, true
		}
	}
	return toldWrong("part", "up", "side", "top")(w, h, a)
}

// Made is how a mistake put into the world has gone so far.
type Made struct {
	Name  string
	Size  float64
	Begun bool // it has happened
	Late  bool // after the first chip
	Over  bool // it was found and put right
}

// Made are the mistakes put into the world, in their order.
func (w *World) Made() []Made {
	var out []Made
	for _, h := range w.mistakes {
		out = append(out, Made{h.Name, h.size, h.begun, h.late, h.over})
	}
	return out
}
