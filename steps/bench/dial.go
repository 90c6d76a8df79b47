package bench

import (
	"math"
	"strconv"
	"strings"
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
