package tui

import "strings"

// The big digits and letters are our own dot figures, 3 by 5 and wider where a letter needs it.
// On five lines a dot is two cells wide and one high, on eight lines three wide and one and a
// half high; on three lines two dots lie in one cell as half blocks.
var figures = map[rune][5]string{
	'0': {"###", "# #", "# #", "# #", "###"},
	'1': {" # ", "## ", " # ", " # ", "###"},
	'2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", " ##", "  #", "###"},
	'4': {"# #", "# #", "###", "  #", "  #"},
	'5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"},
	'7': {"###", "  #", " # ", " # ", " # "},
	'8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"},
	'-': {"   ", "   ", "###", "   ", "   "},
	'+': {"   ", " # ", "###", " # ", "   "},
	'.': {" ", " ", " ", " ", "#"},
	',': {" ", " ", " ", "#", "#"},
	'/': {"  #", "  #", " # ", "#  ", "#  "},
	' ': {" ", " ", " ", " ", " "}, '\'': {"#", "#", " ", " ", " "}, ':': {" ", "#", " ", "#", " "}, '%': {"# #", "  #", " # ", "#  ", "# #"},

	'_': {"   ", "   ", "   ", "   ", "###"}, '=': {"   ", "###", "   ", "###", "   "}, '!': {"#", "#", "#", " ", "#"},
	'↑': {"  #  ", " ### ", "# # #", "  #  ", "  #  "}, '↓': {"  #  ", "  #  ", "# # #", " ### ", "  #  "},
	'←': {"  #   ", " #    ", "######", " #    ", "  #   "}, '→': {"   #  ", "    # ", "######", "    # ", "   #  "},

	'A': {"###", "# #", "###", "# #", "# #"}, 'B': {"## ", "# #", "## ", "# #", "## "}, 'C': {"###", "#  ", "#  ", "#  ", "###"},
	'D': {"## ", "# #", "# #", "# #", "## "}, 'E': {"###", "#  ", "## ", "#  ", "###"}, 'F': {"###", "#  ", "## ", "#  ", "#  "},
	'G': {"###", "#  ", "# #", "# #", "###"}, 'H': {"# #", "# #", "###", "# #", "# #"}, 'I': {"#", "#", "#", "#", "#"},
	'J': {"  #", "  #", "  #", "# #", "###"}, 'K': {"# #", "# #", "## ", "# #", "# #"}, 'L': {"#  ", "#  ", "#  ", "#  ", "###"},
	'M': {"#   #", "## ##", "# # #", "#   #", "#   #"}, 'N': {"#  #", "## #", "# ##", "#  #", "#  #"}, 'O': {"###", "# #", "# #", "# #", "###"},
	'P': {"###", "# #", "###", "#  ", "#  "}, 'Q': {"### ", "# # ", "# # ", "### ", "   #"}, 'R': {"###", "# #", "## ", "# #", "# #"},
	'S': {"###", "#  ", "###", "  #", "###"}, 'T': {"###", " # ", " # ", " # ", " # "}, 'U': {"# #", "# #", "# #", "# #", "###"},
	'V': {"# #", "# #", "# #", "# #", " # "}, 'W': {"#   #", "#   #", "# # #", "## ##", "#   #"}, 'X': {"# #", "# #", " # ", "# #", "# #"},
	'Y': {"# #", "# #", " # ", " # ", " # "}, 'Z': {"#####", "   # ", "  #  ", " #   ", "#####"}, // wide: no reader takes it for a 2
}

var segments = map[rune][3]string{
	'0': {" _ ", "| |", "|_|"}, '1': {"   ", "  |", "  |"}, '2': {" _ ", " _|", "|_ "}, '3': {" _ ", " _|", " _|"},
	'4': {"   ", "|_|", "  |"}, '5': {" _ ", "|_ ", " _|"}, '6': {" _ ", "|_ ", "|_|"}, '7': {" _ ", "  |", "  |"},
	'8': {" _ ", "|_|", "|_|"}, '9': {" _ ", "|_|", " _|"}, '-': {"   ", " _ ", "   "}, '+': {"   ", "_|_", " | "},
	'.': {" ", " ", "."}, ',': {" ", " ", ","}, '/': {"  /", " / ", "/  "}, ' ': {" ", " ", " "},
}

