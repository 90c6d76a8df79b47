package tui

import (
	"fmt"
	"html"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fliptrue/steps/fold"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// screens are the pictures of the README: frames that the program draws, in its own colours.
// They are made anew, and looked at, with
//
//	UPDATE=1 go test ./tui -run TestReadmePictures
var screens = []struct {
	name, about string
	frame       func(t *testing.T) *screen
}{
	{"reading", "The locating bore, hit 3 of 6: what is asked, what was read, where it is, and the number being typed.", func(t *testing.T) *screen {
		return practice(t, lid(t, "T"), 80, 24).at("bore", "hit3.y").Type("-163.3")
	}},
	{"fail", "The fixture's edge is not square: by how much, where it was read, and the tap that mends it.", func(t *testing.T) *screen {
		s := practice(t, lid(t, "T"), 80, 24)
		return s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && !v.passed && v.step == "square" })
	}},
	{"ready", "Everything passes: what side 2 is off by at the worst feature, and what the release means.", func(t *testing.T) *screen {
		s := practice(t, lid(t, "T"), 80, 24)
		return s.until(func() bool { return s.on() == "readyPage" })
	}},
	{"side1", "Side 1 in the vise: the corner of the stock.", reading("side1", "corner")},
	{"side2", "Side 2 on its fixture: the work offset read back from the control.", reading("side2", "floor")},
	{"ball", "The ball of the probe: a ring gauge from four directions.", reading("ring", "ball")},
	{"tram", "The lean of the spindle: a dial swept over the table.", reading("head", "tram")},
}

// reading is a walk of the practice job with some readings of a step taken and one typed.
func reading(setup string, step fold.StepID) func(t *testing.T) *screen {
	return func(t *testing.T) *screen {
		s := practice(t, programmed(t, "T", setup), 80, 24)
		n := 0
		s.until(func() bool {
			w, ok := s.m.top().(*walkPage)
			if !ok || s.state().Cursor.Step != step || w.doing(s.m) {
				return false
			}
			a, ok := w.ask(s.m)
			if !ok || a.Kind != fold.Reading || w.text(s.m).Empty() {
				return false
			}
			n++
			return n == 3 // two are taken, the third stands in its field
		})
		return s
	}
}

// The pictures in testdata/screens are those that the program draws, and the README shows each.
func TestReadmePictures(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range screens {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := c.frame(t)
			r := lipgloss.NewRenderer(io.Discard)
			r.SetColorProfile(termenv.TrueColor)
			s.m.t = NewTheme(r, Look{})
			s.m.draw()
			got := svg(s.m.View(), s.w, s.h, c.about)
			file := "testdata/screens/" + c.name + ".svg"
			path := filepath.Join("..", filepath.FromSlash(file))
			if !strings.Contains(string(readme), "]("+file+")") {
				t.Errorf("the README does not show %s", file)
			}
			if os.Getenv("UPDATE") != "" {
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if strings.ReplaceAll(string(want), "\r\n", "\n") != got {
				t.Errorf("%s is not the screen that the program draws now; look at this one, then UPDATE=1 go test ./tui -run TestReadmePictures\n%s", file, s.View())
			}
		})
	}
}

// Cells of the picture, and the colours where the program leaves them to the terminal.
const (
	cellW, cellH = 8, 17
	paper, ink   = "#101418", "#d8dee4"
)

// pen is what the escapes before a character ask for.
type svgPen struct {
	fg, bg                          string
	bold, underline, strike, invers bool
}

// svg is a frame as a picture: a rectangle for each ground, a text for each run of one look, set
// to its cells whatever the font.
func svg(frame string, w, h int, about string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="13">`+"\n<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" rx=\"6\" fill=\"%s\"/>\n",
		w*cellW+16, h*cellH+16, w*cellW+16, html.EscapeString(about), paper)
	for y, line := range strings.Split(frame, "\n") {
		x := 0
		p := svgPen{}
		for line != "" {
			if esc, rest, ok := strings.Cut(line, "m"); ok && strings.HasPrefix(esc, "\x1b[") {
				p.take(esc[2:])
				line = rest
				continue
			}
			n := len(line)
			if i := strings.IndexByte(line, 0x1b); i >= 0 {
				n = i
			}
			text := line[:n]
			p.run(&b, x, y, text)
			x, line = x+Width(text), line[n:]
		}
	}
	return b.String() + "</svg>\n"
}

// take reads the numbers of an SGR escape (ECMA-48, 8.3.117; colours by T.416).
func (p *svgPen) take(codes string) {
	ns := strings.Split(codes, ";")
	for i := 0; i < len(ns); i++ {
		switch n, _ := strconv.Atoi(ns[i]); n {
		case 0:
			*p = svgPen{}
		case 1:
			p.bold = true
		case 4:
			p.underline = true
		case 7:
			p.invers = true
		case 9:
			p.strike = true
		case 38, 48:
			if i+4 < len(ns) && ns[i+1] == "2" {
				var c [3]int
				for k := range c {
					c[k], _ = strconv.Atoi(ns[i+2+k])
				}
				rgb := fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2])
				if n == 38 {
					p.fg = rgb
				} else {
					p.bg = rgb
				}
				i += 4
			}
		}
	}
}

// run draws a text from a cell on. Blanks divide it: each word stands at its own cells.
func (p *svgPen) run(b *strings.Builder, x, y int, text string) {
	fg, bg := p.fg, p.bg
	if fg == "" {
		fg = ink
	}
	if p.invers {
		if fg, bg = bg, fg; fg == "" {
			fg = paper
		}
	}
	left, top := 8+x*cellW, 8+y*cellH
	if bg != "" {
		fmt.Fprintf(b, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s"/>`+"\n", left, top, Width(text)*cellW, cellH, bg)
	}
	look := `fill="` + fg + `"`
	if p.bold {
		look += ` font-weight="bold"`
	}
	switch {
	case p.underline:
		look += ` text-decoration="underline"`
	case p.strike:
		look += ` text-decoration="line-through"`
	}
	for text != "" {
		word := strings.TrimLeft(text, " ")
		x += Width(text) - Width(word)
		end := strings.Index(word, "  ")
		if end < 0 {
			end = len(word)
		}
		word, text = word[:end], word[end:]
		if word = strings.TrimRight(word, " "); word != "" {
			fmt.Fprintf(b, `<text x="%d" y="%d" textLength="%d" lengthAdjust="spacingAndGlyphs" xml:space="preserve" %s>%s</text>`+"\n",
				8+x*cellW, top+13, Width(word)*cellW, look, html.EscapeString(word))
		}
		x += Width(word) // and the blanks that follow it are counted with the next
		if strings.TrimSpace(text) == "" {
			break
		}
	}
}
