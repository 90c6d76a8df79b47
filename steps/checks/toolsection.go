package checks

import (
	"strconv"

	"fliptrue/steps/fold"
)

// toolSection shows what the length of a tool is: from the spindle's gauge line to its tip, and not how far it
// sticks out. Heights count from the gauge line; how long it is in all is what is asked, so that its tip has no number.
func toolSection(p *fold.Plan, thing string) *fold.Section {
	out, wide := 0.0, 0.06
	if n, err := strconv.Atoi(thing); err == nil {
		t := p.Job.Tools[n]
		out = t.Stickout
	} else if thing != "probe" {
		return nil
	}
	long := 2.4 * out
	if out <= 0 {
		out, long, wide = 30, 90, 0.02 // of a shape that nothing says
	}
	s := &fold.Section{Name: "the length: gauge line to tip", Lo: -1.05 * long, Hi: 0.35 * long,
		Levels: []fold.Height{{Name: "gauge line", Z: 0, Role: fold.RoleEdge, Bare: true},
			{Name: "tip", Z: -long, Role: fold.RoleNext, Bare: true}},
		Solids: []fold.Solid{{Role: fold.RoleFixture, X0: 0.1, X1: 0.9, Lo: 0, Hi: 9 * long},
			{Role: fold.RoleJaw, X0: 0.3, X1: 0.7, Lo: -(long - out), Hi: 0},
			{Role: fold.RoleNext, X0: 0.5 - wide, X1: 0.5 + wide, Lo: -long, Hi: -(long - out)}}}
	return s
}
