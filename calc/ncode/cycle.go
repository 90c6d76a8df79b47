package ncode

import "fmt"

// maxRepeats and maxPecks bound what one line can ask for: repeats, and pecks of all of them.
const (
	maxRepeats = 1000
	maxPecks   = 10_000
)

// given notes that a word of a cycle stands on the line: 1 for R, 2 for the depth.
func (s *State) given(which uint8) {
	s.cycleSet |= which
	if s.cycleInc &^= which; s.Incremental {
		s.cycleInc |= which
	}
}

// cycleHeight is said where the two readings of G98 after G99 come to different things.
const cycleHeight = "G98 after G99: by the standard the tool stays at the height before that line, on many controls it goes back to " +
	"where " +
	"the cycles began; write Z, absolute, before this"

// peckBack is how far above the bottom of the hole a rapid stops in G83: 0.254 mm,
// 0.010 in (3.5.16.4, from memory).
const peckBack = 0.254

// hole is one line of a cycle, worked out.
type hole struct {
	g         int
	repeats   int
	none      bool       // L0: nothing is drilled
	to        [3]float64 // its place in the plane, absolute
	da, db    float64    // from hole to hole, in increments
	r, bottom float64
	back      float64 // where it goes back to
	other     float64 // the same by the other reading
	i, j, k   float64 // of G87
}

func badCycle(clause, words, hint string) *fault { return refuse(clause, "cycle", words, hint) }

// noCycle says why a cycle may not stand here, nil where it may.
func (s *State) noCycle(c *command, name string) *fault {
	switch {
	case c.mask&maskAxes == 0:
		return badCycle("3.5.16", name, "it needs at least one of X Y Z")
	case c.mask&maskRotary != 0:
		return badCycle("3.5.16", name, "no rotary axis may move")
	case s.InverseTime:
		return badCycle("3.5.16", name, "not in inverse time")
	case s.Comp != 0:
		return badCycle("3.5.16", name, "not while cutter radius compensation is on")
	}
	return nil
}

// cycle carries out G81 to G89, and G73 of the dialect (3.5.16).
func (w *walker) cycle(c *command, g int, axes bool) *fault {
	s := &w.st
	name := gName(g)
	if g == 730 {
		w.dialect(name)
	}
	if !axes && w.opts.Lenient && c.g[groupMotion] >= 0 && c.mask&maskAxes == 0 {
		return nil
	}
	if f := s.noCycle(c, name); f != nil {
		return f
	}
	if s.Plane != XY && w.f.rotated {
		w.say(NotProven, "rotation", name, "a cycle outside G17 while G68 is on")
		w.lost(7)
		return nil
	}
	h := hole{g: g, repeats: 1}
	for _, read := range [...]func(*command, *hole) *fault{w.cycleRepeats, w.cycleWords, w.cycleOffsets} {
		if f := read(c, &h); f != nil {
			return f
		}
	}
	if f := w.feedFault(); f != nil {
		return f
	}
	if h.none {
		c.used |= maskAxes
		return nil
	}
	if s.Incremental && w.alt.on {
		w.say(NotProven, "cycle-height", name, cycleHeight)
	}
	known, ok := w.cyclePlace(c, &h)
	if !ok {
		w.say(NotProven, "start", name, "a cycle from a place that is not known")
		w.lost(7)
		return nil
	}
	if _, _, n := s.Plane.Axes(); h.r < h.bottom-rounding {
		return badCycle("3.5.16", fmt.Sprintf("R%s below %c%s", w.num(h.r), 'X'+n, w.num(h.bottom)),
			"the retract plane lies above the bottom of the hole")
	}
	w.cycleBack(&h, known)
	w.drill(&h, known)
	if g == 880 {
		w.say(Warn, "cycle", name, "the operator retracts the tool by hand: taken as straight up")
	}
	return nil
}

// cycleRepeats reads L.
func (w *walker) cycleRepeats(c *command, h *hole) *fault {
	if !c.has('L') {
		return nil
	}
	l, ok := whole(c.val('L'), 0.0001)
	if ok && l == 0 && w.opts.Lenient {
		h.none = true
		w.say(Note, "cycle", "L0", "it keeps the words of the cycle and makes no hole")
		return nil
	}
	if !ok || l < 1 {
		return badCycle("3.5.16", fmt.Sprintf("L%v", c.val('L')), "L is a whole number, at least 1")
	}
	if h.repeats = l; l > maxRepeats {
		w.say(NotProven, "cycle", fmt.Sprintf("L%d", l), fmt.Sprintf("more than %d repeats are not followed", maxRepeats))
		h.repeats = maxRepeats
	}
	return nil
}