// talls are the heights at which figures are drawn, in lines.
var talls = []int{8, 5, 3}

// Big draws a number or a word in 3, 5 or 8 lines. Every line has the same width. A character
// without a figure stands in its own size on the last line, so that nothing is
// lost. Any other height panics.
func Big(s string, tall int, ascii bool) []string {
	if tall != 3 && tall != 5 && tall != 8 {
		panic("tui: big digits are 3, 5 or 8 lines tall")
	}
	out := make([]strings.Builder, tall)
	for n, r := range []rune(s) {
		if n > 0 {
			for i := range out {
				out[i].WriteByte(' ')
			}
		}
		for i, l := range glyphLines(r, tall, ascii) {
			out[i].WriteString(l)
		}
	}
	lines := make([]string, tall)
	for i := range out {
		lines[i] = out[i].String()
	}
	return lines
}

// scaled are the sizes of a dot: cells across, and how many half lines each of the five
// rows of dots is high; of whole lines where there are no half blocks.
var scaled = map[int]struct {
	across       int
	halves, rows [5]int
}{
	3: {1, [5]int{1, 1, 1, 1, 1}, [5]int{}},
	5: {2, [5]int{2, 2, 2, 2, 2}, [5]int{1, 1, 1, 1, 1}},
	8: {3, [5]int{3, 3, 4, 3, 3}, [5]int{2, 1, 2, 1, 2}},
}

// glyphLines is one character; the three-line ASCII form is a seven-segment figure.
func glyphLines(r rune, tall int, ascii bool) []string {
	lines := make([]string, tall)
	if tall == 3 && ascii {
		if seg, ok := segments[r]; ok {
			copy(lines, seg[:])
			return lines
		}
	}
	if r == '_' && tall > 3 { // where the next digit goes: a bar, no slab
		bar := "▄"
		if ascii {
			bar = "_"
		}
		n := 3 * scaled[tall].across
		for i := range lines {
			lines[i] = strings.Repeat(" ", n)
		}
		lines[tall-1] = strings.Repeat(bar, n)
		return lines
	}
	fig, ok := figures[r]
	if !ok || tall == 3 && ascii {
		for i := range lines {
			lines[i] = strings.Repeat(" ", Width(string(r)))
		}
		lines[tall-1] = string(r)
		return lines
	}
	sz := scaled[tall]
	if ascii {
		i := 0
		for row, n := range sz.rows {
			for range n {
				lines[i] = wide(fig[row], sz.across, "#")
				i++
			}
		}
		return lines
	}
	var half [16]string // half lines from the top
	n := 0
	for row, c := range sz.halves {
		for range c {
			half[n] = fig[row]
			n++
		}
	}
	for i := range lines {
		top, low := half[2*i], half[2*i+1]
		if low == "" {
			low = strings.Repeat(" ", len(top))
		}
		var b strings.Builder
		for x := range len(top) {
			b.WriteString(strings.Repeat(halfBlock(top[x] == '#', low[x] == '#'), sz.across))
		}
		lines[i] = b.String()
	}
	return lines
}

// wide is a row of dots in a character, each so many cells across.
func wide(dots string, across int, c string) string {
	var b strings.Builder
	for _, d := range dots {
		if d == '#' {
			b.WriteString(strings.Repeat(c, across))
		} else {
			b.WriteString(strings.Repeat(" ", across))
		}
	}
	return b.String()
}

func halfBlock(top, low bool) string {
	switch {
	case top && low:
		return "█"
	case top:
		return "▀"
	case low:
		return "▄"
	}
	return " "
}

// BigFits is the tallest size, or 0 for none, at which a number fits.
func BigFits(s string, w, h int) int {
	for _, tall := range talls {
		if h >= tall && bigWidth(s, tall) <= w {
			return tall
		}
	}
	return 0
}

// bigWidth is the width of a text in big figures.
func bigWidth(s string, tall int) int {
	n := 0
	for i, r := range []rune(s) {
		if i > 0 {
			n++
		}
		if fig, ok := figures[r]; ok {
			n += len(fig[0]) * scaled[tall].across
		} else {
			n += Width(string(r))
		}
	}
	return n
}
