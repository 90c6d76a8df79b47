package vise

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Places along a face, as shares of it: 60 % apart.
const nearShare, farShare = 0.2, 0.8

// pickup is where the stock stands, as its faces say.
type pickup struct {
	x0, y0         float64 // of the program zero, machine coordinates
	skew, interior float64 // of the face on the fixed jaw; angle of the material at the corner, 0 at centre
	uSkew          float64
	hx, hy         float64 // what the first contact on each face read, to be held against later
	cov            [2][2]float64
	wx, wy         float64 // widths between faces, 0 at a corner
}

// corner finds the program zero in plan: two contacts a face and the true intersection of
// the two lines, or the middle between opposite faces.
//
// Fact "corner": [x0 y0 skew interior xside yside hx hy], cov 2 (x0 y0): program zero in
// machine coordinates; sides as in part/edges; first contact on either face.
func corner(p *fold.Plan) *fold.Spec {
	sx, sy := kit.Sides(p)
	fx, fy := FaceOf(p, "x", sx), FaceOf(p, "y", sy)
	centre := p.Setup.Zero == "centre"
	s := &fold.Spec{
		Title: "corner of stock", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("seat"), fold.AsRead(standsOnBall(p, "skew")...), fold.IfThere("stock")), Makes: []fold.FactID{"corner"},
		Keys: []string{"part.size", "setups." + p.Setup.Name + ".zero", "setups." + p.Setup.Name + ".finds"},
		Pause: &fold.Pause{Heading: "PROBE IN - SPINDLE LOCKED - VISE BOLTS AND JAWS TIGHT", Lost: "From here opening the vise or a tap costs the pickup.",
			Ask: func(fold.View) fold.Ask {
				a := kit.Counted("", "vise bolts that turn when tried with the wrench", "fixture-bolts", "loose", "0", "A loose bolt lets the vise move.", "Tighten all and run the fixed jaw again.")
				a.Do = []fold.Act{{Do: "fit", Of: "probe", Words: instrumentIn(p) + " Try every vise bolt."}}
				return a
			}},
	}
	if centre {
		s.Title = "middle of stock"
	}
	s.Asks = func(v fold.View) []fold.Ask {
		var mark []fold.Ask
		if probed(p) {
			a := kit.MarkAsk()
			a.Since = kit.SinceMarkCorner
			if mark = append(mark, a); kit.MarkWrong(v, &fold.Outcome{}) {
				return mark // before any contact
			}
		}
		if centre {
			return append(mark, middleAsks(p, v)...)
		}
		return append(mark, cornerAsks(p, v, fx, fy)...)
	}
	s.Judge = func(v fold.View) fold.Outcome {
		var o fold.Outcome
		if probed(p) && kit.MarkWrong(v, &o) {
			return o
		}
		var k pickup
		var err error
		if centre {
			k, err = middle(p, v, &o)
		} else {
			k, err = pickCorner(p, v, fx, fy, &o)
		}
		if err != nil {
			kit.Refuse(&o, "corner.hits", "the contacts make a corner", err)
			return o
		}
		againstJaw(p, v, k, &o)
		xs, ys := sx, sy
		if centre {
			xs, ys = 0, 0
		}
		o.Facts = []fold.Known{{ID: "corner", Value: []float64{k.x0, k.y0, k.skew, k.interior, xs, ys, k.hx, k.hy}, Cov: [][]float64{k.cov[0][:], k.cov[1][:]}}}
		o.Lines = append([]fold.Row{{Label: "X0 (M)", Value: k.x0, Unit: unit.KLength, Signed: true, Big: true}, {Label: "Y0 (M)", Value: k.y0, Unit: unit.KLength, Signed: true, Big: true}}, o.Lines...)
		o.Notes = append(o.Notes, kit.CardAge(p, v, "ball")...)
		if o.Learned == "" {
			o.Learned = fmt.Sprintf("The program zero stands at X %s Y %s, each within %s.", p.Num(k.x0), p.Num(k.y0), p.Len(2*math.Sqrt(math.Max(k.cov[0][0], k.cov[1][1]))))
		}
		return o
	}
	s.Page = func(v fold.View) fold.Page {
		pg := fold.Page{Why: "Stock is never square: two contacts a face and the true corner, or the corner is wrong by the skew.",
			Act:     fmt.Sprintf("Touch the %s and the %s at two places each, every one twice.", fx.name, fy.name),
			Read:    "Spindle position at the contact, nothing taken off. Clean faces, below any burr, at least 3 mm under the top.",
			Caution: "SPINDLE STOPPED, its command off, while the probe is fitted.", Scene: kit.StockPicture(p, v, touchMarks(p, v, fx, fy)...)}
		if centre {
			pg.Why = "On rough stock the middle puts the error of its size equally on both sides."
			pg.Act = "Touch all four faces at their middle, and the fixed jaw's face once more to one side."
		}
		if probed(p) && v.Has("pause") && !v.Has("mark") {
			pg.Why = "The ball runs a little off centre, on a known side. Turned half round it moves the corner by twice that."
			pg.Act = "Look how the spindle stands."
		}
		if faceContact(p, v).By == "finder" {
			pg.Caution = kit.TurnsNow
			if !v.Has("pause") {
				pg.Caution = kit.StoppedYet
			}
		}
		return pg
	}
	return s
}

