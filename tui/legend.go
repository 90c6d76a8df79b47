package tui

import (
	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

// roleOf is the look of a shape.
func roleOf(s fold.Shape) Role {
	if s.Role == fold.RoleConflict {
		return Conflict // what is in the way is more than a verdict
	}
	switch s.Verdict {
	case fold.Pass:
		return Pass
	case fold.Fail:
		return Fail
	case fold.NotProven:
		return NotProven
	case fold.Void:
		return Void
	case fold.Waived:
		return Waived
	}
	if int(s.Role) < len(rolesOf) {
		return rolesOf[s.Role]
	}
	return Text
}

var rolesOf = [...]Role{fold.RoleFixture: Fixture, fold.RolePocket: Pocket, fold.RolePart: Part, fold.RoleBore: Bore,
	fold.RoleEdge: Edge,
	fold.RoleHit:  Hit, fold.RoleNext: NextHit, fold.RoleHole: Hole, fold.RoleClamp: Clamp, fold.RoleScrew: Screw,
	fold.RoleFeature: Feature,
	fold.RoleSupport: Support, fold.RoleJaw: Jaw, fold.RolePath: Path, fold.RoleConflict: Conflict, fold.RoleTap: Tap,
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
func (a artist) legendOf(c *canvas.Canvas, shapes []fold.Shape, w, rows int) []string {
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
func boreWord(shapes []fold.Shape) string {
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
