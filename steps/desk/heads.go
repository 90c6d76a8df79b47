package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
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
	h, seat, ok := headOn(p, measured)
	return seat + h, ok
}

// headOn is head and washer, the higher of given and measured, and the z of the face that they stand on.
func headOn(p *fold.Plan, measured float64) (h, seat float64, ok bool) {
	if h, ok = HeadHeight(p); !ok {
		return 0, 0, false
	}
	s := p.Setup.Screws
	if seat = s.Seat; seat == 0 {
		seat = s.Through
		if p.Setup.Z0 == "finished top" {
			seat -= p.Job.Part.Size[2]
		}
	}
	return math.Max(h, measured), seat, true
}

// HeadRoom judges the room between the lowest cut and a screw head; false where the job does not
// say how low it cuts, or how high a head stands.
func HeadRoom(p *fold.Plan, measured float64) (fold.Check, bool) {
	head, seat, ok := headOn(p, measured)
	if !ok || math.IsNaN(p.Setup.Cut.Lowest) || p.Setup.Cut.Tool == 0 {
		return fold.Check{}, false
	}
	l := fold.Limit{ID: "deck.head", Why: "room between the lowest cut and a screw head",
		Max: float64(hold.HeadRoom), Class: fold.Never, Unit: unit.KLength}
	_, room, err := hold.HeadCut{Seat: unit.Length(seat), Head: unit.Length(head), Lowest: unit.Length(p.Setup.Cut.Lowest)}.Margin()
	if err != nil {
		return judge.So(l, false, err.Error()+"."), true
	}
	c := judge.Least(l, float64(room), 0)
	if !c.Verdict.OK() {
		c.Words = fmt.Sprintf("The cutter comes within %s of a screw head.", p.Len(c.Got))
	}
	return c, true
}
