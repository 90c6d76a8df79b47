package tui

import "strings"

// The big digits and letters are our own dot figures, 3 by 5 and wider where a letter needs it. On five lines a dot is two cells
// wide and one high; on three lines two dots lie in one cell as half blocks; the
// ASCII form of three lines is a seven-segment figure.
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

	'A': {"###", "# #", "###", "# #", "# #"}, 'B': {"## ", "# #", "## ", "# #", "## "}, 'C': {"###", "#  ", "#  ", "#  ", "###"},
	'D': {"## ", "# #", "# #", "# #", "## "}, 'E': {"###", "#  ", "## ", "#  ", "###"}, 'F': {"###", "#  ", "## ", "#  ", "#  "},
	'G': {"###", "#  ", "# #", "# #", "###"}, 'H': {"# #", "# #", "###", "# #", "# #"}, 'I': {"#", "#", "#", "#", "#"},
	'J': {"  #", "  #", "  #", "# #", "###"}, 'K': {"# #", "# #", "## ", "# #", "# #"}, 'L': {"#  ", "#  ", "#  ", "#  ", "###"},
	'M': {"#   #", "## ##", "# # #", "#   #", "#   #"}, 'N': {"#  #", "## #", "# ##", "#  #", "#  #"}, 'O': {"###", "# #", "# #", "# #", "###"},
	'P': {"###", "# #", "###", "#  ", "#  "}, 'Q': {"### ", "# # ", "# # ", "### ", "   #"}, 'R': {"###", "# #", "## ", "# #", "# #"},
	'S': {"###", "#  ", "###", "  #", "###"}, 'T': {"###", " # ", " # ", " # ", " # "}, 'U': {"# #", "# #", "# #", "# #", "###"},
	'V': {"# #", "# #", "# #", "# #", " # "}, 'W': {"#   #", "#   #", "# # #", "## ##", "#   #"}, 'X': {"# #", "# #", " # ", "# #", "# #"},
	'Y': {"# #", "# #", " # ", " # ", " # "}, 'Z': {"###", "  #", " # ", "#  ", "###"},
}

var segments = map[rune][3]string{
	'0': {" _ ", "| |", "|_|"}, '1': {"   ", "  |", "  |"}, '2': {" _ ", " _|", "|_ "}, '3': {" _ ", " _|", " _|"},
	'4': {"   ", "|_|", "  |"}, '5': {" _ ", "|_ ", " _|"}, '6': {" _ ", "|_ ", "|_|"}, '7': {" _ ", "  |", "  |"},
	'8': {" _ ", "|_|", "|_|"}, '9': {" _ ", "|_|", " _|"}, '-': {"   ", " _ ", "   "}, '+': {"   ", "_|_", " | "},
	'.': {" ", " ", "."}, ',': {" ", " ", ","}, '/': {"  /", " / ", "/  "}, ' ': {" ", " ", " "},
}

// Big draws a number in 3 or 5 lines. Every line has the same width. A character
// without a figure stands in its own size on the last line, so that nothing is
// lost. A tall of neither 3 nor 5 panics.
func Big(s string, tall int, ascii bool) []string {
	if tall != 3 && tall != 5 {
		panic("tui: big digits are 3 or 5 lines tall")
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

// A dot on five lines is two cells wide.
var (
	blocks = strings.NewReplacer("#", "██", " ", "  ")
	hashes = strings.NewReplacer("#", "##", " ", "  ")
)

func glyphLines(r rune, tall int, ascii bool) []string {
	lines := make([]string, tall)
	if tall == 3 && ascii {
		if seg, ok := segments[r]; ok {
			copy(lines, seg[:])
			return lines
		}
	}
	fig, ok := figures[r]
	if !ok {
		for i := range lines {
			lines[i] = strings.Repeat(" ", Width(string(r)))
		}
		lines[tall-1] = string(r)
		return lines
	}
	if tall == 5 {
		dots := blocks
		if ascii {
			dots = hashes
		}
		for i := range lines {
			lines[i] = dots.Replace(fig[i])
		}
		return lines
	}
	for i := range lines {
		top, low := fig[2*i], strings.Repeat(" ", len(fig[0]))
		if 2*i+1 < 5 {
			low = fig[2*i+1]
		}
		var b strings.Builder
		for x := range len(top) {
			switch {
			case top[x] == '#' && low[x] == '#':
				b.WriteString("█")
			case top[x] == '#':
				b.WriteString("▀")
			case low[x] == '#':
				b.WriteString("▄")
			default:
				b.WriteByte(' ')
			}
		}
		lines[i] = b.String()
	}
	return lines
}

// BigFits is the tallest size, 5, 3 or 0 for none, at which a number fits.
func BigFits(s string, w, h int) int {
	for _, tall := range []int{5, 3} {
		if h >= tall && Width(Big(s, tall, false)[0]) <= w {
			return tall
		}
	}
	return 0
}
