package tui

import "strings"

// sheet collects the lines of a page in the order they are read. A part may be
// left out where the room is short: the highest priority number goes first, 0 never.
//
// A page has three of them: what stands over the whole width at its top, the text, and what
// stands below text and picture. A sheet of its own has only the text: all is put there.
type sheet struct {
	t     Theme
	w     int
	tall  int  // of figures, at most
	drawn int  // lines of figures, of several on several rows the half
	plain bool // a number that should be in figures is not
	parts []sheetPart
	top   *sheet
	low   *sheet
}

type sheetPart struct {
	prio  int
	lines []string
}

// The priorities used by the pages.
const (
	must   = 0
	how    = 2 // how a number is read: no second picture is worth that
	useful = 3 // how it is done, notes
	big    = 5 // the big number
	air    = 6 // an empty line that keeps apart what must not run together
	why    = 7
	spare  = 8 // other empty lines
	past   = 9 // what was before
)

// pageSheet is the sheet of a page: text of w cells, head of full cells, foot of low cells.
func pageSheet(t Theme, w, full, low, tall int) *sheet {
	return &sheet{t: t, w: w, tall: tall, top: &sheet{t: t, w: full, tall: tall}, low: &sheet{t: t, w: low, tall: tall}}
}

// head is where what stands over the page goes.
func (s *sheet) head() *sheet {
	if s.top != nil {
		return s.top
	}
	return s
}

// foot is where what stands below text and picture goes.
func (s *sheet) foot() *sheet {
	if s.low != nil {
		return s.low
	}
	return s
}

func (s *sheet) put(prio int, lines ...string) {
	if len(lines) > 0 {
		s.parts = append(s.parts, sheetPart{prio, lines})
	}
}

// gap is an empty line where there is room.
func (s *sheet) gap() { s.put(spare, "") }

// apart is an empty line before figures and questions.
func (s *sheet) apart() { s.put(air, "") }

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

// said is the number of lines up to a priority.
func (s *sheet) said(prio int) int {
	n := 0
	for _, p := range s.parts {
		if p.prio <= prio {
			n += len(p.lines)
		}
	}
	return n
}

// musts are the lines that are never left out.
func (s *sheet) musts() int { return s.said(must) }

// fit gives the lines that h lines have room for.
func (s *sheet) fit(h int) []string {
	out := []string{}
	for _, p := range s.fitted(h) {
		out = append(out, p.lines...)
	}
	for len(out) > 0 && len(out) > h && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

// lost is how much is missed of what h lines have no room for: text that says how, more than
// reasons, more than what was before.
func (s *sheet) lost(h int) float64 {
	n := 0.0
	for i, p := range s.fitted(h) {
		if lines := len(s.parts[i].lines); len(p.lines) == 0 && lines > 0 {
			n += float64(lines) * map[int]float64{how: 4, useful: 1.5, big: 5, why: 0.4, past: 0.1}[p.prio]
		}
	}
	return n
}

// fitted are the parts, without lines where they are left out.
func (s *sheet) fitted(h int) []sheetPart {
	parts := append([]sheetPart(nil), s.parts...)
	n := s.height()
	for n > h {
		worst, at := must, -1
		for i, p := range parts {
			if p.prio > must && p.prio >= worst && len(p.lines) > 0 {
				worst, at = p.prio, i
			}
		}
		if at < 0 {
			break
		}
		n -= len(parts[at].lines)
		parts[at].lines = nil
	}
	return parts
}

// joined is the text with its foot below it, as one sheet.
func (s *sheet) joined() *sheet {
	j := &sheet{t: s.t, w: s.w, parts: append([]sheetPart(nil), s.parts...)}
	if s.low != nil && len(s.low.parts) > 0 {
		if len(j.parts) > 0 {
			j.apart()
		}
		j.parts = append(j.parts, s.low.parts...)
	}
	return j
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
