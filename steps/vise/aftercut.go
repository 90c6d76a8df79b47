package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// seatPoints are the touches on the face that side 2 rests on: at the corners, as the raw top was touched.
func seatPoints(p *fold.Plan) []jobs.Point { return topPoints(p)[:4] }

// sizes measures what side 2 needs before the vise opens. Heights of the seat face are compared among
// themselves, and with Z0: that the cut is where the program has it.
func sizes(p *fold.Plan) *fold.Spec {
	s := &fold.Spec{
		Title: "sizes cut", Needs: fold.Needs(fold.Live("cut"), fold.IfThere("corner", "offset", "top", kit.ZDatum(p)),
			fold.Remembered(kit.ZDatum(p))),
		Makes: []fold.FactID{"part/width-x", "part/width-y", "part/seat", "part/edges"}, Former: []string{"part.size"},
		Asks:  func(v fold.View) []fold.Ask { return sizeAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeSizes(p, v) },
		Page:  func(v fold.View) fold.Page { return sizePage(p, v) },
	}
	if p.Setup.Vise.Wall > 0 {
		s.Makes = append(s.Makes, "part/wall")
	}
	if kit.Side2(p) != nil {
		s.Makes = append(s.Makes, "part/air")
	}
	return s
}

// micAsk asks one outer size by micrometer; the second end of a width is expected as the first.
func micAsk(p *fold.Plan, v fold.View, field, label, dir string, want float64) fold.Ask {
	a := fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "micrometer", Of: "part", Dir: dir},
		Window: kit.Around(want, 0.3, "the drawing")}
	if x, ok := v.Num(field[:len(field)-1]+"1", unit.KLength); ok && field[len(field)-1] == '2' {
		a.Window = kit.Around(x, 0.05, "the other end")
	}
	return a
}

