package ncode

import (
	"context"
	"fmt"
	"io"
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
	course course    // of the move, for relief
	easy   lineFlags // that a plain line may have
	kept   bool      // the line was refused, and yet its end point counts
	series struct {  // of cycles: the height it began from, and where the standard has it go back to
		known   bool
		top, at float64
	}
	high bool     // Z stands at the upper end of the travel
	alt  altitude // of another reading of a cycle's end
	cap  capacity // of the tool, feed and speed
	row  row      // level moves that are not yet in the map
}

// facts are what the findings at the end need to know, and what has been said already.
type facts struct {
	zMoved, xyMoved, percent, g92Seen, incremental, unturned bool
	begun                                                    bool // the first move in program coordinates was made
	worded                                                   bool // a line with words was read
	turnSin, turnCos                                         float64
	machineBox                                               Box // M, of G53 moves alone
	offsets                                                  map[int]int
	lengthOf                                                 map[int]int // tool: H
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
	if !opts.PathOnly {
		w.relief = newRelief(w.ex)
	}
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
	w.setQuick()
	for {
		b := src.next()
		if b == nil {
			return ranOut, nil
		}
		if canceled(w.ctx) {
			return ranOut, w.ctx.Err()
		}
		skip := 0
		if sub == nil && w.line == 0 && w.opts.Lenient {
			skip = w.title(b)
		}
		for i := range b.lines {
			ln := &b.lines[i]
			w.line++
			if sub == nil {
				w.stand()
				w.sum.Lines++
			} else if w.sum.Called++; w.sum.Called > w.opts.MaxLines {
				w.say(NotProven, "subprogram", "", fmt.Sprintf("more than %d lines in subprograms: not followed further", w.opts.MaxLines))
				return halted, nil
			}
			if i < skip {
				continue
			}
			if w.quick && ln.flags&^w.easy == 0 && ln.mask&^quickMask == 0 {
				if ln.n == 0 || w.quickLine(b.words[ln.first:ln.first+uint32(ln.n)], ln.mask) {
					continue
				}
			}
			text := b.text[ln.at : ln.at+uint32(ln.size)]
			o, err := w.general(b, ln, text, sub)
			if err != nil || o != ranOut {
				if sub == nil {
					w.sum.Bytes = b.end
					if err == nil && o == ended {
						w.rest(src, b, i+1)
					}
				}
				return o, err
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
		s.Feed > 0 && s.Spindle != 0 && !s.still && w.known == 7 && w.wknow == 7 && w.f.same && !w.away() &&
		s.Comp == 0 && w.know.zMoved && w.know.xyMoved && !w.high && w.lengthSaid()
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
	if gs > 1 || feed <= 0 || mask&maskAxes == 0 || w.alt.on {
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
func (w *walker) general(b *block, ln *line, text []byte, sub *subprogram) (outcome, error) {
	if ln.flags&long != 0 {
		w.fault(refuse("3.3", "line-length", clip(text[:min(len(text), 20)]),
			fmt.Sprintf("a line has at most %d characters; it was not read", maxLine)))
		w.lost(7)
		return ranOut, nil
	}
	if ln.flags&semi != 0 {
		w.dialect("; comment")
	}
	if ln.flags&bigN != 0 {
		if f := w.longNumber(text); f != nil {
			w.fault(f)
			w.lost(7)
			return ranOut, nil
		}
	}
	ws := b.words[ln.first : ln.first+uint32(ln.n)]
	if ln.flags&odd != 0 {
		if o, done := w.odd(text, sub); done {
			return o, nil
		}
		ws = w.parse.words
	}
	w.know.worded = w.know.worded || len(ws) > 0
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

// odd reads a line that the lexer left alone into the parser; done where no words follow from it.
func (w *walker) odd(text []byte, sub *subprogram) (o outcome, done bool) {
	f := w.parse.parse(text)
	p := &w.parse
	if p.msg != "" && len(w.sum.Messages) < 16 {
		w.sum.Messages = append(w.sum.Messages, p.msg)
	}
	if p.dialect {
		w.dialect("; comment")
	}
	if p.deleted && w.list.seen[kind{"block-delete", Warn}] == 0 {
		what := "carried out: with the switch on, the control leaves them out"
		if w.opts.BlockDelete {
			what = "left out: with the switch off, the control carries them out"
		}
		w.say(Warn, "block-delete", "/", "lines that begin with a slash were "+what)
	}
	if p.deleted && w.opts.BlockDelete {
		return ranOut, true
	}
	if p.bigN && f == nil {
		f = w.longNumber(text)
	}
	for _, n := range p.unread {
		w.say(NotProven, "parameter", fmt.Sprintf("#%d", n), "it is read before the program sets it: its value is in the control")
	}
	if f != nil {
		w.fault(f)
		w.lost(7)
		return ranOut, true
	}
	return w.mark(text, sub)
}

// mark carries out what is no word: a percent sign, a program number, control flow.
func (w *walker) mark(text []byte, sub *subprogram) (o outcome, done bool) {
	p := &w.parse
	switch {
	case p.percent:
		if sub != nil {
			w.say(NotProven, "subprogram", "%", "the file ends within a subprogram")
			return halted, true
		}
		if w.know.percent || w.know.worded {
			// After words it closes even what was not opened.
			w.sum.Ended = "%"
			return ended, true
		}
		w.know.percent = true
		return ranOut, true
	case p.control != "":
		w.dialect(p.control)
		w.say(NotProven, "control-flow", p.control, "conditions, loops and jumps are not followed: post the program without them")
		w.lost(7)
		return ranOut, true
	case p.program:
		w.dialect("O")
		if sub != nil && w.line > sub.line+1 {
			w.say(NotProven, "subprogram", clip(text), "the next one begins before M99")
			return halted, true
		}
		if w.sum.Moves > 0 && sub == nil {
			w.say(NotProven, "program-number", clip(text), "a second program begins before the first has ended")
		}
	}
	return ranOut, false
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
		if !w.kept {
			w.lost(w.axes())
		}
		w.kept = false
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
