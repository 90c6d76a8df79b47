package canvas

import (
	"strings"
	"testing"
)

// Levels stand in the order of their heights, each on a row of its own, the lower below the higher; a tip stands
// where its height is; what lies outside is not named.
func TestSection(t *testing.T) {
	s := Section{Lo: -2, Hi: 2, Levels: []Level{{Z: -0.92, Text: "tip"}, {Z: 0, Text: "seat"}, {Z: -1, Text: "relief"}, {Z: 9, Text: "far"}},
		Solids: []Solid{{X0: 0.4, X1: 0.6, Lo: -0.5, Hi: 9, Point: 0.42}}}
	for _, ascii := range []bool{false, true} {
		for _, size := range [][2]int{{40, 5}, {40, 12}, {90, 30}} {
			ls := DrawSection(size[0], size[1], s, ascii).Lines(nil)
			row := func(text string) int {
				for i, l := range ls {
					if strings.Contains(l, text) {
						return i
					}
				}
				return -1
			}
			if !(row("seat") >= 0 && row("seat") < row("tip") && row("tip") < row("relief")) || row("far") >= 0 {
				t.Errorf("%v: seat %d, tip %d, relief %d, far %d:\n%s", size, row("seat"), row("tip"), row("relief"), row("far"), strings.Join(ls, "\n"))
			}
		}
	}
	ls := DrawSection(60, 40, Section{Lo: -2, Hi: 2, Solids: s.Solids}, true).Lines(nil)
	lowest := 0
	for i, l := range ls {
		if strings.TrimSpace(l) != "" {
			lowest = i
		}
	}
	if lowest < 28 || lowest > 30 { // 2.92 of 4 down 40 rows
		t.Errorf("the tip ends in row %d:\n%s", lowest, strings.Join(ls, "\n"))
	}
}
