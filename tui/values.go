package tui

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"
)

// value is a number of a line with its unit, and the axis letter before it, x, y or z, if
// there was one.
type value struct{ axis, text string }

// values are the numbers of a line: a number alone, or several, bare or with axis letters
// as a control's probe log writes them. Words without a digit that are no unit are names
// and are passed over. ok is false where something stands in the line that has digits and
// is no number: then none of it is to be guessed at.
func values(line string) (vs []value, ok bool) {
	if line = strings.TrimSpace(line); isNumberOrUnit(line) && strings.ContainsAny(line, "0123456789") {
		return []value{{"", line}}, true
	}
	letter := "" // of a number that stands apart from it: X -26.5
	for _, w := range strings.Fields(line) {
		bare := strings.TrimLeft(w, "XYZxyz=")
		axis := strings.ToLower(strings.Trim(w[:len(w)-len(bare)], "="))
		switch {
		case bare == "" && len(axis) <= 1:
			letter += axis
		case !strings.ContainsAny(w, "0123456789"):
			if n := len(vs); n > 0 && isNumberOrUnit("1"+w) {
				vs[n-1].text += " " + w
			}
		case strings.Contains(w, "/") || !isNumberOrUnit(bare) || len(letter+axis) > 1:
			return nil, false
		default:
			vs = append(vs, value{letter + axis, bare})
			letter = ""
		}
	}
	return vs, len(vs) > 0 && letter == ""
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

// place says which of the readings each number is for: in their order, or by axis letters
// in a row that has them. Letters sort the numbers of one point, the readings of one form;
// they carry none over to another point. An index past the readings is a number too many;
// why says what else can't be placed, if anything.
func place(rows [][]value, asks []steps.Ask) (at []int, why string) {
	used := make([]bool, len(asks))
	next := 0 // the first reading that waits
	put := func(k int) {
		at = append(at, k)
		if k < len(used) {
			used[k] = true
		}
		for next < len(used) && used[next] {
			next++
		}
		if next == k { // past the last
			next++
		}
	}
	form := ""                // of the point in hand
	seen := map[string]bool{} // its letters so far
	for _, row := range rows {
		letters := lettered(row)
		for i, v := range row {
			switch {
			case letters && v.axis == "":
				return nil, "some numbers have an axis letter and " + v.text + " has none: nothing is filled in"
			case !letters || next >= len(asks):
				form, seen = "", map[string]bool{}
				put(next)
				continue
			}
			if f := asks[next].Form; form == "" || f == "" || seen[v.axis] || i == 0 && f != form {
				form, seen = f, map[string]bool{}
			}
			seen[v.axis] = true
			fits := func(k int) bool { return !used[k] && asks[k].Form == form && asks[k].What.Axis == v.axis }
			k := next
			for form != "" && k < len(asks) && !fits(k) {
				k++
			}
			if k == len(asks) || !fits(k) {
				return nil, upper(v.axis) + v.text + " does not fit " + asks[next].Label + ": nothing is filled in"
			}
			put(k)
		}
	}
	return at, ""
}

// isNumberOrUnit reports text that reads as a quantity of some kind.
func isNumberOrUnit(text string) bool {
	for _, k := range unit.Kinds() {
		if _, err := unit.Parse(text, k, unit.Metric); err == nil {
			return true
		}
	}
	return false
}

// IsRow reports whether a line is a row of two or more numbers, as in a block of hits.
func IsRow(line string) bool {
	vs, _ := values(line)
	return len(vs) >= 2
}
