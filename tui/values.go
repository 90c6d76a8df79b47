package tui

import (
	"slices"
	"strings"

	"fliptrue/calc/sent"
	"fliptrue/steps/fold"
)

// value is a number of a line with its unit, and the axis letter before it, x, y or z, if
// there was one.
type value struct{ axis, text string }

// values are the numbers of a line; ok is false where none of it is to be guessed at.
func values(line string) (vs []value, ok bool) {
	ns, err := sent.Line(line)
	for _, n := range ns {
		vs = append(vs, value{n.Axis, n.Text})
	}
	return vs, err == nil
}

// rowsOf are the numbers of several lines, by line.
func rowsOf(text string) (rows [][]value) {
	for _, l := range strings.Split(text, "\n") {
		if vs, _ := values(l); len(vs) > 0 {
			rows = append(rows, vs)
		}
	}
	return rows
}

// lettered says that axis letters stand before numbers.
func lettered(vs []value) bool {
	for _, v := range vs {
		if v.axis != "" {
			return true
		}
	}
	return false
}

// passed is the place of a number that is for no reading: an axis that its point does not ask.
const passed = -1

// place says which of the readings each number is for: in their order, or by axis letters
// in a row that has them. Letters sort the numbers of one point, the readings of one form;
// they carry none over to another point, and an axis that is not read there is passed over.
// of has all readings of the step, those taken included. An index past the readings is a
// number too many; why says what else can't be placed, if anything.
func place(rows [][]value, asks, of []fold.Ask) (at []int, why string) {
	p := placing{asks: asks, of: of, used: make([]bool, len(asks))}
	if rows, why = p.columns(rows); why != "" {
		return nil, why
	}
	for _, row := range rows {
		letters, found := lettered(row), false
		for i, v := range row {
			switch {
			case letters && v.axis == "":
				return nil, "some numbers have an axis letter and " + v.text + " has none: nothing is filled in"
			case !letters || p.next >= len(asks) && (i == 0 || slices.Contains(p.seen, v.axis)):
				p.form, p.seen, p.found = "", nil, true
				p.put(p.next)
				found = true
				continue
			}
			k, ok := p.lettered(v, i == 0)
			if !ok {
				return nil, upper(v.axis) + v.text + " does not fit " + p.label() + ": nothing is filled in"
			}
			found = found || k != passed
			p.put(k)
		}
		if !found {
			return nil, rowText(row) + " does not fit " + p.label() + ": nothing is filled in"
		}
	}
	return p.at, ""
}

// placing is place at work.
type placing struct {
	asks, of []fold.Ask
	at       []int
	used     []bool
	next     int      // the first reading that waits
	form     string   // of the point in hand
	seen     []string // its letters so far
	found    bool     // one of them has its reading
}

// label is what the next reading is called.
func (p *placing) label() string {
	if p.next < len(p.asks) {
		return p.asks[p.next].Label
	}
	return "the last reading"
}

func (p *placing) put(k int) {
	p.at = append(p.at, k)
	if k >= 0 && k < len(p.used) {
		p.used[k] = true
	}
	for p.next < len(p.used) && p.used[p.next] {
		p.next++
	}
	if p.next == k { // past the last
		p.next++
	}
}

// lettered is the reading of a number with a letter; first is the first of its row.
func (p *placing) lettered(v value, first bool) (k int, ok bool) {
	form := ""
	if p.next < len(p.asks) {
		form = p.asks[p.next].Form
	}
	if first && (p.form == "" || form != p.form) || slices.Contains(p.seen, v.axis) {
		p.form, p.seen, p.found = form, nil, false
	}
	p.seen = append(p.seen, v.axis)
	if p.form == "" && p.found { // one reading at this point, and it has its number
		return passed, true
	}
	fits := func(k int) bool { return !p.used[k] && p.asks[k].Form == p.form && p.asks[k].What.Axis == v.axis }
	k = p.next
	for p.form != "" && k < len(p.asks) && !fits(k) {
		k++
	}
	if k < len(p.asks) && fits(k) {
		p.found = true
		return k, true
	}
	for _, a := range p.of { // read at this point, and taken or named twice
		if a.What.Axis == v.axis && p.form != "" && a.Form == p.form {
			return 0, false
		}
	}
	return passed, true
}

// columns are rows of bare numbers as they are meant: three in each where X and Y of points
// are read are X, Y and Z. Other counts than a point has can't be sorted once there are rows.
func (p *placing) columns(rows [][]value) ([][]value, string) {
	size, axes := 0, ""
	for _, a := range p.asks {
		if len(p.asks) > 0 && a.Form != "" && a.Form == p.asks[0].Form {
			size, axes = size+1, axes+a.What.Axis
		}
	}
	if size < 2 {
		return rows, ""
	}
	n := 0
	for _, r := range rows {
		if lettered(r) {
			return rows, ""
		}
		n = max(n, len(r))
	}
	if axes == "xy" && n == 3 && !slices.ContainsFunc(rows, func(r []value) bool { return len(r) != 3 }) {
		out := make([][]value, len(rows))
		for i, r := range rows {
			for k, v := range r {
				out[i] = append(out[i], value{"xyz"[k : k+1], v.text})
			}
		}
		return out, ""
	}
	for _, r := range rows {
		if len(rows) > 1 && len(r) > 1 && len(r) != size {
			return nil, plural(len(r), "number") + " in a row and " + plural(size, "reading") +
				" for each point: put axis letters before them; nothing is filled in"
		}
	}
	return rows, ""
}

func rowText(row []value) string {
	var out []string
	for _, v := range row {
		out = append(out, upper(v.axis)+v.text)
	}
	return strings.Join(out, " ")
}

// IsRow reports whether a line is a row of two or more numbers, as in a block of hits.
func IsRow(line string) bool {
	vs, _ := values(line)
	return len(vs) >= 2
}
