package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// spots are where a face is touched, as shares of the part: in cornerName's order, then the middle.
var spots = [...][2]float64{{.1, .12}, {.9, .12}, {.9, .88}, {.1, .88}, {.5, .5}}

// topPoints are the touches on the raw top in program coordinates.
func topPoints(p *fold.Plan) (at []jobs.Point) {
	for _, s := range spots {
		at = append(at, jobs.Point{X: math.Round(s[0] * p.Job.Part.Size[0]), Y: math.Round(s[1] * p.Job.Part.Size[1])})
	}
	return at
}

// faced is the answer that the top was cut on side 1 already.
const faced = "faced on side 1"

// topFace touches the raw top and sets Z0 by the rule: the lowest place of the top less the
// skin of side 1. That is the finished top of side 1, so that no corner stays uncut. A top that
// side 1 has faced already has no skin left: its lowest place is Z0.
//
// Fact "top": see facts.TopFact; Z0 as an offset (machine Z less the length in force and the
// block), Z1 the first touch with the block still in it.
func topFace(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "top of stock",
		Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("seat"), fold.AsRead("corner", kit.ZDatum(p)), fold.IfThere("stock"),
			fold.Whether("cut")),
		Makes: []fold.FactID{"top"}, Keys: []string{"part.size"}, Former: []string{"part.skin"},
		Asks:  func(v fold.View) []fold.Ask { return topAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeTop(p, v) },
		Page:  func(v fold.View) fold.Page { return topPage(p, v) },
	}
}

func topAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	if v.Standing("cut") {
		asks = append(asks, fold.Ask{Field: "faced", Label: "the top that is touched is", Kind: fold.Choice,
			Options: []string{faced, "still raw"}, What: fold.What{By: "eye", Of: "stock", Dir: "faced"},
			Since: kit.SinceFaced})
	}
	if kit.TouchBy(p) == "tool" {
		asks = append(asks, kit.BlockAsk(p))
	}
	w := kit.TravelWindow(p, "z")
	for i, q := range topPoints(p) {
		asks = append(asks, fold.Ask{Field: fmt.Sprintf("z%d", i+1), Label: "top, " + checks.StockPlaces[i], Kind: fold.Reading,
			Unit: unit.KLength,
			What: fold.What{By: kit.TouchBy(p), Of: "stock-top@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, Window: w})
		if z, ok := v.Num("z1", unit.KLength); ok {
			w = kit.Around(z, 0.5, "the first touch")
			w.Slips = kit.Slips(p, v, "z", kit.BallRadius(p, v), nil)
		}
	}
	words := "Wipe the top, no burrs. Four corners and the middle."
	if kit.TouchBy(p) == "tool" {
		words = "First tool in, the block wiped. " + words
	}
	asks[0].Do = []fold.Act{{Do: "wipe", Of: "stock", Words: words}}
	return asks
}

// planeAt is a face by its touches at some points; those taken so far.
func planeAt(points []jobs.Point, v fold.View) (fit.Plane, []fit.Point3, error) {
	var ps []fit.Point3
	for i, q := range points {
		if z, ok := v.Num(fmt.Sprintf("z%d", i+1), unit.KLength); ok {
			ps = append(ps, fit.Point3{X: q.X, Y: q.Y, Z: z})
		}
	}
	pl, err := fit.ToPlane(ps)
	return pl, ps, err
}

func judgeTop(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	pl, ps, err := planeAt(topPoints(p), v)
	if err != nil {
		kit.Refuse(&o, "top.plane", "touches against a plane", err)
		return o
	}
	l, _ := facts.Length.Of(kit.ZDatum(p).Thing()).In(v)
	skin := p.Job.Part.Skin[0]
	isFaced := v.Standing("cut") && v.Walks(3) && fold.SameAnswer(v.Text("faced"), faced)
	if isFaced {
		skin = 0
	}
	size := kit.StockSize(p, v)
	s, dof := heightS(p, v)
	lean := topTilt(p, pl, size, &o)
	if nm := pl.NamePoint(budget.Spread{S: math.Max(s, 0.01), Dof: dof}); nm.Verdict == fit.Named {
		o.Notes = append(o.Notes, fmt.Sprintf("%s stands out by %s: a burr, or rough stock.", checks.StockPlaces[nm.Index],
			p.Len(math.Abs(nm.Deviation))))
	}
	block := v.Len("block") // under the tool at every touch, 0 under a probe
	at := pickup.TopOf(pl, ps, skin, pickup.Length{V: float64(l.L), Var: l.Cov.Var("l")}, block, s, [2]float64{size[0], size[1]})
	o.Facts = []fold.Known{facts.Top.Is(facts.TopFact{Z0: unit.Length(at.Zero), TiltX: unit.Angle(pl.B), TiltY: unit.Angle(pl.C),
		Lowest: unit.Length(at.Lowest - float64(l.L) - block), Z1: unit.Length(ps[0].Z - float64(l.L)), Block: unit.Length(block),
		Cov: fold.NewCov("z0", [][]float64{{at.U * at.U}}), Dof: dof})}
	o.Lines = append(o.Lines, fold.Row{Label: "Z0 (offset)", Value: at.Zero, Unit: unit.KLength, Signed: true, Big: true})
	if isFaced {
		o.Lines = append(o.Lines, fold.Row{Label: "lean of the top", Value: lean, Unit: unit.KLength})
		o.Notes = append(o.Notes, "Rule: a top that side 1 has faced has no skin left; Z0 is its lowest place.")
		o.Learned = "Z0 lies on the faced top, at " + checks.StockPlaces[at.At] + "."
		return o
	}
	o.Lines = append(o.Lines, fold.Row{Label: "thinnest skin, " + checks.StockPlaces[at.At], Value: skin, Unit: unit.KLength, Big: true},
		fold.Row{Label: "thickest skin", Value: at.Thickest, Unit: unit.KLength},
		fold.Row{Label: "lean of the top", Value: lean, Unit: unit.KLength})
	leftForSide2(p, v, at, ps, &o)
	o.Notes = append(o.Notes, "Rule: Z0 is the lowest place of the top less the skin of side 1, which is its finished top.")
	o.Learned = fmt.Sprintf("Thinnest skin is %s at %s; Z0 lies one skin under it.", p.Len(skin), checks.StockPlaces[at.At])
	return o
}

// topTilt judges how much the top leans over the stock, and says by how much.
func topTilt(p *fold.Plan, pl fit.Plane, size [3]float64, o *fold.Outcome) float64 {
	t := judge.Most(p.Limit("top.tilt"), pickup.Over(pl.B, pl.C, size[0], size[1]), 0)
	if t.Verdict == fold.Fail {
		t.Words = fmt.Sprintf("The top leans by %s, high at %s. The stock lifted from a parallel, or it is wedge-shaped.", p.Len(t.Got),
			kit.EdgeName(pl.B*size[0], pl.C*size[1]))
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: "Open, tap it down on the parallels, try them. A wedge: accept it."})
	}
	o.Checks = append(o.Checks, t)
	return t.Got
}

