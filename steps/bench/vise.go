package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// raw is a piece of stock in a vise, and the part that is cut from it. The vise stands
// where the plan's fixture would: its fixed jaw is the edge of that card.
type raw struct {
	size   xy      // of the stock in plan
	stray  float64 // its direction against the jaw's, by the grip
	lean   float64 // of its side faces against square
	bottom float64 // physical Z of the parallels
	top    level   // of the raw top over the program's plan
	zero   float64 // physical Z of the finished top: the lowest corner less the skin
	jawTop float64
	bow    float64
	made   xy // finished width and length
	wall   float64
	spring float64
	grip   float64
	faced  bool // side 1 was cut
	away   bool // the fixed jaw is
	right  bool // the stop is
}

// Sizes of what departs from the drawing at a vise (common practice, from memory).
const (
	strayHalf  = 0.05e-3 // rad
	leanHalf   = 2e-3    // rad: sawn stock is never square
	milledHalf = 0.4e-3  // rad: the other sides are cut from a corner, so its two faces were milled
	marginHalf = 0.5
	margin     = 3.0  // beyond the finished size
	topHalf    = 0.02 // mm over the part
	springHalf = 0.004
)

// cardOf is what stands on the table as a card has it: the fixture, or a vise whose fixed jaw is its edge.
func cardOf(p *fold.Plan) *jobs.Fixture {
	if v := p.Setup.Vise; v.Jaw != "" {
		f := &jobs.Fixture{ID: "vise", Material: "steel"}
		f.AsMade.Edge = &jobs.Edge{Side: "front", Length: max(math.Round(p.Job.Part.Size[0]), 60)}
		if v.Jaw == "toward" {
			f.AsMade.Edge.Side = "rear"
		}
		return f
	}
	d := datumOf(&p.Job.Fixture)
	if d == nil {
		return &p.Job.Fixture
	}
	e := d.edge(p)
	if e == nil {
		return &p.Job.Fixture
	}
	f := p.Job.Fixture
	f.AsMade.Edge = e
	return &f
}

// newRaw draws the stock, when the setup has a vise.
func (w *World) newRaw() *raw {
	v := w.setup.Vise
	if v.Jaw == "" {
		return nil
	}
	p := &w.plan.Job.Part
	r := &raw{away: v.Jaw == "away", right: v.Stop == "right"}
	r.size = w.size.add(xy{margin, margin}).add(w.day.pair("stock", marginHalf))
	if w.setup.Zero != "centre" {
		// the other sides are cut from it
		r.size = w.size.add(xy{margin, margin / 2})
	}
	r.lean = w.day.within("stock lean", milledHalf)
	if w.setup.Zero == "centre" {
		r.lean = w.day.within("stock lean", leanHalf)
	}
	thick := p.Size[2] + p.Skin[0] + p.Skin[1] + 0.4 + w.day.within("stock thickness", 0.15)
	r.grip = v.Grip + w.day.within("grip", 0.1)
	r.bottom = w.tableZ + 60
	r.top = level{r.bottom + thick, w.day.within("top x", topHalf) / w.size.x, w.day.within("top y", topHalf) / w.size.y}
	low := math.Inf(1)
	for _, c := range []xy{{0, 0}, {r.size.x, 0}, r.size, {0, r.size.y}} {
		low = min(low, r.top.at(c))
	}
	r.zero = low - p.Skin[0]
	r.jawTop = r.zero + v.JawTop + w.day.within("jaw top", 0.1)
	r.bow = math.Abs(w.day.within("bow", 0.05))
	cut := w.day.within("side one cutter", w.Effects.Cutter)
	r.made = w.size.add(xy{2 * cut, 2 * cut})
	r.wall = v.Wall + w.day.within("wall", w.Effects.Cutter)
	r.spring = w.day.within("spring", springHalf)
	r.stray = w.day.within("stray", strayHalf)
	return r
}

