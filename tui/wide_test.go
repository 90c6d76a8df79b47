package tui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

// TestWideLettersTearNoFrame: names in Chinese letters, with signs that take two cells and marks that take none, stand on
// every page as wide as they are: each line of the frame fills the screen, and no more.
func TestWideLettersTearNoFrame(t *testing.T) {
	t.Parallel()
	for _, look := range []Look{{}, {Colour: Off, ASCII: true}} {
		p := lid(t, "T")
		p.Job.Name = "晴雨計の裏板 🧭 e\u0301"
		p.Job.Part.Features[0].Name = "軸受の穴 ⚙\ufe0f"
		p.Job.Part.Features[1].Name = "遠い角 👩\u200d🔧"
		p.Setup.Clamps[0].Name = "左の爪 🇯🇵"
		s := practice(t, p, 80, 24)
		s.quiet = true
		s.m.t = theme(look)
		seen := map[string]bool{}
		for n := 0; n < 700 && !s.state().Released; n++ {
			if k := s.kind(); !seen[k] {
				seen[k] = true
				for _, d := range s.m.pictures {
					c, _ := d.make(60, 18)
					if c == nil {
						continue
					}
					for _, l := range c.Lines(nil) {
						if Width(l) != 60 {
							t.Fatalf("%s, %s: a line of %d cells of 60: %q", k, d.name, Width(l), l)
						}
					}
				}
				for i, z := range [][2]int{{80, 24}, {120, 36}, {60, 20}} {
					if i > 0 && (len(seen)%2 == 0) != (i == 1) {
						continue
					}
					s.size(z[0], z[1])
					for _, v := range []View{Whole, PictureView} {
						s.m.view = v
						for _, l := range strings.Split(ansi.Strip(s.m.View()), "\n") {
							if Width(l) != z[0] {
								t.Fatalf("%s at %v, view %d: a line of %d cells: %q", k, z, v, Width(l), l)
							}
						}
						s.m.view = Whole
					}
				}
				s.size(80, 24)
			}
			s.next()
		}
		if len(seen) < 60 || s.on() != "releasedPage" {
			t.Errorf("only %d pages, on %s", len(seen), s.on())
		}
	}
}
