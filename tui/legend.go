package tui

import (
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

// roleOf is the look of a shape.
func roleOf(s steps.Shape) Role {
	if s.Role == steps.RoleConflict {
		return Conflict // what is in the way is more than a verdict
	}
	switch s.Verdict {
	case steps.Pass:
		return Pass
	case steps.Fail:
		return Fail
	case steps.NotProven:
		return NotProven
	case steps.Void:
		return Void
	case steps.Waived:
		return Waived
	}
	if int(s.Role) < len(rolesOf) {
		return rolesOf[s.Role]
	}
	return Text
}

var rolesOf = [...]Role{steps.RoleFixture: Fixture, steps.RolePocket: Pocket, steps.RolePart: Part, steps.RoleBore: Bore,
	steps.RoleEdge: Edge,
	steps.RoleHit:  Hit, steps.RoleNext: NextHit, steps.RoleHole: Hole, steps.RoleClamp: Clamp, steps.RoleScrew: Screw,
	steps.RoleFeature: Feature,
	steps.RoleSupport: Support, steps.RoleJaw: Jaw, steps.RolePath: Path, steps.RoleConflict: Conflict, steps.RoleTap: Tap,
	fold.RoleLater: Later, fold.RolePush: Push, fold.RoleSweep: Sweep}

// legend names the marks and the strokes of a plan, in the order in which they are told.
var legend = []struct {
	role Role
	word string
}{{NextHit, "now"}, {Hit, "taken"}, {Later, "to come"}, {Suspect, "suspect"}, {Conflict, "in the way"}, {Tap, "tap"}, {Push, "push"},
	{Move, "moved"}, {Bound, "limit"}, {Hole, "hole"}, {Screw, "screw"}, {Clamp, "clamp"},
	{Feature, "feature"}, {Pass, "pass"}, {Fail, "fail"}, {NotProven, "not proven"}, {Void, "void"}, {Waived, "waived"}, {Path, "tool path"},
	{Part, "part"}, {Bore, "bores"}, {Sweep, "sweep"}, {Edge, "edge"}, {Pocket, "pocket"}, {Fixture, "fixture"}, {Jaw, "jaw"}, {Support, "support"}, {Rule, "without the turn"}}

// legendOf tells what is in the picture, and only that, in as many lines.
func (a artist) legendOf(c *canvas.Canvas, shapes []steps.Shape, w, rows int) []string {
	marked := map[Role]bool{}
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 {
			marked[roleOf(s)] = true
		}
	}
	used := c.Used()
	word := boreWord(shapes)
	var lines []string
	line, wide := "", 0
	for _, l := range legend {
		if !used[l.role] {
			continue
		}
		if l.role == Bore && word != "" {
			l.word = word
		}
		sample := string(Marker(l.role))
		if !marked[l.role] && l.role != Tap && l.role != Push && l.role != Move {
			sample = canvas.Sample(4, Pen(l.role), a.t.Look.strokes())
		}
		n := Width(sample) + 1 + Width(l.word)
		if wide > 0 && wide+2+n > w {
			lines, line, wide = append(lines, line), "", 0
			if len(lines) == rows {
				return lines
			}
		}
		if wide > 0 {
			line, wide = line+"  ", wide+2
		}
		line, wide = line+a.t.Paint(l.role, sample)+a.t.Paint(Dim, " "+l.word), wide+n
	}
	if wide > 0 {
		lines = append(lines, line)
	}
	return lines
}

// boreWord is what the one round thing of a plan is called, "" for several.
func boreWord(shapes []steps.Shape) string {
	out := ""
	for _, s := range shapes {
		if roleOf(s) != Bore || s.Radius <= 0 {
			continue
		}
		if out != "" {
			return ""
		}
		out = s.Name
	}
	return out
}
