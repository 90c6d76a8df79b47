package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// calliperHalf is the half-width of what a calliper says, mm (common practice).
const calliperHalf = 0.02

// stock measures the raw piece against the finished part and both of its skins.
//
// Fact "stock": [L W t1..t5 bow], mm; touched by no mishap.
func stock(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "stock", Makes: []fold.FactID{"stock"}, Former: []string{"part.size", "part.skin"},
		Asks:  func(v fold.View) []fold.Ask { return stockAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return stockFound(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "A corner too thin shows on side 2, when it is too late.",
				Act:  "Measure the stock: length, width, thickness at four corners and the middle, bow.",
				Read: "Calliper, clean jaws; a straightedge and feelers for the bow."}
			if kit.IsWood(p.Job.Part.Material) {
				pg.Caution = "Hardwood and resin dust: extraction and mask from the first cut on."
			}
			pg.Scene = kit.StockPicture(p, v)
			return pg
		},
	}
}

func stockAsks(p *fold.Plan, v fold.View) []fold.Ask {
	size, skin := p.Job.Part.Size, p.Job.Part.Skin
	cal := func(field, label, dir string, least, room float64) fold.Ask {
		w := kit.Around(least+room/2, room/2+2, "the finished part and its skins")
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "calliper", Of: "stock",
			Dir: dir}, Window: w}
	}
	asks := []fold.Ask{
		fold.Named(fold.Ask{Field: "id", Label: "name written on the stock", Kind: fold.Text,
			What: fold.What{By: "eye", Of: "stock", Dir: "id"}, Want: p.Job.Part.Stock,
			WantWhy: "Another piece of material was meant.", Hint: "Fetch the right one, or change part.stock in the job."}),
		cal("l", "length, along X", "length", size[0], 20), cal("w", "width, along Y", "width", size[1], 20),
	}
	if p.Job.Part.Stock == "" {
		asks = asks[1:]
	}
	asks[0].Do = []fold.Act{{Do: "mark", Of: "stock", Words: "Paint TOP and FRONT on the stock. Photograph it."}}
	thick := size[2] + skin[0] + skin[1]
	for i, name := range checks.StockPlaces {
		a := cal(fmt.Sprintf("t%d", i+1), "thickness, "+name, fmt.Sprintf("thickness-%d", i+1), thick, 4)
		if t, ok := v.Num("t1", unit.KLength); ok && i > 0 {
			a.Window = kit.Around(t, kit.UnderOne, "the corner before")
		}
		asks = append(asks, a)
	}
	asks = append(asks, fold.Ask{Field: "bow", Label: "largest gap under a straightedge", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "feeler", Of: "stock", Dir: "bow"}, Window: kit.Around(0.5, 0.5, "a piece that lies")})
	if kit.IsWood(p.Job.Part.Material) {
		asks = append(asks, fold.Ask{Field: "days", Label: "days it lay in this room", Kind: fold.Count,
			What: fold.What{By: "count", Of: "stock", Dir: "days"}})
	}
	return asks
}

// stockFound judges the thinnest place and the sides.
func stockFound(p *fold.Plan, v fold.View) (o fold.Outcome) {
	size, skin := p.Job.Part.Size, p.Job.Part.Skin
	thick := size[2] + skin[0] + skin[1]
	var ts []float64
	low, thinnest := math.Inf(1), ""
	for i, name := range checks.StockPlaces {
		t := v.Len(fmt.Sprintf("t%d", i+1))
		if ts = append(ts, t); t < low {
			low, thinnest = t, name
		}
	}
	l, w, bow := v.Len("l"), v.Len("w"), v.Len("bow")
	calliper := budget.R("calliper", calliperHalf)
	guard := budget.Combine([]budget.Line{calliper, budget.R("calliper, bow", 2*calliperHalf)}).Guard
	spare := low - 2*bow - size[2] - skin[0] - skin[1]
	c := judge.Least(judge.At(p.Limit("stock.thickness"), thick), low-2*bow, guard)
	c.Words = fmt.Sprintf("%s is thinnest with %s. Less twice the bow of %s the skins come short by %s.", thinnest, p.Len(low),
		p.Len(bow), p.Len(math.Max(0, -spare)))
	s := judge.Least(judge.At(p.Limit("stock.size"), 0), math.Min(l-size[0], w-size[1]), budget.Combine([]budget.Line{calliper}).Guard)
	s.Words = fmt.Sprintf("The stock is %s by %s, the part %s by %s.", p.Len(l), p.Len(w), p.Len(size[0]), p.Len(size[1]))
	o.Checks = append(o.Checks, c, s)
	if !c.Verdict.OK() || !s.Verdict.OK() {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "stock", Words: "Take thinner skins in the job, flatten the piece, or take another " +
			"one. Nothing is cut yet."}, fold.Act{Do: "round"})
	}
	o.Lines = append(o.Lines, fold.Row{Label: "to spare over both skins", Value: spare, Guard: guard, Unit: unit.KLength, Signed: true,
		Big: true},
		fold.Row{Label: "thinnest, " + thinnest, Value: low, Unit: unit.KLength},
		fold.Row{Label: "bow", Value: bow, Unit: unit.KLength},
		fold.Row{Label: "over the length", Value: l - size[0], Unit: unit.KLength, Signed: true},
		fold.Row{Label: "over the width", Value: w - size[1], Unit: unit.KLength, Signed: true})
	if d := v.Int("days"); v.Has("days") && d < 7 && !kit.IsStabilised(p.Job.Part.Material) {
		o.Notes = append(o.Notes, fmt.Sprintf("Wood wants 7 days in the air of the shop; this lay %d.", d))
	}
	o.Facts = []fold.Known{{ID: "stock", Value: append(append([]float64{l, w}, ts...), bow)}}
	o.Learned = fmt.Sprintf("Least stock at %s: %s to spare over the part and both skins.", thinnest, p.Len(spare))
	return o
}
