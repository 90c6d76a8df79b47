package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

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
				w = kit.Around(x+size[i]+2*c.Radius, kit.UnderOne, "the face across and the stock's size")
				w.Slips = kit.Slips(p, v, m.axis, c.Radius, nil)
			}
		}
		a := touchAsk(p, c, f, m.field, f.name+" at its middle", at, m.axis, w)
		a.Do = []fold.Act{come(c, f, "Moving")}
		again := touchAsk(p, c, f, m.field+".2", kit.SecondTouch(a.Label), at, m.axis, w)
		if x, ok := v.Num(m.field, unit.KLength); ok {
			again.Window = kit.Around(x, 0.05, "the touch before")
		}
		asks = append(asks, a, again)
	}
	_, sy := kit.Sides(p)
	f := FaceOf(p, "y", sy)
	w := kit.TravelWindow(p, "y")
	if x, ok := v.Num(jawSide(p), unit.KLength); ok {
		w = kit.Around(x, kit.UnderOne, "the middle of this face")
	}
	return append(asks, touchAsk(p, c, f, "t", f.name+", to the right of its middle", f.spots()[1], "y", w))
}

// jawSide is the field of the face on the fixed jaw.
func jawSide(p *fold.Plan) string {
	if _, sy := kit.Sides(p); sy > 0 {
		return "k"
	}
	return "f"
}

// pickMiddle is the middle between opposite faces; what the ball adds on one side it adds on the other.
func pickMiddle(p *fold.Plan, v fold.View, o *fold.Outcome) (picked, error) {
	c := faceContact(p, v)
	pair := map[string][2]float64{}
	var pairs [][2]float64
	var names []string
	for _, m := range middleFields {
		pair[m.field] = [2]float64{v.Len(m.field), v.Len(m.field + ".2")}
		pairs, names = append(pairs, pair[m.field]), append(names, m.field)
	}
	pairRepeats(p, v, pairs, names, o)
	_, sy := kit.Sides(p)
	off, _ := onSpindle(p, v, c)
	size := p.Job.Part.Size
	in := pickup.Sides{Left: pair["l"], Right: pair["r"], Front: pair["f"], Rear: pair["k"], Third: v.Len("t"), OnRear: sy > 0,
		Run: FaceOf(p, "y", sy).spots()[1] - math.Round(size[0]/2)}
	st, err := in.Zero(off, c.Contact, [2]float64{size[0], size[1]})
	if err != nil {
		return picked{}, err
	}
	asCalliper(p, v, c, st.Width, o)
	o.Lines = append(o.Lines, fold.Row{Label: "stock along X", Value: st.Width[0], Unit: unit.KLength},
		fold.Row{Label: "stock along Y", Value: st.Width[1], Unit: unit.KLength})
	return picked{st, pickup.Middle(pair["l"][0], pair["l"][1]), pickup.Middle(pair["f"][0], pair["f"][1])}, nil
}

// asCalliper holds the widths between opposite faces against what the calliper said of the stock.
func asCalliper(p *fold.Plan, v fold.View, c kit.Contact, width [2]float64, o *fold.Outcome) {
	st, ok := facts.Stock.Perhaps(v)
	if !ok {
		return
	}
	l, b := float64(st.L), float64(st.W)
	d := math.Max(math.Abs(width[0]-l), math.Abs(width[1]-b))
	w := judge.Most(p.Limit("corner.width"), d, 0)
	if w.Verdict == fold.Fail {
		w.Words = fmt.Sprintf("On the machine the stock is %s by %s, off it %s by %s. A wrong stylus, a wrong key, or a burr.", p.Len(width[0]),
			p.Len(width[1]), p.Len(l), p.Len(b))
		if math.Abs(d-2*c.Radius) < 0.1 || math.Abs(d-4*c.Radius) < 0.1 {
			w.Words += " It is off by the ball."
		}
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: w.Words})
		}
	}
	o.Checks = append(o.Checks, w)
}
