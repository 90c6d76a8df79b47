package ncode

import (
	"fmt"
	"math"
)

// num writes a length in the units of the messages.
func (w *walker) num(v float64) string { return inUnits(v, w.opts.Say) }

func inUnits(v float64, u Units) string {
	if u == Inch {
		v /= 25.4
	}
	return fmt.Sprintf("%.4f", v)
}

// stock holds a move against the stock as it stands then, and cuts it.
func (w *walker) stock(m *Move) {
	if m.Kind == Probe || m.Ends != 7 {
		return
	}
	from := m.From
	if m.Known != 7 {
		from = m.To // what it did on the way there is not known
	}
	r := w.relief
	if w.joins(m) {
		return
	}
	if m.Kind == Rapid {
		w.rapid(m, from)
		return
	}
	if !m.Arc() {
		if min(from[2], m.To[2]) < r.top-near {
			w.cut(m, w.going(straight(from, m.To, r.top)))
		}
		return
	}
	if m.Plane == XY {
		if min(m.From[2], m.To[2]) >= r.top-near {
			return
		}
		w.cut(m, w.going(arcCourse(m, r.top)))
		return
	}
	if lo, _ := m.Bounds(); lo[2] >= r.top-near {
		return
	}
	// An upright arc: chords.
	step := math.Pi / 4
	if m.Radius > sagitta {
		step = min(step, 2*math.Acos(1-sagitta/m.Radius))
	}
	n := int(min(max(math.Ceil(math.Abs(m.Sweep)/step), 1), maxChords))
	for k := range n {
		to := m.At(float64(k+1) / float64(n))
		w.cut(m, w.going(straight(from, to, r.top)))
		from = to
	}
}

// going keeps a course where it costs no allocation.
func (w *walker) going(p course) *course {
	w.course = p
	return &w.course
}

// cut presses a cutting move into the map and judges what it takes.
func (w *walker) cut(m *Move, p *course) {
	w.meets(m, p)
	w.bite(w.use, p, w.capacity(), m.Line)
}

// bite presses a course of a tool into the map and judges what it takes there.
func (w *walker) bite(u *use, p *course, c *capacity, line int) {
	b := w.relief.press(p, &u.shape, c)
	if b.step <= 0 {
		return
	}
	if u.drill {
		if b.front > near && p.length > rim && p.zb >= p.za-steep*p.length {
			w.sideways(u, b.front, line)
		}
		return
	}
	if b.step > u.Step {
		u.Step, u.StepLine = b.step, line
	}
	if h := &u.Heaviest; b.load > h.Load {
		*h = Heaviest{line, b.step, b.width, b.holds, b.load, c.feed, c.speed, b.down}
	}
	if len(u.body) > 0 && b.front > u.body[0].From+near {
		w.list.add(Finding{Line: line, Severity: Fail, ID: "holder-in-part", Words: fmt.Sprintf("T%d cuts %s deep", u.Number, w.num(b.front)),
			Hint: fmt.Sprintf("its edges end at %s: the %s meets the part", w.num(u.body[0].From), u.body[0].Name)})
	}
}

// sideways says that a tool with a point cuts with its side: within its point a tool for
// chamfers may, deeper none does.
func (w *walker) sideways(u *use, deep float64, line int) {
	const point = 2 // its height by the radius: that of 60 degrees and a little
	f := Finding{Line: line, Severity: Fail, ID: "drill-sideways", Words: fmt.Sprintf("T%d cuts %s deep with its side", u.Number, w.num(deep)),
		Hint: "a drill has no edges there: rise above the stock first"}
	if deep <= point*u.shape.r {
		f.Severity, f.Hint = NotProven, "a tool for chamfers may, a drill breaks; how deep it goes is not held against the hold-down"
	}
	w.list.add(f)
}

// meets holds what turns above the cutting edges against the stock.
func (w *walker) meets(m *Move, p *course) {
	u := w.use
	for i := range u.body {
		c := &u.body[i]
		if min(p.za, p.zb)+c.From >= -near {
			return // those above it are higher still
		}
		if c.R <= u.shape.r+rim {
			continue
		}
		s := shape{r: c.R - rim}
		if deep, at, _ := w.relief.touch(p, &s, u.shape.r, c.From, math.Inf(-1)); deep > 0 {
			w.say(w.sure(m, Fail), w.which(m, "holder-in-part"), fmt.Sprintf("the %s of T%d goes %s into the part at X%s Y%s", c.Name, u.Number,
				w.num(deep), w.num(at[0]), w.num(at[1])),
				"take a longer tool")
			return
		}
	}
}