// instrumentIn says what goes into the spindle.
func instrumentIn(p *fold.Plan) string {
	switch {
	case probed(p):
		return "Fit the probe, spindle mark to the front."
	case p.Setup.Finds == "paper":
		return "Cutter in, SPINDLE STOPPED; strips of paper ready."
	}
	return "Edge finder in, spindle stopped. Wipe the faces."
}

// spotsOn are the two places along a face.
func (f face) spots() [2]float64 {
	return [2]float64{math.Round(nearShare * f.length), math.Round(farShare * f.length)}
}

func cornerAsks(p *fold.Plan, v fold.View, fx, fy face) []fold.Ask {
	c := faceContact(p, v)
	size := kit.StockSize(p, v)
	one := func(f face, pre string, i int) []fold.Ask {
		at := f.spots()[i]
		name := fmt.Sprintf("%s%d", pre, i+1)
		first := pre + "1"
		other := map[string]string{"x": "y", "y": "x"}[f.axis]
		window := func(axis string) *fold.Window {
			w := kit.TravelWindow(p, axis)
			n, okN := v.Num(first+"."+f.axis, unit.KLength)
			l, okL := v.Num(first+"."+other, unit.KLength)
			switch {
			case i == 1 && axis == f.axis && okN:
				w = kit.Around(n, 1, "the other contact on this face")
			case i == 1 && axis == other && okL:
				w = kit.Around(l+at-f.spots()[0], 5, "the place along the face")
			case pre == "b": // from the first face
				x, ok1 := v.Num("a1.x", unit.KLength)
				y, ok2 := v.Num("a1.y", unit.KLength)
				if !ok1 || !ok2 {
					return w
				}
				zero := x + c.Radius
				if fx.sign > 0 {
					zero = x - c.Radius - size[0]
				}
				if axis == "x" {
					return kit.Around(zero+at, 5, "the place along the face")
				}
				far := 0.0
				if fy.sign > 0 {
					far = size[1]
				}
				w = kit.Around(y-fx.spots()[0]+far+fy.sign*c.Radius, 8, "the other face")
			}
			if w != nil {
				w.Slips = kit.Slips(p, v, axis, c.Radius, nil)
			}
			return w
		}
		where := fmt.Sprintf("%s, %s %d", f.name, c.Verb, i+1)
		asks := []fold.Ask{touchAsk(p, c, f, name+"."+f.axis, where+", "+strings.ToUpper(f.axis), at, f.axis, window(f.axis)),
			touchAsk(p, c, f, name+"."+other, where+", "+strings.ToUpper(other), at, other, window(other))}
		asks[0].Form, asks[1].Form = name, name
		again := touchAsk(p, c, f, name+".2", "and once more, "+strings.ToUpper(f.axis), at, f.axis, window(f.axis))
		if x, ok := v.Num(name+"."+f.axis, unit.KLength); ok {
			again.Window = kit.Around(x, 0.05, "the touch before")
			again.Window.Slips = kit.Slips(p, v, f.axis, c.Radius, nil)
		}
		if i == 0 {
			asks[0].Do = []fold.Act{come(c, f, "Come from one side, moving")}
		}
		return append(asks, again)
	}
	var asks []fold.Ask
	for i := range 2 {
		asks = append(asks, one(fx, "a", i)...)
	}
	for i := range 2 {
		asks = append(asks, one(fy, "b", i)...)
	}
	return asks
}

