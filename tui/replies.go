package tui

import (
	"bytes"
	"io"
	"os"
	"regexp"
	"strconv"
	"sync"
	"time"

	"github.com/lucasb-eyer/go-colorful"
)

// askBackground asks a terminal for its background colour (OSC 11, xterm's control sequences) and
// then what it is (DA1, ECMA-48 8.3.24), which every terminal answers: with that answer
// none about the colour will come. Both from memory.
const askBackground = "\x1b]11;?\x1b\\\x1b[c"

const (
	replyWait = 15 * time.Second // after this nothing is expected any more
	lastWait  = 2 * time.Second  // from the colour's answer to the other one
)

// reply is a whole answer, replyStart one that may still grow. No key begins like either.
var (
	reply = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^\x1b(?:\]11;([ -~]{1,40}?)(?:\x07|\x1b\\)|\[\?[0-9;]*c)`)
	})
	replyStart = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^\x1b(?:$|\](?:$|1(?:$|1(?:$|;[ -~]{0,40}\x1b?$)))|\[(?:$|\?[0-9;]*$))`)
	})
	rgb = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^rgba?:([0-9a-fA-F]{1,4})/([0-9a-fA-F]{1,4})/([0-9a-fA-F]{1,4})(?:/[0-9a-fA-F]{1,4})?$`)
	})
)

// replies takes a terminal's answers out of what is typed, however late they come and wherever
// they are torn. The start of one is held back until its end comes. Where that may be a
// key's start as well it is held only while an answer is expected, and Esc, which may be a
// whole key, for no longer than splitWait.
type replies struct {
	now   func() time.Time
	after func(time.Duration, func())
	got   func(light bool) // an answer; called from the goroutine that reads
	esc   func()           // an Esc that was held back was a key

	long longPaste // used by the reading goroutine alone

	mu    sync.Mutex
	until time.Time // answers are expected
	held  []byte
	since time.Time // when held grew
	loose bool      // an Esc was let go: what follows it may be an answer without its start
}

func newReplies(got func(bool), esc func()) *replies {
	return &replies{now: time.Now, after: func(d time.Duration, f func()) { time.AfterFunc(d, f) }, got: got, esc: esc}
}

// expect is called when the terminal is asked.
func (r *replies) expect() { r.mu.Lock(); defer r.mu.Unlock(); r.until = r.now().Add(replyWait) }

// read reads into b, which has room for three bytes or more, what is no answer.
func (r *replies) read(from io.Reader, b []byte) (int, error) {
	n, err := from.Read(b[2:]) // what was held of a key may come before it
	n = withoutMarks(b[:copy(b, r.take(b[2:2+max(n, 0)]))])
	return r.long.cut(b[:n], r.now()), err
}

// take gives what was typed of a read: b without answers, with an Esc that was held before it.
func (r *replies) take(b []byte) []byte {
	r.mu.Lock()
	defer r.mu.Unlock()
	at := r.now()
	if r.loose {
		if whole := append([]byte{0x1b}, b...); reply().Match(whole) || len(b) > 1 && replyStart().Match(whole) {
			b = whole
		}
	}
	r.loose = false
	if len(r.held) > 0 {
		whole := append(r.held, b...)
		late := at.Sub(r.since) > splitWait
		switch {
		case reply().Match(whole), replyStart().Match(whole) && (!late || len(b) > 1): // one key comes alone
			b = whole
		case keyLike(r.held):
			b = whole
		} // else its end was lost, and what comes now is typed
		r.held = nil
	}
	var out []byte
	for len(b) > 0 {
		i := bytes.IndexByte(b, 0x1b)
		if i < 0 {
			i = len(b)
		}
		out, b = append(out, b[:i]...), b[i:]
		if len(b) == 0 {
			break
		}
		if m := reply().FindSubmatch(b); m != nil {
			r.answered(string(m[1]), at)
			b = b[len(m[0]):]
			continue
		}
		if replyStart().Match(b) && (!keyLike(b) || at.Before(r.until)) {
			r.hold(b, at)
			break
		}
		out, b = append(out, b[0]), b[1:]
	}
	return out
}

// keyLike says that a start of an answer may be that of a key, too.
func keyLike(start []byte) bool { return len(start) == 1 || string(start) == "\x1b[" }

// hold keeps the start of an answer back.
func (r *replies) hold(b []byte, at time.Time) {
	r.held, r.since = append([]byte(nil), b...), at
	if len(b) > 1 {
		return
	}
	r.after(splitWait, func() {
		r.mu.Lock()
		was := string(r.held) == "\x1b" && r.since.Equal(at)
		if was {
			r.held, r.loose = nil, true
		}
		r.mu.Unlock()
		if was {
			r.esc()
		}
	})
}

// answered takes an answer; colour is empty for the one that says that no other comes.
func (r *replies) answered(colour string, at time.Time) {
	if colour == "" {
		r.until = time.Time{}
		return
	}
	r.until = at.Add(lastWait)
	if light, ok := isLight(colour); ok {
		r.got(light)
	}
}

// isLight reports whether black reads better than white on a colour as X11 writes it, rgb:RRRR/GGGG/BBBB
// with one to four digits each: where WCAG's contrast to both is the same, its luminance
// is 0.179.
func isLight(colour string) (light, ok bool) {
	m := rgb().FindStringSubmatch(colour)
	if m == nil {
		return false, false
	}
	part := func(hex string) float64 {
		n, _ := strconv.ParseUint(hex, 16, 16)
		return float64(n) / float64(uint(1)<<(4*len(hex))-1)
	}
	r, g, b := colorful.Color{R: part(m[1]), G: part(m[2]), B: part(m[3])}.LinearRgb()
	return 0.2126*r+0.7152*g+0.0722*b > 0.179, true
}

// typedOn is a terminal's input without its answers, marks of a paste turned into keys.
func typedOn(r io.Reader, rep *replies) io.Reader {
	if f, ok := r.(*os.File); ok { // still a terminal: raw mode and waking up want the file
		return &filteredFile{f, rep}
	}
	return filtered{r, rep}
}
