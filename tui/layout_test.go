package tui

import (
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
)

func theme(l Look) Theme { return NewTheme(lipgloss.NewRenderer(io.Discard), l) }

// sketch draws a layout with one letter a region, every across cells and every
// down lines of it.
func sketch(l Layout, across, down int) string {
	rows := make([][]byte, l.H)
	for y := range rows {
		rows[y] = []byte(strings.Repeat(".", l.W))
	}
	for _, r := range []struct {
		Rect
		c byte
	}{{l.Head, 'H'}, {l.Rail, 'r'}, {l.Banner, 'B'}, {l.List, 's'}, {l.Body, 'b'}, {l.Key, 'K'}} {
		for y := r.Y; y < r.Y+r.H; y++ {
			for x := r.X; x < r.X+r.W; x++ {
				if rows[y][x] != '.' {
					rows[y][x] = '!' // an overlap
				} else {
					rows[y][x] = r.c
				}
			}
		}
	}
	var b strings.Builder
	for y := 0; y < l.H; y += down {
		for x := 0; x < l.W; x += across {
			b.WriteByte(rows[y][x])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func TestLayoutsDrawn(t *testing.T) {
	for _, c := range []struct {
		name         string
		need         Need
		across, down int
		want         string
	}{
		{"80x24 with one warning", Need{W: 80, H: 24, Banners: 1, Keys: 1, Steps: true}, 4, 1, `
HHHHHHHHHHHHHHHHHHHH
rrrrrrrrrrrrrrrrrrrr
BBBBBBBBBBBBBBBBBBBB
....................
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
bbbbbbbbbbbbbbbbbbbb
....................
KKKKKKKKKKKKKKKKKKKK
`},
		{"120x36: the steps are a list", Need{W: 120, H: 36, Banners: 2, Keys: 1, Said: 2, Steps: true}, 4, 3, `
HHHHHHHHHHHHHHHHHHHHHHHHHHHHHH
..............................
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
ssssssss.bbbbbbbbbbbbbbbbbbbbb
..............................
`},
		{"60x20: no steps", Need{W: 60, H: 20, Keys: 2, Steps: true}, 5, 3, `
HHHHHHHHHHHH
bbbbbbbbbbbb
bbbbbbbbbbbb
bbbbbbbbbbbb
bbbbbbbbbbbb
bbbbbbbbbbbb
KKKKKKKKKKKK
`},
		{"far view", Need{W: 80, H: 24, Banners: 1, Keys: 1, Steps: true, View: FarView}, 8, 4, `
HHHHHHHHHH
bbbbbbbbbb
bbbbbbbbbb
bbbbbbbbbb
bbbbbbbbbb
bbbbbbbbbb
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := sketch(Arrange(c.need), c.across, c.down); got != strings.TrimPrefix(c.want, "\n") {
				t.Errorf("got\n%s", got)
			}
		})
	}
}

// TestFrameFillsTheScreen asserts at many sizes that a frame has exactly H lines
// of exactly W cells, that every banner is there, and that nothing runs over
// unsaid.
func TestFrameFillsTheScreen(t *testing.T) {
	for _, look := range []Look{{}, {Light: true, Colour: Sixteen}, {Colour: Attributes}, {Colour: Off, ASCII: true}} {
		th := theme(look)
		for _, w := range []int{0, 1, 20, 59, 60, 79, 80, 100, 119, 120, 160, 200} {
			for _, h := range []int{0, 1, 5, 20, 23, 24, 30, 36, 60} {
				for _, v := range []View{Whole, FarView, PictureView} {
					p := Parts{Head: []string{"Ø8 ±0.02"}, Rail: []string{"FIXTURE = ="}, Banner: []string{"WAIVED: shift 0.014", "2 facts void"}, Key: []string{"Enter take"},
						List: []string{"one", "two"}, Body: strings.Split(strings.Repeat("line\n", 80), "\n"), Said: []string{"first said", "second said"}}
					out := Frame(Arrange(Need{W: w, H: h, Banners: 2, Keys: 1, Said: 2, Steps: true, View: v}), p, th)
					if w == 0 || h == 0 {
						if out != "" {
							t.Fatalf("%dx%d: %q", w, h, out)
						}
						continue
					}
					lines := strings.Split(out, "\n")
					if len(lines) != h {
						t.Fatalf("%dx%d view %d: %d lines", w, h, v, len(lines))
					}
					for _, l := range lines {
						if Width(l) != w {
							t.Fatalf("%dx%d view %d: line of %d cells: %q", w, h, v, Width(l), l)
						}
					}
					if w < MinWidth || h < MinHeight {
						continue
					}
					for _, b := range append(append([]string{}, p.Banner...), p.Said...) {
						if !strings.Contains(out, b) {
							t.Errorf("%dx%d view %d: banner %q lost", w, h, v, b)
						}
					}
					if !strings.Contains(out, "more lines") {
						t.Errorf("%dx%d view %d: lines dropped unsaid", w, h, v)
					}
				}
			}
		}
	}
}

func TestSmallScreenSaysWhatItNeeds(t *testing.T) {
	out := Frame(Arrange(Need{W: 50, H: 20}), Parts{}, theme(Look{}))
	if !strings.Contains(out, "50 x 20") || !strings.Contains(out, "60 x 20") {
		t.Errorf("got\n%s", out)
	}
}

func BenchmarkFrame(b *testing.B) {
	th := theme(Look{})
	line := th.Paint(Pass, "(=) PASS") + " bore x " + th.Paint(Figure, "-267.450")
	p := Parts{Head: []string{"top"}, Key: []string{"keys"}}
	for range 60 {
		p.List, p.Body = append(p.List, line), append(p.Body, line)
	}
	for b.Loop() {
		Frame(Arrange(Need{W: 200, H: 60, Keys: 1, Steps: true}), p, th)
	}
}
