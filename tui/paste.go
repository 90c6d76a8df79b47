package tui

import (
	"bytes"
	"io"
	"os"
	"strings"
	"time"
)

// pasteWait is how long a paste may stand still before it is over. Its end mark can be
// lost on the way, and what is typed then must not go into it for ever.
const pasteWait = time.Second

// pasteMost is how many bytes a paste may have: hundreds of readings. What is longer is
// a file, and is refused as soon as that is known.
const pasteMost = 4 << 10

var tooLong = "a paste of more than " + itoa(pasteMost) + " characters is refused: nothing of it is taken"

// tailWait is how long the rest of a paste that was given up may lag behind.
const tailWait = 10 * time.Second

// The marks of a paste (ESC [ 200 ~ and ESC [ 201 ~ in xterm's bracketed paste mode; from
// memory), and the two keys that stand for them within this program.
const (
	pasteOn, pasteOff  = "\x1b[200~", "\x1b[201~"
	pasteKey, pasteEnd = "paste", "paste end"
)

// What is read is given on with the marks of a paste turned into keys that no
// keyboard has. Bubble Tea waits for the end mark and gives nothing on before it comes;
// Keys, which knows the time, does not. A mark never grows, so a read fits its buffer; one
// that two reads share is put together by the decoder.

type filtered struct {
	io.Reader
	*replies
}

func (f filtered) Read(b []byte) (int, error) { return f.replies.read(f.Reader, b) }

type filteredFile struct {
	*os.File
	*replies
}

func (f *filteredFile) Read(b []byte) (int, error) { return f.replies.read(f.File, b) }

// withoutMarks rewrites marks in place and gives the new length.
func withoutMarks(b []byte) int {
	if !bytes.Contains(b, []byte("\x1b[20")) {
		return len(b)
	}
	out := strings.NewReplacer(pasteOn, "\x1bO{", pasteOff, "\x1bO}").Replace(string(b))
	return copy(b, out)
}

// pasting is a paste on its way in.
type pasting struct {
	on   bool
	shut bool // refused already: what still comes of it is swallowed
	text strings.Builder
	last time.Time // of what came of it last
}

// pasted takes out of the keys what belongs to a paste, and gives the paste once it is
// whole: its end mark came. One that stands still for pasteWait is refused, with all that
// came of it: a key pressed meanwhile may be part of it.
func (k *Keys) pasted(ps []press, at time.Time, f Focus) (out []Stroke, rest []press) {
	out = k.pasteOver(at, f)
	for _, p := range ps {
		switch {
		case p.Name == pasteKey:
			out = append(out, k.release(at)...)
			if !k.pasting.on {
				k.pasting, k.tail = pasting{on: true}, time.Time{}
			}
		case p.Name == pasteEnd:
			if k.pasting.on {
				out = append(out, k.endPaste(at, f)...)
			}
			k.tail = time.Time{}
		case !k.pasting.on:
			rest = append(rest, p)
		case k.pasting.shut:
		case k.pasting.text.Len() >= pasteMost:
			out = append(out, k.shutPaste(at, tooLong))
		case p.Rune != 0:
			k.pasting.text.WriteRune(p.Rune)
		default:
			k.pasting.text.WriteString(map[string]string{"enter": "\r", "ctrl+j": "\n", "tab": "\t"}[p.Name])
		}
	}
	k.pasting.last = at
	return out, rest
}

// pasteOver gives the paste that has stood still for too long, if there is one.
func (k *Keys) pasteOver(at time.Time, f Focus) []Stroke {
	if !k.pasting.on || at.Sub(k.pasting.last) < pasteWait {
		return nil
	}
	var out []Stroke
	if !k.pasting.shut {
		out = append(out, k.shutPaste(at, "a paste came without its end: nothing of it is taken, nor a key pressed since; give it again"))
	}
	k.last = k.pasting.last // what comes now came after a pause
	k.pasting, k.tail, k.afterCR = pasting{}, at.Add(tailWait), false
	return out
}

// shutPaste refuses a paste that is still coming.
func (k *Keys) shutPaste(at time.Time, why string) Stroke {
	k.pasting.shut = true
	k.pasting.text.Reset()
	return Stroke{Kind: Refused, At: at, Why: why}
}

func (k *Keys) endPaste(at time.Time, f Focus) []Stroke {
	p := k.pasting
	k.pasting = pasting{}
	if p.shut {
		k.last, k.afterCR = at, false
		return nil
	}
	return []Stroke{k.paste(p.text.String(), at, f)}
}

// tailed refuses what may be the rest of a paste that was given up: keys that follow each
// other faster than a person presses them, with those delivered before them, and all that comes
// before a pause. A number torn in the middle never stays in a field.
func (k *Keys) tailed(ps []press, at time.Time) (out []Stroke, rest []press) {
	if !at.Before(k.tail) {
		return nil, ps
	}
	for _, p := range ps {
		if p.Rune == 0 && !ends(p.Name) {
			rest = append(rest, p)
			continue
		}
		shut := at.Before(k.tailShut)
		quick := at.Sub(k.tailKey) < instrumentGap || len(ps) > 1
		k.tailKey = at
		switch {
		case shut || quick:
			if k.tailShut = at.Add(pasteWait); !shut {
				out = append(out, Stroke{Kind: Refused, At: at, Passed: k.tailOut,
					Why: "this may be the rest of a paste that came without its end: not taken; wait a second, then type it"})
			}
			k.tailOut = 0
		case p.Rune != 0:
			rest, k.tailOut = append(rest, p), k.tailOut+1
		default:
			rest, k.tailOut = append(rest, p), 0
		}
	}
	return out, rest
}

// longPaste drops what a paste has beyond what is refused anyhow, before it is made into a
// message a key.
type longPaste struct {
	on   bool
	n    int
	last time.Time
}

// cut shortens a read in place and gives its new length.
func (l *longPaste) cut(b []byte, at time.Time) int {
	if l.on && at.Sub(l.last) >= pasteWait {
		*l = longPaste{} // its end was lost
	}
	l.last = at
	out := b[:0]
	for i := 0; i < len(b); i++ {
		rest := b[i:]
		switch {
		case bytes.HasPrefix(rest, []byte("\x1bO{")):
			l.on, l.n = true, 0
		case bytes.HasPrefix(rest, []byte("\x1bO}")), len(rest) < 6 && rest[0] == 0x1b:
			l.on = false // or may be the end, torn
		}
		if l.n++; !l.on || l.n <= pasteMost+256 {
			out = append(out, b[i])
		}
	}
	return len(out)
}
