package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// covers judges whether the stock is square, and whether it has material outside every
// finished edge: a program does not turn with the stock.
func covers(p *fold.Plan, v fold.View, k picked, o *fold.Outcome) {
	if !byMiddle(p) {
		c := judge.Off(p.Limit("corner.square"), k.Interior, math.Pi/2, 0)
		if c.Verdict == fold.Fail {
			c.Words = fmt.Sprintf("The corner of the stock is out of square by %s. A burr under one contact, or sawn stock.", p.Slope(c.Got))
			if len(o.Next) == 0 {
				o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "stock", Words: c.Words + " Wipe, take the contacts again; if it stays, mill two " +
					"faces square first."}, fold.Act{Do: "round"})
			}
		}
		o.Checks = append(o.Checks, c)
	}
	size := p.Job.Part.Size
	if byMiddle(p) {
		o.Notes = append(o.Notes, "By the middle the lean of the side faces is not read. They count as square to the fixed jaw.")
	}
	xs, ys := kit.Sides(p)
	stock := k.Width
	if st, ok := facts.Stock.Perhaps(v); ok && !byMiddle(p) {
		stock = [2]float64{float64(st.L), float64(st.W)}
	}
	over, err := frame.Covers(frame.Vec{X: size[0], Y: size[1]}, k.Faces([2]float64{size[0], size[1]}, stock, xs > 0, ys > 0))
	if err != nil {
		kit.Refuse(o, "corner.faces", "the faces are the sides of the stock", err)
		return
	}
	w, ok := frame.Worst(over)
	if !ok {
		return
	}
	c := judge.Most(kit.AtLeast(p.Limit("corner.cover"), 4*w.U), -w.Least, budget.OneSided*w.U) // paper tells no more
	c.Got = math.Max(0, c.Got)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("At the %s corner the part stands %s out of the stock. Over %s of that edge nothing is there to cut.",
			cornerName(w.End, size), p.Len(c.Got), p.Len(w.AirLength))
		if c.Verdict == fold.Fail && o.Named == "" {
			o.Named = "stock-short"
		}
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: c.Words + " Mill the faces square, or take the middle of larger " +
				"stock as zero. Where the drawing lets that edge be: accept it by the number."})
		}
	}
	o.Checks = append(o.Checks, c)
}

// cornerName is a corner of the part from where the person stands.
func cornerName(at frame.Vec, size [3]float64) string {
	right, away := at.X > size[0]/2, at.Y > size[1]/2
	switch {
	case right && away:
		return kit.CornerName[2]
	case away:
		return kit.CornerName[3]
	case right:
		return kit.CornerName[1]
	}
	return kit.CornerName[0]
}