// leftForSide2 says what stays for side 2's skin where least does.
func leftForSide2(p *fold.Plan, v fold.View, at pickup.Top, ps []fit.Point3, o *fold.Outcome) {
	st, ok := facts.Stock.In(v)
	if !ok {
		return
	}
	thick := [...]unit.Length{st.T1, st.T2, st.T3, st.T4, st.T5}
	least, where := math.Inf(1), 0
	for i, q := range ps {
		if left := at.Left(q.Z, p.Job.Part.Skin[0], float64(thick[i]), p.Job.Part.Size[2]); left < least {
			least, where = left, i
		}
	}
	o.Lines = append(o.Lines, fold.Row{Label: "least for side 2", Value: least, Guard: budget.OneSided * pickup.HalfU(pickup.Calliper),
		Unit: unit.KLength})
	if least < p.Job.Part.Skin[1] {
		o.Notes = append(o.Notes, fmt.Sprintf("At %s only %s stays for side 2's skin.", checks.StockPlaces[where], p.Len(least)))
	}
}

func topPage(p *fold.Plan, v fold.View) fold.Page {
	pg := fold.Page{Why: "Z0 on the high corner would leave the low one uncut.", Act: "Touch the raw top at four corners and the middle.",
		Read: "Machine Z at the trigger, no length taken off.", Caution: "SPINDLE STOPPED, probe fitted: its command stays off."}
	if kit.TouchBy(p) == "tool" {
		pg.Read = "Z when the block just slides under the tool; neither length nor block taken off."
		pg.Caution = "SPINDLE STOPPED. Never lower the tool onto the block: slide the block in, from above."
	}
	if v.Standing("cut") && v.Walks(3) {
		pg.Why = "Side 1 was cut already. On a faced top Z0 must not go down by another skin."
		pg.Act = "Say whether the top is faced. Touch it at four corners and the middle."
	}
	pl, ps, _ := planeAt(topPoints(p), v) // without a plane there is no tilt to draw
	var marks []fold.Shape
	if pg.Scene.Tilt, marks = kit.TouchPicture(pl, ps, topPoints(p)); pg.Scene.Tilt != nil {
		pg.Scene.Tilt.Limit = p.Limit("top.tilt").Max
	}
	pg.Scene.Shapes = kit.StockPicture(p, v, marks...).Shapes
	return pg
}
