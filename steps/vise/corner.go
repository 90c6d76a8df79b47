package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Places along a face, as shares of it: 60 % apart.
const nearShare, farShare = 0.2, 0.8

// picked is where the stock stands, as its faces say, and what the first contact on each
// face read, to be held against later.
type picked struct {
	pickup.Stock
	hx, hy float64
}

// corner finds the program zero in plan: two contacts a face and the true intersection of
// the two lines, or the middle between opposite faces.
//
// Fact "corner": see facts.CornerFact; program zero in machine coordinates, sides as in
// part/edges, first contact on either face.
func corner(p *fold.Plan) *fold.Spec {
	s := &fold.Spec{
		Title: "corner of stock",
		Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("seat"), fold.AsRead(standsOnBall(p, "skew")...), fold.IfThere("stock")),
		Makes: []fold.FactID{"corner"},
		Keys:  []string{"part.size", "setups." + p.Setup.Name + ".zero", "setups." + p.Setup.Name + ".finds"},
		Pause: &fold.Pause{Heading: lockedFor(p) + "VISE BOLTS AND JAWS TIGHT", Lost: "From here opening the vise or a tap costs the pickup.",
			Ask: func(fold.View) fold.Ask {
				a := kit.Counted("", "vise bolts that turn when tried with the wrench", "fixture-bolts", "loose", "0",
					"A loose bolt lets the vise move.", "Tighten all and run the fixed jaw again.")
				a.Do = []fold.Act{{Do: "fit", Of: fitted(p), Words: instrumentIn(p) + " Try every vise bolt."}}
				return a
			}},
		Asks:  func(v fold.View) []fold.Ask { return pickupAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgePickup(p, v) },
		Page:  func(v fold.View) fold.Page { return cornerPage(p, v) },
	}
	if byMiddle(p) {
		s.Title = "middle of stock"
	}
	return s
}

// byMiddle says that the program zero goes by the middle of the stock.
func byMiddle(p *fold.Plan) bool { return p.Setup.Zero == "centre" }

// pickedFaces are the two faces that a corner is picked up from.
func pickedFaces(p *fold.Plan) (fx, fy face) {
	sx, sy := kit.Sides(p)
	return FaceOf(p, "x", sx), FaceOf(p, "y", sy)
}

func pickupAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var mark []fold.Ask
	if probed(p) {
		a := kit.MarkAsk()
		a.Since = kit.SinceMarkCorner
		if mark = append(mark, a); kit.MarkWrong(v, &fold.Outcome{}) {
			return mark // before any contact
		}
	}
	if byMiddle(p) {
		return append(mark, middleAsks(p, v)...)
	}
	return append(mark, cornerAsks(p, v)...)
}

func judgePickup(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	if probed(p) && kit.MarkWrong(v, &o) {
		return o
	}
	find := pickCorner
	if byMiddle(p) {
		find = pickMiddle
	}
	k, err := find(p, v, &o)
	if err != nil {
		kit.Refuse(&o, "corner.hits", "the contacts make a corner", err)
		return o
	}
	againstJaw(p, v, k, &o)
	if v.Walks(3) {
		covers(p, v, k, &o)
	}
	xs, ys := kit.Sides(p)
	if byMiddle(p) {
		xs, ys = 0, 0
	}
	o.Facts = []fold.Known{facts.Corner.Is(facts.CornerFact{X0: unit.Length(k.Zero.X), Y0: unit.Length(k.Zero.Y), Skew: unit.Angle(k.Skew),
		Interior: unit.Angle(k.Interior), XSide: xs, YSide: ys,
		HX: unit.Length(k.hx), HY: unit.Length(k.hy), Cov: fold.NewCov("x0,y0", [][]float64{k.Cov[0][:], k.Cov[1][:]})})}
	x0, y0 := programZero(p, v, k.Zero.X, k.Zero.Y)
	o.Lines = append([]fold.Row{{Label: "X0 (M)", Value: x0, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "Y0 (M)", Value: y0, Unit: unit.KLength, Signed: true, Big: true}}, o.Lines...)
	o.Notes = append(o.Notes, kit.CardAge(p, v, "ball")...)
	if o.Learned == "" {
		u := k.Cov.U()
		o.Learned = fmt.Sprintf("The program zero stands at X %s Y %s, each within %s (95 %%).", p.Num(x0), p.Num(y0),
			p.Len(2*math.Max(u.X, u.Y)))
	}
	return o
}

