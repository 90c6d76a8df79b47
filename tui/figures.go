package tui

import "strings"

// figure is a number to be read from where the person stands: its axis as tall as itself.
type figure struct {
	axis string
	text string
	over [2]string // small, on a line above it: what it is, and how it gets there
	side []string  // small, right of it, the last at its foot
}

// figures draws numbers one a row in the tallest size at which all of them fit in the sheet
// and in h lines, and says how tall that was: 0 for plain text in one row each.
func (m *Model) figures(s *sheet, prio int, fs []figure, h int) int {
	axis := "" // the widest
	for _, f := range fs {
		if bigWidth(f.axis, 5) > bigWidth(axis, 5) {
			axis = f.axis
		}
		if f.head() != "" {
			h--
		}
	}
	for _, tall := range talls {
		if tall > s.tall || (tall+1)*len(fs)-1 > h && !(tall == 3 && tall*len(fs) <= h) {
			continue
		}
		if m.t.Look.ASCII && tall == 3 && len(axis) > 1 {
			continue
		}
		fits := true
		for _, f := range fs {
			fits = fits && m.figureWidth(f, tall, axis) <= s.w
		}
		if !fits {
			continue
		}
		for i, f := range fs {
			if i > 0 && tall > 3 {
				s.put(prio, "") // one figure never stands on the other
			} else if i > 0 {
				s.gap()
			}
			s.put(prio, m.figureLines(f, tall, axis)...)
		}
		s.drawn = max(s.drawn, tall*(len(fs)+1)/2)
		return tall
	}
	s.plain = true
	for _, f := range fs {
		s.say(prio, Figure, m.t.Say(strings.TrimSpace(strings.Join(f.over[:], "  ")+" "+Pad(f.axis, len(axis))+"  "+f.text+" "+
			strings.Join(f.side, " "))))
	}
	return 0
}

func (m *Model) figureWidth(f figure, tall int, axis string) int {
	n := bigWidth(f.text, tall)
	if axis != "" {
		n += bigWidth(axis, tall) + apartOf(tall)
	}
	side := 0
	for _, t := range f.side {
		side = max(side, Width(m.t.Say(t))+1)
	}
	return max(n+side, Width(m.t.Say(f.head())))
}

// apartOf is the room between an axis and its number: wider than between digits, so that it is none of them.
func apartOf(tall int) int { return 2 * scaled[tall].across }

// head is the line above a number, "" for none.
func (f figure) head() string { return strings.TrimSpace(f.over[0] + "   " + f.over[1]) }

// figureLines is one number in big figures.
func (m *Model) figureLines(f figure, tall int, axis string) []string {
	lines := Big(f.text, tall, m.t.Look.ASCII)
	var lead []string
	if axis != "" {
		lead = Big(f.axis, tall, m.t.Look.ASCII)
		w := bigWidth(axis, tall)
		for i := range lead {
			lead[i] = Pad(lead[i], w) + strings.Repeat(" ", apartOf(tall))
		}
	}
	for i := range lines {
		if lead != nil {
			lines[i] = lead[i] + lines[i]
		}
		lines[i] = m.t.Paint(Figure, lines[i])
		if k := i - (tall - len(f.side)); k >= 0 {
			lines[i] += " " + m.t.Paint(Dim, m.t.Say(f.side[k]))
		}
	}
	if f.head() != "" {
		lines = append([]string{m.t.Paint(Act, m.t.Say(f.over[0])) + "   " + m.t.Paint(Dim, m.t.Say(f.over[1]))}, lines...)
	}
	return lines
}

// axisOf is the one axis that a label ends in or names, "" for none or several.
func axisOf(label string) string {
	out := ""
	for _, w := range strings.FieldsFunc(label, func(r rune) bool { return strings.ContainsRune(" ,():", r) }) {
		if w = strings.TrimSuffix(w, "0"); w == "X" || w == "Y" || w == "Z" {
			if out != "" && out != w {
				return ""
			}
			out = w
		}
	}
	return out
}
