package desk

import (
	"math"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// HoleSection is a hole through the part into the fixture's relief, heights from the seat: how
// deep the drill's tip is meant to come, and how deep it came, NaN while that is not read. Nil without a relief.
func HoleSection(p *fold.Plan, t jobs.Tool, meant, read float64) *fold.Section {
	relief := p.Job.Fixture.Threads.Relief
	if !(relief > 0) || !(meant > 0) || !(t.Dia > 0) {
		return nil
	}
	tip := meant
	if read > 0 {
		tip = read
	}
	point := t.Dia / 2 / math.Tan(t.Point/2*math.Pi/180)
	if !(point > 0) || point > tip {
		point = 0
	}
	room := max(relief, tip)
	s := &fold.Section{Name: "a hole, seen from the front", Lo: -1.7 * room, Hi: 1.2 * room,
		Levels: []fold.Height{{Name: "seat", Role: fold.RolePart}, {Name: "relief ends", Z: -relief, Role: fold.RoleFixture}},
		Solids: []fold.Solid{
			{Role: fold.RolePart, X0: 0.05, X1: 0.34, Lo: 0, Hi: 9 * room}, {Role: fold.RolePart, X0: 0.66, X1: 0.95, Lo: 0, Hi: 9 * room},
			{Role: fold.RoleFixture, X0: 0, X1: 0.3, Lo: -9 * room, Hi: 0}, {Role: fold.RoleFixture, X0: 0.7, X1: 1, Lo: -9 * room, Hi: 0},
			{Role: fold.RoleFixture, X0: 0.4, X1: 0.6, Lo: -9 * room, Hi: -relief},
			{Role: fold.RoleNext, X0: 0.37, X1: 0.63, Lo: point - tip, Hi: 9 * room, Point: point}}}
	if read > 0 {
		s.Levels = append(s.Levels, fold.Height{Name: "tip", Z: -read, Role: fold.RoleNext},
			fold.Height{Name: "meant", Z: -meant, Role: fold.RoleLater})
	} else {
		s.Levels = append(s.Levels, fold.Height{Name: "tip, meant", Z: -meant, Role: fold.RoleNext})
	}
	return s
}

// DeckSection is what stands under the cutter on side 2, heights in the program's coordinates; measured is
// the head that was found highest. Nil where the job does not say how low the program cuts.
func DeckSection(p *fold.Plan, measured float64) *fold.Section {
	head, ok := HeadTop(p, measured)
	low := p.Setup.Cut.Lowest
	if !ok || math.IsNaN(low) || p.Setup.Cut.Tool <= 0 {
		return nil
	}
	seat := SeatZ(p)
	rim, top := seat+p.Job.Fixture.AsMade.Floor.Depth, seat+kit.Thickness(p)
	hi := max(rim, top, head, low)
	span := hi - seat
	s := &fold.Section{Name: "under the cutter, seen from the front", Lo: seat - 0.25*span, Hi: hi + 0.35*span,
		Levels: []fold.Height{{Name: "lowest cut", Z: low, Role: fold.RoleNext}, {Name: "screw head", Z: head, Role: fold.RoleScrew},
			{Name: "part's top", Z: top, Role: fold.RolePart}, {Name: "rim", Z: rim, Role: fold.RoleFixture}, {Name: "seat", Z: seat, Role: fold.RolePocket}},
		Solids: []fold.Solid{
			{Role: fold.RoleFixture, X0: 0, X1: 0.1, Lo: seat - 9*span, Hi: rim}, {Role: fold.RoleFixture, X0: 0.9, X1: 1, Lo: seat - 9*span, Hi: rim},
			{Role: fold.RolePart, X0: 0.13, X1: 0.87, Lo: seat, Hi: top}, {Role: fold.RoleScrew, X0: 0.2, X1: 0.3, Lo: seat, Hi: head},
			{Role: fold.RoleNext, X0: 0.5, X1: 0.64, Lo: low, Hi: hi + 9*span}}}
	return s
}
