package ncode

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"
)

// walker carries a program out, line by line.
type walker struct {
	ctx  context.Context
	opts Options
	ex   *Expect
	r    io.Reader
	sink Sink

	st    State
	p     [3]float64 // where the tip is, program coordinates in mm; 0 where not known
	known uint8
	w     [3]float64 // the same in W
	wknow uint8
	f     frame
	unit  float64 // mm per program unit
	base  int     // the work offset that W is of; 0 while none was selected, which is then taken for it

	quick bool // plain G0 and G1 lines may take the short way: see quickLine
	mv    Move
	cmd   command
	parse parser
	line  int
	depth int // of subprogram calls
	calls int
	subs  map[int]subprogram
	index bool // subs is complete

	sum    Summary
	list   list
	use    *use
	uses   []*use
	box    *Box // the last move went to it
	turn   *Box // the same of the turned ones
	know   facts
	relief *relief
}

// facts are what the findings at the end need to know, and what has been said already.
type facts struct {
	zMoved, xyMoved, percent, g92Seen, incremental bool
	turnSin, turnCos                               float64
	machineBox                                     Box // M, of G53 moves alone
	offsets                                        map[int]int
	lengthOf                                       map[int]int // tool: H
}

func newWalker(ctx context.Context, r io.Reader, opts Options, sink Sink) *walker {
	w := &walker{ctx: ctx, opts: opts, r: r, sink: sink}
	w.ex = &w.opts.Expect
	w.parse.params = &params{}
	w.st.Motion, w.st.Tool, w.st.Next, w.st.CompD, w.st.H = -1, -1, -1, -1, -1
	w.base = w.ex.System
	w.unit = 1
	if w.ex.Units == Inch {
		w.unit = 25.4
	}
	if w.opts.MaxCalls == 0 {
		w.opts.MaxCalls = 10000
	}
	if w.opts.MaxLines == 0 {
		w.opts.MaxLines = 5e6
	}
	w.know.offsets, w.know.lengthOf = map[int]int{}, map[int]int{}
	w.f.update()
	w.relief = newRelief(w.ex)
	w.setUse()
	return w
}

// say adds a finding at the current line.
func (w *walker) say(sev Severity, id, words, hint string) {
	w.list.add(Finding{Line: w.line, Severity: sev, ID: id, Words: words, Hint: hint})
}

func (w *walker) fault(f *fault) {
	w.list.add(Finding{Line: w.line, Severity: f.sev, ID: f.id, Clause: f.clause, Words: f.words, Hint: f.hint})
}

// dialect notes a word beyond the standard, once.
func (w *walker) dialect(name string) {
	for _, d := range w.sum.Dialect {
		if d == name {
			return
		}
	}
	if len(w.sum.Dialect) < 64 {
		w.sum.Dialect = append(w.sum.Dialect, name)
	}
}

// outcome is how a run of lines ended.
type outcome int

const (
	ranOut   outcome = iota // no more lines
	ended                   // M2, M30 or the second percent sign
	returned                // M99
	halted                  // it is not followed further; the reason is a finding
)

// run carries out the lines of src, which is the subprogram sub or, where that is nil, the program.
func (w *walker) run(src source, sub *subprogram) (outcome, error) {
	first := true
	w.setQuick()
	for {
		b := src.next()
		if b == nil {
			return ranOut, nil
		}
		if canceled(w.ctx) {
			return ranOut, w.ctx.Err()
		}
		for i := range b.lines {
			ln := &b.lines[i]
			w.line++
			if sub == nil {
				w.sum.Lines++
			} else if w.sum.Called++; w.sum.Called > w.opts.MaxLines {
				w.say(NotProven, "subprogram", "", fmt.Sprintf("more than %d lines in subprograms: not followed further", w.opts.MaxLines))
				return halted, nil
			}
			if w.quick && ln.flags == 0 && ln.mask&^quickMask == 0 {
				if ln.n == 0 || w.quickLine(b.words[ln.first:ln.first+uint32(ln.n)], ln.mask) {
					first = false
					continue
				}
			}
			text := b.text[ln.at : ln.at+uint32(ln.size)]
			o, err := w.general(b, ln, text, first, sub)
			if err != nil || o != ranOut {
				if sub == nil {
					w.sum.Bytes = b.end
				}
				return o, err
			}
			if ln.n != 0 || ln.flags != 0 {
				first = false
			}
			w.setQuick()
		}
		if sub == nil {
			w.sum.Bytes = b.end
			if w.opts.Progress != nil {
				w.opts.Progress(b.end, w.sum.Lines)
			}
		}
		if b.err != nil {
			return ranOut, fmt.Errorf("read program after line %d: %w", w.line, b.err)
		}
	}
}