// sure is the severity of a finding about a move: what only another reading does is not proven.
func (w *walker) sure(m *Move, s Severity) Severity {
	if m.Maybe {
		return min(s, NotProven)
	}
	return s
}

func (w *walker) which(m *Move, id string) string {
	if m.Maybe {
		return "cycle-height"
	}
	return id
}

// capacity is what may be cut with the tool in the spindle, nil where nothing is known of it.
func (w *walker) capacity() *capacity {
	if w.ex.Carries == nil || w.use.drill {
		return nil
	}
	tool, feed, speed := w.use.Number, w.st.Feed, w.st.Speed
	if w.st.InverseTime {
		feed = 0
	}
	if c := &w.cap; c.at != nil && c.tool == tool && c.feed == feed && c.speed == speed {
		return c
	}
	cell := w.relief.cell()
	at := func(width float64, down bool) float64 {
		return w.ex.Carries(Cut{Tool: tool, Width: width, Over: cell, Down: down, Feed: feed, Speed: speed})
	}
	d := 2 * w.use.shape.r
	w.cap = capacity{at: at, full: [2]float64{at(d, false), at(d, true)}, tool: tool, feed: feed, speed: speed}
	return &w.cap
}

// rapid holds a rapid against the stock: as the straight line first, then as the box it
// spans, since on many controls it is none.
func (w *walker) rapid(m *Move, from [3]float64) {
	r := w.relief
	clear := r.top
	if w.ex.Clearance != nil {
		clear = *w.ex.Clearance
	}
	lowest := min(from[2], m.To[2])
	if lowest >= max(clear, r.top)-near {
		return
	}
	plumb := from[0] == m.To[0] && from[1] == m.To[1]
	if plumb && m.To[2] >= from[2] && r.last == [3]float64{from[0], from[1], from[2] - r.top} {
		return // up, out of where it has just cut
	}
	s := r.reach(shape{r: w.use.shape.r})
	s.r, s.corner = max(s.r-rim, rim), w.use.shape.corner
	if s.corner > 0 {
		s.corner = min(s.corner, s.r)
	}
	p := w.going(straight(from, m.To, r.top))
	deep, at, raw := r.touch(p, &s, 0, 0, clear-r.top)
	words := fmt.Sprintf("rapid at Z%s, X%s Y%s", w.num(lowest), w.num(m.To[0]), w.num(m.To[1]))
	switch {
	case deep > 0:
		w.say(w.sure(m, Fail), w.which(m, "rapid-in-part"), words,
			fmt.Sprintf("%s into the stock at X%s Y%s: feed, or rise first", w.num(deep), w.num(at[0]), w.num(at[1])))
		return
	case !raw || m.Maybe || m.Cycle || plumb && m.To[2] >= from[2]:
	case plumb:
		w.say(Note, "rapid-low", words, fmt.Sprintf("straight down to below the clearance plane %s, still above the stock", w.num(clear)))
	default:
		w.say(Fail, "rapid-low", words, fmt.Sprintf("a rapid over the uncut part below the clearance plane %s: rise first", w.num(clear)))
	}
	w.meets(m, p)
	w.bent(m, from, &s, words)
}

// bent holds a rapid against the stock as controls make it that move each axis at its own
// full rate: together until the nearest is there, the others on.
func (w *walker) bent(m *Move, from [3]float64, s *shape, words string) {
	axes := 0
	for i := range 3 {
		if from[i] != m.To[i] {
			axes++
		}
	}
	for at := from; axes > 1 && at != m.To; {
		step := math.Inf(1)
		for i := range 3 {
			if d := math.Abs(m.To[i] - at[i]); d > 0 {
				step = min(step, d)
			}
		}
		to := at
		for i := range 3 {
			if d := m.To[i] - at[i]; math.Abs(d) <= step {
				to[i] = m.To[i]
			} else {
				to[i] += math.Copysign(step, d)
			}
		}
		if deep, spot, _ := w.relief.touch(w.going(straight(at, to, w.relief.top)), s, 0, 0, math.Inf(-1)); deep > 0 {
			w.say(NotProven, w.which(m, "rapid-corner"), words,
				fmt.Sprintf("axis by axis, as many controls go, it is %s into the stock at X%s Y%s", w.num(deep), w.num(spot[0]), w.num(spot[1])))
			return
		}
		at = to
	}
}
