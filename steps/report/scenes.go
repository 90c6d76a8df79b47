package report

import (
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Picture is a scene of a step as the screen shows it, by its own name.
type Picture struct {
	Step, Title string
	Scene       fold.Scene
}

// Pictures are the scenes that a sheet draws: the setup as it stood first, then what was read, a step each.
func (r Record) Pictures() []Picture { return r.pictures }

func (r *Record) scenes(log *fold.Log, st *fold.State) []Picture {
	p := st.Plan()
	var plan *Picture
	var out []Picture
	for i := range st.Steps {
		s := &st.Steps[i]
		if s.Round == nil || s.Verdict == fold.NotApplicable {
			continue
		}
		pg, ok := log.Page(p, s.ID)
		if !ok {
			continue
		}
		sc := pg.Scene
		if len(sc.Shapes) > 0 { // the last knows most of what stands
			plain := Picture{string(s.ID), s.Title, fold.Scene{Shapes: settled(sc.Shapes), Arrow: sc.Arrow}}
			plan = &plain
		}
		if sc.Run != nil && len(sc.Run.At) > 0 || sc.Ring != nil && len(sc.Ring.Angle) > 0 || sc.Tilt != nil && len(sc.Tilt.Points) > 0 {
			sc.Shapes = append(settled(sc.Shapes), kit.Marks(st, s, "")...)
			out = append(out, Picture{string(s.ID), s.Title, sc})
		}
	}
	if plan != nil {
		out = append([]Picture{*plan}, out...)
	}
	return out
}

// settled are shapes without those of readings: nothing is asked on paper.
func settled(shapes []fold.Shape) []fold.Shape {
	var out []fold.Shape
	for _, s := range shapes {
		if s.Role != fold.RoleNext && s.Role != fold.RoleHit && s.Role != fold.RoleLater && s.Role != fold.RolePath {
			out = append(out, s)
		}
	}
	return out
}
