package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// flipOf is the turn that takes side-1 program coordinates to side 2's, and back. Side 1's
// Z0 is its finished top, which is the face that side 2 rests on.
func (p *Plan) flipOf(s *jobsSetup) frame.Flip {
	axis := frame.AboutX
	if s.Flip == "y" {
		axis = frame.AboutY
	}
	size := frame.Vec3{X: p.Job.Part.Size[0], Y: p.Job.Part.Size[1], Z: p.Job.Part.Size[2]}
	z := frame.Floor
	if s.Z0 == "finished top" {
		z = frame.FinishedTop
	}
	return z.Over(axis, size, 0)
}

// onSide1 is a place of side 2 in side-1 program coordinates in plan; as given where the job has no second side.
func (p *Plan) onSide1(q frame.Vec) frame.Vec {
	if s := p.side2(); s != nil {
		return p.flipOf(s).Plan(q)
	}
	return q
}

// BothPlaces is one feature on both sides, mm.
type BothPlaces struct {
	Name         string
	Side1, Side2 XY
}

// BothSides lists every feature with its place in the programs of side 1 and side 2; nil without a second side.
func (p *Plan) BothSides() []BothPlaces {
	s := p.side2()
	if s == nil {
		return nil
	}
	f := p.flipOf(s)
	var out []BothPlaces
	for _, ft := range p.features() {
		q := vec(ft.At)
		a := f.Plan(q)
		out = append(out, BothPlaces{ft.Name, XY{a.X, a.Y}, XY{q.X, q.Y}})
	}
	return out
}

// bothRows are the same as rows.
func (p *Plan) bothRows() []Row {
	var out []Row
	for _, b := range p.BothSides() {
		out = append(out, Row{Label: b.Name, Text: fmt.Sprintf("side 1: X %s Y %s; side 2: X %s Y %s", p.num(b.Side1.X), p.num(b.Side1.Y), p.num(b.Side2.X), p.num(b.Side2.Y))})
	}
	return out
}

// Mirrored says whether a side-2 program that has the three features where side2 says is a
// mirror image of the part: the sense of rotation of three points against that of the same
// points turned over. The features must not lie on a line.
func (p *Plan) Mirrored(features [3]BothPlaces, side2 [3]XY) (bool, error) {
	s := p.side2()
	if s == nil {
		return false, fmt.Errorf("the job has no second side")
	}
	var a, b [3]frame.Vec
	for i := range features {
		a[i] = frame.Vec{X: features[i].Side1.X, Y: features[i].Side1.Y}
		b[i] = frame.Vec{X: side2[i].X, Y: side2[i].Y}
	}
	return p.flipOf(s).Mirrored(a, b)
}

// threePlaces are three places of the part, far from one line.
func (p *Plan) threePlaces() [3]BothPlaces {
	all := p.BothSides()
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
	s := p.side2()
	f := p.flipOf(s)
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	for i, c := range []frame.Vec{{}, {X: w}, {X: w, Y: h}} {
		a := f.Plan(c)
		out[i] = BothPlaces{[...]string{"near left corner", "near right corner", "far right corner"}[i], XY{a.X, a.Y}, XY{c.X, c.Y}}
	}
	return out
}

// senseFacts are what a seat waits for where the program's sense is in doubt.
func (p *Plan) senseFacts() []FactID {
	if sense(p) == nil {
		return nil
	}
	return []FactID{"sense"}
}

// sense compares three places as the side-2 program has them with the part turned over. It
// is walked where the program was not made by turning the model: mirrored in the
// control, or by hand.
func sense(p *Plan) *Spec {
	if p.Job.Posted == "" || p.Job.Posted == "turned" || p.side2() == nil {
		return nil
	}
	three := p.threePlaces()
	return &Spec{
		Title: "sense of the program", Makes: []FactID{"sense"}, Keys: []string{"posted", "part.features", "setups." + p.Setup.Name + ".flip", "setups." + p.Setup.Name + ".programs"},
		Asks: func(v View) []Ask {
			var asks []Ask
			for i, q := range three {
				for _, ax := range []string{"x", "y"} {
					w := around(q.Side2.X, 1, "the drawing turned over")
					if ax == "y" {
						w = around(q.Side2.Y, 1, "the drawing turned over")
					}
					asks = append(asks, Ask{Field: fmt.Sprintf("p%d.%s", i+1, ax), Label: fmt.Sprintf("%s in the side-2 program, %s", q.Name, map[string]string{"x": "X", "y": "Y"}[ax]), Kind: Reading, Unit: unit.KLength,
						Form: fmt.Sprintf("p%d", i+1), What: What{By: "eye", Of: "program/feature", Dir: q.Name, Axis: ax}, Window: w})
				}
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			var at [3]XY
			off := 0.0
			for i := range at {
				at[i] = XY{v.Len(fmt.Sprintf("p%d.x", i+1)), v.Len(fmt.Sprintf("p%d.y", i+1))}
				off = math.Max(off, math.Hypot(at[i].X-three[i].Side2.X, at[i].Y-three[i].Side2.Y))
			}
			m, err := p.Mirrored(three, at)
			if err != nil {
				o.refuse("sense.points", "three places show a sense of rotation", err)
				return o
			}
			c := Check{Limit: Limit{ID: "sense", Why: "a turned part is no mirror image", Class: Never}, Count: true, Verdict: Pass}
			if m {
				c.Verdict = Fail
				c.Words = "The side-2 program is a mirror image: going round these three places has the other sense than on the part turned over."
				o.Named = "mirrored-program"
				o.Next = append(o.Next, Act{Do: "look", Of: "program", Words: "Turn the model, never mirror it, and post the program again."}, Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
			d := Judged(Limit{ID: "sense.place", Why: "the program has the features where the drawing turned over has them", Max: 1, Class: Soft, Unit: unit.KLength}, off, 0)
			if d.Verdict == Fail && !m {
				d.Words = fmt.Sprintf("The program has a feature %s from where the part turned about %s has it: the other flip axis, or another zero.", p.len(off), p.Setup.Flip)
				o.Next = append(o.Next, Act{Do: "look", Of: "program", Words: d.Words}, Act{Do: "round"})
			}
			o.Checks = append(o.Checks, d)
			o.Lines = p.bothRows()
			o.Facts = []Fact{{ID: "sense"}}
			o.Learned = "The program turns the part over; it does not mirror it."
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A program mirrored in the control cuts a mirror part.", Act: "Read three places out of the side-2 program.", Read: "X and Y as they stand in the program.", Scene: p.scene(v, nil)}
		},
	}
}
