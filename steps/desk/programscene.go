package desk

import (
	"fmt"

	"fliptrue/calc/clearance"
	"fliptrue/calc/ncode"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// pathOf is the path in plan with what it comes too near to, in the coordinates of the scene.
func pathOf(p *fold.Plan, w *walked, a heldAgainst) []fold.Shape {
	var out []fold.Shape
	for _, line := range w.path {
		pts := make([]fold.XY, len(line))
		for i, q := range line {
			pts[i] = drawn(p, q)
		}
		out = append(out, fold.Shape{Role: fold.RolePath, Points: pts})
	}
	marks := func(near []ncode.Nearest, obs []clearance.Obstacle) {
		for i, n := range near {
			if n.Clear() || i >= len(obs) {
				continue
			}
			var pts []fold.XY
			for _, q := range obs[i].Outline.Corners() {
				pts = append(pts, drawn(p, fold.XY{X: q.X, Y: q.Y}))
			}
			out = append(out, fold.Shape{Role: fold.RoleConflict, Name: n.Obstacle, Points: pts, Closed: true, Verdict: fold.Fail},
				fold.Shape{Role: fold.RoleConflict, Name: fmt.Sprintf("line %d", n.Line), Points: []fold.XY{drawn(p, fold.XY{X: n.At[0], Y: n.At[1]})},
					Verdict: fold.Fail})
		}
	}
	marks(w.near, a.obstacles)
	marks(w.body, a.body)
	return out
}

// drawn takes a place in W to where the setup's pictures have it: a second side's are in
// fixture coordinates, a first side's in its stock's from the left front corner.
func drawn(p *fold.Plan, q fold.XY) fold.XY {
	if p.Raw() {
		if p.Setup.Zero == "centre" {
			return fold.XY{X: q.X + p.Job.Part.Size[0]/2, Y: q.Y + p.Job.Part.Size[1]/2}
		}
		return q
	}
	return kit.FixturePlace(p, jobs.Point{X: q.X, Y: q.Y})
}
