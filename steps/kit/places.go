package kit

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// RingDrawn is the radius that a ring gauge has in its picture, whatever its size.
const RingDrawn = 10

// PlaceOf is where in a setup's pictures a thing is read: a hit at its angle, a place along
// an edge or a face, a place on a face in plan. stock is the stock's size in plan, for a
// first side. ok is false for what has no one place.
func PlaceOf(p *fold.Plan, w fold.What, stock [2]float64) (at fold.XY, ok bool) {
	thing, place, placed := strings.Cut(w.Of, "@")
	if thing == "ring" || thing == "ring/180" {
		at, ok = map[string]fold.XY{"x+": {X: RingDrawn}, "x-": {X: -RingDrawn}, "y+": {Y: RingDrawn}, "y-": {Y: -RingDrawn}}[w.Dir]
		return at, ok
	}
	if !placed {
		return targetPlace(p, thing, w.Dir)
	}
	var n [2]float64
	for i, s := range strings.SplitN(place, ",", 2) {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return at, false
		}
		n[i] = v
	}
	size := p.Job.Part.Size
	if at, ok := DatumOf(p).place(thing, n[0]); ok {
		return at, true
	}
	for _, pad := range p.Setup.Make.Pads {
		along := pad.At.X
		if pad.Wall == "left" || pad.Wall == "right" {
			along = pad.At.Y
		}
		if thing == "pad-"+pad.Wall && Place(along) == Place(n[0]) {
			return fold.XY{X: pad.At.X, Y: pad.At.Y}, true
		}
	}
	if strings.HasPrefix(thing, "skimmed/") || thing == "hole" { // places of the part
		thing = "part-top"
	}
	switch thing {
	case "edge":
		if e, ok := EdgeOf(p); ok && AlongY(p) {
			return fold.XY{X: e.From.X, Y: e.From.Y + n[0]}, true
		} else if ok {
			return fold.XY{X: e.From.X + n[0], Y: e.From.Y}, true
		}
		return at, false
	case "rim", "floor", "stock-top", "jaw-top", "seat-face":
		return fold.XY{X: n[0], Y: n[1]}, true
	case "stock-left", "stock-right", "stock-front", "stock-rear":
		size[0], size[1] = stock[0], stock[1]
	case "part-top", "part-left", "part-right", "part-front", "part-rear":
		z, _ := PartZero(p)
		at = fold.XY{X: z.X, Y: z.Y}
	default:
		return at, false
	}
	_, face, _ := strings.Cut(thing, "-")
	on := map[string]fold.XY{"top": {X: n[0], Y: n[1]}, "left": {Y: n[0]}, "right": {X: size[0], Y: n[0]}, "front": {X: n[0]}, "rear": {X: n[0], Y: size[1]}}[face]
	return fold.XY{X: at.X + on.X, Y: at.Y + on.Y}, true
}

// Outline is what a step touches, where its page draws nothing: a ring.
func Outline(ss *fold.StepState) []fold.Shape {
	for _, a := range ss.Asks {
		if a.What.Of == "ring" && a.What.By == "probe" {
			return []fold.Shape{{Role: fold.RoleBore, Name: "ring", Points: []fold.XY{{}}, Radius: RingDrawn}}
		}
	}
	return nil
}

// targetPlace is a place on a bore, pin or square at the angle of a hit, else its middle.
func targetPlace(p *fold.Plan, thing, dir string) (at fold.XY, ok bool) {
	first, second := Targets(p)
	ts := []Target{first}
	if second != nil {
		ts = append(ts, *second)
	}
	for _, t := range ts {
		if t.Of != thing || p.Setup.Vise.Jaw != "" {
			continue
		}
		at = fold.XY{X: t.From.X, Y: t.From.Y}
		if deg, err := strconv.ParseFloat(dir, 64); err == nil {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			at.X, at.Y = at.X+t.Dia/2*cos, at.Y+t.Dia/2*sin
		}
		return at, true
	}
	return at, false
}

// Marks are the places of a step's readings in its pictures, each once and in the order
// in which they are asked: those taken, the one of the field that is asked now ("" for
// none), and those still to come. Where that field is one of several that are numbered, s1 to
// s7, they are those, so that the picture counts as the form does.
func Marks(st *fold.State, ss *fold.StepState, now string) []fold.Shape {
	shapes, _ := marks(st, ss, now)
	return shapes
}

// MarkNumbers are the numbers that the fields of a step have in its pictures, from 1. A field without a place has
// none, nor has the only place.
func MarkNumbers(st *fold.State, ss *fold.StepState, now string) map[string]int {
	shapes, at := marks(st, ss, now)
	out := map[string]int{}
	if len(shapes) < 2 {
		return out // one place needs no number
	}
	for field, xy := range at {
		if i := slices.IndexFunc(shapes, func(s fold.Shape) bool { return s.Points[0] == xy }); i >= 0 {
			out[field] = i + 1
		}
	}
	return out
}

// marks are the shapes of Marks, and where each field is read.
func marks(st *fold.State, ss *fold.StepState, now string) ([]fold.Shape, map[string]fold.XY) {
	p := st.Plan()
	size := p.Job.Part.Size
	stock := [2]float64{size[0], size[1]}
	if f, ok := facts.Stock.By(st.Fact); ok && p.Setup.Flip == "" {
		stock = [2]float64{float64(f.L), float64(f.W)}
	}
	last := now
	for i := 0; now == "" && i < len(ss.Asks); i++ {
		if _, taken := ss.Round.Get(ss.Asks[i].Field); taken && ss.Asks[i].Kind == fold.Reading {
			last = ss.Asks[i].Field
		}
	}
	var out, numbered []fold.Shape
	where := map[string]fold.XY{}
	for _, a := range ss.Asks {
		at, ok := PlaceOf(p, a.What, stock)
		if !ok || a.Kind != fold.Reading && a.Field != now {
			continue
		}
		where[a.Field] = at
		role := fold.RoleLater
		if _, taken := ss.Round.Get(a.Field); taken {
			role = fold.RoleHit
		}
		if a.Field == now {
			role = fold.RoleNext
		}
		out = marked(out, at, role)
		if series(a.Field) == series(last) {
			numbered = marked(numbered, at, role)
		}
	}
	if len(numbered) > 2 {
		return numbered, where
	}
	return out, where
}

// marked adds a place, or what is known of it now: the next outweighs a reading, and
// that one to come.
func marked(out []fold.Shape, at fold.XY, role fold.Role) []fold.Shape {
	i := slices.IndexFunc(out, func(s fold.Shape) bool { return s.Points[0] == at })
	switch {
	case i < 0:
		return append(out, fold.Shape{Role: role, Points: []fold.XY{at}})
	case role == fold.RoleNext || out[i].Role == fold.RoleLater:
		out[i].Role = role
	}
	return out
}

// series is what numbered fields have in common: hit of hit3.x.
func series(field string) string {
	field, _, _ = strings.Cut(field, ".")
	return strings.TrimRight(field, "0123456789")
}
