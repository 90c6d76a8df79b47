package bench

import (
	"strconv"
	"strings"

	"fliptrue/steps"
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
		l.spindle = w.lot.pair("tram", tramHalf)
		l.travel = w.lot.pair("travel", tramHalf)
	}
	return l
}

// Leans is the truth of spindle and Z travel, and the X error per Y.
func (w *World) Leans() (spindle, travel Pair, square float64) {
	l := w.leans()
	return Pair{l.spindle.x, l.spindle.y}, Pair{l.travel.x, l.travel.y}, w.square
}

// onMachine measures what is read of the machine itself.
func (w *World) onMachine(q steps.What) (v, step float64, ok bool) {
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
		return w.dialRead("table", w.leans().spindle.dot(toward(deg).times(r.x))+jog), step, true
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