// come is how a face is come to. It is wiped first, but for an edge finder before the spindle turns.
func come(c kit.Contact, f face, from string) fold.Act {
	dir := strings.ToUpper(f.dir())
	if c.By == "finder" {
		return fold.Act{Do: "move", Of: f.of, Words: fmt.Sprintf("To the %s: hands out, then spindle on at 800 to 1200 rpm. %s %s; let it kick, STOP THE SPINDLE, then read.", f.name, from, dir)}
	}
	return fold.Act{Do: "wipe", Of: f.of, Words: fmt.Sprintf("Wipe the %s. %s %s.", f.name, from, dir)}
}

// way is a face's approach for calc.
func (f face) way() fit.Direction {
	switch {
	case f.axis == "x" && f.sign < 0:
		return fit.XPlus
	case f.axis == "x":
		return fit.XMinus
	case f.sign < 0:
		return fit.YPlus
	}
	return fit.YMinus
}

// pickCorner is the corner as its contacts say, each face's two readings of one place meaned.
func pickCorner(p *fold.Plan, v fold.View, fx, fy face, o *fold.Outcome) (pickup, error) {
	c := faceContact(p, v)
	ex, ey := eccentricity(p, v)
	var hits []fit.FaceHit
	worst, at := 0.0, ""
	var k pickup
	for _, q := range []struct {
		f   face
		pre string
	}{{fx, "a"}, {fy, "b"}} {
		for i := 1; i <= 2; i++ {
			name := fmt.Sprintf("%s%d", q.pre, i)
			x, y := v.Len(name+".x"), v.Len(name+".y")
			again := v.Len(name + ".2")
			n := &x
			if q.f.axis == "y" {
				n = &y
			}
			if d := math.Abs(*n - again); d > worst {
				worst, at = d, name
			}
			*n = (*n + again) / 2
			if i == 1 && q.f.axis == "x" {
				k.hx = x
			} else if i == 1 {
				k.hy = y
			}
			hits = append(hits, fit.FaceHit{Point: fit.Point{X: x - ex, Y: y - ey}, Moved: q.f.way()})
		}
	}
	pairRepeats(p, "corner.repeat", worst, at, o)
	ball := fit.EvenBall(c.Radius)
	if b, ok := v.Perhaps("ball"); ok && probed(p) {
		ball = fit.Ball{RX: b.Value[0], RY: b.Value[1]}
	}
	cr, err := fit.ToCorner(hits, ball)
	if err != nil {
		return k, err
	}
	s := c.S / math.Sqrt2 // two readings a place
	cov := cr.Covariance(s)
	k.cov = [2][2]float64{{cov[0][0], cov[0][1]}, {cov[1][0], cov[1][1]}}
	k.x0, k.y0, k.skew, k.interior, k.uSkew = cr.At.X, cr.At.Y, cr.Skew, cr.Interior, math.Sqrt(cov[2][2])
	if fx.sign > 0 {
		k.x0 -= p.Job.Part.Size[0]
	}
	if fy.sign > 0 {
		k.y0 -= p.Job.Part.Size[1]
	}
	square := cr.Interior*180/math.Pi - 90
	o.Lines = append(o.Lines, fold.Row{Label: "corner", Text: fmt.Sprintf("%.4f deg, out of square by %+.4f deg", square+90, square)},
		fold.Row{Label: "lean of the " + fx.name, Value: cr.Lean, Unit: unit.KSlope, Signed: true})
	u := fit.FaceAngle(cr.YFace, spreadOf(s))
	if far := u * p.Job.Part.Size[0]; far > 0.1*float64(p.Job.Allowance) {
		o.Notes = append(o.Notes, fmt.Sprintf("The direction of the %s is known within %s over the part only: touch farther apart.", fy.name, p.Len(far)))
	}
	return k, nil
}

