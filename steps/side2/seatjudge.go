package side2

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

func (s seating) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	if WarmCheck(s.p, v, &o) || kit.WidthWrong(s.p, v, &o) {
		return o
	}
	if ps, _ := topZ(s.p, v); len(ps) == 0 && !s.p.Reads(fold.Irreplaceable) {
		o := seatedUnread(s.p, v)
		if s.lies.Judge != nil {
			s.lies.Judge(v, &o)
		}
		holesOf(s.p, v, s.pre, &o)
		return o
	}
	c := rocks(s.p, v)
	ps, _ := topZ(s.p, v)
	if c.Verdict == fold.Fail && v.Walks(3) && len(ps) < 3 { // rocking read anew after the strips, too
		return rocking(s.p, v)
	}
	pl, fl, ok := s.plane(v, ps, &o)
	if !ok {
		return o
	}
	wx, wy := wedge(s.p, v) // as the part itself is thicker at one end
	l, touched := facts.Length.Of(kit.ZDatum(s.p).Thing()).In(v)
	size := s.p.Job.Part.Size
	is := pickup.SeatOf(pl, kit.FloorOf(fl), wx, wy, lengthOf(l, touched), [2]float64{size[0], size[1]})
	k := judge.Of(s.p.Limit("seat.parallel"), is.Lean, 0)
	s.chip(v, fl, c, k, is, &o)
	seatSlips(s.p, v, &o)
	if s.lies.Judge != nil {
		s.lies.Judge(v, &o)
	}
	o.Notes = append(o.Notes, sinceSide1(s.p, v)...)
	if touched {
		s.height(v, is.Over, &o)
	} else {
		is.Over = 0
	}
	o.Lines = append(o.Lines, fold.Row{Label: "lean over the part", Value: is.Lean, Unit: unit.KLength},
		fold.Row{Label: "rocks by", Value: c.Got, Unit: unit.KLength})
	o.Facts = append(o.Facts, kit.SeatWith(s.p, v, is.Over, is.TiltX, is.TiltY))
	holesOf(s.p, v, s.pre, &o)
	if o.Learned == "" {
		o.Learned = fmt.Sprintf("The part lies on its floor within %s and against %s.", s.p.Len(is.Lean), s.lies.Onto)
	}
	return o
}

// plane is the top as touched, with the floor that it is held against; false where one of them is not there.
func (s seating) plane(v fold.View, ps []fit.Point3, o *fold.Outcome) (fit.Plane, facts.FloorFact, bool) {
	pl, err := fit.ToPlane(ps)
	if err != nil {
		o.Checks = append(o.Checks, judge.Refused("seat.top", "top touches against a plane", err))
		o.Next = append(o.Next, fold.Act{Do: "round", Words: "Touch the top again: " + err.Error() + "."})
		return pl, facts.FloorFact{}, false
	}
	fl, ok := facts.Floor.In(v)
	if !ok {
		o.Checks = append(o.Checks, judge.So(fold.Limit{ID: "seat.floor", Why: "part's top against the bare floor", Class: fold.Never},
			false, "The floor did not stand when the part was seated."))
		o.Next = append(o.Next, fold.Act{Do: "round", Words: "Part out; read the floor, then seat the part again."})
		return pl, facts.FloorFact{}, false
	}
	return pl, fl, true
}

// chip says where a chip lies, if the part rocks (c) or its top leans (k): by how it lies.
func (s seating) chip(v fold.View, fl facts.FloorFact, c, k fold.Check, is pickup.Seat, o *fold.Outcome) {
	p := s.p
	where := ""
	switch {
	case c.Verdict == fold.Fail:
		still := 0
		if math.Abs(v.Len("rock2")) < math.Abs(v.Len("rock1")) {
			still = 1
		}
		at := highest(p, v, fl, diagonal[still].ends[:])
		where = kit.CornerName[at]
		c.Words = fmt.Sprintf("It rocks by %s. The diagonal that stays still carries the chip: %s, at its higher end %s.", p.Len(c.Got),
			diagonal[still].words, where)
		o.Named = "seated-on-chip"
	case k.Verdict == fold.Fail:
		where = kit.EdgeName(is.TiltX*p.Job.Part.Size[0], is.TiltY*p.Job.Part.Size[1])
		k.Words = fmt.Sprintf("It does not rock, yet the top leans by %s, high at %s. A chip under that edge, or the floor itself.",
			p.Len(is.Lean), where)
		o.Named = "seated-on-chip"
	}
	o.Checks = append(o.Checks, c, k)
	if where != "" {
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Dir: where, Words: "Lift the part out. Wipe pocket and part at " + where +
			". Seat it again and push it against " + s.lies.Onto + "."},
			fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
		words := fmt.Sprintf(" Cut like this, the floor would come out %s thicker at one end than at the other.", p.Len(is.Lean))
		for i := range o.Checks {
			if o.Checks[i].Words != "" {
				o.Checks[i].Words += words
			}
		}
	}
}

// highest is which of some corners of the top stands highest over the leaning floor.
func highest(p *fold.Plan, v fold.View, fl facts.FloorFact, is []int) int {
	ps, corners := topZ(p, v)
	var of []fit.Point3
	var at []int
	for _, i := range is {
		if j := slices.Index(corners, i); j >= 0 {
			of, at = append(of, ps[j]), append(at, i)
		}
	}
	if k := pickup.Highest(of, float64(fl.TiltX), float64(fl.TiltY)); k >= 0 {
		return at[k]
	}
	return 0
}

// height holds the top over the floor against what side 1 left.
func (s seating) height(v fold.View, dz float64, o *fold.Outcome) {
	o.Lines = append(o.Lines, fold.Row{Label: "top over floor", Value: dz, Unit: unit.KLength, Big: true})
	if t, says := expected(s.p, v); v.Walks(3) {
		seatedHeight(s.p, v, dz, o)
	} else if math.Abs(dz-t) > 0.5 {
		o.Notes = append(o.Notes, fmt.Sprintf("The top stands %s over the floor%s %s for the part as it goes in.", s.p.Len(dz), says,
			s.p.Len(t)))
	}
}
