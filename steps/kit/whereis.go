package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// jogged is a length to jog by, to a tenth of a millimetre or a hundredth of an inch.
func jogged(p *fold.Plan, v float64, signed bool) string {
	step := 0.1
	if p.Job.Unit == unit.Imperial {
		step = 0.01 * float64(unit.Inch)
	}
	if signed {
		return unit.Signed(v, unit.KLength, p.Job.Unit, step)
	}
	return unit.Format(math.Abs(v), unit.KLength, p.Job.Unit, step)
}

// OnFixture says where a place of the fixture is: where to jog to in machine coordinates once its bore
// is found, and seen from the bore. The skew is too little to matter for a touch.
func OnFixture(p *fold.Plan, q jobs.Point, found fold.Known, has bool) string {
	side, way := "right", "away"
	if q.X < 0 {
		side = "left"
	}
	if q.Y < 0 {
		way = "toward you"
	}
	from := fmt.Sprintf("%s %s, %s %s of the %s", jogged(p, q.X, false), side, jogged(p, q.Y, false), way, Locator(p))
	bore, ok := facts.Bore.Read(found)
	if !has || !ok {
		return from
	}
	return fmt.Sprintf("M X %s Y %s (%s)", jogged(p, float64(bore.X)+q.X, true), jogged(p, float64(bore.Y)+q.Y, true), from)
}

// WitnessAt says the same of a witness, from the part zero and by the offset once that is known; a
// face is touched wherever it stands, only the place along it is jogged to.
func WitnessAt(p *fold.Plan, s Spot, offset fold.Known, found bool) string {
	x, y := s.Axis != fit.AxisX, s.Axis != fit.AxisY
	say := func(frame string, dx, dy float64) string {
		w := frame
		if x {
			w += " X " + jogged(p, s.At.X+dx, true)
		}
		if y {
			w += " Y " + jogged(p, s.At.Y+dy, true)
		}
		return w
	}
	w := say("W", 0, 0)
	if o, ok := facts.Offset.Read(offset); ok && found {
		w += " = " + say("M", float64(o.X), float64(o.Y))
	}
	return s.Label + ": " + w
}
