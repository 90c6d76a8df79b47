package steps

import (
	"fliptrue/calc/fit"
	"fliptrue/jobs"
)

// touchPicture draws touches of a face: the tilt once there are more than a plane
// needs, a mark at each place that was touched, and one where the next touch goes.
func touchPicture(pl fit.Plane, touched []fit.Point3, places []jobs.Point) (tilt *TiltPlot, marks []Shape) {
	if len(touched) > 3 && len(pl.Residuals) == len(touched) {
		tilt = &TiltPlot{Residual: pl.Residuals, TiltX: pl.B, TiltY: pl.C, Suspect: -1}
		for _, q := range touched {
			tilt.Points = append(tilt.Points, XY{q.X, q.Y})
		}
	}
	for i, q := range places {
		role := RoleHit
		if i >= len(touched) {
			role = RoleNext
		}
		marks = append(marks, Shape{Role: role, Points: []XY{{q.X, q.Y}}})
		if role == RoleNext {
			break
		}
	}
	return tilt, marks
}
