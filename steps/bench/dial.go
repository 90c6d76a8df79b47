package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// dial is the test indicator. Reading = distance of the surface from the tool / sense,
// less a zero: moving the tool by +d changes it by -d/sense.
type dial struct {
	sense   float64 // the needle's sense times the cosine of the lever
	on      string  // what it touches: edge, bore ...
	set     bool    // its zero is set
	zero    float64
	drift   float64 // crept so far
	creep   float64 // at each reading
	station float64 // along the edge, where it was read last
	over    float64 // the floor, at its zero
}

// dialRead is one reading of a surface at that distance from the tool along +.
func (w *World) dialRead(on string, surface float64) float64 {
	d := &w.dial
	if d.on != on || !d.set {
		// put on something, the needle is turned to about zero
		d.on, d.set, d.drift = on, true, 0
		d.creep = w.uniform(w.Effects.DialDrift) / 8
		d.zero = surface / d.sense
		if w.Effects.DialRound > 0 {
			d.zero += w.uniform(5 * w.Effects.DialRound)
		}
	}
	v := surface/d.sense - d.zero + d.drift
	if w.Effects.DialRound > 0 {
		v += w.gauss(0.1 * w.Effects.DialRound)
	}
	d.drift += d.creep
	return roundTo(v, w.Effects.DialRound)
}

// edgeSurface is where the edge stands at a station, along the axis it faces,
// in coordinates shown.
func (w *World) edgeSurface(s float64) float64 {
	e := w.card.AsMade.Edge
	m := w.shown(w.onFixture(w.edgeEnd(s)))
	v := m.y
	if e.Side == "left" || e.Side == "right" {
		v = m.x
	}
	if g := w.fromBox(); g != nil && s > 0.8*e.Length {
		v += g.nick
	}
	if g := w.onTable(); g != nil {
		v -= g.edgeMoves(s / e.Length)
	}
	return v + w.Effects.EdgeForm*math.Sin(2*math.Pi*1.5*s/e.Length+w.edgePhase) + float64(w.axisSlope*s)
}

// jogged is the travel in jog+0.200, 0 for another direction.
func jogged(dir string) (float64, bool) {
	t, ok := strings.CutPrefix(dir, "jog")
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(t, 64)
	return v, err == nil
}

// swept is the distance from the spindle axis to the wall of a bore (or the
// outside of a pin) in a direction, found where the ray meets the circle.
func (w *World) swept(centre xy, radius float64, axis xy, deg float64) float64 {
	d := toward(deg)
	c := w.onFixture(centre).sub(axis)
	along, across := c.dot(d), c.x*d.y-c.y*d.x
	return along + math.Sqrt(max(radius*radius-across*across, 0))
}

// overFloor is the needle at a place of the floor, higher is plus; in direction "from X,Y" it is set to zero there first.
func (w *World) overFloor(dir, at string) (v, step float64, err error) {
	d := &w.dial
	read := func(at string) (float64, error) {
		z, err := w.height("floor", at)
		return w.dialRead("floor", d.sense*z), err
	}
	if from, ok := strings.CutPrefix(dir, "from "); ok {
		d.set = false
		if d.over, err = read(from); err != nil {
			return 0, 0, err
		}
	}
	v, err = read(at)
	return v - d.over, w.Effects.DialRound, err
}

// overTable is the needle on its circle over the table, or the tilt of the head as a level shows it.
func (w *World) overTable(q fold.What, at string) (v, step float64, err error) {
	step = w.Effects.DialRound
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
}

// dialled is a reading of the dial.
func (w *World) dialled(a fold.Ask, of, at string) (v, step float64, err error) {
	q := a.What
	step = w.Effects.DialRound
	dir, alongY := strings.CutPrefix(q.Dir, "y")
	jog, jogging := jogged(dir)
	if n, ok := strings.CutPrefix(of, "tool/"); ok && q.Dir == "runout" {
		return roundTo(math.Abs(w.lot.within("runout "+n, w.Effects.Runout))+w.part.runs, step), step, nil
	}
	if face, ok := postOf(of); ok {
		return w.onPost(a, face, at)
	}
	if of == "floor" {
		return w.overFloor(q.Dir, at)
	}
	switch of {
	case "edge":
		s, err := place(at)
		if err != nil || w.card.AsMade.Edge == nil {
			return 0, 0, fmt.Errorf("bench: edge %q is not on the card", q.Of)
		}
		zero := 0.0
		if dir == "zeroed" { // at the other end
			zero = w.dialRead("edge", w.edgeSurface(w.card.AsMade.Edge.Length-s.x))
		}
		w.dial.station = s.x
		return w.dialRead("edge", w.edgeSurface(s.x)-jog) - zero, step, nil
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
		return w.overTable(q, at)
	case "part", "clamps":
		return roundTo(w.seen(q)+w.gauss(0.1*step), step), step, nil
	}
	return 0, 0, fmt.Errorf("bench: the dial does not reach %q", q.Of)
}

// seen is the movement of the part that the dial showed.
func (w *World) seen(q fold.What) float64 {
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

// Needle is +1 when the needle of the dial turns with the surface, -1 when against it.
func (w *World) Needle() float64 { return math.Copysign(1, w.dial.sense) }
