package ncode

import (
	"bytes"
	"fmt"
	"io"
	"math"
)

// subprogram is where a subprogram begins.
type subprogram struct {
	at   int64 // byte where its line begins
	line int   // lines before that
}

// maxDepth bounds how deep calls go, as many controls do; maxSubs bounds how many subprograms are kept.
const (
	maxDepth = 10
	maxSubs  = 10_000
)

// called reads P and L of M98.
func (c *command) called() (p, repeats int, ok bool) {
	p, ok = whole(c.val('P'), 0.0001)
	repeats = 1
	if c.mask&maskL != 0 {
		var good bool
		repeats, good = whole(c.val('L'), 0.0001)
		ok = ok && good && repeats >= 0
	}
	return p, repeats, ok && c.mask&maskP != 0 && p >= 0
}

// call carries out M98 Pn Lm: the subprogram n, m times.
func (w *walker) call(c *command) (outcome, error) {
	p, repeats, ok := c.called()
	words := fmt.Sprintf("M98 P%v", c.val('P'))
	skip := func(hint string) (outcome, error) {
		w.say(NotProven, "subprogram", words, hint)
		w.lost(7)
		return ranOut, nil
	}
	switch {
	case !ok:
		return skip("it needs P, the number of the subprogram, and L not negative")
	case p > 99999:
		return skip("P of more than five digits means different things on different controls")
	case w.depth >= maxDepth:
		return skip(fmt.Sprintf("calls more than %d deep are not followed", maxDepth))
	}
	ra, isAt := w.r.(io.ReaderAt)
	if !isAt {
		return skip("the program is read as a stream: subprograms can't be followed in it")
	}
	if !w.index {
		if err := w.findSubs(ra); err != nil {
			if canceled(w.ctx) {
				return ranOut, w.ctx.Err()
			}
			// A pipe calls itself a file too.
			return skip("the program can't be read a second time: subprograms can't be followed in it")
		}
	}
	sub, found := w.subs[p]
	if !found {
		return skip(fmt.Sprintf("there is no O%d in this file", p))
	}
	line := w.line
	defer func() { w.line = line }()
	w.depth++
	defer func() { w.depth-- }()
	for range repeats {
		if w.calls++; w.calls > w.opts.MaxCalls {
			w.line = line
			return skip(fmt.Sprintf("more than %d calls are not followed", w.opts.MaxCalls))
		}
		if canceled(w.ctx) {
			return ranOut, w.ctx.Err()
		}
		src := &plain{c: cutter{r: io.NewSectionReader(ra, sub.at, math.MaxInt64-sub.at), size: 4096, began: true}}
		w.line = sub.line
		o, err := w.run(src, &sub)
		if err != nil || o == ended || o == halted {
			return o, err
		}
		if o == ranOut {
			w.say(NotProven, "subprogram", words, "the subprogram has no M99: the file ends in it")
		}
	}
	return ranOut, nil
}

// findSubs notes where each O number stands.
func (w *walker) findSubs(ra io.ReaderAt) error {
	w.subs, w.index = map[int]subprogram{}, true
	c := cutter{r: io.NewSectionReader(ra, 0, math.MaxInt64), size: blockSize}
	var b block
	line := 0
	for c.next(&b) {
		if canceled(w.ctx) {
			return w.ctx.Err()
		}
		if b.err != nil {
			return fmt.Errorf("read subprograms after line %d: %w", line, b.err)
		}
		b.lex()
		for i := range b.lines {
			ln := &b.lines[i]
			line++
			if ln.flags&odd == 0 {
				continue
			}
			text := bytes.TrimLeft(b.text[ln.at:ln.at+uint32(ln.size)], " \t")
			n, ok := programNumber(text)
			if !ok || len(w.subs) >= maxSubs {
				continue
			}
			if _, twice := w.subs[n]; !twice {
				w.subs[n] = subprogram{at: b.at + int64(ln.at), line: line - 1}
			}
		}
	}
	return nil
}

// programNumber reads an O number at the beginning of a line, after its line number.
func programNumber(t []byte) (int, bool) {
	if len(t) > 0 && (t[0] == 'N' || t[0] == 'n') {
		t = bytes.TrimLeft(bytes.TrimLeft(t[1:], "0123456789"), " \t")
	}
	if len(t) < 2 || t[0] != 'O' && t[0] != 'o' {
		return 0, false
	}
	n, digits := 0, 0
	for _, c := range t[1:] {
		if c < '0' || c > '9' || digits == 6 {
			break
		}
		n, digits = n*10+int(c-'0'), digits+1
	}
	return n, digits > 0
}
