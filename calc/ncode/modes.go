package ncode

import (
	"fmt"
	"math"
)

// modes carries out everything of a line before its motion, in the order of Table 8.
func (w *walker) modes(c *command) *fault {
	if f := w.rates(c); f != nil {
		return f
	}
	if c.m[6] >= 0 {
		w.changeTool()
	}
	w.spindle(c)
	if c.cool > 0 {
		w.st.Coolant |= uint8(c.cool)
	} else if c.cool == 0 {
		w.st.Coolant = 0
	}
	if g := c.g[groupPath]; g >= 0 {
		w.st.Path = g
	}
	if c.g[groupOnce] == 40 {
		if !c.has('P') || c.val('P') < 0 {
			return refuse("3.5.4", "dwell", "G4", "a dwell has a P word that is not negative")
		}
	}
	for _, do := range [...]func(*walker, *command) *fault{(*walker).plane, (*walker).compensation, (*walker).length, (*walker).system} {
		if f := do(w, c); f != nil {
			return f
		}
	}
	s := &w.st
	switch c.g[groupArcMode] {
	case 911:
		w.dialect("G91.1")
		s.places = false
	case 901:
		w.dialect("G90.1")
		s.places = true
	}
	if g := c.g[groupDistance]; g >= 0 {
		s.Incremental, s.ModeSet = g == 910, true
	}
	if g := c.g[groupReturn]; g >= 0 {
		s.RetractR = g == 990
	}
	return w.rotation(c)
}

// rates carries out F, S and T.
func (w *walker) rates(c *command) *fault {
	s := &w.st
	if g := c.g[groupFeedMode]; g >= 0 {
		if s.InverseTime != (g == 930) {
			s.Feed = 0
		}
		s.InverseTime = g == 930
	}
	if c.has('F') {
		v := c.val('F')
		if v < 0 {
			return refuse("3.7.1", "feed", fmt.Sprintf("F%v", v), "a feed is not negative")
		}
		if !s.InverseTime {
			// Units are changed later on the line (Table 8); at the start of a program those of the line itself count.
			v *= w.unitFor(c)
		}
		s.Feed = v
	} else if s.InverseTime && c.motion(s) > 0 && c.motion(s) != 800 && c.mask&maskAxes != 0 && c.axis < 0 {
		return refuse("3.5.19", "feed", "G93", "in inverse time every line that feeds has its own F")
	}
	if c.has('S') {
		if s.Speed = c.val('S'); s.Speed < 0 {
			return refuse("3.7.2", "spindle", fmt.Sprintf("S%v", s.Speed), "a speed is not negative")
		}
		s.still = s.Speed == 0
	}
	if c.has('T') {
		n, ok := whole(c.val('T'), 0.0001)
		if !ok || n < 0 {
			return refuse("3.7.3", "tool", fmt.Sprintf("T%v", c.val('T')), "a tool number is whole and not negative")
		}
		s.Next = n
	}
	return nil
}

// spindle carries out M3 to M5.
func (w *walker) spindle(c *command) {
	s := &w.st
	switch c.m[7] {
	case 3, 4:
		s.Spindle = c.m[7]
		if s.Speed == 0 && !s.still {
			w.say(Warn, "spindle-speed", fmt.Sprintf("M%d", s.Spindle), "no S word before it: the speed is whatever the control was left with")
		}
		if s.Spindle == 4 {
			w.say(Warn, "spindle-direction", "M4", "the spindle turns the other way: is that a left-hand tool?")
		}
		w.use.Spindle = s.Spindle
	case 5:
		s.Spindle = 0
	}
}

// plane carries out G17 to G19, G20 and G21.
func (w *walker) plane(c *command) *fault {
	s := &w.st
	if g := c.g[groupPlane]; g >= 0 {
		plane := Plane(g/10 - 17)
		if s.Comp != 0 && plane != s.Plane {
			return refuse("3.5.6", "plane", gName(g), "the plane can't change while cutter radius compensation is on")
		}
		s.Plane, s.PlaneSet = plane, true
		if plane != XY && w.list.seen[kind{"plane", Warn}] == 0 {
			w.say(Warn, "plane", gName(g), "arcs and cycles lie in another plane than G17: intended?")
		}
	}
	if g := c.g[groupUnits]; g >= 0 {
		if s.Comp != 0 {
			return refuse("3.5.7", "units", gName(g), "units can't change while cutter radius compensation is on")
		}
		w.setUnits(g)
	}
	return nil
}