// cycleWords reads R, the depth, Q and P, which stay from line to line.
func (w *walker) cycleWords(c *command, h *hole) *fault {
	s := &w.st
	name := gName(h.g)
	_, _, n := s.Plane.Axes()
	depth := byte('X' + n)
	if c.has('R') {
		s.cycle.r = c.val('R') * w.unit
		s.given(1)
	}
	if c.has(depth) {
		s.cycle.z = c.val(depth) * w.unit
		s.given(2)
	}
	if c.has('Q') {
		if s.cycle.q = c.val('Q') * w.unit; s.cycle.q <= 0 {
			return badCycle("3.5.16.4", fmt.Sprintf("Q%v", c.val('Q')), "the peck is greater than 0")
		}
		s.cycleSet |= 4
	}
	if c.has('P') {
		if c.val('P') < 0 {
			return badCycle("3.5.16", fmt.Sprintf("P%v", c.val('P')), "the dwell is not negative")
		}
		s.cycleSet |= 8
	}
	switch g := h.g; {
	case s.cycleSet&1 == 0:
		return badCycle("3.5.16", name, "it needs R the first time")
	case s.cycleSet&2 == 0:
		return badCycle("3.5.16", name, fmt.Sprintf("it needs the depth, %c, the first time", depth))
	case (g == 830 || g == 730) && s.cycleSet&4 == 0:
		return badCycle("3.5.16.4", name, "it needs Q")
	case (g == 820 || g == 860 || g == 880 || g == 890) && s.cycleSet&8 == 0:
		return badCycle("3.5.16", name, "it needs P, the dwell at the bottom")
	case g == 840 && s.Spindle != 3:
		return badCycle("3.5.16.5", name, "tapping needs the spindle turning clockwise")
	}
	return nil
}

// cycleOffsets reads the I J K of G87.
func (w *walker) cycleOffsets(c *command, h *hole) *fault {
	if h.g != 870 {
		return nil
	}
	if c.mask&maskI == 0 || c.mask&maskJ == 0 || c.mask&maskK == 0 {
		return badCycle("3.5.16.8", gName(h.g), "it needs I, J and K")
	}
	a, b, n := w.st.Plane.Axes()
	c.used |= maskI | maskJ | maskK
	h.i, h.j, h.k = c.val(byte('I'+a))*w.unit, c.val(byte('I'+b))*w.unit, c.val(byte('I'+n))*w.unit
	return nil
}

// cyclePlace works out where the hole is, and which axes are known; ok is false where it can't be told.
func (w *walker) cyclePlace(c *command, h *hole) (known uint8, ok bool) {
	s := &w.st
	a, b, n := s.Plane.Axes()
	t, known := w.target(c)
	w.first(c)
	// target has read the depth word as a coordinate; the axis stays where it is.
	t[n] = w.p[n]
	known = known&^(1<<n) | w.known&(1<<n)
	plane := uint8(1<<a | 1<<b)
	if known&plane != plane || s.Incremental && w.known&(1<<n) == 0 {
		return known, false
	}
	h.to, h.r, h.bottom = t, s.cycle.r, s.cycle.z
	if !s.Incremental {
		if s.cycleInc != 0 {
			w.say(NotProven, "cycle", gName(h.g), "R or the depth was given in G91 and is used in G90: give both again")
		}
		return known, true
	}
	if s.cycleInc != 3 {
		// The standard keeps the numbers, and they are increments now; many controls keep the places.
		w.say(NotProven, "cycle", gName(h.g), "R or the depth was given in G90 and is used in G91: taken as the place that it was; give both "+
			"again")
	}
	if s.cycleInc&1 != 0 {
		h.r += w.p[n]
	}
	if s.cycleInc&2 != 0 {
		h.bottom += h.r
	}
	h.da, h.db = t[a]-w.p[a], t[b]-w.p[b]
	h.k += h.bottom
	return known, true
}

// cycleBack works out where the cycle goes back to: by 3.5.20 to the height before this line;
// many controls go back to the one before the first cycle of the series, which is followed here.
func (w *walker) cycleBack(h *hole, known uint8) {
	s := &w.st
	_, _, n := s.Plane.Axes()
	h.back, h.other = h.r, h.r
	if !s.RetractR {
		if known&(1<<n) == 0 {
			w.say(NotProven, "start", gName(h.g), "G98 goes back to a height that is not known")
		} else {
			h.back = max(h.back, w.p[n])
		}
		h.other = h.back
		if w.series.known && n == 2 {
			h.other = max(h.r, w.series.at)
			h.back = max(h.back, w.series.top)
		}
	}
	w.series.at = h.other
}