// pairRepeats holds the worst pair of touches against the repeat limit.
func pairRepeats(p *fold.Plan, limit string, worst float64, at string, o *fold.Outcome) {
	c := judge.Judged(p.Limit(limit), worst, 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("Two touches of one place differ by %s: wipe the face, come again, slower.", p.Len(worst))
		o.Named = "bad-hit"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "stock", Words: c.Words}, fold.Act{Do: "again", Of: at}, fold.Act{Do: "again", Of: at + ".2"})
	}
	o.Checks = append(o.Checks, c)
}

// againstJaw holds the direction of the stock against that of the jaw it should lie on.
func againstJaw(p *fold.Plan, v fold.View, k pickup, o *fold.Outcome) {
	j, ok := v.Perhaps("skew")
	if !ok {
		return
	}
	// Two measurements of one direction agree or they don't: what they can't tell apart is no burr.
	c := judge.Judged(kit.AtLeast(p.Limit("corner.skew"), 3*math.Hypot(k.uSkew, kit.UOf(j))), math.Abs(k.skew-j.Value[0]), 0)
	if c.Verdict != fold.Pass {
		c.Words = "The stock does not lie as the fixed jaw does: a burr or a chip between them, or rough stock."
	}
	if c.Verdict == fold.Fail {
		o.Named = "off-the-jaw"
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: "Open, wipe jaw and stock, close again. Sawn stock: accept it, or take the middle of the stock as zero."})
		}
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: "skew of the stock", Value: k.skew, Unit: unit.KSlope, Signed: true})
}

// middleFields are the contacts of a centre pickup: field, axis, side.
var middleFields = [...]struct {
	field, axis string
	side        float64
}{{"l", "x", -1}, {"r", "x", 1}, {"f", "y", -1}, {"k", "y", 1}}

func middleAsks(p *fold.Plan, v fold.View) []fold.Ask {
	c := faceContact(p, v)
	size := kit.StockSize(p, v)
	var asks []fold.Ask
	for _, m := range middleFields {
		f := FaceOf(p, m.axis, m.side)
		at := math.Round(f.length / 2)
		w := kit.TravelWindow(p, m.axis)
		if m.side > 0 {
			opposite, i := "l", 0
			if m.axis == "y" {
				opposite, i = "f", 1
			}
			if x, ok := v.Num(opposite, unit.KLength); ok {
				w = kit.Around(x+size[i]+2*c.Radius, 1, "the face across and the stock's size")
				w.Slips = kit.Slips(p, v, m.axis, c.Radius, nil)
			}
		}
		a := touchAsk(p, c, f, m.field, f.name+" at its middle", at, m.axis, w)
		a.Do = []fold.Act{come(c, f, "Moving")}
		again := touchAsk(p, c, f, m.field+".2", "and once more", at, m.axis, w)
		if x, ok := v.Num(m.field, unit.KLength); ok {
			again.Window = kit.Around(x, 0.05, "the touch before")
		}
		asks = append(asks, a, again)
	}
	_, sy := kit.Sides(p)
	f := FaceOf(p, "y", sy)
	w := kit.TravelWindow(p, "y")
	if x, ok := v.Num(map[bool]string{true: "k", false: "f"}[sy > 0], unit.KLength); ok {
		w = kit.Around(x, 1, "the middle of this face")
	}
	return append(asks, touchAsk(p, c, f, "t", f.name+", to the right of its middle", f.spots()[1], "y", w))
}

