package ncode

import (
	"bytes"
	"fmt"
)

// longNumber judges a line number of more than five digits (3.3.1).
func (w *walker) longNumber(text []byte) *fault {
	if !w.opts.Lenient {
		return refuse("3.3.1", "line-number", clip(text), "a line number is 0 to 99999, whole, of at most 5 digits")
	}
	w.dialect("N of more than 5 digits")
	w.easy |= bigN
	return nil
}

// title returns how many lines at the beginning of the first block are text before the
// percent sign that opens the program: none of them is a line of words.
func (w *walker) title(b *block) int {
	text := false
	for i := range b.lines {
		ln := &b.lines[i]
		t := bytes.TrimSpace(b.text[ln.at : ln.at+uint32(ln.size)])
		switch {
		case len(t) == 1 && t[0] == '%':
			if !text {
				return 0
			}
			w.list.add(Finding{Line: 1, Severity: Note, ID: "title", Words: fmt.Sprintf("lines 1 to %d", i),
				Hint: "text before the percent sign: skipped"})
			return i
		case ln.flags&(odd|long) != 0:
			text = true
		case ln.n > 0:
			return 0
		}
	}
	return 0
}

// rest says what of the file stands behind the end of the program and was not read.
func (w *walker) rest(src source, b *block, i int) {
	if w.calls > 0 && w.sum.Ended != "%" {
		return // its subprograms
	}
	n, first, line := 0, 0, w.line
	for ; b != nil && !canceled(w.ctx); i = 0 {
		for ; i < len(b.lines); i++ {
			ln := &b.lines[i]
			line++
			t := bytes.TrimSpace(b.text[ln.at : ln.at+uint32(ln.size)])
			if ln.flags&(odd|long) == 0 && ln.n == 0 || len(t) == 0 || len(t) == 1 && t[0] == '%' {
				continue
			}
			if n++; n == 1 {
				first = line
			}
		}
		b = src.next()
	}
	if n == 0 {
		return
	}
	f := Finding{Line: first, Severity: Warn, ID: "unread", Words: fmt.Sprintf("%d lines behind %s", n, w.sum.Ended),
		Hint: "they were not read; a file holds one program"}
	if w.sum.Ended == "%" && !w.know.percent {
		f.Severity, f.Hint = NotProven, "a percent sign stands in the middle: a control may begin there, or stop; take it out"
	}
	w.list.add(f)
}
