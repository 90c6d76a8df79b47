package ncode

import (
	"fmt"
)

// machine carries out a G53 move.
func (w *walker) machine(c *command, kind Kind) *fault {
	var t [3]float64
	axes := w.axes()
	for i := range 3 {
		if c.has(byte('X' + i)) {
			t[i] = c.val(byte('X'+i)) * w.unit
		}
	}
	w.first(c)
	w.toMachine(kind, t, axes)
	return nil
}

// toMachine moves the named axes to t in M. Without a measured offset W is then not known.
func (w *walker) toMachine(kind Kind, t [3]float64, axes uint8) {
	for i := range 3 {
		if axes&(1<<i) != 0 {
			w.know.machineBox.add(i, t[i], w.line)
		}
	}
	high := w.high
	if axes&4 != 0 {
		high = w.topmost(t[2])
		w.high = w.high && high
	}
	w.placed(kind, t, axes, high)
	w.high = high
}

// topmost reports whether a machine Z is the upper end of the travel; 0 where that is not known.
func (w *walker) topmost(z float64) bool {
	if w.ex.Travel != nil {
		return z >= w.ex.Travel.Max[2]-1
	}
	return z >= -1
}

func (w *walker) placed(kind Kind, t [3]float64, axes uint8, high bool) {
	pl := w.ex.Placed
	length, has := w.applied()
	if pl == nil || w.away() {
		w.unplaced(kind, axes)
		return
	}
	m := pl.toMachine(w.w, length)
	known := w.wknow
	if pl.Rotation != 0 && known&3 != 3 {
		known &^= 3
	}
	if !has {
		known &^= 4
		axes &^= 4
		if !high {
			w.say(NotProven, "machine", "G53", "the length of the tool is not known, so neither is the height of its tip")
		}
	}
	for i := range 3 {
		if axes&(1<<i) != 0 {
			m[i] = t[i]
			known |= 1 << i
		}
	}
	if pl.Rotation != 0 && known&3 != 3 {
		known &^= 3
	}
	mv := &w.mv
	mv.From, mv.Known = w.w, w.wknow
	w.w, w.wknow = clear3(pl.fromMachine(m, length), known), known
	w.p, w.known = w.f.in(w.w, w.wknow)
	mv.To, mv.Ends = w.w, w.wknow
	mv.Kind, mv.Cycle, mv.Peck, mv.M, mv.Feed = kind, false, false, true, 0
	if kind != Rapid {
		mv.Feed = w.st.Feed
	}
	w.emit(mv)
}

// unplaced notes a move in machine coordinates whose place in W is not known.
func (w *walker) unplaced(kind Kind, axes uint8) {
	w.lost(axes)
	if kind != Rapid {
		w.say(NotProven, "machine", "G53 G1", "a cutting move in machine coordinates, without the measured offset")
	}
}

// home carries out G28 and G30.
func (w *walker) home(c *command) *fault {
	g := gName(c.g[groupOnce])
	axes := w.axes()
	if w.st.Comp != 0 {
		return refuse("3.5.8", "home", g, "not while cutter radius compensation is on")
	}
	switch {
	case axes == 0:
		axes = 7
		w.know.zMoved, w.know.xyMoved = true, true
	case w.st.Incremental && w.still(c): // no place on the way
		w.first(c)
	default:
		t, known := w.target(c)
		if known&axes == axes {
			w.through(g, t, axes)
			w.first(c)
			if t != w.p || known != w.known {
				w.to(Rapid, t, known)
			}
		}
	}
	if axes != 7 {
		// The standard sends every axis home, the controls only those that are named.
		w.dialect(g + " with some axes")
	}
	before := w.w[2]
	wasKnown := w.wknow&4 != 0 && !w.high
	h, tr := w.ex.Home, w.ex.Travel
	switch {
	case h != nil:
		w.toMachine(Rapid, *h, axes)
	case tr != nil && axes&4 != 0:
		w.toMachine(Rapid, tr.Max, 4)
		w.lost(axes & 3)
	default:
		w.lost(axes)
	}
	if h == nil && axes&3 != 0 && wasKnown && w.ex.Part != nil && !w.away() && before < w.ex.Part.Max[2]+w.ex.Stock {
		w.say(NotProven, "home-low", g, fmt.Sprintf("home in X and Y at Z%s, lower than the top of the part, and where home lies is not known: "+
			"rise first", w.num(before)))
	}
	if axes&4 != 0 {
		w.high = h == nil || tr == nil || h[2] >= tr.Max[2]-1
	}
	return nil
}

// still reports whether all axis words of the line are 0, and marks them used.
func (w *walker) still(c *command) bool {
	for i := range 3 {
		if l := byte('X' + i); c.has(l) && c.val(l) != 0 {
			return false
		}
	}
	return true
}

// through judges the intermediate point of G28 and G30.
func (w *walker) through(g string, t [3]float64, axes uint8) {
	if w.st.Incremental || t == w.p && w.known == 7 {
		return
	}
	words := g
	for i := range 3 {
		if axes&(1<<i) != 0 {
			words += fmt.Sprintf(" %c%s", 'X'+i, w.num(t[i]))
		}
	}
	hint := "in G90 it goes through that place first: write G91 " + g + " Z0, then G90"
	if axes&4 == 0 {
		w.say(Warn, "home-through", words, hint)
		return
	}
	w.say(Fail, "home-through", words, hint)
}