// quickMask are the letters of a plain line.
const quickMask = maskX | maskY | maskZ | maskF | maskG

// setQuick decides whether nothing but position and feed can change on a plain line.
func (w *walker) setQuick() {
	s := &w.st
	w.quick = (s.Motion == 0 || s.Motion == 10) && !s.Incremental && !s.InverseTime && s.Units != AnyUnits &&
		s.Feed > 0 && s.Spindle != 0 && w.known == 7 && w.wknow == 7 && w.f.same && !w.away() &&
		s.Comp == 0 && w.know.zMoved && w.know.xyMoved
}

// quickLine carries out a plain G0 or G1 line: most of any long program. It returns
// false, with nothing done, where the line needs the general way.
func (w *walker) quickLine(ws []word, mask uint32) bool {
	t, u := w.p, w.unit
	feed, motion, gs := w.st.Feed, w.st.Motion, 0
	for _, wd := range ws {
		switch wd.l {
		case 'X':
			t[0] = wd.v * u
		case 'Y':
			t[1] = wd.v * u
		case 'Z':
			t[2] = wd.v * u
		case 'F':
			feed = wd.v * u
		case 'G':
			gs++
			switch wd.v {
			case 0:
				motion = 0
			case 1:
				motion = 10
			default:
				return false
			}
		}
	}
	if gs > 1 || feed <= 0 || mask&maskAxes == 0 {
		return false
	}
	for m := mask; m != 0; m &= m - 1 {
		w.sum.Words[lowBit(m)]++
	}
	w.st.Feed, w.st.Motion = feed, motion
	m := &w.mv
	m.Kind, m.Known, m.Ends, m.Cycle, m.Peck, m.M = Feed, 7, 7, false, false, false
	m.Feed = feed
	if motion == 0 {
		m.Kind, m.Feed = Rapid, 0
	}
	m.From, m.To = w.w, t
	w.p, w.w = t, t
	w.emit(m)
	return true
}

