package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// micrometerHalf is the half-width of what a micrometer says in the shop, mm (common practice).
const micrometerHalf = 0.003

// seatSpots are the touches on the face that side 2 rests on, as shares of the part.
var seatSpots = [...][2]float64{{.1, .12}, {.9, .12}, {.9, .88}, {.1, .88}}

// sizes measures what side 2 needs before the vise opens. Heights of the seat face are
// compared among themselves: neither ball nor length is wanted for that.
func sizes(p *fold.Plan) *fold.Spec {
	s := &fold.Spec{
		Title: "sizes cut", Needs: fold.Needs(fold.Live("cut"), fold.IfThere("corner", "offset")), Makes: []fold.FactID{"part/width-x", "part/width-y", "part/seat", "part/edges"}, Keys: []string{"part.size"},
	}
	if p.Setup.Vise.Wall > 0 {
		s.Makes = append(s.Makes, "part/wall")
	}
	if kit.Side2(p) != nil {
		s.Makes = append(s.Makes, "part/air")
	}
	pts := make([]fold.XY, len(seatSpots))
	for i, q := range seatSpots {
		pts[i] = fold.XY{X: math.Round(q[0] * p.Job.Part.Size[0]), Y: math.Round(q[1] * p.Job.Part.Size[1])}
	}
	plane := func(v fold.View) (fit.Plane, []fit.Point3, error) {
		var ps []fit.Point3
		for i, q := range pts {
			if z, ok := v.Num(fmt.Sprintf("z%d", i+1), unit.KLength); ok {
				ps = append(ps, fit.Point3{X: q.X, Y: q.Y, Z: z})
			}
		}
		pl, err := fit.ToPlane(ps)
		return pl, ps, err
	}
	s.Asks = func(v fold.View) []fold.Ask {
		var asks []fold.Ask
		mic := func(field, label, dir string, want float64) {
			w := kit.Around(want, 0.3, "the drawing")
			asks = append(asks, fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "micrometer", Of: "part", Dir: dir}, Window: w})
			if x, ok := v.Num(field[:len(field)-1]+"1", unit.KLength); ok && field[len(field)-1] == '2' {
				asks[len(asks)-1].Window = kit.Around(x, 0.05, "the other end")
			}
		}
		size := p.Job.Part.Size
		mic("x1", "width along X, TOWARD YOU", "width-x-1", size[0])
		mic("x2", "width along X, AWAY", "width-x-2", size[0])
		mic("y1", "width along Y, LEFT", "width-y-1", size[1])
		mic("y2", "width along Y, RIGHT", "width-y-2", size[1])
		asks[0].Do = []fold.Act{{Do: "measure", Of: "part", Words: "Spindle stopped, chips away, part at the temperature of the room. Outline first."}}
		if p.Setup.Vise.Wall > 0 {
			mic("wall", "the wall that stays", "wall", p.Setup.Vise.Wall)
		}
		asks = append(asks, kit.AirAsks(p, v)...)
		w := kit.TravelWindow(p, "z")
		for i, q := range pts {
			a := fold.Ask{Field: fmt.Sprintf("z%d", i+1), Label: "seat face, " + kit.CornerName[i], Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: kit.TouchBy(p), Of: "seat-face@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, Window: w}
			if i == 0 {
				a.Do = []fold.Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Wipe the face that side 2 rests on; touch it at four places."}}
			}
			asks = append(asks, a)
			if z, ok := v.Num("z1", unit.KLength); ok {
				w = kit.Around(z, 0.2, "the first touch")
			}
		}
		return asks
	}
	s.Judge = func(v fold.View) fold.Outcome {
		var o fold.Outcome
		u := micrometerHalf / math.Sqrt(3)
		g := budget.Combine([]budget.Line{budget.R("micrometer", micrometerHalf)}).Guard
		for i, ax := range []string{"x", "y"} {
			a, b := v.Len(ax+"1"), v.Len(ax+"2")
			w := (a + b) / 2
			off := w - p.Job.Part.Size[i]
			uw := math.Hypot(u, math.Abs(a-b)/math.Sqrt(12))
			o.Facts = append(o.Facts, fold.Known{ID: fold.FactID("part/width-" + ax), Value: []float64{w, off}, Cov: [][]float64{{uw * uw}}})
			o.Lines = append(o.Lines, fold.Row{Label: "width " + ax, Value: w, Unit: unit.KLength, Guard: g, Big: true})
			if math.Abs(off) > 0.002 {
				o.Lines = append(o.Lines, fold.Row{Label: "enter radius by", Value: -off / 2, Unit: unit.KLength, Signed: true})
			}
			if f, ok := wholeFixture(p); ok {
				l := p.Limit("after.fit")
				if l.Max == 0 {
					l.Max = 2 * f.Pocket.Clearance
				}
				big := math.Max(a, b) - p.Job.Part.Size[i]
				c := judge.Judged(l, big, g)
				if c.Verdict != fold.Pass {
					c.Words = fmt.Sprintf("Along %s the part is %s over; its pocket has %s. It will not go in.", ax, p.Len(big), p.Len(l.Max))
					o.Named = "too-large-for-pocket"
					o.Next = append(o.Next, fold.Act{Do: "cut", Of: "part", Words: fmt.Sprintf("Take the outline down once more while it is held: entered radius less by %s.", p.Len(off/2))}, fold.Act{Do: "round"})
				}
				o.Checks = append(o.Checks, c)
			}
		}
		if t, ok := v.Num("wall", unit.KLength); ok {
			c := judge.Judged(p.Limit("after.wall"), math.Abs(t-p.Setup.Vise.Wall), g)
			if c.Verdict != fold.Pass {
				c.Words = fmt.Sprintf("The wall is %s, asked for was %s.", p.Len(t), p.Len(p.Setup.Vise.Wall))
				if t < p.Setup.Vise.Wall {
					c.Words += " Only what is still there can be corrected."
				}
				if len(o.Next) == 0 {
					o.Next = append(o.Next, fold.Act{Do: "measure", Of: "part", Words: c.Words}, fold.Act{Do: "round"})
				}
			}
			o.Checks = append(o.Checks, c)
			o.Facts = append(o.Facts, fold.Known{ID: "part/wall", Value: []float64{t}, Cov: [][]float64{{u * u}}})
		}
		pl, _, err := plane(v)
		if err != nil {
			kit.Refuse(&o, "after.plane", "touches against a plane", err)
			return o
		}
		flat := judge.Judged(p.Limit("after.seat"), pl.Range.V, 0)
		if flat.Verdict == fold.Fail {
			flat.Words = "The face that side 2 rests on is not flat: a chip under the stylus, or the vise bends the part."
			if len(o.Next) == 0 {
				o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "part", Words: flat.Words + " Wipe, touch again."}, fold.Act{Do: "round"})
			}
		}
		o.Checks = append(o.Checks, flat)
		sp, _ := judge.ProbeS(p)
		o.Facts = append(o.Facts, fold.Known{ID: "part/seat", Value: []float64{0, pl.B, pl.C, pl.Range.V}, Cov: [][]float64{{sp * sp / 4}}})
		o.Lines = append(o.Lines, fold.Row{Label: "seat face leans", Value: math.Hypot(pl.B, pl.C), Unit: unit.KSlope}, fold.Row{Label: "flat within", Value: pl.Range.V, Unit: unit.KLength})
		if a, ok := kit.AirRead(p, v); ok {
			o.Facts = append(o.Facts, a)
		}
		e := fold.Known{ID: "part/edges", Value: []float64{0, 0}}
		if c, ok := v.Fact("corner"); ok {
			e.Value, e.Cov = []float64{c.Value[4], c.Value[5]}, c.Cov
		} else {
			o.Notes = append(o.Notes, "The pickup no longer stands: from which edges side 1 was cut is not handed on.")
		}
		o.Facts = append(o.Facts, e)
		if o.Learned == "" {
			o.Learned = "What side 2 needs of the part is measured."
		}
		return o
	}
	s.Page = func(v fold.View) fold.Page {
		pg := fold.Page{Why: "Once the vise is open, nothing of this clamping can be measured again. Side 2 reckons with these.", Act: "Measure the outline, the wall and the seat face.",
			Read: "Micrometer; machine Z at the trigger, no length taken off.", Caution: "SPINDLE STOPPED, its command off. Brush chips, no air blow toward face or bearings.", Scene: kit.StockPicture(p, v)}
		if pl, ps, err := plane(v); err == nil && len(ps) > 3 {
			t := &fold.TiltPlot{Residual: pl.Residuals, TiltX: pl.B, TiltY: pl.C, Suspect: -1, Limit: p.Limit("after.seat").Max}
			for _, q := range ps {
				t.Points = append(t.Points, fold.XY{X: q.X, Y: q.Y})
			}
			pg.Scene.Tilt = t
		}
		return pg
	}
	return s
}
