package pen

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// Plan is a setup from above, with what the scene does not say of it.
type Plan struct {
	Scene fold.Scene
	Walls []string // left, away ...: what the part is pushed against
	Order []int    // in which the screws are tightened, by their place in the scene; nil without
	Short func(string) string
	Inch  bool // its ruler is of inches
}

// looks are the looks of roles.
var looks = map[fold.Role]string{fold.RoleFixture: "fixture", fold.RolePocket: "pocket", fold.RolePart: "part", fold.RoleBore: "bore",
	fold.RoleEdge: "edge",
	fold.RoleHit:  "hit", fold.RoleHole: "hole", fold.RoleClamp: "clamp", fold.RoleScrew: "screw", fold.RoleFeature: "feature",
	fold.RoleSupport: "support",
	fold.RoleJaw:     "jaw", fold.RolePath: "path", fold.RoleConflict: "conflict", fold.RoleTap: "tap", fold.RoleLater: "later",
	fold.RolePush: "tap", fold.RoleSweep: "support"}

// Draw draws the plan on so much paper; ok is false where there is nothing to draw.
func (p Plan) Draw(w, h float64) (d Drawing, ok bool) {
	d = Drawing{W: w, H: h, What: "the setup from above"}
	lo, hi, ok := Bounds(p.Scene.Shapes)
	if !ok {
		return d, false
	}
	// The frame keeps room for the four words.
	const side, top = 2.2 * Size, 1.5 * Size
	v := fit(lo, hi, side, top, w-2*side, h-2*top)
	d.say(w/2, Size, "middle", "way", "AWAY")
	d.say(w/2, h-0.4*Size, "middle", "way", "TOWARD YOU")
	d.Words = append(d.Words, Word{X: Size, Y: h / 2, Text: "LEFT", Anchor: "middle", Look: "way up"},
		Word{X: w - 0.4*Size, Y: h / 2, Text: "RIGHT", Anchor: "middle", Look: "way up"})
	for _, s := range p.Scene.Shapes {
		d.outline(v, s)
	}
	p.walls(&d, v)
	if n := len(p.Scene.Arrow); n > 1 {
		d.stroke("arrow", arrow(v.at(p.Scene.Arrow[0]), v.at(p.Scene.Arrow[n-1]), 1.6))
		a := v.at(p.Scene.Arrow[n-1])
		d.keep(a.x, a.y, 1)
	}
	p.marks(&d, v)
	p.names(&d, v)
	p.ruler(&d, v)
	return d, true
}

// outline draws what is no mark.
func (d *Drawing) outline(v view, s fold.Shape) {
	look := looks[s.Role]
	switch {
	case len(s.Points) == 0:
	case s.Radius > 0:
		c := v.at(s.Points[0])
		r := max(s.Radius*v.k, 0.6)
		d.stroke(look, circle(c.x, c.y, r)+line(false, pt{c.x - r - 0.8, c.y}, pt{c.x + r + 0.8, c.y})+line(false, pt{c.x, c.y - r - 0.8},
			pt{c.x, c.y + r + 0.8}))
		d.keep(c.x, c.y, r+0.8)
	case len(s.Points) > 1:
		ps := make([]pt, len(s.Points))
		for i, q := range s.Points {
			ps[i] = v.at(q)
		}
		if s.Role == fold.RoleTap || s.Role == fold.RolePush {
			d.stroke(look, arrow(ps[0], ps[len(ps)-1], 1.6))
			return
		}
		d.stroke(look, line(s.Closed, ps...))
	}
}

// walls are wedges at the sides that the part is pushed against, two a side.
func (p Plan) walls(d *Drawing, v view) {
	for _, s := range p.Scene.Shapes {
		if s.Role != fold.RolePocket {
			continue
		}
		lo, hi, ok := Bounds([]fold.Shape{s})
		if !ok {
			return
		}
		a, b := v.at(fold.XY{X: lo.X, Y: hi.Y}), v.at(fold.XY{X: hi.X, Y: lo.Y}) // upper left, lower right
		for _, wall := range p.Walls {
			for _, t := range []float64{0.2, 0.8} {
				x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
				const l, half = 1.8, 1.0
				switch wall {
				case "left":
					d.stroke("wall", line(true, pt{a.x, y}, pt{a.x - l, y - half}, pt{a.x - l, y + half}))
				case "right":
					d.stroke("wall", line(true, pt{b.x, y}, pt{b.x + l, y - half}, pt{b.x + l, y + half}))
				case "away":
					d.stroke("wall", line(true, pt{x, a.y}, pt{x - half, a.y - l}, pt{x + half, a.y - l}))
				case "toward":
					d.stroke("wall", line(true, pt{x, b.y}, pt{x - half, b.y + l}, pt{x + half, b.y + l}))
				}
			}
		}
	}
}

