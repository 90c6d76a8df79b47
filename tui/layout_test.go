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
	}{{l.Top, 'T'}, {l.Banner, 'B'}, {l.Where, 'w'}, {l.Middle, 'm'}, {l.Picture, 'p'}, {l.Key, 'K'}} {
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
		{"80x24 with a picture and one warning", Need{W: 80, H: 24, Top: 1, Banners: 1, Middle: 12, Keys: 1, Picture: true}, 2, 1, `
TTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTT
BBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBBB
........................................
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.mmmmmmmmmmmmmmmmmmmmmmmmmmmmm
wwwwwwwwww.ppppppppppppppppppppppppppppp
wwwwwwwwww.ppppppppppppppppppppppppppppp
wwwwwwwwww.ppppppppppppppppppppppppppppp
wwwwwwwwww.ppppppppppppppppppppppppppppp
wwwwwwwwww.ppppppppppppppppppppppppppppp
wwwwwwwwww.ppppppppppppppppppppppppppppp
........................................
KKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKK
`},
		{"80x24, long act: the picture gives way", Need{W: 80, H: 24, Top: 1, Middle: 17, Keys: 1, Picture: true}, 4, 4, `
TTTTTTTTTTTTTTTTTTTT
wwwww.mmmmmmmmmmmmmm
wwwww.mmmmmmmmmmmmmm
wwwww.mmmmmmmmmmmmmm
wwwww.mmmmmmmmmmmmmm
wwwww.mmmmmmmmmmmmmm
`},
		{"120x36", Need{W: 120, H: 36, Top: 1, Banners: 2, Middle: 20, Keys: 1, Picture: true}, 4, 3, `
TTTTTTTTTTTTTTTTTTTTTTTTTTTTTT
..............................
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
wwwwww.mmmmmmmmmmmmmmppppppppp
`},
		{"200x60", Need{W: 200, H: 60, Top: 1, Middle: 20, Keys: 1, Picture: true}, 5, 6, `
TTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTTT
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
wwwwwwwmmmmmmmmmmmmmmmmmmmmppppppppppppp
`},
		{"far view", Need{W: 80, H: 24, Top: 1, Banners: 1, Keys: 1, Picture: true, View: FarView}, 8, 4, `
TTTTTTTTTT
mmmmmmmmmm
mmmmmmmmmm
mmmmmmmmmm
mmmmmmmmmm
mmmmmmmmmm
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
		for _, w := range []int{0, 1, 20, 60, 79, 80, 100, 109, 110, 132, 200} {
			for _, h := range []int{0, 1, 5, 20, 23, 24, 30, 36, 60} {
				for _, v := range []View{Whole, FarView, PictureView} {
					p := Parts{Top: []string{"Ø8 ±0.02"}, Banner: []string{"WAIVED: shift 0.014", "2 facts void"}, Key: []string{"Enter take"},
						Where: []string{"one", "two"}, Middle: strings.Split(strings.Repeat("line\n", 40), "\n"), Picture: []string{"pic"}}
					out := Frame(Arrange(Need{W: w, H: h, Top: 1, Banners: 2, Middle: 12, Keys: 1, Picture: true, View: v}), p, th)
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
					for _, b := range p.Banner {
						if !strings.Contains(out, b) {
							t.Errorf("%dx%d view %d: banner %q lost", w, h, v, b)
						}
					}
					if v != PictureView && len(p.Middle) > h && !strings.Contains(out, "more lines") {
						t.Errorf("%dx%d view %d: lines dropped unsaid", w, h, v)
					}
				}
			}
		}
	}
}

func TestSmallScreenSaysWhatItNeeds(t *testing.T) {
	out := Frame(Arrange(Need{W: 60, H: 20}), Parts{}, theme(Look{}))
	if !strings.Contains(out, "60 x 20") || !strings.Contains(out, "80 x 24") {
		t.Errorf("got\n%s", out)
	}
}

func BenchmarkFrame(b *testing.B) {
	th := theme(Look{})
	line := th.Paint(Pass, "(=) PASS") + " bore x " + th.Paint(Figure, "-267.450")
	p := Parts{Top: []string{"top"}, Key: []string{"keys"}}
	for range 60 {
		p.Where, p.Middle, p.Picture = append(p.Where, line), append(p.Middle, line), append(p.Picture, line)
	}
	for b.Loop() {
		Frame(Arrange(Need{W: 200, H: 60, Top: 1, Keys: 1, Picture: true}), p, th)
	}
}
