package report

import (
	"math"
	"slices"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Picture is a scene of a step as the screen shows it, by the step's name.
type Picture struct {
	Step, Title string
	Scene       fold.Scene
}

// Pictures are the scenes that a sheet draws: the setup as it stood first, then what was read, a step each.
func (r Record) Pictures() []Picture { return r.pictures }

// Plot is what a run, a ring or a plane of readings came to.
type Plot struct {
	Step   string    `json:"step"`
	Title  string    `json:"title"`
	Kind   string    `json:"kind"`   // run, ring or tilt
	Values []float64 `json:"values"` // run: from where the fitted line begins; ring, tilt: off the circle, off the plane. mm
	Most   float64   `json:"most"`   // run: rise of the fitted line; ring: largest off it; tilt: rise of the plane over its touches
	Limit  *float64  `json:"limit"`  // of that; null without

	scene fold.Scene
}

// plotOf is the plot of a picture; ok is false for one without.
func plotOf(q Picture) (p Plot, ok bool) {
	p = Plot{Step: q.Step, Title: q.Title, scene: q.Scene}
	limit := 0.0
	switch sc := q.Scene; {
	case sc.Ring != nil && len(sc.Ring.Angle) > 0:
		p.Kind, p.Values, limit = "ring", slices.Clone(sc.Ring.Residual), sc.Ring.Limit
		for _, v := range p.Values {
			p.Most = max(p.Most, math.Abs(v))
		}
	case sc.Run != nil && len(sc.Run.At) > 1 && len(sc.Run.Fitted) == len(sc.Run.Reading):
		r := sc.Run
		k := r.Scale
		if k == 0 {
			k = 1
		}
		for _, v := range r.Reading {
			p.Values = append(p.Values, k*(v-r.Fitted[0]))
		}
		p.Kind, p.Most, limit = "run", k*(r.Fitted[len(r.Fitted)-1]-r.Fitted[0]), r.Limit
	case sc.Tilt != nil && len(sc.Tilt.Points) > 0 && len(sc.Tilt.Residual) == len(sc.Tilt.Points):
		p.Kind, p.Values, limit = "tilt", slices.Clone(sc.Tilt.Residual), sc.Tilt.Limit
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, q := range sc.Tilt.Points {
			z := q.X*sc.Tilt.TiltX + q.Y*sc.Tilt.TiltY
			lo, hi = min(lo, z), max(hi, z)
		}
		p.Most = hi - lo
	default:
		return p, false
	}
	if limit > 0 {
		p.Limit = number(limit)
	}
	return p, true
}

// judged takes a plane's rise as its step judged it, over the whole face.
func (p Plot) judged(steps []Step) Plot {
	for _, s := range steps {
		for _, c := range s.Checks {
			if s.ID == p.Step && p.Kind == "tilt" && p.Limit != nil && c.Max != nil && *c.Max == *p.Limit && c.Got != nil {
				p.Most = *c.Got
				return p
			}
		}
	}
	return p
}

// scenes are the pictures of the steps that were walked.
func scenes(log *fold.Log, st *fold.State) []Picture {
	var plan *Picture
	var out []Picture
	for i := range st.Steps {
		s := &st.Steps[i]
		if s.Round == nil || s.Verdict == fold.NotApplicable {
			continue
		}
		pg, ok := log.Page(st.Plan(), s.ID)
		if !ok {
			continue
		}
		sc := pg.Scene
		if len(sc.Shapes) > 0 { // the last knows most of what stands
			plan = &Picture{string(s.ID), s.Title, fold.Scene{Shapes: settled(sc.Shapes), Arrow: sc.Arrow}}
		}
		if sc.Run != nil && len(sc.Run.At) > 0 || sc.Ring != nil && len(sc.Ring.Angle) > 0 || sc.Tilt != nil && len(sc.Tilt.Points) > 0 {
			sc.Shapes, sc.Bars = append(settled(sc.Shapes), kit.Marks(st, s, "")...), nil
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
	return slices.DeleteFunc(slices.Clone(shapes), func(s fold.Shape) bool {
		return s.Role == fold.RoleNext || s.Role == fold.RoleHit || s.Role == fold.RoleLater || s.Role == fold.RolePath
	})
}
