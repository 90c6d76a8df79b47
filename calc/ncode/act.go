package ncode

import (
	"fmt"
	"math"
)

// act carries out the part of a line that uses axis words: G10, G28, G30, G52, G92,
// then the motion.
func (w *walker) act(c *command) *fault {
	s := &w.st
	motion := c.g[groupMotion]
	if (c.axis == 280 || c.axis == 300) && motion == 0 && w.opts.Lenient {
		w.say(Warn, "axis-words", gName(motion)+" "+gName(c.axis), "the standard wants them on two lines: taken as "+gName(c.axis))
		s.Motion, motion, c.g[groupMotion] = motion, -1, -1
	}
	if c.axis >= 0 && c.axis != 680 && motion >= 0 && motion != 800 {
		return refuse("3.4", "axis-words", gName(motion)+" "+gName(c.axis), "both take the axis words: put them on two lines")
	}
	if c.mask&maskRotary != 0 {
		c.used |= maskRotary
		w.say(NotProven, "rotary", "A B C", "rotary axes are not followed")
	}
	if c.m[10] == 98 {
		c.used |= maskP | maskL
	}
	if f := w.once(c); f != nil {
		return f
	}
	if c.alien && c.mask&(maskAxes|maskRotary) != 0 {
		// What it does with them is not known, and so neither is where it ends.
		w.lost(w.axes())
		return nil
	}
	if motion == 800 {
		s.Motion = 800
		if c.mask&maskAxes != 0 && c.axis < 0 {
			return refuse("3.5.15", "axis-words", "G80", "axis words with no motion: G80 has just cancelled it")
		}
		return w.unused(c)
	}
	axes := c.mask&(maskAxes|maskRotary) != 0 && c.axis < 0
	if motion < 0 {
		if !axes {
			return w.unused(c)
		}
		if motion = s.Motion; motion < 0 || motion == 800 {
			return refuse("3.5.15", "axis-words", "", "axis words with no motion word in force: write G0 or G1")
		}
	}
	if c.cancel >= 0 && motion != 0 && c.mask&maskAxes != 0 || c.cancel == 500 && c.mask&maskAxes != 0 {
		w.say(NotProven, "cancel-word", gName(c.cancel), "with axis words it may set something: on a line of its own it is read")
	}
	if f := w.moves(c, motion, axes); f != nil {
		return f
	}
	return w.unused(c)
}

// once carries out the word that counts on its line alone, and says whether G53 may stand there.
func (w *walker) once(c *command) *fault {
	switch c.g[groupOnce] {
	case 100:
		return w.setOrigin(c)
	case 280, 300:
		return w.home(c)
	case 520, 920, 921, 922, 923:
		return w.shift(c)
	case 530:
		motion := c.g[groupMotion]
		if motion < 0 {
			motion = w.st.Motion
		}
		if motion != 0 && motion != 10 {
			return refuse("3.5.12", "machine", "G53", "it goes with G0 or G1 only")
		}
		if w.st.Comp != 0 {
			return refuse("3.5.12", "machine", "G53", "not while cutter radius compensation is on")
		}
	}
	return nil
}

// moves carries out the motion of a line.
func (w *walker) moves(c *command, motion int, axes bool) (f *fault) {
	s := &w.st
	was := s.Motion
	s.Motion = motion
	if motion < 800 && motion != 382 && motion != 730 {
		s.cycleSet = 0
	}
	switch {
	case motion == 0 || motion == 10:
		f = w.straight(c, motion, axes)
	case motion == 20 || motion == 30:
		f = w.arc(c, motion == 20, axes)
	case motion == 382:
		f = w.probe(c, axes)
	default:
		if was < 800 && was != 730 || was == 800 {
			_, _, n := s.Plane.Axes()
			w.series.known, w.series.top, w.series.at = w.known&(1<<n) != 0, w.p[n], w.p[n]
		}
		f = w.cycle(c, motion, axes)
	}
	if f != nil && (motion == 20 || motion == 30) && axes && c.mask&maskRotary == 0 {
		// What comes after it is judged from its end point.
		t, known := w.target(c)
		w.jump(t, known)
		w.kept = true
	}
	return f
}

// target returns the end point that the axis words name, and which axes of it are known.
func (w *walker) target(c *command) (t [3]float64, known uint8) {
	t, known = w.p, w.known
	for i := range 3 {
		l := byte('X' + i)
		if !c.has(l) {
			continue
		}
		v := c.val(l) * w.unit
		if w.st.Incremental {
			if l == 'Z' && w.alt.on && c.val(l) != 0 {
				w.say(NotProven, "cycle-height", gName(c.motion(&w.st)), cycleHeight)
			}
			if known&(1<<i) == 0 {
				w.say(NotProven, "start", string(l), "an incremental move from a place that is not known")
				continue
			}
			t[i] += v
			if math.Abs(t[i]) > maxNumber {
				t[i] = 0
				known &^= 1 << i
			}
			continue
		}
		t[i] = v
		known |= 1 << i
	}
	return t, known
}

