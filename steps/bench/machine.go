package bench

import (
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// lean is how the machine stands: the spindle to the table, and Z travel, which is another
// lean. A setup that trams the machine finds it as it is; elsewhere it is as the card says.
type lean struct{ spindle, travel xy }

// tramHalf is the half width of an untrammed head, as a slope (common practice, from memory).
const tramHalf = 0.02 / 300

func (w *World) leans() lean {
	var l lean
	if m := w.mach.Tram; m != nil && w.setup.Kind != "tram" {
		l.spindle = xy{float64(m.X), float64(m.Y)}
	}
	if w.setup.Kind == "tram" {
		l.spindle = w.lot.pair("tram", tramHalf).add(xy{w.hand.nod, 0})
		l.travel = w.lot.pair("travel", tramHalf)
	}
	return l
}

// underStylus is what lies on the table at that angle of a sweep, or how far the arm has come down since it began.
func (w *World) underStylus(deg float64) (z float64) {
	for _, h := range w.mistakes {
		switch {
		case !h.begun || h.over:
		case h.Name == "chip-on-table" && deg == 90:
			h.met, z = true, z+h.size
		case h.Name == "arm-slipped" && deg == 180: // it slips there, and stays
			h.met, w.hand.slipped = true, h.size
		}
	}
	return z + w.hand.slipped
}

// tramMistakes are those of a sweep (common practice, from memory).
var tramMistakes = []Mistake{
	{Name: "head-nodded", Size: 0.1, Unit: "mm per 300 mm", Cost: "Every face would have been cut hollow, and a step left between the sides.",
		make: func(w *World, h *happening) { w.hand.nod = h.size / 300 }, cures: []string{"shim column"},
		undo: func(w *World, _ *happening) { w.hand.nod = 0 }},
	{Name: "chip-on-table", Size: 0.04, Unit: "mm", Cost: "A head that was true would have been set leaning by the chip.",
		make: func(*World, *happening) {}, cures: []string{"wipe table"}},
	{Name: "arm-slipped", Size: 0.04, Unit: "mm", Cost: "The slip of the arm would have been taken for a lean.",
		make: func(*World, *happening) {}, cures: []string{"wipe table"}, undo: func(w *World, _ *happening) { w.hand.slipped = 0 }},
}

// ballMistakes are those of a calibration in a ring (common practice, from memory).
var ballMistakes = []Mistake{
	{Name: "chip-in-ring", Size: 0.04, Unit: "mm", Cost: "The ball would have been believed off centre by the chip, and every bore found beside.",
		cures: []string{"wipe ring"}},
	{Name: "loose-stylus", Size: 0.012, Unit: "mm", Cost: "Every hit would have scattered by it, and no reading have been worth its digits.",
		make:  func(w *World, h *happening) { w.ball.noise += h.size },
		cures: []string{"wipe ring"}, undo: func(w *World, h *happening) { w.ball.noise -= h.size }},
	{Name: "other-ring", Size: 0.04, Unit: "mm", Cost: "The ball's radius would have been wrong by half the difference of two rings.",
		shows: func(w *World, h *happening, a fold.Ask) (string, bool) {
			if a.What.Of != "ring" || a.What.Dir != "size" {
				return "", false
			}
			return w.typed(ringSize+h.size, a.Unit, 0.0001), true
		}},
}

// Leans is the truth of spindle and Z travel, and the X error per Y.
func (w *World) Leans() (spindle, travel Pair, square float64) {
	l := w.leans()
	return Pair{l.spindle.x, l.spindle.y}, Pair{l.travel.x, l.travel.y}, w.square
}

// onMachine measures what is read of the machine itself.
func (w *World) onMachine(q fold.What) (v, step float64, ok bool) {
	of, at, _ := strings.Cut(q.Of, "@")
	step = w.Effects.DialRound
	switch {
	case q.By == "dial" && of == "table" && q.Axis == "z":
		r, err := place(at)
		if err != nil {
			return 0, 0, false
		}
		deg, jog := 0.0, 0.0
		if j, is := jogged(q.Dir); is {
			jog = -j // the spindle comes down, the table comes up to the stylus
		} else if deg, err = strconv.ParseFloat(q.Dir, 64); err != nil {
			return 0, 0, false
		}
		return w.dialRead("table", w.leans().spindle.dot(toward(deg).times(r.x))+jog+w.underStylus(deg)), step, true
	case q.By == "dial" && of == "blade" && q.Dir == "up":
		return 100*w.leans().travel.along(q.Axis) + w.gauss(0.1*step), step, true
	case q.By == "scale" && of == "arm":
		return 100, 0.5, true
	case q.By == "scale" && of == "blade":
		return 100, 0.5, true
	case q.By == "calliper" && of == "test-square":
		return 54, 0.01, true
	case q.By == "dial" && of == "test-square":
		// Side 1 was cut at x + eps y, turned over about X, and side 2 cut beside it: the
		// two differ by 2 eps times the way from the middle, both put into the side 2 lies in.
		y := 27.0
		if q.Dir == "near" {
			y = -y
		}
		side1 := w.stand(xy{0, w.middle.y - y}).x // was on the other half before it was turned
		side2 := w.stand(xy{0, w.middle.y + y}).x
		return side1 - side2 + w.gauss(0.1*step), step, true
	case q.By == "eye" && of == "ring" && q.Dir == "size":
		return ringSize, 0.0001, true
	}
	return 0, 0, false
}