// regrip closes the vise on the stock anew.
func (w *World) regrip() {
	if w.raw != nil {
		w.raw.stray = w.lot.within("stray "+strconv.Itoa(w.moves), strayHalf)
	}
}

// stockLine is a face of the stock: a place on it, and which way it faces. along gives
// its place for a program coordinate.
func (w *World) stockLine(name string) (on, out xy, along func(float64) xy, ok bool) {
	r := w.raw
	a := w.fixture.turn + r.stray
	e := xy{math.Cos(a), math.Sin(a)}
	n := xy{-e.y, e.x}
	d := n.turned(r.lean)
	corner := w.onFixture(xy{5, 0}) // where jaw and LEFT face meet
	first := 0.0                    // of the program's X0 from there
	if r.right {
		first = r.size.x - w.size.x
	}
	y0 := 0.0 // of its Y0 along the side faces
	if r.away {
		y0 = -w.size.y
	}
	far := n.times(r.size.y)
	if r.away {
		far = far.times(-1)
	}
	switch name {
	case "stock-left":
		on, out = corner, xy{-d.y, d.x}
	case "stock-right":
		on, out = corner.add(e.times(r.size.x)), xy{d.y, -d.x}
	case "stock-front":
		on, out = corner, n.times(-1)
		if r.away {
			on = corner.add(far)
		}
	case "stock-rear":
		on, out = corner, n
		if !r.away {
			on = corner.add(far)
		}
	default:
		return on, out, nil, false
	}
	start := on
	if name == "stock-left" || name == "stock-right" {
		return on, out, func(y float64) xy { return start.add(d.times(y0 + y)) }, true
	}
	return on, out, func(x float64) xy { return start.add(e.times(first + x)) }, true
}

// onStock is the spindle at the contact with a face of the stock, coming along an axis.
func (w *World) onStock(by *tip, name, at string, dir xy) (xy, error) {
	on, out, along, ok := w.stockLine(name)
	p, err := place(at)
	if !ok || err != nil {
		return xy{}, fmt.Errorf("bench: the stock has no face %q at %q", name, at)
	}
	if out.dot(dir) >= -0.5 {
		return xy{}, fmt.Errorf("bench: %s can't be touched moving %v", name, dir)
	}
	aim := along(p.x).sub(dir.times(10)).add(xy{w.gauss(200*w.Effects.Noise) * math.Abs(dir.y), w.gauss(200*w.Effects.Noise) *
		math.Abs(dir.x)})
	gap := aim.add(by.ecc).sub(on).dot(out) - w.trigger(by, dir)
	return w.report(by, aim.add(dir.times(gap/-out.dot(dir))), dir), nil
}

// stockHeight is the physical height of a thing in the vise.
func (w *World) stockHeight(of, at string) (float64, bool) {
	p, err := place(at)
	if err != nil || w.raw == nil {
		return 0, false
	}
	switch of {
	case "stock-top":
		if w.raw.faced {
			return w.raw.zero + w.roughness("faced "+at), true
		}
		return w.raw.top.at(p) + w.roughness("stock "+at), true
	case "jaw-top":
		return w.raw.jawTop, true
	case "seat-face":
		return w.raw.zero + w.roughness("seat "+at), true
	}
	return 0, false
}