// marks sets single points: screws with the number of their turn, all else by its look.
func (p Plan) marks(d *Drawing, v view) {
	turn := map[int]int{}
	for n, i := range p.Order {
		turn[i] = n + 1
	}
	screws := 0
	for _, s := range p.Scene.Shapes {
		if len(s.Points) != 1 || s.Radius > 0 {
			continue
		}
		c := v.at(s.Points[0])
		switch s.Role {
		case fold.RoleScrew, fold.RoleHole:
			n := turn[screws]
			screws++
			if s.Role == fold.RoleHole || n == 0 {
				d.stroke("hole", circle(c.x, c.y, 0.8))
				d.keep(c.x, c.y, 0.9)
				continue
			}
			d.stroke("screw", circle(c.x, c.y, 1.7))
			d.say(c.x, c.y+0.36*Size, "middle", "turn", strconv.Itoa(n))
			d.keep(c.x, c.y, 1.8)
		case fold.RoleFeature:
			d.stroke("feature", line(true, pt{c.x, c.y - 1.1}, pt{c.x + 1.1, c.y}, pt{c.x, c.y + 1.1}, pt{c.x - 1.1, c.y}))
			d.keep(c.x, c.y, 1.1)
		default:
			d.stroke(looks[s.Role], circle(c.x, c.y, 0.6))
			d.keep(c.x, c.y, 0.7)
		}
	}
}

// names are written where they find room: features and bores first.
func (p Plan) names(d *Drawing, v view) {
	short := p.Short
	if short == nil {
		short = func(s string) string { return s }
	}
	for _, first := range []bool{true, false} {
		for _, s := range p.Scene.Shapes {
			if s.Name == "" || len(s.Points) == 0 || first != (s.Role == fold.RoleFeature || s.Role == fold.RoleBore) {
				continue
			}
			lo, hi, ok := Bounds([]fold.Shape{s})
			if !ok {
				continue
			}
			c := v.at(fold.XY{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2})
			off := s.Radius*v.k + 1.8
			if len(s.Points) > 1 {
				off = 0.4
			}
			if s.Role == fold.RoleFixture { // in its corner: its middle is the part's
				d.corner(v.at(lo), v.at(hi), looks[s.Role], short(s.Name))
				continue
			}
			name := short(s.Name)
			if len(s.Points) > 1 && !s.Closed { // above its line
				d.say(c.x, c.y-1, "middle", looks[s.Role], name)
				continue
			}
			if s.Role == fold.RoleClamp && !strings.Contains(name, "clamp") {
				name = "clamp " + name // one called left is not the table's LEFT
			}
			d.name(c.x, c.y, off, looks[s.Role], name)
		}
	}
}

// corner writes a name in a corner of an outline that has room for it.
func (d *Drawing) corner(lo, hi pt, look, text string) {
	for _, at := range []Word{{X: hi.x - 0.8, Y: hi.y + Size, Anchor: "end"}, {X: lo.x + 0.8, Y: hi.y + Size, Anchor: "start"},
		{X: hi.x - 0.8, Y: lo.y - 1, Anchor: "end"}, {X: lo.x + 0.8, Y: lo.y - 1, Anchor: "start"}} {
		if b := boxOf(at.X, at.Y, len([]rune(text)), at.Anchor); b.within(d.W, d.H) && !slices.ContainsFunc(d.taken, b.hits) {
			d.say(at.X, at.Y, at.Anchor, look, text)
			return
		}
	}
}

// ruler is a round length of the plan, at its lower right.
func (p Plan) ruler(d *Drawing, v view) {
	of, unit := 1.0, " mm"
	if p.Inch {
		of, unit = 25.4, " in"
	}
	most := 0.25 * d.W / v.k / of
	l := math.Pow(10, math.Floor(math.Log10(most)))
	for _, f := range []float64{5, 2} {
		if f*l <= most {
			l *= f
			break
		}
	}
	x, y := d.W-1, d.H-1.2
	w := l * of * v.k
	d.stroke("ruler", line(false, pt{x - w, y - 0.7}, pt{x - w, y}, pt{x, y}, pt{x, y - 0.7}))
	d.say(x-w-0.8, y, "end", "way scale", strconv.FormatFloat(l, 'f', -1, 64)+unit)
}