// motion returns the motion word in force on the line, -1 for none.
func (c *command) motion(s *State) int {
	if c.g[groupMotion] >= 0 {
		return c.g[groupMotion]
	}
	return s.Motion
}

func (w *walker) unitFor(c *command) float64 {
	if w.st.Units == AnyUnits {
		switch c.g[groupUnits] {
		case 200:
			return 25.4
		case 210:
			return 1
		}
	}
	return w.unit
}

func (w *walker) setUnits(g int) {
	u := MM
	w.unit = 1
	if g == 200 {
		u, w.unit = Inch, 25.4
	}
	s := &w.st
	if s.Units != AnyUnits && s.Units != u {
		w.say(Warn, "units-change", gName(g), "the program changes its units on the way")
	}
	if s.Units == AnyUnits && w.know.begun {
		w.say(Fail, "units-late", gName(g), "the units word comes after the first motion: put it on the first line")
	}
	if w.ex.Units != AnyUnits && w.ex.Units != u {
		w.say(Fail, "units", gName(g), fmt.Sprintf("the job is written in %v: post the program again, in its units", w.ex.Units))
	}
	s.Units = u
	if w.sum.Units == AnyUnits {
		w.sum.Units = u
	}
}

// changeTool carries out M6.
func (w *walker) changeTool() {
	s := &w.st
	if s.Next < 0 {
		w.say(Warn, "tool", "M6", "no T word before it: the tool is whatever the control was left with")
	}
	s.Tool = s.Next
	// The spindle is stopped by a tool change (3.6.3).
	s.Spindle = 0
	if s.Next > 0 && w.ex.Tools != nil { // T0 empties the spindle

		if _, ok := w.ex.Tools[s.Next]; !ok {
			w.say(Fail, "tool-list", fmt.Sprintf("T%d", s.Next), "this tool is not in the job's list")
		}
	}
	w.setUse()
}

// compensation carries out G40 to G42.
func (w *walker) compensation(c *command) *fault {
	s := &w.st
	switch g := c.g[groupComp]; g {
	case 400:
		s.Comp, s.CompD = 0, -1
	case 410, 420:
		if s.Plane != XY {
			return refuse("3.5.10", "compensation", gName(g), "cutter radius compensation works in G17 only")
		}
		if s.Comp != 0 {
			return refuse("3.5.10", "compensation", gName(g), "it is on already: G40 first")
		}
		s.CompD = s.Tool
		words := gName(g)
		if c.has('D') {
			n, ok := whole(c.val('D'), 0.0001)
			if !ok || n < 0 {
				return refuse("3.5.10", "compensation", fmt.Sprintf("D%v", c.val('D')), "a register is a whole number, not negative")
			}
			s.CompD = n
			words += fmt.Sprintf(" D%d", n)
		}
		s.Comp = 1
		if g == 410 {
			s.Comp = -1
		}
		w.say(NotProven, "compensation", words, "the path is known as programmed only: the radius in that register moves it sideways")
	}
	return nil
}

// length carries out G43 and G49.
func (w *walker) length(c *command) *fault {
	s := &w.st
	before, hadBefore := w.applied()
	switch c.g[groupLength] {
	case 430:
		if !c.has('H') {
			return refuse("3.5.11", "length", "G43", "it needs an H word")
		}
		n, ok := whole(c.val('H'), 0.0001)
		if !ok || n < 0 {
			return refuse("3.5.11", "length", fmt.Sprintf("H%v", c.val('H')), "a register is a whole number, not negative")
		}
		if s.Length && s.H == n {
			return nil // said again: nothing changes
		}
		s.Length, s.H = n != 0, n
		w.use.H = n
		if n != 0 && w.ex.Lengths == LengthsTouched && w.ex.Tools != nil {
			w.say(NotProven, "lengths", fmt.Sprintf("G43 H%d", n),
				"each tool is touched off on this machine: it adds whatever stands in the control's table; take it out")
		}
		if s.Tool >= 0 && n != s.Tool && n != 0 {
			w.say(Fail, "length-register", fmt.Sprintf("H%d with T%d in the spindle", n, s.Tool),
				"the length of another tool: the tip will not be where the program thinks")
		}
	case 490:
		s.Length, s.H = false, -1
	default:
		return nil
	}
	after, has := w.applied()
	switch {
	case has && hadBefore && before == after:
	case has && hadBefore && w.wknow&4 != 0:
		// The axis stands still; the tip that it is counted for changes.
		w.w[2] += before - after
		w.p, w.known = w.f.in(w.w, w.wknow)
	default:
		w.lost(4)
	}
	w.setUse()
	return nil
}

