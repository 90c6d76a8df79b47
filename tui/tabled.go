package tui

import (
	"strings"

	"fliptrue/steps/fold"
)

// hitGrid is how a table of readings lies on a sheet: what stands left and right of each decimal point, and before the first.
type hitGrid struct {
	m     *Model
	p     *walkPage
	a     fold.Ask // the field in hand
	left  int
	right int
	lead  int // mark and number
	place int
	axis  int // the letter before a number, 0 where a column has one
	w     int // of the sheet
}

// grid makes room for everything that may stand in it.
func (p *walkPage) grid(m *Model, s *sheet, t hitTable, a fold.Ask, pred string) hitGrid {
	g := hitGrid{m: m, p: p, a: a, w: s.w, lead: 2}
	g.left, g.right = whole(pred), max(Width(pred)-whole(pred)+1, 4) // with its mark behind the last digit
	num := 0
	for _, r := range t.rows {
		for _, q := range r.asks {
			if q != nil {
				v, _ := p.value(m, q)
				g.left, g.right = max(g.left, whole(v)), max(g.right, Width(v)-whole(v))
			}
		}
		g.place, num = max(g.place, Width(m.t.Say(r.place))), max(num, len(r.no))
	}
	shown := p.text(m).Shown()
	g.left, g.right = max(g.left, 4), max(g.right, Width(shown)-whole(shown))
	if num > 0 {
		g.lead = 3 + num
	}
	if t.cols[0] == "+" {
		g.axis = 2
	}
	g.place = max(min(g.place, s.w-g.lead-2-g.axis-len(t.cols)*(g.left+g.right+2)+2), 6)
	return g
}

// cell is a number with its point in its column, a dot where there is none yet.
func (g hitGrid) cell(text string, r Role) string {
	t := g.m.t
	if text == "" {
		return strings.Repeat(" ", g.left-1) + t.Paint(Dim, g.m.dot()) + strings.Repeat(" ", g.right+2)
	}
	w := whole(text)
	return strings.Repeat(" ", max(g.left-w, 0)) + t.Paint(r, t.Say(text)) + strings.Repeat(" ", max(g.right-(Width(text)-w), 0)+2)
}

// row is the line of a place, and what of its name has no room in it.
func (g hitGrid) row(r hitRow, cols int, here bool) []string {
	t := g.m.t
	mark, role := "  ", Text
	if here {
		mark, role = "> ", Act
	}
	names := Wrap(t.Say(r.place), g.place) // nothing is cut
	line := t.Paint(role, mark+PadLeft(r.no+" ", g.lead-2)+Pad(names[0], g.place)) + "  "
	if g.axis > 0 {
		line += t.Paint(role, Pad(upper(r.first().What.Axis), g.axis))
	}
	for c := range cols {
		var q *fold.Ask
		if c < len(r.asks) {
			q = r.asks[c]
		}
		switch {
		case q == nil:
			line += strings.Repeat(" ", g.left+g.right+2)
		case q.Field == g.a.Field:
			line += g.cell(g.p.text(g.m).Shown(), Typed)
		default:
			v, typed := g.p.value(g.m, q)
			line += g.cell(v, map[bool]Role{true: Typed, false: role}[typed])
		}
	}
	ls := []string{strings.TrimRight(line, " ")}
	for _, n := range names[1:] {
		ls = append(ls, t.Paint(role, strings.Repeat(" ", g.lead)+n))
	}
	return ls
}

// expected is what is expected in the column of the field in hand.
func (g hitGrid) expected(column int, pred, after, apart string) (ls []string) {
	t := g.m.t
	in := g.lead + g.place + 2 + g.axis + column*(g.left+g.right+2) - 1
	switch {
	case pred != "":
		word, half := "expected", t.Say(strings.SplitN(after, "  ", 2)[0])
		pl := strings.Repeat(" ", max(in+g.left-whole(pred)-len(word), 1)) + pred
		l := word + pl + " " + after
		if Width(t.Say(l)) > g.w-1 {
			l = word + pl + " " + half
		}
		if Width(t.Say(l)) > g.w-1 { // no room behind the last column
			word += " " + half
			l = word + strings.Repeat(" ", max(in+g.left-whole(pred)-Width(word), 1)) + pred
		}
		return []string{" " + t.Paint(Predicted, t.Say(l))}
	case apart != "":
		if Width(t.Say(apart))+11 > g.w && (strings.HasPrefix(apart, bounds) || strings.HasPrefix(apart, upTo)) { // the numbers are enough here
			apart, _, _ = strings.Cut(apart, ": ")
		}
		for _, l := range WrapHung(" expected  ", t.Say(apart), g.w) {
			ls = append(ls, t.Paint(Predicted, l))
		}
	}
	return ls
}

// tabled puts the table with the field in it, at most so many places, and below the field
// what is expected in it, its decimal point in the same column.
func (p *walkPage) tabled(m *Model, s *sheet, t hitTable, a fold.Ask, most int) {
	pred, after, apart := m.expected(a)
	g := p.grid(m, s, t, a, pred)
	var ls []string
	at := 0
	for i, r := range t.rows {
		here := i == t.at[0]
		if here {
			at = len(ls)
		}
		ls = append(ls, g.row(r, len(t.cols), here)...)
		if !here {
			continue
		}
		if old := m.before(a.Field); old != "" {
			ls = append(ls, " before    "+m.t.Paint(Void, old))
		}
		ls = append(ls, g.expected(t.at[1], pred, after, apart)...)
	}
	if len(t.cols) > 1 {
		head := strings.Repeat(" ", g.lead+g.place+2)
		for _, c := range t.cols {
			head += Pad(strings.Repeat(" ", g.left-1)+c, g.left+g.right+2)
		}
		s.put(must, m.t.Paint(Dim, strings.TrimRight(head, " ")))
	}
	s.put(must, window(ls, at, max(most, 5))...)
}