// general carries out any line.
func (w *walker) general(b *block, ln *line, text []byte, first bool, sub *subprogram) (outcome, error) {
	if ln.flags&long != 0 {
		w.fault(refuse("3.3", "line-length", clip(text[:min(len(text), 20)]), fmt.Sprintf("a line has at most %d characters; it was not read", maxLine)))
		w.lost(7)
		return ranOut, nil
	}
	if ln.flags&semi != 0 {
		w.dialect("; comment")
	}
	ws := b.words[ln.first : ln.first+uint32(ln.n)]
	if ln.flags&odd != 0 {
		f := w.parse.parse(text)
		p := &w.parse
		if p.msg != "" && len(w.sum.Messages) < 16 {
			w.sum.Messages = append(w.sum.Messages, p.msg)
		}
		if p.dialect {
			w.dialect("; comment")
		}
		if p.deleted && w.opts.BlockDelete {
			return ranOut, nil
		}
		for _, n := range p.unread {
			w.say(NotProven, "parameter", fmt.Sprintf("#%d", n), "it is read before the program sets it: its value is in the control")
		}
		if f != nil {
			w.fault(f)
			w.lost(7)
			return ranOut, nil
		}
		switch {
		case p.percent:
			if sub != nil {
				w.say(NotProven, "subprogram", "%", "the file ends within a subprogram")
				return halted, nil
			}
			if w.know.percent {
				w.sum.Ended = "%"
				return ended, nil
			}
			if !first {
				// A percent sign that is not on the first line closes what was not opened.
				w.sum.Ended = "%"
				return ended, nil
			}
			w.know.percent = true
			return ranOut, nil
		case p.control != "":
			w.dialect(p.control)
			w.say(NotProven, "control-flow", p.control, "conditions, loops and jumps are not followed: post the program without them")
			w.lost(7)
			return ranOut, nil
		case p.program:
			w.dialect("O")
			if sub != nil && w.line > sub.line+1 {
				w.say(NotProven, "subprogram", clip(text), "the next one begins before M99")
				return halted, nil
			}
			if w.sum.Moves > 0 && sub == nil {
				w.say(NotProven, "program-number", clip(text), "a second program begins before the first has ended")
			}
		}
		ws = p.words
	}
	w.words(ws)
	if ln.flags&odd != 0 {
		// Settings count after the line (3.3.3), but before what it calls.
		for _, s := range w.parse.sets {
			w.set(s)
		}
	}
	if len(ws) == 0 {
		return ranOut, nil
	}
	return w.stop(&w.cmd, sub)
}

// words carries out the words of a line but for those that stop or call. Where it
// refuses them, nothing is left that stops or calls.
func (w *walker) words(ws []word) {
	f, soft := w.cmd.sort(ws, w.opts.Lenient)
	for _, s := range soft {
		w.fault(s)
	}
	for m := w.cmd.mask; m != 0; m &= m - 1 {
		w.sum.Words[lowBit(m)]++
	}
	if f == nil {
		f = w.modes(&w.cmd)
	}
	if f == nil {
		f = w.act(&w.cmd)
	}
	if f != nil {
		w.fault(f)
		w.lost(w.axes())
		w.cmd.m[4], w.cmd.m[10] = -1, -1
	}
}

// set carries out #n=v.
func (w *walker) set(s setting) {
	if s.n >= 5161 && s.n <= 5386 {
		w.say(Fail, "zero-shift", fmt.Sprintf("#%d=%v", s.n, s.v), "the program changes offset data of the control: take it out")
		w.say(NotProven, "offset-data", fmt.Sprintf("#%d", s.n), "what follows is not held against the measured offset")
		w.lost(7)
	}
	w.parse.params.v[s.n], w.parse.params.set[s.n] = s.v, true
}

// lost forgets where the axes are: a line that moves them could not be followed.
func (w *walker) lost(axes uint8) {
	w.known &^= axes
	w.wknow &^= axes
	if w.f.rotated && axes&3 != 0 {
		w.wknow &^= 3
	}
	w.p, w.w = clear3(w.p, w.known), clear3(w.w, w.wknow)
}

// axes returns the axes that the line names.
func (w *walker) axes() uint8 { return uint8(w.cmd.mask>>('X'-'A')) & 7 }

