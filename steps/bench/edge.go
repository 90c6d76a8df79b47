package bench

import "math"

// onEdge is the spindle at the trigger on the fixture's edge at a station, coming along an axis.
func (w *World) onEdge(by *tip, station float64, dir xy) xy {
	e := w.card.AsMade.Edge
	a := w.onFixture(w.edgeEnd(station))
	wave := w.Effects.EdgeForm * math.Sin(2*math.Pi*1.5*station/e.Length+w.edgePhase)
	p := a.add(dir.times(-w.trigger(by, dir))).sub(by.ecc)
	if dir.x != 0 {
		p.x += wave
	} else {
		p.y += wave
	}
	return w.report(by, p, dir)
}

// TurnAboutBore turns the fixture about its first bore, as prising a part out of it may, unseen.
func (w *World) TurnAboutBore(by float64) {
	c, _ := w.datum("bore")
	w.fixture = w.fixture.about(w.onFixture(c), by, xy{})
}