func sizeAsks(p *fold.Plan, v fold.View) []fold.Ask {
	size := p.Job.Part.Size
	asks := []fold.Ask{
		micAsk(p, v, "x1", "width along X, TOWARD YOU", "width-x-1", size[0]), micAsk(p, v, "x2", "width along X, AWAY", "width-x-2", size[0]),
		micAsk(p, v, "y1", "width along Y, LEFT", "width-y-1", size[1]), micAsk(p, v, "y2", "width along Y, RIGHT", "width-y-2", size[1]),
	}
	asks[0].Do = []fold.Act{{Do: "measure", Of: "part",
		Words: "Spindle stopped, chips away, part at the temperature of the room. Outline first."}}
	if p.Setup.Vise.Wall > 0 {
		asks = append(asks, micAsk(p, v, "wall", "the wall that stays", "wall", p.Setup.Vise.Wall))
	}
	asks = append(asks, kit.AirAsks(p, v)...)
	w := kit.TravelWindow(p, "z")
	if z, ok := seatZ(p, v); ok {
		w = kit.Around(z, 0.3, "Z0, the finished top")
	} else if l, ok := facts.Length.Of(kit.ZDatum(p).Thing()).Perhaps(v); ok {
		if f, ok := facts.Offset.Perhaps(v); ok {
			w = kit.Around(float64(f.Z)+float64(l.L), kit.Refitted, "Z0, the finished top")
		}
	}
	for i, q := range seatPoints(p) {
		a := fold.Ask{Field: fmt.Sprintf("z%d", i+1), Label: "seat face, " + kit.CornerName[i], Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: kit.TouchBy(p), Of: "seat-face@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, Window: w}
		if i == 0 {
			in := "Probe in, spindle mark to the front."
			if kit.TouchBy(p) == "tool" {
				in = "The tool and the block of the raw top again."
			}
			a.Do = []fold.Act{{Do: "fit", Of: "probe", Words: in + " Wipe the face that side 2 rests on; touch it at four places."}}
		}
		asks = append(asks, a)
		if z, ok := v.Num("z1", unit.KLength); ok {
			w = kit.Around(z, 0.2, "the first touch")
		}
	}
	return asks
}

// seatZ is what a touch on the finished top reads where Z0 has it; earlier walks did not look.
func seatZ(p *fold.Plan, v fold.View) (float64, bool) {
	f, ok1 := facts.Offset.In(v)
	l, ok2 := facts.Length.Of(kit.ZDatum(p).Thing()).In(v)
	t, ok3 := facts.Top.In(v)
	return float64(f.Z) + float64(l.L) + float64(t.Block), ok1 && ok2 && ok3 && v.Walks(3)
}

func judgeSizes(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	g := budget.Combine([]budget.Line{budget.R("micrometer", pickup.Micrometer)}).Guard
	for i := range 2 {
		judgeWidth(p, v, i, g, &o)
	}
	judgeWall(p, v, g, &o)
	if !judgeSeatFace(p, v, &o) {
		return o
	}
	if a, ok := kit.AirRead(p, v); ok {
		o.Facts = append(o.Facts, a)
	}
	var e facts.EdgesFact
	if c, ok := facts.Corner.In(v); ok {
		e.X, e.Y, e.Cov = c.XSide, c.YSide, fold.NewCov("x,y", c.Cov.Matrix("x0", "y0"))
	} else {
		o.Notes = append(o.Notes, "The pickup no longer stands: from which edges side 1 was cut is not handed on.")
	}
	o.Facts = append(o.Facts, facts.Edges.Is(e))
	if o.Learned == "" {
		o.Learned = "What side 2 needs of the part is measured."
	}
	return o
}

// judgeWidth is a width by its two ends: what it is beyond the drawing, and whether its pocket takes it.
func judgeWidth(p *fold.Plan, v fold.View, i int, g float64, o *fold.Outcome) {
	ax := kit.AxisName[i]
	a, b := v.Len(ax+"1"), v.Len(ax+"2")
	w, u := pickup.Width(a, b, pickup.Micrometer)
	off := w - p.Job.Part.Size[i]
	o.Facts = append(o.Facts, [...]fold.Fact[facts.WidthFact]{facts.WidthX, facts.WidthY}[i].Is(
		facts.WidthFact{W: unit.Length(w), Off: unit.Length(off), Cov: fold.NewCov("w", [][]float64{{u * u}})}))
	o.Lines = append(o.Lines, fold.Row{Label: "width " + ax, Value: w, Unit: unit.KLength, Guard: g, Big: true})
	if math.Abs(off) > 0.002 {
		o.Lines = append(o.Lines, fold.Row{Label: "enter radius by", Value: pickup.EnterRadius(off, false), Unit: unit.KLength, Signed: true})
	}
	f := &p.Job.Fixture
	if f.ID == "" {
		return
	}
	l := p.Limit("after.fit")
	if l.Max == 0 {
		l.Max = 2 * f.Pocket.Clearance
	}
	c := judge.Most(l, math.Max(a, b)-p.Job.Part.Size[i], g)
	if c.Verdict != fold.Pass {
		over, room := p.Apart(c.Got, l.Max)
		c.Words = fmt.Sprintf("Along %s the part is %s over; its pocket has %s. It will not go in.", ax, over, room)
		o.Named = "too-large-for-pocket"
		o.Next = append(o.Next, fold.Act{Do: "cut", Of: "part", Words: fmt.Sprintf("Take the outline down once more while it is held: entered "+
			"radius less by %s.", p.Len(off/2))}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
}

// judgeWall holds the wall that stays against what was asked for.
func judgeWall(p *fold.Plan, v fold.View, g float64, o *fold.Outcome) {
	t, ok := v.Num("wall", unit.KLength)
	if !ok {
		return
	}
	want := p.Setup.Vise.Wall
	c := judge.Off(p.Limit("after.wall"), t, want, g)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The wall is %s, asked for was %s.", p.Len(t), p.Len(want))
		if t < want {
			c.Words += " Only what is still there can be corrected."
		}
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "measure", Of: "part", Words: c.Words}, fold.Act{Do: "round"})
		}
	}
	o.Checks = append(o.Checks, c)
	u := pickup.HalfU(pickup.Micrometer)
	o.Facts = append(o.Facts, facts.Wall.Is(facts.WallFact{T: unit.Length(t), Cov: fold.NewCov("t", [][]float64{{u * u}})}))
}

