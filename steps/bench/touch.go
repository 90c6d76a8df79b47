package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// probed is one coordinate of one touch of the probe.
func (w *World) probed(by *tip, q fold.What, of, at string) (float64, error) {
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
func (w *World) hit(by *tip, q fold.What, of, at string) (xy, error) {
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
		return w.inRing(&turned, w.middle, ringSize/2, deg, false, w.chipInRing(deg)), nil
	}
	p, err := place(at)
	if err != nil {
		return xy{}, fmt.Errorf("bench: nothing called %q can be touched from the side", q.Of)
	}
	if !cardinal {
		return xy{}, fmt.Errorf("bench: direction %q of %q is not along an axis", q.Dir, q.Of)
	}
	if w.raw != nil {
		return w.onStock(by, of, at, dir)
	}
	if d := datumOf(w.card); d != nil {
		if at, mine, err := d.touch(w, by, of, p.x, dir); mine {
			return at, err
		}
	}
	if of == "edge" && w.card.AsMade.Edge != nil {
		return w.onEdge(by, p.x, dir), nil
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
		w.over("bore")
	}
}

// over puts the spindle about over a bore or pin, by eye.
func (w *World) over(of string) {
	c, _ := w.datum(of)
	p := w.shown(w.onFixture(c)).add(xy{w.gauss(20 * w.Effects.Noise), w.gauss(20 * w.Effects.Noise)})
	w.hand.spindle = xy{roundTo(p.x, w.Effects.Readout), roundTo(p.y, w.Effects.Readout)}
}
