package tui

import (
	"slices"
	"strings"

	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

// isRead says that a shape is a place of a reading.
func isRead(s fold.Shape) bool {
	return s.Role == fold.RoleHit || s.Role == fold.RoleNext || s.Role == fold.RoleLater
}

// closeUp says that the places of the readings lie so near each other that the plan
// can't tell them apart, and gives the box about them and about what they are read on.
func closeUp(sc fold.Scene) (canvas.Box, bool) {
	all, ok1 := boxOf(sc.Shapes, func(fold.Shape) bool { return true })
	near, ok2 := boxOf(sc.Shapes, isRead)
	n := 0
	for _, s := range sc.Shapes {
		if isRead(s) {
			n++
		}
	}
	size := max(near.MaxX-near.MinX, near.MaxY-near.MinY)
	if !ok1 || !ok2 || n < 2 || size*6 >= max(all.MaxX-all.MinX, all.MaxY-all.MinY) {
		return canvas.Box{}, false
	}
	size = max(size, 1)
	out := near
	for _, s := range sc.Shapes { // whole, not cut off
		b, ok := boxOf([]fold.Shape{s}, func(fold.Shape) bool { return true })
		if ok && !isRead(s) && max(b.MaxX-b.MinX, b.MaxY-b.MinY) <= 3*size && b.MinX <= near.MaxX && b.MaxX >= near.MinX && b.MinY <= near.MaxY &&
			b.MaxY >= near.MinY {
			out = canvas.Box{MinX: min(out.MinX, b.MinX), MinY: min(out.MinY, b.MinY), MaxX: max(out.MaxX, b.MaxX), MaxY: max(out.MaxY, b.MaxY)}
		}
	}
	return out.Grow(size * 0.4), true
}

// boxOf is the box about some of the shapes.
func boxOf(shapes []fold.Shape, which func(fold.Shape) bool) (canvas.Box, bool) {
	var all []canvas.Point
	for _, s := range shapes {
		if !which(s) {
			continue
		}
		for _, p := range s.Points {
			all = append(all, canvas.Point{X: p.X - s.Radius, Y: p.Y - s.Radius}, canvas.Point{X: p.X + s.Radius, Y: p.Y + s.Radius})
		}
	}
	return canvas.Around(all...)
}

// marks sets the glyphs of single points, what is asked now over all others. Places of readings are numbered
// in their order.
func (a artist) marks(c *canvas.Canvas, shapes []fold.Shape) {
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 && s.Role != fold.RoleNext {
			c.Mark(pointsOf(s)[0], Marker(roleOf(s)), "", roleOf(s))
		}
	}
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 && s.Role == fold.RoleNext {
			c.Mark(pointsOf(s)[0], Marker(roleOf(s)), "", roleOf(s))
		}
	}
	for i, s := range places(shapes) {
		if s.Name == "" {
			c.Name(pointsOf(s)[0], itoa(i+1), roleOf(s))
		}
	}
}

// places are where readings are taken, in their order.
func places(shapes []fold.Shape) []fold.Shape {
	var out []fold.Shape
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 && isRead(s) {
			out = append(out, s)
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// names are written last, where lines and marks leave room: first those of what is asked, then
// of what is in the way, then the others.
func (a artist) names(c *canvas.Canvas, shapes []fold.Shape) {
	order := slices.Clone(shapes)
	rank := func(s fold.Shape) int {
		switch s.Role {
		case fold.RoleNext, fold.RoleTap:
			return 0
		case fold.RoleConflict:
			return 1
		case fold.RoleScrew, fold.RoleHit:
			return 2
		}
		return 3
	}
	slices.SortStableFunc(order, func(x, y fold.Shape) int { return rank(x) - rank(y) })
	told := map[string]bool{} // what reaches over several heights is named once
	for _, s := range order {
		name := a.t.Say(s.Name)
		if s.Role == fold.RoleClamp && name != "" && !strings.Contains(name, "clamp") {
			name = "clamp " + name // one called left is not the table's LEFT
		}
		switch ps := pointsOf(s); {
		case name == "" || len(ps) == 0:
		case len(ps) == 1 && s.Radius == 0:
			c.Name(ps[0], name, roleOf(s))
		case told[name]:
		case s.Role == fold.RoleClamp || s.Role == fold.RoleJaw || s.Role == fold.RoleConflict:
			told[name] = true
			b, _ := canvas.Around(ps...)
			c.Label(canvas.Point{X: (b.MinX + b.MaxX) / 2, Y: (b.MinY + b.MaxY) / 2}, name, roleOf(s))
		}
	}
}