// setOrigin carries out G10 L2.
func (w *walker) setOrigin(c *command) *fault {
	if !c.has('L') {
		return refuse("3.5.5", "origin", "G10", "it needs L2")
	}
	l, ok := whole(c.val('L'), 0.0001)
	if !ok || l != 2 {
		if ok && (l == 20 || l == 1 || l >= 10 && l <= 13) {
			w.dialect(fmt.Sprintf("G10 L%d", l))
			c.used |= maskAxes | maskP | maskR
			w.say(Fail, "zero-shift", fmt.Sprintf("G10 L%d", l), "the program changes what the setup was measured with: take it out")
			w.say(NotProven, "offset-data", fmt.Sprintf("G10 L%d", l), "what follows is not held against the measured offset")
			w.lost(7)
			return nil
		}
		return refuse("3.5.5", "origin", fmt.Sprintf("G10 L%v", c.val('L')), "L is 2 here")
	}
	n, ok := whole(c.val('P'), 0.0001)
	if !c.has('P') || !ok || n < 1 || n > 9 {
		return refuse("3.5.5", "origin", fmt.Sprintf("G10 L2 P%v", c.val('P')), "P is the number of the work offset, 1 to 9")
	}
	w.say(Fail, "zero-shift", fmt.Sprintf("G10 L2 P%d", n), "the program moves a work offset: take it out and type the offset in")
	for i := range 3 {
		c.has(byte('X' + i))
		if c.mask&bit(byte('X'+i)) != 0 && n <= 9 {
			k := 5201 + 20*n + i
			w.parse.params.v[k], w.parse.params.set[k] = c.val(byte('X'+i)), true
		}
	}
	if n == w.st.System || n == w.base || w.st.System == 0 {
		w.say(NotProven, "offset-data", fmt.Sprintf("G10 L2 P%d", n), "what follows is not held against the measured offset")
		if n == w.st.System || w.st.System == 0 {
			w.lost(w.axes())
		}
	}
	return nil
}

// shift carries out G52 and the G92 family.
func (w *walker) shift(c *command) *fault {
	g := c.g[groupOnce]
	f := &w.f
	switch g {
	case 520:
		w.dialect("G52")
		zero := true
		for i := range 3 {
			if c.has(byte('X' + i)) {
				f.g52[i] = c.val(byte('X'+i)) * w.unit
				zero = zero && f.g52[i] == 0
			}
		}
		if !zero {
			w.say(Warn, "zero-shift", "G52", "a local shift: clear it before a start in the middle")
		}
	case 920:
		if bad, more := w.origin(c); bad != nil || !more {
			return bad
		}
	case 921:
		f.g92, f.saved, f.unknown = [3]float64{}, [3]float64{}, 0
	case 922:
		f.saved, f.g92, f.unknown = f.g92, [3]float64{}, 0
	case 923:
		f.g92 = f.saved
		if f.g92 != ([3]float64{}) {
			w.say(Fail, "zero-shift", "G92.3", "the program moves the zero of every work offset: take it out")
		} else if !w.know.g92Seen {
			w.say(NotProven, "shift", "G92.3", "it restores a shift that is in the control")
			f.unknown = 7
		}
	}
	if g != 520 {
		w.know.g92Seen = true
	}
	f.update()
	w.p, w.known = f.in(w.w, w.wknow)
	return nil
}

// origin carries out G92: the place where the tool stands gets those coordinates. more is false
// where nothing follows from it.
func (w *walker) origin(c *command) (bad *fault, more bool) {
	f, axes := &w.f, w.axes()
	if w.st.Comp != 0 {
		return refuse("3.5.18", "shift", "G92", "not while cutter radius compensation is on"), false
	}
	if axes == 0 {
		return refuse("3.5.18", "shift", "G92", "it needs at least one axis word"), false
	}
	w.say(Fail, "zero-shift", "G92", "the program moves the zero of every work offset: take it out")
	if f.rotated && axes&3 != 0 {
		w.say(NotProven, "shift", "G92", "not followed while G68 is on")
		w.lost(7)
		c.used |= maskAxes
		return nil, false
	}
	for i := range 3 {
		if !c.has(byte('X' + i)) {
			continue
		}
		v := c.val(byte('X'+i)) * w.unit
		if w.known&(1<<i) == 0 || f.unknown&(1<<i) != 0 {
			w.say(NotProven, "shift", fmt.Sprintf("G92 %c", 'X'+i), "the tool's place is not known, so neither is the new zero")
			f.unknown |= 1 << i
			w.known |= 1 << i
			w.p[i] = v
			continue
		}
		f.g92[i] += w.p[i] - v
		w.p[i] = v
	}
	if f.unknown != 0 {
		f.update()
		w.wknow &^= f.unknown
		w.w = clear3(w.w, w.wknow)
		return nil, false
	}
	return nil, true
}
