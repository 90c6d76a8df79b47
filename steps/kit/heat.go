package kit

import (
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// warmer is the fixture's temperature now less the day it was made, K.
func warmer(p *fold.Plan, v fold.View) float64 {
	id, ok := facts.Identity.Perhaps(v)
	if !ok || p.Job.Fixture.AsMade.Temperature == nil || !Warm(p) {
		return 0
	}
	return id.T - float64(*p.Job.Fixture.AsMade.Temperature)
}

// Warmth is a difference of temperature in words.
func Warmth(p *fold.Plan, d float64) string {
	switch d = math.Round(10*d) / 10; {
	case d > 0:
		return Degrees(p, d) + " warmer than"
	case d < 0:
		return Degrees(p, -d) + " colder than"
	}
	return "as warm as"
}

// Degrees is a difference of temperature, K, with the unit of the job.
func Degrees(p *fold.Plan, d float64) string { return unit.Show(d, unit.KWarmth, p.Job.Unit, 0) }

// BareTemperature is the unit of a temperature typed without one: a thermometer in an inch shop shows °F.
func BareTemperature(p *fold.Plan) string {
	if p.Job.Unit == unit.Imperial {
		return "F"
	}
	return ""
}

// MachineAlpha is steel's: what a machine's own scales grow by.
const MachineAlpha = 11.7e-6

// Soft says that a material is a plastic or a wood, whose temperature matters at 2 K.
func Soft(p *fold.Plan, material string) bool { return Alpha(p, material) > 25e-6 }

// Warm says that the fixture's temperature is asked.
func Warm(p *fold.Plan) bool {
	return p.Job.Fixture.AsMade.Temperature != nil && (FixtureAlpha(p) > 25e-6 || Soft(p, p.Job.Part.Material))
}

func FixtureAlpha(p *fold.Plan) float64 {
	if a := p.Job.Fixture.Alpha; a > 0 {
		return a
	}
	return Alpha(p, p.Job.Fixture.Material)
}
