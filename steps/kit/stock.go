package kit

import (
	"fliptrue/calc/budget"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Sides are the stock faces that side 1 is picked up from: the stop's and the fixed jaw's,
// where every next blank lies as well. -1 is left or front, +1 right or rear.
func Sides(p *fold.Plan) (x, y float64) {
	x, y = -1, -1
	if p.Setup.Vise.Stop == "right" {
		x = 1
	}
	if p.Setup.Vise.Jaw == "away" {
		y = 1
	}
	return x, y
}

// size is the stock as measured, or the finished part with its skin when it is not known.
func StockSize(p *fold.Plan, v fold.View) [3]float64 {
	s := p.Job.Part.Size
	s[2] += p.Job.Part.Skin[0] + p.Job.Part.Skin[1]
	if f, ok := facts.Stock.Perhaps(v); ok {
		t := budget.MeanOf([]float64{float64(f.T1), float64(f.T2), float64(f.T3), float64(f.T4), float64(f.T5)})
		s = [3]float64{float64(f.L), float64(f.W), t}
	}
	return s
}

// sharedAxis is what the moving axis wanders where the cut runs along the same motion, mm: nothing that shows. It is
// not 0, so that kept records mean what they meant to the last bit.
const sharedAxis = 1e-9

// JawPicture draws the jaws about where the stock is going to be.
func JawPicture(p *fold.Plan, v fold.View) fold.Scene {
	sc := StockPicture(p, v)
	sc.Shapes = sc.Shapes[:2]
	return sc
}

// StockPicture draws the stock between its jaws, in program coordinates in plan.
func StockPicture(p *fold.Plan, v fold.View, extra ...fold.Shape) fold.Scene {
	s := StockSize(p, v)
	w, h := s[0], s[1]
	box := func(role fold.Role, name string, x0, y0, x1, y1 float64) fold.Shape {
		return fold.Shape{Role: role, Name: name, Closed: true, Points: []fold.XY{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
	}
	fixedJaw, moving := "fixed jaw", "moving jaw"
	if p.Setup.Vise.Jaw == "toward" {
		fixedJaw, moving = moving, fixedJaw
	}
	sc := fold.Scene{Shapes: []fold.Shape{box(fold.RoleJaw, fixedJaw, -10, h, w+10, h+14), box(fold.RoleJaw, moving, -10, -14, w+10, 0),
		box(fold.RolePart, "stock", 0, 0, w, h)}}
	sc.Shapes = append(sc.Shapes, extra...)
	return sc
}