// judgeSeatFace holds the seat face against a plane and against Z0; false where its touches make none.
func judgeSeatFace(p *fold.Plan, v fold.View, o *fold.Outcome) bool {
	pl, ps, err := planeAt(seatPoints(p), v)
	if err != nil {
		kit.Refuse(o, "after.plane", "touches against a plane", err)
		return false
	}
	next := func(a ...fold.Act) {
		if len(o.Next) == 0 {
			o.Next = append(o.Next, a...)
		}
	}
	flat := judge.Most(p.Limit("after.seat"), pl.Range.V, 0)
	if flat.Verdict == fold.Fail {
		flat.Words = "The face that side 2 rests on is not flat. A chip under the stylus, or the vise bends the part."
		next(fold.Act{Do: "wipe", Of: "part", Words: flat.Words + " Wipe, touch again."}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, flat)
	if want, ok := seatZ(p, v); ok {
		mean := 0.0
		for _, q := range ps {
			mean += q.Z / float64(len(ps))
		}
		c := judge.Off(p.Limit("after.height"), mean, want, 0)
		if c.Verdict == fold.Fail {
			c.Words = fmt.Sprintf("The seat face stands %s from Z0. Another block or tool, a slip, or cut at another height?", p.Len(c.Got))
			o.Named = "seat-face-height"
			next(fold.Act{Do: "look", Of: "part", Words: c.Words + " Touch it again."}, fold.Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: "seat face over Z0", Value: mean - want, Unit: unit.KLength, Signed: true})
	}
	s, _ := heightS(p, v)
	o.Facts = append(
		o.Facts, facts.SeatFace.Is(facts.SeatFaceFact{TiltX: unit.Angle(pl.B), TiltY: unit.Angle(pl.C), Flat: unit.Length(pl.Range.V),
			Cov: fold.NewCov("zero", [][]float64{{s * s / 4}})}))
	o.Lines = append(o.Lines, fold.Row{Label: "seat face leans", Value: math.Hypot(pl.B, pl.C), Unit: unit.KSlope},
		fold.Row{Label: "flat within", Value: pl.Range.V, Unit: unit.KLength})
	return true
}

// heightS is the scatter of one touch of a height; earlier walks took that of a face for it.
func heightS(p *fold.Plan, v fold.View) (s, dof float64) {
	if v.Walks(3) {
		return kit.TouchS(p)
	}
	return judge.ProbeS(p)
}

func sizePage(p *fold.Plan, v fold.View) fold.Page {
	pg := fold.Page{Why: "Once the vise is open, nothing of this clamping can be measured again. Side 2 reckons with these.",
		Act:     "Measure the outline, the wall and the seat face.",
		Read:    "Micrometer; machine Z at the trigger, no length taken off.",
		Caution: "SPINDLE STOPPED, its command off. Brush chips, no air blow toward face or bearings.", Scene: kit.StockPicture(p, v)}
	if kit.TouchBy(p) == "tool" {
		pg.Read = "Micrometer; Z when the block just slides under the tool, nothing taken off."
		pg.Caution = "SPINDLE STOPPED. Never lower the tool onto the block: slide the block in, from above."
	}
	if pl, ps, err := planeAt(seatPoints(p), v); err == nil && len(ps) > 3 {
		t := &fold.TiltPlot{Residual: pl.Residuals, TiltX: pl.B, TiltY: pl.C, Suspect: -1, Limit: p.Limit("after.seat").Max}
		for _, q := range ps {
			t.Points = append(t.Points, fold.XY{X: q.X, Y: q.Y})
		}
		pg.Scene.Tilt = t
	}
	return pg
}
