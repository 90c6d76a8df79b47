package tui

import "strings"

// sheet collects the lines of a page in the order they are read. A part may be
// left out where the room is short: the highest priority number goes first, 0 never.
type sheet struct {
	t     Theme
	w     int
	parts []sheetPart
}

type sheetPart struct {
	prio  int
	lines []string
}

// The priorities used by the pages.
const (
	must   = 0
	useful = 3 // how it is done, notes
	big    = 5 // the big number
	why    = 7
	blank9 = 9 // empty lines
)

func (s *sheet) put(prio int, lines ...string) {
	if len(lines) > 0 {
		s.parts = append(s.parts, sheetPart{prio, lines})
	}
}

func (s *sheet) gap() { s.put(blank9, "") }

// say wraps a text and paints it.
func (s *sheet) say(prio int, r Role, text string) { s.hang(prio, r, "", text) }

// hang is say with a lead before the first line; the others are set in below it.
func (s *sheet) hang(prio int, r Role, lead, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	lead = s.t.Say(lead)
	lines := WrapHung(lead, s.t.Say(text), s.w)
	for i := range lines {
		lines[i] = s.t.Paint(r, lines[i])
	}
	s.put(prio, lines...)
}

func (s *sheet) height() int {
	n := 0
	for _, p := range s.parts {
		n += len(p.lines)
	}
	return n
}

// musts are the lines that are never left out.
func (s *sheet) musts() int { return s.lines(must) }

// lines are the lines of a priority.
func (s *sheet) lines(prio int) int {
	n := 0
	for _, p := range s.parts {
		if p.prio == prio {
			n += len(p.lines)
		}
	}
	return n
}

// count is the number of parts of a priority.
func (s *sheet) count(prio int) int {
	n := 0
	for _, p := range s.parts {
		if p.prio == prio {
			n++
		}
	}
	return n
}

// fit gives the lines that h lines have room for.
func (s *sheet) fit(h int) []string {
	n := s.height()
	for n > h {
		worst, at := must, -1
		for i, p := range s.parts {
			if p.prio > must && p.prio >= worst && len(p.lines) > 0 {
				worst, at = p.prio, i
			}
		}
		if at < 0 {
			break
		}
		n -= len(s.parts[at].lines)
		s.parts[at].lines = nil
	}
	var out []string
	for _, p := range s.parts {
		out = append(out, p.lines...)
	}
	return out
}

// window shows h of the lines so that line at is among them, and says what lies outside.
func window(lines []string, at, h int) []string {
	if len(lines) <= h || h < 3 {
		return lines
	}
	from := min(max(at-h/2, 0), len(lines)-h)
	out := append([]string(nil), lines[from:from+h]...)
	if from > 0 {
		out[0] = "   ^ more"
	}
	if from+h < len(lines) {
		out[h-1] = "   v more"
	}
	return out
}
