package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// BothPlaces is one feature on both sides, mm.
type BothPlaces struct {
	Name         string
	Side1, Side2 fold.XY
}

// BothSides lists every feature with its place in the programs of side 1 and side 2; nil without a second side.
func BothSides(p *fold.Plan) []BothPlaces {
	s := kit.Side2(p)
	if s == nil {
		return nil
	}
	f := kit.FlipOf(p, s)
	var out []BothPlaces
	for _, ft := range kit.Features(p) {
		q := kit.Vec(ft.At)
		a := f.Plan(q)
		out = append(out, BothPlaces{ft.Name, fold.XY{X: a.X, Y: a.Y}, fold.XY{X: q.X, Y: q.Y}})
	}
	return out
}

// bothRows are the same as rows.
func bothRows(p *fold.Plan) []fold.Row {
	var out []fold.Row
	for _, b := range BothSides(p) {
		out = append(out, fold.Row{Label: b.Name, Text: fmt.Sprintf("side 1: X %s Y %s; side 2: X %s Y %s", p.Num(b.Side1.X), p.Num(b.Side1.Y),
			p.Num(b.Side2.X), p.Num(b.Side2.Y))})
	}
	return out
}

// Mirrored says whether a side-2 program that has the three features where side2 says is a
// mirror image of the part: the sense of rotation of three points against that of the same
// points turned over. The features must not lie on a line.
func Mirrored(p *fold.Plan, features [3]BothPlaces, side2 [3]fold.XY) (bool, error) {
	s := kit.Side2(p)
	if s == nil {
		return false, fmt.Errorf("the job has no second side")
	}
	var a, b [3]frame.Vec
	for i := range features {
		a[i] = frame.Vec{X: features[i].Side1.X, Y: features[i].Side1.Y}
		b[i] = frame.Vec{X: side2[i].X, Y: side2[i].Y}
	}
	return kit.FlipOf(p, s).Mirrored(a, b)
}

// ThreePlaces are three places of the part, far from one line.
func ThreePlaces(p *fold.Plan) [3]BothPlaces {
	all := BothSides(p)
	best, out := 0.0, [3]BothPlaces{}
	for i := range all {
		for j := i + 1; j < len(all); j++ {
			for k := j + 1; k < len(all); k++ {
				a, b, c := all[i].Side2, all[j].Side2, all[k].Side2
				if area := math.Abs((b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)); area > best {
					best, out = area, [3]BothPlaces{all[i], all[j], all[k]}
				}
			}
		}
	}
	if best > 0 {
		return out
	}
	s := kit.Side2(p)
	f := kit.FlipOf(p, s)
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	for i, c := range []frame.Vec{{}, {X: w}, {X: w, Y: h}} {
		a := f.Plan(c)
		out[i] = BothPlaces{[...]string{"near left corner", "near right corner", "far right corner"}[i], fold.XY{X: a.X, Y: a.Y},
			fold.XY{X: c.X, Y: c.Y}}
	}
	return out
}

// senseFacts are what a seat waits for where the program's sense is in doubt.
func senseFacts(p *fold.Plan) []fold.FactID {
	if sense(p) == nil {
		return nil
	}
	return []fold.FactID{"sense"}
}

// sense compares three places as the side-2 program has them with the part turned over. It
// is walked where the program was not made by turning the model: mirrored in the
// control, or by hand.
func sense(p *fold.Plan) *fold.Spec {
	if p.Job.Posted == "" || p.Job.Posted == "turned" || kit.Side2(p) == nil {
		return nil
	}
	three := ThreePlaces(p)
	return &fold.Spec{
		Title: "sense of the program", Makes: []fold.FactID{"sense"}, Keys: []string{"posted", "part.features", "setups." + p.Setup.Name +
			".flip", "setups." + p.Setup.Name + ".programs"},
		Asks:  func(fold.View) []fold.Ask { return senseAsks(three) },
		Judge: func(v fold.View) fold.Outcome { return judgeSense(p, v, three) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A program mirrored in the control cuts a mirror part.", Act: "Read three places out of the side-2 program.",
				Read: "X and Y as they stand in the program.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// senseAsks are the three places as the program has them.
func senseAsks(three [3]BothPlaces) []fold.Ask {
	var asks []fold.Ask
	for i, q := range three {
		for _, ax := range []string{"x", "y"} {
			w := kit.Around(q.Side2.X, 1, "the drawing turned over")
			if ax == "y" {
				w = kit.Around(q.Side2.Y, 1, "the drawing turned over")
			}
			asks = append(asks, fold.Ask{Field: fmt.Sprintf("p%d.%s", i+1, ax), Label: fmt.Sprintf("%s in the side-2 program, %s", q.Name,
				map[string]string{"x": "X", "y": "Y"}[ax]), Kind: fold.Reading, Unit: unit.KLength,
				Form: fmt.Sprintf("p%d", i+1), What: fold.What{By: "eye", Of: "program/feature", Dir: q.Name, Axis: ax}, Window: w})
		}
	}
	return asks
}

// judgeSense says whether the program mirrors the part, and whether its places are those of the drawing turned over.
func judgeSense(p *fold.Plan, v fold.View, three [3]BothPlaces) fold.Outcome {
	var o fold.Outcome
	var at [3]fold.XY
	off := 0.0
	for i := range at {
		at[i] = fold.XY{X: v.Len(fmt.Sprintf("p%d.x", i+1)), Y: v.Len(fmt.Sprintf("p%d.y", i+1))}
		off = math.Max(off, math.Hypot(at[i].X-three[i].Side2.X, at[i].Y-three[i].Side2.Y))
	}
	m, err := Mirrored(p, three, at)
	if err != nil {
		kit.Refuse(&o, "sense.points", "three places show a sense of rotation", err)
		return o
	}
	c := fold.Check{Limit: fold.Limit{ID: "sense", Why: "mirror image of the turned part", Class: fold.Never}, Count: true,
		Verdict: fold.Pass}
	if m {
		c.Verdict = fold.Fail
		c.Words = "The side-2 program is a mirror image: going round these three places has the other sense than on the part turned over."
		o.Named = "mirrored-program"
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "program", Words: "Turn the model, never mirror it, and post the program again."},
			fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
	d := judge.Of(fold.Limit{ID: "sense.place", Why: "features of the program against the drawing turned over", Max: 1, Class: fold.Soft,
		Unit: unit.KLength}, off, 0)
	if d.Verdict == fold.Fail && !m {
		d.Words = fmt.Sprintf("The program has a feature %s from where the part turned about %s has it. The other flip axis, or another zero.",
			p.Len(off), p.Setup.Flip)
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "program", Words: d.Words}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, d)
	o.Lines = bothRows(p)
	o.Facts = []fold.Known{{ID: "sense"}}
	o.Learned = "The program turns the part over; it does not mirror it."
	return o
}
