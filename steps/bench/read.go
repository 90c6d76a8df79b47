package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"
)

// ringSize is the ring gauge on the table, mm.
const ringSize = 25.0006

// paper is the thickness of the paper under a tool, mm.
const paper = 0.1

func toolNumber(n string) int { i, _ := strconv.Atoi(n); return i }

// gaugeLength is the true length of a tool from the spindle's gauge line, mm.
func gaugeLength(n string) float64 {
	return 70 + 2.039*float64(toolNumber(n)%20)
}

// Offer is Read, by the name of the one key that takes a reading from the bench.
func (w *World) Offer(a steps.Ask) (string, error) { return w.Read(a) }

// Read returns what a person would type for the ask: a reading to the step of its
// instrument in the job's unit, a choice by its words, a count as a count. X and Y of one
// touch belong together. What it can't show is an error that names it.
func (w *World) Read(a steps.Ask) (string, error) {
	of := thing(a.What.Of)
	w.before("read " + a.What.By + " " + of)
	w.cure("read "+a.What.By, "")
	s, err := w.answer(a)
	if err != nil {
		return "", err
	}
	w.after("read " + a.What.By + " " + of)
	return s, nil
}

func (w *World) answer(a steps.Ask) (string, error) {
	if s, ok := w.says(a); ok {
		return s, nil
	}
	switch a.Kind {
	case steps.Choice, steps.Text:
		return w.words(a)
	case steps.Count:
		n, err := w.count(a)
		return strconv.Itoa(n), err
	}
	v, step, err := w.measure(a)
	if err != nil {
		return "", err
	}
	return w.typed(v, a.Unit, step), nil
}

// typed is a number as a person types it: bare where a bare number is read in the unit shown.
func (w *World) typed(v float64, k unit.Kind, step float64) string {
	sys := w.plan.Job.Unit
	if step == 0 && w.Effects.Readout == 0 {
		step = 1e-9
	}
	if unit.EntryUnit(k, sys) == unit.UnitName(k, sys) {
		return unit.Format(v, k, sys, step)
	}
	return unit.Show(v, k, sys, step)
}

// measure is the number that an instrument shows, in internal units, and its step.
func (w *World) measure(a steps.Ask) (v, step float64, err error) {
	q := a.What
	of, at, _ := strings.Cut(q.Of, "@")
	fine := w.Effects.Readout
	switch q.By {
	case "probe", "finder", "paper":
		v, err = w.probed(map[string]*tip{"probe": &w.ball, "finder": &w.finder, "paper": &w.paper}[q.By], q, of, at)
		return v, fine, err
	case "pin":
		if q.Dir == "in" {
			return w.slidIn(of).along(q.Axis), fine, nil
		}
	case "tool":
		z, err := w.height(of, at)
		return roundTo(z+w.length(w.firstTool())+w.gauss(w.Effects.Noise), fine), fine, err
	case "touch":
		if n, ok := strings.CutPrefix(of, "tool/"); ok {
			return roundTo(w.length(n)+w.gauss(w.Effects.Noise), fine), fine, nil
		}
	case "control":
		if n, ok := strings.CutPrefix(of, "tool/"); ok {
			l := w.length(n)
			if n != "probe" {
				l = gaugeLength(n) + w.lot.within("length "+n, w.Effects.LengthError)
			}
			return roundTo(l, fine), fine, nil
		}
		if of == "offset" {
			if q.Axis == "rotation" {
				fine = 0
			}
			return w.hand.keyed[q.Axis], fine, nil
		}
	case "dial":
		return w.dialled(a, of, at)
	case "readout":
		if of == "spindle" {
			w.overBore()
			return w.hand.spindle.along(q.Axis), fine, nil
		}
	case "thermometer":
		return w.warm + w.lot.within("thermometer", w.Effects.Thermometer), 0.1, nil
	case "eye":
		if strings.HasPrefix(of, "rotation") {
			return w.hand.keyed["page"] + w.hand.keyed["rotation"], 0, nil
		}
		if strings.HasPrefix(of, "shift") {
			return 0, fine, nil
		}
		if of == "screws" && q.Dir == "length" {
			return w.setup.Screws.Length, 0.01, nil
		}
		if of == "ring" {
			return ringSize, 0.0001, nil
		}
	case "ring":
		return ringSize, 0.0001, nil
	case "gauge":
		if of == "pin-gauge" {
			return w.gaugePin(), 0.01, nil
		}
	}
	if q.By == "driver" && of == "clamps" && len(w.setup.Clamps) > 0 {
		return float64(w.setup.Clamps[0].Torque), 0, nil
	}
	if q.By == "driver" && of == "screws" && q.Dir == "torque" {
		return 0, 0, nil // tightened by angle
	}
	// Things that a program or a hand makes as planned: what is expected, with its scatter.
	if a.Window != nil {
		switch q.By {
		case "drill":
			return a.Window.Want + w.uniform(w.Effects.Drill) + w.part.deep, 0.01, nil
		case "driver", "tap":
			return a.Window.Want * (1 + w.gauss(0.2*w.Effects.Thread)), 0, nil
		case "gauge", "ring", "eye", "calliper", "scale":
			return a.Window.Want, 0, nil
		}
	}
	return 0, 0, fmt.Errorf("bench: reading %q of %q (%q %q) is not known", q.By, q.Of, q.Dir, q.Axis)
}