// modes carries out everything of a line before its motion, in the order of Table 8.
func (w *walker) modes(c *command) *fault {
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
	}
	if c.has('T') {
		n, ok := whole(c.val('T'), 0.0001)
		if !ok || n < 0 {
			return refuse("3.7.3", "tool", fmt.Sprintf("T%v", c.val('T')), "a tool number is whole and not negative")
		}
		s.Next = n
	}
	if c.m[6] >= 0 {
		w.changeTool()
	}
	switch c.m[7] {
	case 3, 4:
		s.Spindle = c.m[7]
		if s.Speed == 0 {
			w.say(Warn, "spindle-speed", fmt.Sprintf("M%d", s.Spindle), "no S word before it: the speed is whatever the control was left with")
		}
		if s.Spindle == 4 {
			w.say(Warn, "spindle-direction", "M4", "the spindle turns the other way: is that a left-hand tool?")
		}
		w.use.Spindle = s.Spindle
	case 5:
		s.Spindle = 0
	}
	if c.g[groupOnce] == 40 {
		if !c.has('P') || c.val('P') < 0 {
			return refuse("3.5.4", "dwell", "G4", "a dwell has a P word that is not negative")
		}
	}
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
	if f := w.compensation(c); f != nil {
		return f
	}
	if f := w.length(c); f != nil {
		return f
	}
	if f := w.system(c); f != nil {
		return f
	}
	switch c.g[groupArcMode] {
	case 911:
		w.dialect("G91.1")
	case 901:
		w.dialect("G90.1")
		w.say(NotProven, "arc-mode", "G90.1", "arc centres as absolute places are not followed: post with G91.1")
	}
	if g := c.g[groupDistance]; g >= 0 {
		s.Incremental, s.ModeSet = g == 910, true
	}
	if g := c.g[groupReturn]; g >= 0 {
		s.RetractR = g == 990
	}
	return w.rotation(c)
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
	if s.Units == AnyUnits && w.sum.Moves > 0 {
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
	if s.Next >= 0 && w.ex.Tools != nil {
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
		s.Length, s.H = n != 0, n
		w.use.H = n
		if s.Tool >= 0 && n != s.Tool && n != 0 {
			w.say(Fail, "length-register", fmt.Sprintf("H%d with T%d in the spindle", n, s.Tool), "the length of another tool: the tip will not be where the program thinks")
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
	if !w.st.Length {
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
			w.say(NotProven, "offsets", SystemName(n), fmt.Sprintf("more than one work offset: only moves in %s are held against the setup", SystemName(w.base)))
		}
	}
	w.setUse()
	return nil
}

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
		words := fmt.Sprintf("G68 X%.4f Y%.4f R%v", ca, cb, deg)
		pl := w.ex.Placed
		if pl != nil && pl.InProgram {
			if math.Abs(rad-pl.Rotation) > 2e-6 || math.Hypot(ca, cb) > 0.001 || at != 3 {
				w.say(Fail, "rotation", words, fmt.Sprintf("the setup was measured as R%.4f about X0 Y0", pl.Rotation*(180/math.Pi)))
			}
			// The measured turn is in the Placement: W stays the part's own frame.
			return nil
		}
		w.say(Fail, "rotation", words, "a rotation that the setup does not ask for: take it out")
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

// stop carries out M0 to M2, M30, M60, M98 and M99.
func (w *walker) stop(c *command, sub *subprogram) (outcome, error) {
	switch c.m[10] {
	case 98:
		w.dialect("M98")
		return w.call(c)
	case 99:
		w.dialect("M99")
		if sub == nil {
			w.say(NotProven, "subprogram", "M99", "in the main program it starts it over, without end")
			return halted, nil
		}
		return returned, nil
	}
	switch c.m[4] {
	case 2, 30:
		w.sum.Ended = fmt.Sprintf("M%d", c.m[4])
		return ended, nil
	}
	return ranOut, nil
}

// unused refuses words that nothing on the line takes.
func (w *walker) unused(c *command) *fault {
	left := c.mask &^ c.used
	if left == 0 {
		return nil
	}
	var names []string
	clause := "3.5.3"
	for m := left; m != 0; m &= m - 1 {
		l := byte('A' + lowBit(m))
		names = append(names, string(l))
		switch l {
		case 'D':
			clause = "3.5.10"
		case 'H':
			clause = "3.5.11"
		case 'L', 'Q':
			clause = "3.5.16"
		case 'P':
			clause = "3.5.4"
		case 'X', 'Y', 'Z':
			clause = "3.5.15"
		}
	}
	f := refuse(clause, "word-unused", strings.Join(names, " "), "no word on this line takes it")
	if w.opts.Lenient && left&maskAxes == 0 {
		f.sev, f.clause = Note, ""
		w.fault(f)
		return nil
	}
	return f
}