// feedFault checks what every cutting move needs.
func (w *walker) feedFault() *fault {
	s := &w.st
	if s.Feed <= 0 {
		return refuse("3.5.2", "feed", "F0", "no feed rate has been given: put an F word on the first line that feeds")
	}
	if s.Spindle == 0 {
		w.say(Fail, "spindle", "", "the tool feeds with the spindle stopped: M3 and S before the first cut")
	} else if s.still {
		w.say(Fail, "spindle", "S0", "the tool feeds with the spindle at speed 0: S before the first cut")
	}
	if s.Incremental && !w.know.incremental {
		w.know.incremental = true
		w.say(Warn, "incremental", "G91", "the tool feeds by increments: one that is left out moves all the rest")
	}
	return nil
}

func (w *walker) straight(c *command, motion int, axes bool) *fault {
	if !axes {
		if w.opts.Lenient {
			w.fault(&fault{Note, "axis-words", "", gName(motion), "the standard refuses it without axis words"})
			return nil
		}
		clause := "3.5.1"
		if motion == 10 {
			clause = "3.5.2"
		}
		return refuse(clause, "axis-words", gName(motion), "it needs at least one axis word")
	}
	kind := Rapid
	if motion == 10 {
		kind = Feed
		if f := w.feedFault(); f != nil {
			return f
		}
	}
	if c.g[groupOnce] == 530 {
		return w.machine(c, kind)
	}
	t, known := w.target(c)
	w.first(c)
	w.to(kind, t, known)
	return nil
}

// first looks at how the program begins to move: Z up, then X and Y.
func (w *walker) first(c *command) {
	k := &w.know
	xy, z := c.mask&(maskX|maskY) != 0, c.mask&maskZ != 0
	if xy && !k.xyMoved {
		k.xyMoved = true
		if !k.zMoved {
			words := "X Y before any Z"
			if z {
				words = "X Y and Z in one move"
			}
			w.say(Warn, "first-move", words, "nothing says that the tool stands clear: move Z up first, alone")
		}
	}
	k.zMoved = k.zMoved || z
}

// to moves straight to t, in program coordinates.
func (w *walker) to(kind Kind, t [3]float64, known uint8) {
	m := &w.mv
	m.From, m.Known = w.w, w.wknow
	w.lower(t, known)
	w.jump(t, known)
	m.To, m.Ends = w.w, w.wknow
	m.Kind, m.Cycle, m.Peck, m.M = kind, false, false, false
	if m.Feed = w.st.Feed; kind == Rapid {
		m.Feed = 0
	}
	w.emit(m)
}

// jump counts a place as where the tip is.
func (w *walker) jump(t [3]float64, known uint8) {
	w.p, w.known = t, known
	w.w, w.wknow = w.f.out(t, known)
}

// lower notes that Z leaves the upper end of the travel, if it does.
func (w *walker) lower(t [3]float64, known uint8) {
	if w.high && known&4 != 0 && (w.known&4 == 0 || t[2] != w.p[2]) {
		w.high = false
	}
}

