package kit

import (
	"fliptrue/calc/frame"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// FlipOf is the turn that takes side-1 program coordinates to side 2's in plan, and back.
func FlipOf(p *fold.Plan, s *jobsSetup) frame.Flip {
	axis := frame.AboutX
	if s.Flip == "y" {
		axis = frame.AboutY
	}
	return frame.Over(axis, frame.Vec{X: p.Job.Part.Size[0], Y: p.Job.Part.Size[1]})
}

// OnSide1 is a place of side 2 in side-1 program coordinates in plan; as given where the job has no second side.
func OnSide1(p *fold.Plan, q frame.Vec) frame.Vec {
	if s := Side2(p); s != nil {
		return FlipOf(p, s).Plan(q)
	}
	return q
}

// Side2 is the job's second side, nil without one.
func Side2(p *fold.Plan) *jobs.Setup {
	for i := range p.Job.Setups {
		if p.Job.Setups[i].Second() {
			return &p.Job.Setups[i]
		}
	}
	return nil
}