// applied returns the tool length that the control has in force, and whether it is known.
func (w *walker) applied() (float64, bool) {
	if !w.st.Length || w.ex.Lengths == LengthsTouched {
		return 0, true
	}
	t, ok := w.ex.Tools[w.st.H]
	return t.Length, ok && t.Length != 0
}

// system carries out G54 to G59.3 and G54.1.
func (w *walker) system(c *command) *fault {
	g := c.g[groupSystem]
	if g < 0 {
		return nil
	}
	s := &w.st
	if s.Comp != 0 {
		return refuse("3.5.13", "offset", gName(g), "the work offset can't change while cutter radius compensation is on")
	}
	var n int
	switch {
	case g == 541:
		w.dialect("G54.1")
		k, ok := whole(c.val('P'), 0.0001)
		if !c.has('P') || !ok || k < 1 || k > 999 {
			w.say(NotProven, "offset", "G54.1", "it needs a P word, 1 to 999: which offset it selects is not known")
			w.lost(7)
			return nil
		}
		n = 100 + k
	case g > 590:
		n = 6 + g - 590
	default:
		n = g/10 - 53
	}
	old := s.System
	s.System = n
	if w.base <= 0 {
		w.base = n
	}
	if old != n && w.sum.Moves > 0 {
		// Where the tool stands in the other system depends on two origins.
		w.lost(7)
	}
	if _, ok := w.know.offsets[n]; !ok {
		w.know.offsets[n] = w.line
		w.sum.Systems = append(w.sum.Systems, SystemUse{System: n, Line: w.line})
		if w.ex.System != 0 && n != w.ex.System {
			w.say(Fail, "offset", SystemName(n), fmt.Sprintf("the offset that was measured is %s: post the program for it", SystemName(w.ex.System)))
		} else if len(w.know.offsets) > 1 {
			w.say(NotProven, "offsets", SystemName(n), fmt.Sprintf("more than one work offset: only moves in %s are held against the setup",
				SystemName(w.base)))
		}
	}
	w.setUse()
	return nil
}

// leastFigure is the least turn, in degrees, that is taken for one of a figure: the skew of a
// part that was set up is smaller (common practice).
const leastFigure = 2

// rotation carries out G68 and G69, of the dialect.
func (w *walker) rotation(c *command) *fault {
	s := &w.st
	switch c.g[groupRotation] {
	case 690:
		w.dialect("G69")
		s.Rotation = false
		if w.f.rotated {
			w.f.rotated = false
			w.f.update()
			w.p, w.known = w.f.in(w.w, w.wknow)
		}
	case 680:
		w.dialect("G68")
		if s.Plane != XY || !c.has('R') {
			w.say(NotProven, "rotation", "G68", "followed only in G17 and with an R word")
			w.lost(7)
			c.used |= maskAxes | maskR
			return nil
		}
		ca, cb := w.p[0], w.p[1]
		at := w.known & 3
		if c.has('X') {
			ca, at = c.val('X')*w.unit, at|1
		}
		if c.has('Y') {
			cb, at = c.val('Y')*w.unit, at|2
		}
		c.has('Z')
		c.axis = 680
		deg := c.val('R')
		s.Rotation = true
		rad := deg * (math.Pi / 180)
		words := fmt.Sprintf("G68 X%s Y%s R%v", w.num(ca), w.num(cb), deg)
		pl := w.ex.Placed
		if pl != nil && pl.InProgram {
			if math.Abs(rad-pl.Rotation) > 2e-6 || math.Hypot(ca, cb) > 0.001 || at != 3 {
				w.say(Fail, "rotation", words, fmt.Sprintf("the setup was measured as R%.4f about X0 Y0", pl.Rotation*(180/math.Pi)))
			}
			// The measured turn is in the Placement: W stays the part's own frame.
			return nil
		}
		if turn := math.Remainder(deg, 360); math.Abs(turn) < leastFigure {
			w.say(Fail, "rotation", words, "a rotation that the setup does not ask for: take it out")
		} else {
			w.say(Warn, "rotation", words, "a turned figure: G69 before a start in the middle")
		}
		if at != 3 {
			w.say(NotProven, "rotation", "G68", "about a place that is not known")
			w.lost(3)
			return nil
		}
		w.f.rotate(rad, ca, cb)
		w.p, w.known = w.f.in(w.w, w.wknow)
	}
	return nil
}