func cornerPage(p *fold.Plan, v fold.View) fold.Page {
	fx, fy := pickedFaces(p)
	pg := fold.Page{Why: "Stock is never square. Two contacts a face and the true corner, or the corner is wrong by the skew.",
		Act: fmt.Sprintf("Touch the %s and the %s at two places each, every one twice.", fx.name, fy.name),
		Read: "Spindle position at the contact, nothing taken off. Clean faces, below any burr, at least " + p.Len(kit.Even(p, 3, 3, 0.12)) +
			" under the top.",
		Caution: "SPINDLE STOPPED, its command off, while the " + kit.FinderName(p) + " is fitted.",
		Scene:   kit.StockPicture(p, v, touchMarks(p, v, fx, fy)...)}
	if byMiddle(p) {
		pg.Why = "On rough stock the middle puts the error of its size equally on both sides."
		pg.Act = "Touch all four faces at their middle, and the fixed jaw's face once more to one side."
	}
	if probed(p) && v.Has("pause") && !v.Has("mark") {
		pg.Why = "The ball runs a little off centre, on a known side. Turned half round it moves the corner by twice that."
		pg.Act, pg.Now = "Look how the spindle stands.", true
	}
	switch faceBy(p) {
	case "paper":
		pg.Caution = "SPINDLE STOPPED: turn it by hand only. Keep fingers off the cutter."
	case "finder":
		pg.Caution = kit.TurnsNow
		if !v.Has("pause") {
			pg.Caution = kit.StoppedYet
		}
	}
	return pg
}

// fitted is what goes into the spindle to touch faces, as an act names it.
func fitted(p *fold.Plan) string {
	switch faceBy(p) {
	case "probe":
		return "probe"
	case "paper":
		return "tool"
	}
	return "finder"
}

// instrumentIn says it for the person.
func instrumentIn(p *fold.Plan) string {
	switch faceBy(p) {
	case "probe":
		return "Fit the probe, spindle mark to the front."
	case "paper":
		return "Cutter in, SPINDLE STOPPED; strips of paper ready."
	}
	return "Edge finder in, spindle stopped. Wipe the faces."
}

// lockedFor heads the pause before the faces are touched: an edge finder has to turn.
func lockedFor(p *fold.Plan) string {
	switch faceBy(p) {
	case "probe":
		return "PROBE IN - SPINDLE LOCKED - "
	case "paper":
		return "SPINDLE LOCKED - "
	}
	return ""
}

// pickCorner is the corner as its contacts say, each face's two readings of one place meaned.
func pickCorner(p *fold.Plan, v fold.View, o *fold.Outcome) (picked, error) {
	fx, fy := pickedFaces(p)
	c := faceContact(p, v)
	var ts []pickup.Touch
	var pairs [][2]float64
	var names []string
	for _, q := range []struct {
		f   face
		pre string
	}{{fx, "a"}, {fy, "b"}} {
		for i := 1; i <= 2; i++ {
			name := fmt.Sprintf("%s%d", q.pre, i)
			t := pickup.Touch{At: fit.Point{X: v.Len(name + ".x"), Y: v.Len(name + ".y")}, Again: v.Len(name + ".2"), Moved: q.f.way()}
			ts, pairs, names = append(ts, t), append(pairs, t.Pair()), append(names, name)
		}
	}
	pairRepeats(p, v, pairs, names, o)
	off, ball := onSpindle(p, v, c)
	size := p.Job.Part.Size
	st, err := pickup.Corner(ts, off, ball, c.S, [2]float64{size[0], size[1]})
	if err != nil {
		return picked{}, err
	}
	square := st.Interior*180/math.Pi - 90
	o.Lines = append(o.Lines, fold.Row{Label: "corner", Text: fmt.Sprintf("%.4f deg, out of square by %+.4f deg", square+90, square)},
		fold.Row{Label: "lean of the " + fx.name, Value: st.Lean, Unit: unit.KSlope, Signed: true})
	if far := st.FaceU * size[0]; far > 0.1*float64(p.Job.Allowance) {
		o.Notes = append(o.Notes, fmt.Sprintf("The direction of the %s is known within %s over the part only: touch farther apart.",
			fy.name, p.Len(far)))
	}
	return picked{st, ts[0].Mean().X, ts[2].Mean().Y}, nil
}