// arc carries out G2 and G3.
func (w *walker) arc(c *command, cw, axes bool) *fault {
	a, b, _ := w.st.Plane.Axes()
	ia, ib := byte('I'+a), byte('I'+b)
	byR := c.has('R')
	if byC := c.mask&(bit(ia)|bit(ib)) != 0; !axes && !byR && !byC && w.opts.Lenient {
		w.fault(&fault{Note, "axis-words", "", gName(w.st.Motion), "the standard refuses it without axis words"})
		return nil
	}
	if f := w.arcForm(c); f != nil {
		return f
	}
	if f := w.feedFault(); f != nil {
		return f
	}
	if c.mask&(bit(byte('X'+a))|bit(byte('X'+b))) == 0 {
		w.fault(&fault{Note, "axis-words", "", gName(w.st.Motion), "the standard refuses a full circle without its end point"})
	}
	t, known := w.target(c)
	w.first(c)
	plane := uint8(1<<a | 1<<b)
	if w.known&plane != plane || known&plane != plane {
		w.say(NotProven, "start", gName(w.st.Motion), "an arc from a place that is not known")
		c.used |= bit(ia) | bit(ib)
		w.jump(t, known)
		return nil
	}
	var ca, cb, sweep, radius float64
	var f *fault
	if inch := w.st.Units == Inch; byR {
		radius = c.val('R') * w.unit
		ca, cb, sweep, f = arcByRadius(w.p[a], w.p[b], t[a], t[b], radius, cw, inch, w.opts.Say)
		radius = math.Hypot(w.p[a]-ca, w.p[b]-cb)
	} else {
		ca, cb = w.centre(c, a, b)
		sweep, radius, f = arcByCentre(w.p[a], w.p[b], t[a], t[b], ca, cb, cw, inch, w.opts.Say)
	}
	if f != nil {
		return f
	}
	if w.f.rotated && w.st.Plane != XY {
		w.say(NotProven, "rotation", gName(w.st.Motion), "an arc outside G17 while G68 is on")
		w.jump(t, known)
		return nil
	}
	centre := w.p
	centre[a], centre[b] = ca, cb
	m := &w.mv
	m.From, m.Known = w.w, w.wknow
	m.Centre, _ = w.f.out(centre, 7)
	w.lower(t, known)
	w.jump(t, known)
	m.To, m.Ends = w.w, w.wknow
	m.Kind, m.Cycle, m.Peck, m.M = ArcCCW, false, false, false
	if cw {
		m.Kind = ArcCW
	}
	m.Plane, m.Sweep, m.Radius, m.Feed = w.st.Plane, sweep, radius, w.st.Feed
	w.emit(m)
	return nil
}

// centre is the centre that I J K name, of which those of the plane stand for the axes a and b.
func (w *walker) centre(c *command, a, b int) (ca, cb float64) {
	if !w.st.places {
		ca, cb = w.p[a], w.p[b]
	}
	if l := byte('I' + a); c.has(l) {
		ca += c.val(l) * w.unit
	}
	if l := byte('I' + b); c.has(l) {
		cb += c.val(l) * w.unit
	}
	return ca, cb
}

// arcForm checks that the words of an arc go together.
func (w *walker) arcForm(c *command) *fault {
	a, b, n := w.st.Plane.Axes()
	ia, ib, in := byte('I'+a), byte('I'+b), byte('I'+n)
	byR, byC := c.has('R'), c.mask&(bit(ia)|bit(ib)) != 0
	inPlane := c.mask&(bit(byte('X'+a))|bit(byte('X'+b))) != 0
	switch {
	case !byR && !byC:
		return refuse("3.5.3", "arc-form", gName(w.st.Motion), "an arc has R, or the I J K of its plane")
	case byR && c.mask&(maskI|maskJ|maskK) != 0:
		return refuse("3.5.3", "arc-form", "R with I J K", "an arc has either R or I J K")
	case c.mask&bit(in) != 0:
		return refuse("3.5.3.2", "arc-form", fmt.Sprintf("%c in %v", in, w.st.Plane), "the centre lies in the selected plane")
	case byC && w.st.places && (!c.has(ia) || !c.has(ib)):
		return refuse("3.5.3.2", "arc-form", gName(w.st.Motion), fmt.Sprintf("after G90.1 the centre is a place: write %c and %c", ia, ib))
	case !inPlane && !(byC && w.opts.Lenient):
		return refuse("3.5.3", "axis-words", gName(w.st.Motion),
			"write the end point, at least one axis of the plane, even where it is the start")
	}
	return nil
}

// probe carries out G38.2.
func (w *walker) probe(c *command, axes bool) *fault {
	if !axes || c.mask&maskAxes == 0 {
		return refuse("3.5.9", "probe", "G38.2", "it needs at least one of X Y Z")
	}
	if c.mask&maskRotary != 0 {
		return refuse("3.5.9", "probe", "G38.2", "no rotary axis may move")
	}
	if w.st.InverseTime {
		return refuse("3.5.9", "probe", "G38.2", "not in inverse time")
	}
	if w.st.Feed <= 0 {
		return refuse("3.5.9", "feed", "G38.2", "no feed rate has been given")
	}
	t, known := w.target(c)
	if w.known == 7 && known == 7 {
		d := math.Sqrt(float64((t[0]-w.p[0])*(t[0]-w.p[0])) + float64((t[1]-w.p[1])*(t[1]-w.p[1])) + float64((t[2]-w.p[2])*(t[2]-w.p[2])))
		least := 0.254
		if d < least-rounding {
			return refuse("3.5.9", "probe", w.num(d), "the target is nearer than 0.254 mm (0.01 in)")
		}
	}
	moved := w.axes()
	w.first(c)
	w.to(Probe, t, known)
	w.say(NotProven, "probe", "G38.2", "where it trips is not known before")
	w.lost(moved)
	return nil
}
