package kit

import (
	"fliptrue/calc/fit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// TouchPicture draws touches of a face: the tilt once there are more than a plane
// needs, a mark at each place that was touched, and one where the next touch goes.
func TouchPicture(pl fit.Plane, touched []fit.Point3, places []jobs.Point) (tilt *fold.TiltPlot, marks []fold.Shape) {
	if len(touched) > 3 && len(pl.Residuals) == len(touched) {
		tilt = &fold.TiltPlot{Residual: pl.Residuals, TiltX: pl.B, TiltY: pl.C, Suspect: -1}
		for _, q := range touched {
			tilt.Points = append(tilt.Points, fold.XY{X: q.X, Y: q.Y})
		}
	}
	for i, q := range places {
		role := fold.RoleHit
		if i >= len(touched) {
			role = fold.RoleNext
		}
		marks = append(marks, fold.Shape{Role: role, Points: []fold.XY{{X: q.X, Y: q.Y}}})
		if role == fold.RoleNext {
			break
		}
	}
	return tilt, marks
}