// length is the true length of a tool, or of the probe to its trigger.
func (w *World) length(n string) float64 {
	if n == "probe" {
		return w.probe
	}
	return gaugeLength(n) + w.part.pulled
}

func (w *World) firstTool() string {
	best := ""
	for n := range w.plan.Job.Tools {
		if s := strconv.Itoa(n); best == "" || len(s) < len(best) || len(s) == len(best) && s < best {
			best = s
		}
	}
	return best
}

// probed is one coordinate of one touch of the probe.
func (w *World) probed(by *tip, q steps.What, of, at string) (float64, error) {
	if q.Axis == "z" || q.Dir == "z-" {
		z, err := w.height(of, at)
		return roundTo(z+w.probe+w.gauss(w.Effects.Noise), w.Effects.Readout), err
	}
	t := &w.touched
	key := q.By + " " + q.Of + " " + q.Dir
	stale := t.key != key || t.moves != w.moves || q.Axis == "x" && t.x || q.Axis == "y" && t.y
	if stale {
		p, err := w.hit(by, q, of, at)
		if err != nil {
			return 0, err
		}
		*t = touch{key: key, moves: w.moves, at: p}
	}
	switch q.Axis {
	case "x":
		t.x = true
	case "y":
		t.y = true
	default:
		return 0, fmt.Errorf("bench: coordinate %q of %q is not known", q.Axis, q.Of)
	}
	return t.at.along(q.Axis), nil
}

// hit is the spindle's place shown at a touch in plan.
func (w *World) hit(by *tip, q steps.What, of, at string) (xy, error) {
	dir, cardinal := way(q.Dir)
	deg, err := strconv.ParseFloat(q.Dir, 64)
	if cardinal {
		deg, err = math.Atan2(dir.y, dir.x)*180/math.Pi, nil
	}
	if err != nil {
		return xy{}, fmt.Errorf("bench: direction %q of %q is not known", q.Dir, q.Of)
	}
	switch base, turn, _ := strings.Cut(of, "/"); base {
	case "bore", "pin", "bore2", "pin2":
		c, d := w.datum(of)
		chip := 0.0
		if of == "bore" || of == "pin" {
			chip = w.chipAt(deg)
		}
		return w.inRing(by, w.onFixture(c), d/2, deg, strings.HasPrefix(of, "pin"), chip), nil
	case "ring":
		turned := *by
		if turn == "180" {
			turned.ecc = by.ecc.times(-1)
		}
		return w.inRing(&turned, w.middle, ringSize/2, deg, false, 0), nil
	}
	p, err := place(at)
	if err != nil {
		return xy{}, fmt.Errorf("bench: nothing called %q can be touched from the side", q.Of)
	}
	if !cardinal {
		return xy{}, fmt.Errorf("bench: direction %q of %q is not along an axis", q.Dir, q.Of)
	}
	return w.onFace(by, of, p.x, dir)
}

// datum is a bore or pin of the fixture: its place on the card, and its diameter now.
func (w *World) datum(of string) (xy, float64) {
	if strings.HasSuffix(of, "2") {
		return w.bore2, w.boreD[1] * w.growth
	}
	b := w.card.AsMade.Bore
	return xy{b.Bias[0] - b.Eccentricity[0], b.Bias[1] - b.Eccentricity[1]}, w.boreD[0] * w.growth
}