// drill makes the moves of the cycle.
func (w *walker) drill(h *hole, known uint8) {
	s := &w.st
	a, b, n := s.Plane.Axes()
	d := driller{w: w, n: n, repeats: h.repeats}
	// Preliminary moves (3.5.16.1).
	if known&(1<<n) == 0 || w.p[n] < h.r {
		d.down(Rapid, h.r, false)
	}
	for range h.repeats {
		q := w.p
		if s.Incremental {
			q[a], q[b] = q[a]+h.da, q[b]+h.db
		} else {
			q[a], q[b] = h.to[a], h.to[b]
		}
		if h.g == 870 {
			q[a], q[b] = q[a]+h.i, q[b]+h.j
			d.across(q)
			d.backBore(a, b, h.bottom, h.k, h.back, h.i, h.j)
			continue
		}
		if !s.Incremental || h.da != 0 || h.db != 0 {
			d.across(q)
		}
		d.down(Rapid, h.r, false)
		switch h.g {
		case 830:
			d.pecks(h.r, h.bottom, h.back, s.cycle.q)
		case 840, 850, 890:
			d.down(Feed, h.bottom, false)
			d.down(Feed, h.back, false)
		default:
			d.down(Feed, h.bottom, false)
			d.down(Rapid, h.back, true)
		}
	}
	if !s.RetractR && h.other < h.back-rounding && w.known&w.wknow == 7 {
		q := w.p
		q[n] = h.other
		q, _ = w.f.out(q, 7)
		w.alt = altitude{true, q[2]}
	}
}

// driller makes the moves of a cycle.
type driller struct {
	w       *walker
	n       int // the normal axis
	repeats int
}

// across goes in rapid to q, whose normal coordinate is that of the tool.
func (d *driller) across(q [3]float64) {
	w := d.w
	if q == w.p && w.known == 7 {
		return
	}
	a, b, _ := w.st.Plane.Axes()
	d.move(Rapid, q, w.known|1<<a|1<<b, false)
}

// down goes along the normal axis to v.
func (d *driller) down(kind Kind, v float64, inHole bool) {
	w := d.w
	q := w.p
	if w.known&(1<<d.n) != 0 && q[d.n] == v {
		return
	}
	q[d.n] = v
	d.move(kind, q, w.known|1<<d.n, inHole)
}

func (d *driller) move(kind Kind, q [3]float64, known uint8, inHole bool) {
	w := d.w
	m := &w.mv
	m.From, m.Known = w.w, w.wknow
	w.lower(q, known)
	w.p, w.known = q, known
	w.w, w.wknow = w.f.out(q, known)
	m.To, m.Ends = w.w, w.wknow
	m.Kind, m.Cycle, m.Peck, m.M = kind, true, inHole, false
	if m.Feed = w.st.Feed; kind == Rapid {
		m.Feed = 0
	}
	w.emit(m)
}

// pecks is the hole of G83: in by q, out to clear the chips, back to just above the bottom (3.5.16.4).
func (d *driller) pecks(r, bottom, back, q float64) {
	if (r-bottom)/q*float64(d.repeats) > maxPecks {
		d.w.say(NotProven, "cycle", "Q"+d.w.num(q), fmt.Sprintf("more than %d pecks are not followed", maxPecks))
		q = r - bottom
	}
	for at := r - q; at > bottom+rounding; at -= q {
		d.down(Feed, at, false)
		d.down(Rapid, back, true)
		d.down(Rapid, min(at+peckBack, back), true)
	}
	d.down(Feed, bottom, false)
	d.down(Rapid, back, true)
}

// backBore is the hole of G87 (3.5.16.8, from memory): in beside the hole, to its
// middle, up to k and down again, out beside it.
func (d *driller) backBore(a, b int, bottom, k, back, i, j float64) {
	w := d.w
	d.down(Rapid, bottom, false)
	q := w.p
	q[a], q[b] = q[a]-i, q[b]-j
	d.across(q)
	d.down(Feed, k, false)
	d.down(Feed, bottom, false)
	q[a], q[b] = q[a]+i, q[b]+j
	q[d.n] = w.p[d.n]
	d.across(q)
	d.down(Rapid, back, true)
	q = w.p
	q[a], q[b] = q[a]-i, q[b]-j
	d.across(q)
}
