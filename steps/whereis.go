package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// jogged is a length to jog by, to a tenth of a millimetre or a hundredth of an inch.
func (p *Plan) jogged(v float64, signed bool) string {
	step := 0.1
	if p.Job.Unit == unit.Imperial {
		step = 0.01 * float64(unit.Inch)
	}
	if signed {
		return unit.Signed(v, unit.KLength, p.Job.Unit, step)
	}
	return unit.Format(math.Abs(v), unit.KLength, p.Job.Unit, step)
}

// onFixture says where a place of the fixture is: where to jog to in machine coordinates once its bore
// is found, and seen from the bore. The skew is too little to matter for a touch.
func (p *Plan) onFixture(q jobs.Point, bore Fact, found bool) string {
	side, way := "right", "away"
	if q.X < 0 {
		side = "left"
	}
	if q.Y < 0 {
		way = "toward you"
	}
	from := fmt.Sprintf("%s %s, %s %s of the %s", p.jogged(q.X, false), side, p.jogged(q.Y, false), way, p.locator())
	if !found || len(bore.Value) < 2 {
		return from
	}
	return fmt.Sprintf("M X %s Y %s (%s)", p.jogged(bore.Value[0]+q.X, true), p.jogged(bore.Value[1]+q.Y, true), from)
}

// witnessAt says the same of a witness, from the part zero and by the offset once that is known; a
// face is touched wherever it stands, only the place along it is jogged to.
func (p *Plan) witnessAt(s spot, offset Fact, found bool) string {
	x, y := s.axis != fit.AxisX, s.axis != fit.AxisY
	say := func(frame string, dx, dy float64) string {
		w := frame
		if x {
			w += " X " + p.jogged(s.at.X+dx, true)
		}
		if y {
			w += " Y " + p.jogged(s.at.Y+dy, true)
		}
		return w
	}
	w := say("W", 0, 0)
	if found && len(offset.Value) > 1 {
		w += " = " + say("M", offset.Value[0], offset.Value[1])
	}
	return s.label + ": " + w
}