// onSpindle is where the ball stands off the spindle axis, and its radii.
func onSpindle(p *fold.Plan, v fold.View, c kit.Contact) (frame.Vec, fit.Ball) {
	if b, ok := facts.Ball.Perhaps(v); ok && probed(p) {
		return frame.Vec{X: float64(b.EX), Y: float64(b.EY)}, fit.Ball{RX: float64(b.RX), RY: float64(b.RY)}
	}
	return frame.Vec{}, fit.EvenBall(c.Radius)
}

// pairRepeats holds the worst pair of touches against the repeat limit.
func pairRepeats(p *fold.Plan, v fold.View, pairs [][2]float64, names []string, o *fold.Outcome) {
	worst, i := pickup.WorstPair(pairs)
	l := p.Limit("corner.repeat")
	if v.Walks(3) { // a shop that finds bores by dial or pin touches faces with a finder, or through paper
		l = kit.AtLeast(l, 3.5*faceContact(p, v).S)
	}
	c := judge.Most(l, worst, 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("Two touches of one place differ by %s: wipe the face, come again, slower.", p.Len(worst))
		o.Named = "bad-hit"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "stock", Words: c.Words}, fold.Act{Do: "again", Of: names[i]},
			fold.Act{Do: "again", Of: names[i] + ".2"})
	}
	o.Checks = append(o.Checks, c)
}

// againstJaw holds the direction of the stock against that of the jaw it should lie on.
func againstJaw(p *fold.Plan, v fold.View, k picked, o *fold.Outcome) {
	j, ok := facts.Skew.Perhaps(v)
	if !ok {
		return
	}
	// Two measurements of one direction agree or they don't: what they can't tell apart is no burr.
	least := 3 * math.Hypot(k.USkew, math.Sqrt(j.Cov.Var("theta")))
	c := judge.Off(kit.AtLeast(p.Limit("corner.skew"), least), k.Skew, float64(j.Theta), 0)
	if c.Verdict != fold.Pass {
		c.Words = "The stock does not lie as the fixed jaw does. A burr or a chip between them, or rough stock."
	}
	if c.Verdict == fold.Fail {
		o.Named = "off-the-jaw"
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: "Open, wipe jaw and stock, close again. Sawn stock: accept it, or " +
				"take the middle of the stock as zero."})
		}
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: "skew of the stock", Value: k.Skew, Unit: unit.KSlope, Signed: true})
}

// touchMarks show what was touched and what comes next.
func touchMarks(p *fold.Plan, v fold.View, fx, fy face) []fold.Shape {
	size := kit.StockSize(p, v)
	var out []fold.Shape
	put := func(f face, pre string) bool {
		for i, at := range f.spots() {
			pt := fold.XY{X: at, Y: at}
			edge := 1.0
			if f.sign < 0 {
				edge = 0
			}
			if f.axis == "x" {
				pt.X = edge * size[0]
			} else {
				pt.Y = edge * size[1]
			}
			role := fold.RoleHit
			if !v.Has(fmt.Sprintf("%s%d.%s", pre, i+1, f.axis)) {
				role = fold.RoleNext
			}
			out = append(out, fold.Shape{Role: role, Points: []fold.XY{pt}})
			if role == fold.RoleNext {
				return false
			}
		}
		return true
	}
	if put(fx, "a") {
		put(fy, "b")
	}
	return out
}
