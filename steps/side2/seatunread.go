package side2

import (
	"fmt"
	"math"

	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// seatedUnread is a part whose top was not touched, as the walk's level has it: strips and, where it was tried,
// rocking say that it lies on its floor. How high it lies is not known; the first cut is measured all the same.
func seatedUnread(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	if v.Has("rock1") && v.Has("rock2") {
		rock := [2]float64{math.Abs(v.Len("rock1")), math.Abs(v.Len("rock2"))}
		c := judge.Of(p.Limit("seat.rock"), math.Max(rock[0], rock[1]), 0)
		if c.Verdict == fold.Fail {
			still := 0
			if rock[1] < rock[0] {
				still = 1
			}
			c.Words = fmt.Sprintf("It rocks by %s. The diagonal that stays still, %s, carries the chip.", p.Len(c.Got), diagonal[still].words)
			o.Named = "seated-on-chip"
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: "Lift the part out. Wipe pocket and part along that diagonal, seat it again and push it against its walls."},
				fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: "rocks by", Value: c.Got, Unit: c.Limit.Unit})
	}
	seatSlips(p, v, &o)
	o.Notes = append(append(o.Notes, sinceSide1(p, v)...), "The part's top is not touched at this level: how high it lies, strips and the first cut say.")
	o.Facts = []fold.Known{turnTouched(p, v, kit.SeatWith(p, v, 0, 0, 0))}
	o.Learned = fmt.Sprintf("The part lies on its floor and against %s, as the strips say.", walls(p))
	return o
}