// gaugePin is the pin in the spindle: 0.01 smaller than the bore.
func (w *World) gaugePin() float64 { return math.Round(100*(w.card.AsMade.Bore.Dia-0.01)) / 100 }

// slidIn is where the spindle stands when the gauge pin has slid in: off by up to its
// play, to the side it came from, each time from the other one.
func (w *World) slidIn(of string) xy {
	t := &w.touched
	if key := "pin " + of; t.key != key || t.moves != w.moves || t.x && t.y {
		c, d := w.datum(of)
		play := max(d-w.gaugePin(), 0) / 2
		a := w.rng.Float64() * 2 * math.Pi
		side := xy{math.Cos(a), math.Sin(a)}
		if side.dot(w.hand.side) > 0 {
			side = side.times(-1)
		}
		w.hand.side = side
		side = side.times(w.rng.Float64())
		if w.Effects.Noise == 0 {
			side = xy{}
		}
		*t = touch{key: key, moves: w.moves, at: w.report(&tip{}, w.onFixture(c).add(side.times(play)), xy{})}
	}
	if q := t; !q.x {
		q.x = true
	} else {
		q.y = true
	}
	return t.at
}

// overBore puts the spindle about over bore 1 when it was not put there before.
func (w *World) overBore() {
	if w.hand.spindle == (xy{}) {
		c, _ := w.datum("bore")
		p := w.shown(w.onFixture(c)).add(xy{w.gauss(20 * w.Effects.Noise), w.gauss(20 * w.Effects.Noise)})
		w.hand.spindle = xy{roundTo(p.x, w.Effects.Readout), roundTo(p.y, w.Effects.Readout)}
	}
}

// dialled is a reading of the dial.
func (w *World) dialled(a steps.Ask, of, at string) (v, step float64, err error) {
	q := a.What
	step = w.Effects.DialRound
	dir, alongY := strings.CutPrefix(q.Dir, "y")
	jog, jogging := jogged(dir)
	switch of {
	case "edge":
		s, err := place(at)
		if err != nil || w.card.AsMade.Edge == nil {
			return 0, 0, fmt.Errorf("bench: edge %q is not on the card", q.Of)
		}
		w.dial.station = s.x
		return w.dialRead("edge", w.edgeSurface(s.x)-jog), step, nil
	case "bore", "pin", "bore2", "pin2":
		w.overBore()
		deg := 0.0
		spindle := w.stand(w.hand.spindle)
		if jogging && alongY {
			spindle.y, deg = spindle.y+jog, 90
		} else if jogging {
			spindle.x += jog
		} else if deg, err = strconv.ParseFloat(q.Dir, 64); err != nil {
			return 0, 0, fmt.Errorf("bench: direction %q of %q is not known", q.Dir, q.Of)
		}
		c, d := w.datum(of)
		return w.dialRead(of, w.swept(c, d/2, spindle, deg)), step, nil
	case "table":
		if m := w.mach.Tram; q.Dir == "tilt" {
			if m == nil {
				return 0, 0, nil
			}
			return xy{float64(m.X), float64(m.Y)}.along(q.Axis), 1e-6, nil
		}
		r, err1 := place(at)
		deg, err2 := strconv.ParseFloat(q.Dir, 64)
		if err1 != nil || err2 != nil {
			return 0, 0, fmt.Errorf("bench: sweep %q %q is not known", q.Of, q.Dir)
		}
		var t xy
		if m := w.mach.Tram; m != nil {
			t = xy{float64(m.X), float64(m.Y)}
		}
		// the stylus is pushed up where the table is high against the swept plane
		return w.dialRead("table", math.Abs(w.dial.sense)*t.dot(toward(deg).times(r.x))), step, nil
	case "part", "clamps":
		return roundTo(w.seen(q)+w.gauss(0.1*step), step), step, nil
	}
	return 0, 0, fmt.Errorf("bench: the dial does not reach %q", q.Of)
}

// seen is the movement of the part that the dial showed.
func (w *World) seen(q steps.What) float64 {
	if n, ok := strings.CutPrefix(q.Dir, "rock-"); ok {
		// the diagonal that carries the chip does not move
		carries := "1"
		if w.part.corner%2 == 1 {
			carries = "2"
		}
		if n == carries {
			return 0
		}
		return w.part.chip
	}
	return w.hand.moved[strings.TrimSpace(q.Dir+" "+q.Axis)]
}
