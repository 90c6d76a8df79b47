package steps

import (
	"fmt"

	"fliptrue/calc/clearance"
	"fliptrue/calc/ncode"
	"fliptrue/jobs"
)

// pathOf is the path in plan with what it comes too near to, in the coordinates of the scene.
func (p *Plan) pathOf(w *walked, a heldAgainst) []Shape {
	var out []Shape
	for _, line := range w.path {
		pts := make([]XY, len(line))
		for i, q := range line {
			pts[i] = p.drawn(q)
		}
		out = append(out, Shape{Role: RolePath, Points: pts})
	}
	marks := func(near []ncode.Nearest, obs []clearance.Obstacle) {
		for i, n := range near {
			if n.Clear() || i >= len(obs) {
				continue
			}
			var pts []XY
			for _, q := range obs[i].Outline.Corners() {
				pts = append(pts, p.drawn(XY{q.X, q.Y}))
			}
			out = append(out, Shape{Role: RoleConflict, Name: n.Obstacle, Points: pts, Closed: true, Verdict: Fail},
				Shape{Role: RoleConflict, Name: fmt.Sprintf("line %d", n.Line), Points: []XY{p.drawn(XY{n.At[0], n.At[1]})}, Verdict: Fail})
		}
	}
	marks(w.near, a.obstacles)
	marks(w.body, a.body)
	return out
}

// drawn takes a place in W to where the setup's pictures have it: a second side's are in
// fixture coordinates, a first side's in its stock's from the left front corner.
func (p *Plan) drawn(q XY) XY {
	if p.Setup.Kind == firstSide {
		if p.Setup.Zero == "centre" {
			return XY{q.X + p.Job.Part.Size[0]/2, q.Y + p.Job.Part.Size[1]/2}
		}
		return q
	}
	return p.fixturePlace(jobs.Point{X: q.X, Y: q.Y})
}
