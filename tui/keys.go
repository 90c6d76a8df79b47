package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Timing of keys. A person does not press two keys inside instrumentGap; a gauge,
// a bar-code reader or a paste does.
const (
	instrumentGap   = 20 * time.Millisecond  // closer together: sent, not pressed
	instrumentChars = 4                      // so many of them, the ending included, make a burst
	bounceTime      = 150 * time.Millisecond // two entries inside this: a footswitch that bounced
	guardTime       = 300 * time.Millisecond // + does not answer a page younger than this
	plusHold        = 60 * time.Millisecond  // + waits this long to show that nothing follows it
	repeatGap       = 100 * time.Millisecond // + closer to the last +: the key is held down
)

// Keys turns Bubble Tea's key messages into Strokes. The zero value is ready. It
// keeps no clock: the time comes with each message, and must not run backwards
// (a time.Now with its monotonic reading does not).
type Keys struct {
	dec      decoder
	last     time.Time // of the last printing key or ending
	afterCR  bool      // the last key was Enter: a line feed now belongs to it
	chunk    []rune    // keys closer together than instrumentGap
	passed   int       // of chunk: delivered
	refusing bool      // the rest of a refused burst is swallowed
	held     bool      // a + is waiting
	heldAt   time.Time
	lastPlus time.Time
	lastEnd  time.Time // of the last entry that counted
	entry    entryRun
	pasting  pasting
	tail     time.Time // until then the rest of a paste that was given up may come
	tailKey  time.Time // of the last key meanwhile
	tailOut  int       // of such keys: delivered, and may be part of it
	tailShut time.Time // until then all that comes is taken for it
}

// Feed takes one key message that came at the time given, with the focus it met.
// It returns the strokes, oldest first. A wait above zero asks the caller to call
// Flush after that long unless another key comes first.
func (k *Keys) Feed(m tea.KeyMsg, at time.Time, f Focus) (out []Stroke, wait time.Duration) {
	if m.Paste {
		out = append(out, k.release(at)...)
		return append(out, k.paste(string(m.Runes), at, f)), 0
	}
	pasting := k.pasting.on
	out, presses := k.pasted(k.dec.decode(m, at), at, f)
	late, presses := k.tailed(presses, at)
	out = append(out, late...)
	for _, s := range out {
		if s.Kind == Pasted {
			f.Text += s.Text // it is in the field before what follows it
		}
	}
	if k.pasting.on {
		if pasting { // Flush is called already, and says when again
			return out, 0
		}
		return out, pasteWait
	}
	if f.empty() {
		k.entry = entryRun{}
	}
	if !f.field() && sentWhole(presses) {
		return append(out, k.refuseAll(presses, at)...), 0
	}
	for _, p := range presses {
		ss := k.press(p, at, f)
		for _, s := range ss {
			if s.Kind == Pressed && s.Rune != 0 && f.field() {
				f.Text += string(s.Rune) // good enough to know that the field is no longer empty
			}
		}
		out = append(out, ss...)
	}
	if k.held {
		wait = plusHold - at.Sub(k.heldAt)
	}
	return out, wait
}

// Flush releases a + that was waiting, if it waited long enough, and ends a paste that
// stands still.
func (k *Keys) Flush(at time.Time, f Focus) []Stroke {
	if k.pasting.on {
		return k.pasteOver(at, f)
	}
	if k.held && at.Sub(k.heldAt) >= plusHold {
		return k.release(at)
	}
	return nil
}

// Waits is how long from now Flush is to be called again, 0 for not at all.
func (k *Keys) Waits(at time.Time) time.Duration {
	if !k.pasting.on {
		return 0
	}
	return max(pasteWait-at.Sub(k.pasting.last), time.Millisecond)
}

// Drop forgets what was pressed and not delivered, as nobody could see what it went to: a
// paste that is coming is swallowed to its end.
func (k *Keys) Drop() {
	k.held, k.chunk, k.passed = false, nil, 0
	k.entry.edited = true // its count of keys is no longer that of the field
	if k.pasting.on {
		k.pasting.shut = true
		k.pasting.text.Reset()
	}
}

// Guarded reports whether an answer given at the time is too close to the page
// change that it answers: then it is ignored, silently.
func Guarded(at time.Time, f Focus) bool { return at.Sub(f.Shown) < guardTime }

func (k *Keys) release(at time.Time) []Stroke {
	if !k.held {
		return nil
	}
	k.held = false
	return []Stroke{{Name: "+", Rune: '+', At: at}}
}

