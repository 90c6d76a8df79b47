package kit

import (
	"strings"

	"fliptrue/calc/growth"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// dampOf is the fixture's growth by humidity since the day it was made, at its material's usual growth: the range of the
// tables is that of air up to 100 %, which no shop has. Without a hygrometer on both days it is 10 % either way.
func dampOf(p *fold.Plan, get Facts) growth.Growth {
	m, err := p.Job.Library().Like(p.Job.Fixture.Material)
	if err != nil || !(m.Humid.Nominal > 0) {
		return growth.Growth{}
	}
	s, _ := facts.Seat.By(get)
	made, usual := growth.Temp{}, m.Humid.Nominal
	g, err := growth.Damp(growth.Coef{Low: usual, Nominal: usual, High: usual}, airOf(made, p.Job.Fixture.AsMade.Humidity), airOf(made, s.RH))
	if err != nil {
		return growth.Growth{}
	}
	for i := range g.Lines {
		g.Lines[i].Name = strings.Replace(g.Lines[i].Name, "humidity", DampLine, 1)
	}
	return g
}

// DampLine is the line of the fixture's growth by humidity.
const DampLine = "humidity of the fixture"