// middle is the middle between opposite faces; what the ball adds on one side it adds on the other.
func middle(p *fold.Plan, v fold.View, o *fold.Outcome) (pickup, error) {
	c := faceContact(p, v)
	ex, ey := eccentricity(p, v)
	worst, at := 0.0, ""
	mid := map[string]float64{}
	for _, m := range middleFields {
		a, b := v.Len(m.field), v.Len(m.field+".2")
		if d := math.Abs(a - b); d > worst {
			worst, at = d, m.field
		}
		mid[m.field] = (a + b) / 2
	}
	pairRepeats(p, "corner.repeat", worst, at, o)
	_, sy := kit.Sides(p)
	jawSide := map[bool]string{true: "k", false: "f"}[sy > 0]
	run := FaceOf(p, "y", sy).spots()[1] - math.Round(p.Job.Part.Size[0]/2)
	x, err := fit.ToWidth(fit.Web, fit.WallHit{U: mid["l"]}, fit.WallHit{U: mid["r"]}, nil, c.Radius)
	if err != nil {
		return pickup{}, err
	}
	third := fit.WallHit{U: v.Len("t"), V: run}
	y, err := fit.ToWidth(fit.Web, fit.WallHit{U: mid["f"]}, fit.WallHit{U: mid["k"]}, &third, c.Radius)
	if err != nil {
		return pickup{}, err
	}
	k := pickup{x0: x.Center - ex - p.Job.Part.Size[0]/2, y0: y.Center - ey - p.Job.Part.Size[1]/2, hx: mid["l"], hy: mid["f"], wx: x.Width, wy: y.Width}
	k.skew = math.Atan((third.U - mid[jawSide]) / run)
	k.uSkew = c.S * math.Sqrt(1.5) / run
	u2 := c.S * c.S / 4 // two faces, two readings each
	k.cov = [2][2]float64{{u2, 0}, {0, u2}}
	if st, ok := v.Perhaps("stock"); ok {
		d := math.Max(math.Abs(x.Width-st.Value[0]), math.Abs(y.Width-st.Value[1]))
		w := judge.Judged(p.Limit("corner.width"), d, 0)
		if w.Verdict == fold.Fail {
			w.Words = fmt.Sprintf("On the machine the stock is %s by %s, off it %s by %s: a wrong stylus, a wrong key, or a burr.", p.Len(x.Width), p.Len(y.Width), p.Len(st.Value[0]), p.Len(st.Value[1]))
			if math.Abs(d-2*c.Radius) < 0.1 || math.Abs(d-4*c.Radius) < 0.1 {
				w.Words += " It is off by the ball."
			}
			if len(o.Next) == 0 {
				o.Next = append(o.Next, fold.Act{Do: "round", Words: w.Words})
			}
		}
		o.Checks = append(o.Checks, w)
	}
	o.Lines = append(o.Lines, fold.Row{Label: "stock along X", Value: x.Width, Unit: unit.KLength}, fold.Row{Label: "stock along Y", Value: y.Width, Unit: unit.KLength})
	return k, nil
}

// touchMarks show what was touched and what comes next.
func touchMarks(p *fold.Plan, v fold.View, fx, fy face) []fold.Shape {
	size := kit.StockSize(p, v)
	var out []fold.Shape
	put := func(f face, pre string) bool {
		for i, at := range f.spots() {
			pt := fold.XY{X: at, Y: at}
			edge := map[bool]float64{true: 0, false: 1}[f.sign < 0]
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
