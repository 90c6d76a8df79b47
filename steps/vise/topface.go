package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

func spreadOf(s float64) budget.Spread { return budget.Spread{S: s, Dof: judge.TypeB} }

// topPoints are the touches on the raw top in program coordinates, in cornerName's order, then the middle.
func topPoints(p *fold.Plan) []jobs.Point {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	at := func(a, b float64) jobs.Point { return jobs.Point{X: math.Round(a * w), Y: math.Round(b * h)} }
	return []jobs.Point{at(.1, .12), at(.9, .12), at(.9, .88), at(.1, .88), at(.5, .5)}
}

// topFace touches the raw top and sets Z0 by the rule: the lowest place of the top less the
// skin of side 1. That is the finished top of side 1, so that no corner stays uncut.
//
// Fact "top": [z0 tiltx tilty lowest z1 block], cov 1: z0 as an offset (machine Z less the
// length in force and the block), z1 the first touch with the block still in it.
func topFace(p *fold.Plan) *fold.Spec {
	pts := topPoints(p)
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
	return &fold.Spec{
		Title: "top of stock", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("seat"), fold.AsRead("corner", kit.ZDatum(p)), fold.IfThere("stock")), Makes: []fold.FactID{"top"}, Keys: []string{"part.skin", "part.size"},
		Asks: func(v fold.View) []fold.Ask {
			var asks []fold.Ask
			w := kit.TravelWindow(p, "z")
			if kit.TouchBy(p) == "tool" {
				asks = append(asks, kit.BlockAsk(p))
			}
			for i, q := range pts {
				asks = append(asks, fold.Ask{Field: fmt.Sprintf("z%d", i+1), Label: "top, " + checks.StockPlaces[i], Kind: fold.Reading, Unit: unit.KLength,
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
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			pl, ps, err := plane(v)
			if err != nil {
				kit.Refuse(&o, "top.plane", "the touches make a plane", err)
				return o
			}
			l, _ := v.Fact(kit.ZDatum(p))
			if len(l.Value) == 0 {
				l.Value = []float64{0}
			}
			size := kit.StockSize(p, v)
			lowest, at := math.Inf(1), 4
			for i, q := range ps {
				if q.Z < lowest {
					lowest, at = q.Z, i
				}
			}
			for i, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} { // the corners themselves, by the plane
				if z := pl.At(c[0]*size[0], c[1]*size[1]); z < lowest {
					lowest, at = z, i
				}
			}
			s, dof := judge.ProbeS(p)
			t := judge.Judged(p.Limit("top.tilt"), math.Abs(pl.B)*size[0]+math.Abs(pl.C)*size[1], 0)
			if t.Verdict == fold.Fail {
				t.Words = fmt.Sprintf("The top leans by %s, high at %s: the stock lifted from a parallel, or it is wedge-shaped.", p.Len(t.Got), kit.EdgeName(pl.B*size[0], pl.C*size[1]))
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: "Open, tap it down on the parallels, try them. A wedge: accept it."})
			}
			if nm := pl.NamePoint(budget.Spread{S: math.Max(s, 0.01), Dof: dof}); nm.Verdict == fit.Named {
				o.Notes = append(o.Notes, fmt.Sprintf("%s stands out by %s: a burr, or rough stock.", checks.StockPlaces[nm.Index], p.Len(math.Abs(nm.Deviation))))
			}
			o.Checks = append(o.Checks, t)
			skin := p.Job.Part.Skin[0]
			block := v.Len("block") // under the tool at every touch, 0 under a probe
			z0 := lowest - skin - l.Value[0] - block
			thick := 0.0
			for _, q := range ps {
				thick = math.Max(thick, q.Z-lowest+skin)
			}
			u := math.Hypot(s, kit.UOf(l))
			o.Facts = []fold.Known{{ID: "top", Value: []float64{z0, pl.B, pl.C, lowest - l.Value[0] - block, ps[0].Z - l.Value[0], block}, Cov: [][]float64{{u * u}}, Dof: dof}}
			o.Lines = append(o.Lines, fold.Row{Label: "Z0 (offset)", Value: z0, Unit: unit.KLength, Signed: true, Big: true},
				fold.Row{Label: "thinnest skin, " + checks.StockPlaces[at], Value: skin, Unit: unit.KLength, Big: true}, fold.Row{Label: "thickest skin", Value: thick, Unit: unit.KLength},
				fold.Row{Label: "lean of the top", Value: t.Got, Unit: unit.KLength})
			if st, ok := v.Fact("stock"); ok {
				least, where := math.Inf(1), 0
				for i, q := range ps {
					if left := st.Value[2+i] - (q.Z - lowest + skin) - p.Job.Part.Size[2]; left < least {
						least, where = left, i
					}
				}
				o.Lines = append(o.Lines, fold.Row{Label: "least for side 2", Value: least, Guard: 1.645 * calliperHalf / math.Sqrt(3), Unit: unit.KLength})
				if least < p.Job.Part.Skin[1] {
					o.Notes = append(o.Notes, fmt.Sprintf("At %s only %s stays for side 2's skin.", checks.StockPlaces[where], p.Len(least)))
				}
			}
			o.Notes = append(o.Notes, "Rule: Z0 is the lowest place of the top less the skin of side 1, which is its finished top.")
			o.Learned = fmt.Sprintf("Thinnest skin is %s at %s; Z0 lies one skin under it.", p.Len(skin), checks.StockPlaces[at])
			return o
		},
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "Z0 on the high corner would leave the low one uncut.", Act: "Touch the raw top at four corners and the middle.",
				Read: "Machine Z at the trigger, no length taken off.", Caution: "SPINDLE STOPPED, probe fitted: its command stays off."}
			if kit.TouchBy(p) == "tool" {
				pg.Read = "Z when the block just slides under the tool; neither length nor block taken off."
				pg.Caution = "SPINDLE STOPPED. Never lower the tool onto the block: slide the block in, from above."
			}
			pl, ps, _ := plane(v) // without a plane there is no tilt to draw
			var marks []fold.Shape
			if pg.Scene.Tilt, marks = kit.TouchPicture(pl, ps, pts); pg.Scene.Tilt != nil {
				pg.Scene.Tilt.Limit = p.Limit("top.tilt").Max
			}
			pg.Scene.Shapes = kit.StockPicture(p, v, marks...).Shapes
			return pg
		},
	}
}
