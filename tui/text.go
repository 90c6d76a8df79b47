package tui

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// Width is the number of cells a line takes; escapes take none. It is the one
// measure of text in this package.
func Width(s string) int {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return lipgloss.Width(s)
		}
	}
	return len(s) // what is printable in ASCII takes a cell each
}

// Cut shortens a line to w cells and says so with a closing tilde. It is for
// words: a number is never cut, its column is made wide enough.
func Cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	if Width(s) <= w {
		return s
	}
	return ansi.Truncate(s, w, "~")
}

// Pad makes a line exactly w cells wide, on the left.
func Pad(s string, w int) string {
	s = Cut(s, w)
	return s + strings.Repeat(" ", max(w-Width(s), 0))
}

// PadLeft makes a line exactly w cells wide, on the right.
func PadLeft(s string, w int) string {
	s = Cut(s, w)
	return strings.Repeat(" ", max(w-Width(s), 0)) + s
}

// Center makes a line exactly w cells wide, in the middle.
func Center(s string, w int) string {
	s = Cut(s, w)
	return Pad(strings.Repeat(" ", max(w-Width(s), 0)/2)+s, w)
}

// Wrap breaks text at blanks into lines of at most w cells, never at a sign or a
// hyphen: a number stays whole, with its unit and its axis. A word longer than a line is broken. Line breaks in
// the text are kept. Empty text gives no line.
func Wrap(s string, w int) []string {
	if s == "" || w <= 0 {
		return nil
	}
	var lines []string
	for _, para := range strings.Split(held(joint.Replace(s)), "\n") {
		cur, n := "", 0 // the line so far and its width
		for para != "" {
			blanks := len(para) - len(strings.TrimLeft(para, " "))
			end := strings.IndexByte(para[blanks:], ' ')
			if end < 0 {
				end = len(para) - blanks
			}
			word := para[blanks : blanks+end]
			para = para[blanks+end:]
			if word == "" {
				break // blanks at the end
			}
			if n > 0 && n+blanks+Width(word) > w {
				lines = append(lines, cur)
				cur, n, blanks = "", 0, 0
			}
			if blanks >= w {
				blanks = 0
			}
			cur, n = cur+strings.Repeat(" ", blanks), n+blanks
			for n+Width(word) > w { // longer than a line
				cut := ansi.Truncate(word, max(w-n, 1), "")
				if cut == "" {
					break
				}
				lines = append(lines, cur+cut)
				word, cur, n = word[len(cut):], "", 0
			}
			cur, n = cur+word, n+Width(word)
		}
		lines = append(lines, cur)
	}
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], stuck, " ")
	}
	return lines
}

// A number and its guard stay on one line.
const stuck = "\u00a0"

var joint = strings.NewReplacer(" ± guard ", stuck+"±"+stuck+"guard"+stuck, " +/- guard ", stuck+"+/-"+stuck+"guard"+stuck,
	" ± ", stuck+"±"+stuck, " +/- ", stuck+"+/-"+stuck)

// units are the words that are not torn off the number before them.
var units = map[string]bool{"mm": true, "in": true, "µm": true, "um": true, "deg": true, "°": true, "°C": true, "°F": true, "N": true,
	"N·m": true, "mN·m": true,
	"lbf": true, "lbf·in": true, "kPa": true, "g": true, "%": true, "min": true}

// held puts a blank that does not break between a number and its unit, and between an axis and its number.
func held(s string) string {
	var out []byte
	from := 0
	for i := 1; i < len(s)-1; i++ {
		if s[i] != ' ' || s[i-1] == ' ' || s[i+1] == ' ' {
			continue
		}
		last, next := s[i-1], s[i+1]
		alone := i == 1 || s[i-2] == ' ' || s[i-2] == '(' // a letter by itself
		switch {
		case digit(last):
			word := s[i+1:]
			if n := strings.IndexByte(word, ' '); n >= 0 {
				word = word[:n]
			}
			if !units[strings.TrimRight(word, ".,;:)")] {
				continue
			}
		case alone && strings.IndexByte("XYZ", last) >= 0:
			if next != '-' && next != '+' && !digit(next) {
				continue
			}
		default:
			continue
		}
		out = append(append(out, s[from:i]...), stuck...)
		from = i + 1
	}
	if out == nil {
		return s
	}
	return string(append(out, s[from:]...))
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

// WrapHung is Wrap with the following lines set in by the width of the lead.
func WrapHung(lead, s string, w int) []string {
	in := Width(lead)
	lines := Wrap(s, w-in)
	for i := range lines {
		if i == 0 {
			lines[i] = lead + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", in) + lines[i]
		}
	}
	return lines
}

// Columns sets cells in columns as wide as their widest cell, gap blanks apart.
// Rows may differ in length. Cells of right-set columns end together.
func Columns(rows [][]string, gap int, right func(col int) bool) []string {
	var wide []int
	for _, r := range rows {
		for i, c := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], Width(c))
		}
	}
	out := make([]string, len(rows))
	for n, r := range rows {
		var b strings.Builder
		for i, c := range r {
			if i > 0 {
				b.WriteString(strings.Repeat(" ", gap))
			}
			if right != nil && right(i) {
				b.WriteString(PadLeft(c, wide[i]))
			} else {
				b.WriteString(Pad(c, wide[i]))
			}
		}
		out[n] = strings.TrimRight(b.String(), " ")
	}
	return out
}
