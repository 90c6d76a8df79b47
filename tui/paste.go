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
	text strings.Builder
	last time.Time // of what came of it last
}

// pasted takes out of the keys what belongs to a paste, and gives the paste once it is
// whole: its end mark came, or nothing did for pasteWait.
func (k *Keys) pasted(ps []press, at time.Time, f Focus) (out []Stroke, rest []press) {
	out = k.pasteOver(at, f)
	for _, p := range ps {
		switch {
		case p.Name == pasteKey:
			out = append(out, k.release(at)...)
			if !k.pasting.on {
				k.pasting = pasting{on: true}
			}
		case p.Name == pasteEnd:
			if k.pasting.on {
				out = append(out, k.endPaste(at, f))
			}
		case !k.pasting.on:
			rest = append(rest, p)
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
	last := k.pasting.last
	s := k.endPaste(at, f)
	k.last = last // what comes now came after a pause
	k.entry.torn = s.Kind == Pasted
	return []Stroke{s}
}

func (k *Keys) endPaste(at time.Time, f Focus) Stroke {
	text := k.pasting.text.String()
	k.pasting = pasting{}
	return k.paste(text, at, f)
}
