package sent

import (
	"bytes"
	"fmt"
	"time"
)

// LineMost is how long a line may be, in bytes. What is longer is no reading.
const LineMost = 256

// quiet is how long nothing came before what must be the beginning of a line: a line of twenty
// characters takes a third of that at the slowest of usual speeds, 600 baud.
const quiet = time.Second

// Lines puts lines together from the pieces in which they come. A line counts once its end has
// come. The beginning of what comes first is known only after a pause, or with Begun.
type Lines struct {
	Begun bool // the next byte begins a line
	Timed bool // a pause ends a line: what comes behind it is another

	buf  []byte
	over bool      // the line in hand is too long, or its beginning was not seen
	last time.Time // when the last piece came, or the listening began
}

// Listen says that listening began: what is on its way already is a piece without its beginning.
func (l *Lines) Listen(at time.Time) { *l = Lines{Timed: l.Timed, last: at} }

// Inside says that listening begins within a line, whose rest is no reading.
func (l *Lines) Inside() { *l = Lines{Timed: l.Timed, over: true} }

// Fresh says that no part of a line waits for its end.
func (l *Lines) Fresh() bool { return len(l.buf) == 0 && !l.over }

// Add takes a piece that came at a time, and gives the lines that it ended, without their ends
// and without empty ones. Torn are those of which a part is missing: none of it is given.
func (l *Lines) Add(piece []byte, at time.Time) (whole []string, torn []error) {
	if len(piece) == 0 {
		return nil, nil
	}
	pause := at.Sub(l.last) >= quiet
	l.last = at
	switch {
	case pause && l.Timed && len(l.buf) > 0:
		torn = append(torn, fmt.Errorf("%q came without its end", l.buf))
		l.buf, l.over, l.Begun = l.buf[:0], false, true
	case l.Begun:
	case pause && len(l.buf) == 0 && !l.over:
		l.Begun = true
	case len(l.buf) == 0:
		l.over = true
	}
	for len(piece) > 0 {
		i := bytes.IndexAny(piece, "\r\n")
		part := piece
		if i >= 0 {
			part = piece[:i]
		}
		if l.buf = append(l.buf, part...); len(l.buf) > LineMost {
			l.buf, l.over = l.buf[:LineMost], true
		}
		if i < 0 {
			break
		}
		piece = piece[i+1:]
		switch text := string(bytes.TrimSpace(l.buf)); {
		case text == "" && !l.over:
		case l.over && l.Begun:
			torn = append(torn, fmt.Errorf("a line of more than %d characters: it is no reading", LineMost))
		case l.over:
			torn = append(torn, fmt.Errorf("%q came without its beginning: it was on its way when listening began", text))
		default:
			whole = append(whole, text)
		}
		l.buf, l.over, l.Begun = l.buf[:0], false, true
	}
	return whole, torn
}