// inVise measures what callipers, micrometers and the dial show of stock and part.
func (w *World) inVise(q fold.What) (v, step float64, ok bool) {
	r := w.raw
	if r == nil {
		return 0, 0, false
	}
	corner := func(n string) xy {
		w, h := w.size.x, w.size.y
		return map[string]xy{"1": {.1 * w, .12 * h}, "2": {.9 * w, .12 * h}, "3": {.9 * w, .88 * h}, "4": {.1 * w, .88 * h}, "5": {w / 2, h / 2}}[n]
	}
	n := q.Dir[strings.LastIndexByte(q.Dir, '-')+1:]
	what := strings.TrimSuffix(q.Dir, "-"+n)
	noise := w.gauss(w.Effects.Noise)
	switch q.By + " " + q.Of + " " + what {
	case "calliper stock length":
		return r.size.x + 3*noise, 0.01, true
	case "calliper stock width":
		return r.size.y + 3*noise, 0.01, true
	case "calliper stock thickness":
		return r.top.at(corner(n)) - r.bottom + 3*noise, 0.01, true
	case "calliper stock grip":
		return r.grip, 0.1, true
	case "feeler stock bow":
		return r.bow, 0.01, true
	case "micrometer part width-x":
		return r.made.x + noise, 0.001, true
	case "micrometer part width-y":
		return r.made.y + noise, 0.001, true
	case "micrometer part wall":
		return r.wall + noise, 0.001, true
	case "micrometer part thickness":
		return r.zero - r.bottom + noise, 0.001, true
	case "dial part open":
		return r.spring, w.Effects.DialRound, true
	}
	return 0, 0, false
}

// SideOne is how things stand in the vise: where the program zero is by the rule of the
// setup, machine coordinates as the readout shows them, and what was cut.
type SideOne struct {
	Zero      Pair
	Z0        float64 // the tool length taken off
	WidthX    float64
	WidthY    float64
	Thickness float64
	Wall      float64
	Spring    float64
}

// SideOne is the truth of a first side; ok is false for another setup.
func (w *World) SideOne() (SideOne, bool) {
	r := w.raw
	if r == nil {
		return SideOne{}, false
	}
	line := func(name string) (on, out xy) { on, out, _, _ = w.stockLine(name); return }
	meet := func(a, b string) xy {
		p, m := line(a)
		q, n := line(b)
		k, l := p.dot(m), q.dot(n)
		det := m.x*n.y - m.y*n.x
		return xy{(k*n.y - l*m.y) / det, (l*m.x - k*n.x) / det}
	}
	x, y := "stock-left", "stock-front"
	if r.right {
		x = "stock-right"
	}
	if r.away {
		y = "stock-rear"
	}
	z := w.shown(meet(x, y))
	if r.right {
		z.x -= w.size.x
	}
	if r.away {
		z.y -= w.size.y
	}
	if w.setup.Zero == "centre" {
		// half way between opposite faces, at their middles along the jaw
		mid := func(a, b string, at float64) xy {
			_, _, f, _ := w.stockLine(a)
			_, _, g, _ := w.stockLine(b)
			return w.shown(f(at).add(g(at)).times(0.5))
		}
		z = xy{mid("stock-left", "stock-right", math.Round(w.size.y/2)).x, mid("stock-front", "stock-rear", math.Round(w.size.x/2)).y}
	}
	return SideOne{Pair{z.x, z.y}, r.zero, r.made.x, r.made.y, r.zero - r.bottom, r.wall, r.spring}, true
}

// viseMistakes are those of stock in a vise (common practice, from memory).
var viseMistakes = []Mistake{
	{Name: "lifted-in-vise", Size: 1, Unit: "parallels", Cost: "The whole side would have been cut tilted.",
		when: "after do grip stock", shows: counted("parallels", "loose"), cures: []string{"grip stock"}},
	{Name: "stock-short", Size: 6, Unit: "mm", Cost: "A corner of the part would have been cut in the air.",
		make: func(w *World, h *happening) { w.raw.size = w.raw.size.sub(xy{h.size, h.size}) }},
	{Name: "little-grip", Size: 3, Unit: "mm", Cost: "The stock would have been pried out of the jaws by the first deep cut.",
		when: "after do grip stock", make: func(w *World, h *happening) {
			h.size = math.Min(h.size, w.raw.grip-1) // stock held by less falls out of the jaws at once
			w.raw.grip -= h.size
		}, cures: []string{"grip stock"}, undo: func(w *World, h *happening) { w.raw.grip += h.size }},
	{Name: "stored-bow", Size: 0.05, Unit: "mm", Cost: "The wall would have sprung out of its place as the vise was opened.",
		make: func(w *World, h *happening) { w.raw.spring += math.Copysign(h.size, w.raw.spring) }},
}
