package side2

import (
	"fmt"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// seatedUnread is a part whose top was not touched, as the walk's level has it: strips and, where it was tried,
// rocking say that it lies on its floor. How high it lies is not known; the first cut is measured all the same.
func seatedUnread(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	switch c := rocks(p, v); c.Verdict {
	case fold.Fail:
		o = rocking(p, v)
	case fold.Pass:
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: "rocks by", Value: c.Got, Unit: c.Limit.Unit})
	}
	if fold.Worst(o.Checks) == fold.Fail && v.Walks(3) && !v.Has("strips") {
		return o
	}
	seatSlips(p, v, &o)
	o.Notes = append(append(o.Notes, sinceSide1(p, v)...),
		"The part's top is not touched at this level. How high it lies, strips and the first cut say.")
	o.Facts = []fold.Known{turnTouched(p, v, kit.SeatWith(p, v, 0, 0, 0))}
	o.Learned = fmt.Sprintf("The part lies on its floor and against %s, as the strips say.", walls(p))
	switch {
	case rockedAlone(p):
		o.Learned = fmt.Sprintf("The part does not rock, and lies against %s as the strips say.", walls(p))
	case !v.Has("walls"):
		o.Learned = "The part lies on its floor, as the strips say."
	}
	return o
}
