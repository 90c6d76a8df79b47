package tui

import (
	"strings"

	"fliptrue/calc/unit"
)

// values are the numbers of a line, each with its unit: a number alone, or several, bare
// or with axis letters as a control's probe log writes them. Words without a digit that
// are no unit are names and are passed over. ok is false where something stands in the
// line that has digits and is no number: then none of it is to be guessed at.
func values(line string) (vs []string, ok bool) {
	if line = strings.TrimSpace(line); isNumberOrUnit(line) && strings.ContainsAny(line, "0123456789") {
		return []string{line}, true
	}
	for _, w := range strings.Fields(line) {
		switch bare := strings.TrimLeft(w, "XYZxyz="); {
		case !strings.ContainsAny(w, "0123456789"):
			if n := len(vs); n > 0 && isNumberOrUnit("1"+w) {
				vs[n-1] += " " + w
			}
		case strings.Contains(w, "/") || !isNumberOrUnit(bare):
			return nil, false
		default:
			vs = append(vs, bare)
		}
	}
	return vs, len(vs) > 0
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
