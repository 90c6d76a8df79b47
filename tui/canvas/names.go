package canvas

import (
	"slices"
)

// Mark sets a glyph at a point, and its name beside it where there is room. ok is false if
// the point is outside the window.
func (c *Canvas) Mark(p Point, glyph rune, name string, k Ink) (ok bool) {
	x, y, ok := c.Cell(p)
	if !ok {
		return false
	}
	c.Put(x, y, glyph, k)
	c.Name(p, name, k)
	return true
}

// Name writes a name beside a point where there is room: to the right, else left, above,
// below, then farther off; without room nowhere. A blank stands between it and whatever is
// beside it; only a number stands right at its mark, for a mark and a word would read as
// another word, and a number far from its mark as that of another. A point outside the
// window has no name. ok says that it is there.
func (c *Canvas) Name(p Point, name string, k Ink) (ok bool) {
	x, y, ok := c.Cell(p)
	n := cells(name)
	if !ok || n == 0 {
		return false
	}
	if '0' <= name[0] && name[0] <= '9' {
		switch {
		case c.numberFits(x+1, y, n, x):
			c.Text(x+1, y, name, k)
		case c.numberFits(x-n, y, n, x):
			c.Text(x-n, y, name, k)
		case c.apart(x, y-1, n):
			c.Text(x, y-1, name, k)
		case c.apart(x, y+1, n):
			c.Text(x, y+1, name, k)
		default:
			return false
		}
		return true
	}
	at := [][2]int{{x + 2, y}, {x - 1 - n, y}, {x - n/2, y - 1}, {x - n/2, y + 1}}
	for d := 1; d <= 2; d++ {
		at = append(at, [2]int{x + 2, y - d}, [2]int{x + 2, y + d}, [2]int{x - 1 - n, y - d}, [2]int{x - 1 - n, y + d})
	}
	return c.first(at, n, name, k)
}

// numberFits says that a number may stand in cells that are free but for lines, no glyph beside it but its mark's.
func (c *Canvas) numberFits(x, y, n, mark int) bool {
	if x < 0 || x+n > c.w || y < 0 || y >= c.h {
		return false
	}
	for i := x - 1; i <= x+n; i++ {
		if i >= 0 && i < c.w && i != mark && c.glyph[y*c.w+i] != 0 {
			return false
		}
	}
	return true
}

// first writes a text at the first of some places where it stands free.
func (c *Canvas) first(at [][2]int, n int, s string, k Ink) bool {
	for _, q := range at {
		if c.apart(q[0], q[1], n) {
			c.Text(q[0], q[1], s, k)
			return true
		}
	}
	return false
}

// apart reports that a text of n cells would stand free: in the picture, on no line, and no
// other text or mark in its cells or right beside them.
func (c *Canvas) apart(x, y, n int) bool {
	if x < 0 || x+n > c.w || !c.free(x, y, n) {
		return false
	}
	return (x == 0 || c.glyph[y*c.w+x-1] == 0) && (x+n == c.w || c.glyph[y*c.w+x+n] == 0)
}

// Label writes a text about a point of the window; where lines or others stand, at the
// nearest place around that is free, and with none free so near nowhere. ok says that it is there.
func (c *Canvas) Label(p Point, s string, k Ink) (ok bool) {
	x, y, ok := c.Cell(p)
	if !ok {
		return false
	}
	n := cells(s)
	x -= n / 2
	var at [][2]int
	for d := 0; d <= 2; d++ {
		for dx := -4 * d; dx <= 4*d; dx++ {
			if dx > -4*d && dx < 4*d {
				at = append(at, [2]int{x + dx, y - d}, [2]int{x + dx, y + d})
				continue
			}
			for dy := -d; dy <= d; dy++ {
				at = append(at, [2]int{x + dx, y + dy})
			}
		}
	}
	at = slices.DeleteFunc(at, func(q [2]int) bool { return c.written(q[0]-2, q[1]) || c.written(q[0]+n+1, q[1]) })
	return c.first(at, n, s, k)
}

// written says that a glyph stands in a cell: a label one blank off a mark would read as its name.
func (c *Canvas) written(x, y int) bool {
	return x >= 0 && x < c.w && y >= 0 && y < c.h && c.glyph[y*c.w+x] != 0
}