func (k *Keys) press(p press, at time.Time, f Focus) []Stroke {
	gap := at.Sub(k.last)
	first := k.last.IsZero()
	wasCR := k.afterCR
	k.afterCR = p.Name == "enter"
	if p.Name == "ctrl+j" && wasCR {
		return nil // CR LF is one ending
	}
	if p.Rune != 0 || ends(p.Name) {
		k.last = at
	} else {
		var out []Stroke
		if k.held && gap < plusHold {
			out = append(out, k.refuse(at)) // nobody presses two keys that close
		} else {
			out = k.release(at)
		}
		if p.Name == "backspace" || p.Name == "delete" || p.Name == "ctrl+u" {
			k.entry.edited = true
		}
		return append(out, Stroke{Name: p.Name, At: at})
	}
	quick := !first && gap < instrumentGap
	if f.Place == Reads {
		return k.reading(p, at, gap, quick, f)
	}
	return k.answering(p, at, quick, f)
}

// reading handles a key where a reading is asked.
func (k *Keys) reading(p press, at time.Time, gap time.Duration, quick bool, f Focus) []Stroke {
	out := k.release(at)
	k.chunk, k.passed = nil, 0
	if k.entry.waits != "" && gap < bounceTime { // what follows a held entry at once is not its continuation
		if k.refusing {
			return out
		}
		k.refusing = true
		return append(out, Stroke{Kind: Refused, At: at, Text: p.Name, Why: "too soon after the entry that waits: not taken"})
	}
	k.refusing = false
	if p.Rune != 0 {
		if !quick {
			k.entry.run = 0
		}
		k.entry.keys++
		k.entry.run++
		return append(out, Stroke{Name: p.Name, Rune: p.Rune, At: at})
	}
	if f.empty() {
		return append(out, Stroke{Name: p.Name, At: at})
	}
	s := Stroke{Name: "enter", At: at, Source: k.entry.source(quick)}
	switch {
	case k.entry.waits != "" || IsRow(f.Text): // confirmed, or one row of a block: the next follows at once
	case !k.lastEnd.IsZero() && at.Sub(k.lastEnd) < bounceTime:
		s.Hold = "a second reading came at once after the first: Enter takes it, Backspace erases it"
	case k.entry.mixed(quick):
		s.Hold = "part was typed and part was sent: Enter takes it, Backspace erases it"
	}
	if s.Hold != "" {
		k.entry.waits = s.Source
		return append(out, s)
	}
	k.lastEnd = at
	k.entry = entryRun{}
	return append(out, s)
}

// answering handles a key where Enter takes nothing. A page without a field
// refuses a burst at its fourth character. A field that answers lets characters
// in, for a slow link can bring what a person typed in one piece, and gives all of
// them back when the ending of an instrument follows. A + waits until it is sure
// to stand alone.
func (k *Keys) answering(p press, at time.Time, quick bool, f Focus) []Stroke {
	var out []Stroke
	plus := p.Rune == '+'
	if plus {
		down := !k.lastPlus.IsZero() && at.Sub(k.lastPlus) < repeatGap
		k.lastPlus = at
		if down && !k.refusing { // the key is held down: it answers nothing, once or often
			k.held = false
			return nil
		}
	}
	if k.held && at.Sub(k.heldAt) < plusHold { // slower than most instruments, faster than a person
		quick = true
	}
	if !quick {
		out = k.release(at)
		k.chunk, k.passed, k.refusing = nil, 0, false
	}
	if k.refusing {
		return out
	}
	if p.Rune == 0 {
		number := len(k.chunk) >= instrumentChars && isNumber(k.chunk)
		if quick && len(k.chunk) > 0 && (k.held || number || f.Place != Words) {
			return append(out, k.refuse(at))
		}
		return append(out, Stroke{Name: p.Name, At: at})
	}
	k.chunk = append(k.chunk, p.Rune)
	if k.held || !f.field() && len(k.chunk) >= instrumentChars {
		return append(out, k.refuse(at))
	}
	if plus && f.plusAnswers() {
		k.held, k.heldAt = true, at
		return out
	}
	k.passed++
	return append(out, Stroke{Name: p.Name, Rune: p.Rune, At: at})
}

// refuseAll refuses a burst that came as one message, with what it continued.
func (k *Keys) refuseAll(ps []press, at time.Time) []Stroke {
	if k.last.IsZero() || at.Sub(k.last) >= instrumentGap {
		out := k.release(at)
		k.chunk, k.passed, k.refusing = nil, 0, false
		return append(out, k.refuseMore(ps, at)...)
	}
	return k.refuseMore(ps, at)
}

func (k *Keys) refuseMore(ps []press, at time.Time) []Stroke {
	k.last, k.afterCR = at, false
	if k.refusing {
		return nil
	}
	for _, p := range ps {
		if p.Rune != 0 {
			k.chunk = append(k.chunk, p.Rune)
		}
	}
	return []Stroke{k.refuse(at)}
}

func (k *Keys) refuse(at time.Time) Stroke {
	s := Stroke{Kind: Refused, At: at, Text: string(k.chunk), Passed: k.passed,
		Why: "a burst of keys was refused: an instrument can fill a reading, nothing else"}
	k.refusing, k.held, k.passed = true, false, 0
	return s
}

// HeldMsg says that a held + or a paste has waited: give its arrival time to Flush.
type HeldMsg struct{}
