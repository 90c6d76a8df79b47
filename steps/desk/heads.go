package desk

import (
	"math"

	"fliptrue/calc/hold"
	"fliptrue/steps/fold"
)

// HeadHeight is head and washer by the job, over the part's face.
func HeadHeight(p *fold.Plan) (float64, bool) {
	s := p.Setup.Screws
	h := s.Head
	if h == 0 {
		if t, err := hold.ThreadNamed(s.Thread); err == nil {
			if hd, err := hold.HeadOf(t); err == nil {
				h = float64(hd.KMax)
			}
		}
	}
	if h == 0 {
		return 0, false
	}
	if s.Washer > 0 {
		h += s.WasherT
	}
	return h, true
}

// HeadTop is the z of a screw head's top in program coordinates, by the job or as measured when that is more.
func HeadTop(p *fold.Plan, measured float64) (float64, bool) {
	h, ok := HeadHeight(p)
	if !ok {
		return 0, false
	}
	s := p.Setup.Screws
	seat := s.Seat
	if seat == 0 {
		seat = s.Through
		if p.Setup.Z0 == "finished top" {
			seat -= p.Job.Part.Size[2]
		}
	}
	return seat + math.Max(h, measured), true
}

// ScrewsFound is what the walk knows of the screws in place.
func ScrewsFound(p *fold.Plan, v fold.View) (w AsFound) {
	if s, ok := v.Perhaps("screws"); ok && len(s.Value) > 2 {
		w.Engaged = s.Value[2]
	}
	return w
}
