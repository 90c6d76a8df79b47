package sent

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
)

// Number is one number of a line.
type Number struct {
	Axis string // x, y or z where the line says so, else ""
	Text string // as it came, with its unit if it had one
}

// Line reads the numbers of a line: one alone, or several, bare, with axis letters before them
// (X1.5 Y-2, x = 1.5), or as a list of commas in brackets, which is X, Y and Z in this order. Words
// without a digit that are no unit are names and are passed over. An error: something in it has
// digits and is no number, or what it means can't be known; none of it is to be guessed at then.
func Line(line string) ([]Number, error) {
	line = strings.TrimSpace(line)
	if open := strings.IndexAny(line, "[("); open >= 0 {
		return list(line, open)
	}
	if isNumber(line) && strings.ContainsAny(line, digits) {
		return []Number{{"", line}}, nil
	}
	return words(line, strings.Fields(line))
}

const digits = "0123456789"

// words reads numbers that stand apart.
func words(line string, fields []string) (ns []Number, err error) {
	letter := "" // of a number that stands apart from it: X -26.5
	for _, w := range fields {
		bare := strings.TrimLeft(w, "XYZxyz=")
		axis := strings.ToLower(strings.Trim(w[:len(w)-len(bare)], "="))
		switch {
		case bare == "" && len(axis) <= 1:
			letter += axis
		case !strings.ContainsAny(w, digits):
			if n := len(ns); n > 0 && isNumber("1"+w) {
				ns[n-1].Text += " " + w
			}
		case strings.Contains(w, "/") || !isNumber(bare) || len(letter+axis) > 1:
			return nil, fmt.Errorf("%q in %q is no number", w, line)
		default:
			ns = append(ns, Number{letter + axis, bare})
			letter = ""
		}
	}
	if len(ns) == 0 {
		return nil, fmt.Errorf("no number in %q", line)
	}
	if letter != "" {
		return nil, fmt.Errorf("no number behind %s in %q", strings.ToUpper(letter), line)
	}
	return ns, nil
}

// list reads a line with a list in brackets that begin at open. A name may stand before the
// list, outside or inside with a colon behind it; a mark behind it with a colon before it is 1
// where contact was made.
func list(line string, open int) ([]Number, error) {
	inside, after, closed := cutAny(line[open+1:], "])")
	switch {
	case strings.ContainsAny(line[:open], digits):
		return nil, fmt.Errorf("digits before the bracket in %q", line)
	case !closed:
		return nil, fmt.Errorf("no closing bracket in %q", line)
	case strings.ContainsAny(after, digits):
		return nil, fmt.Errorf("digits behind the bracket in %q", line)
	}
	if name, rest, ok := strings.Cut(inside, ":"); ok && !strings.ContainsAny(name, digits) {
		inside = rest
	}
	inside, mark, _ := strings.Cut(inside, ":")
	switch strings.TrimSpace(mark) {
	case "", "1":
	case "0":
		return nil, fmt.Errorf("the mark behind the list in %q is 0: no contact was made", line)
	default:
		return nil, fmt.Errorf("the mark %q behind the list in %q is not known", mark, line)
	}
	parts, err := apart(inside, line)
	if err != nil {
		return nil, err
	}
	var ns []Number
	for _, p := range parts {
		n, err := words(line, strings.Fields(p))
		if err != nil {
			return nil, err
		}
		if len(n) != 1 {
			return nil, fmt.Errorf("%q in %q is not one number", p, line)
		}
		ns = append(ns, n[0])
	}
	if len(ns) == 0 {
		return nil, fmt.Errorf("no number in %q", line)
	}
	if len(ns) > 1 && !Lettered(ns) {
		for i := range ns[:min(len(ns), 3)] {
			ns[i].Axis = "xyz"[i : i+1]
		}
		ns = ns[:min(len(ns), 3)] // axes that turn follow
	}
	return ns, nil
}

// apart takes a list apart. A comma is a point where something else stands between the numbers.
func apart(list, line string) ([]string, error) {
	n := strings.Count(list, ",")
	switch {
	case strings.Contains(list, ";"):
		return strings.Split(list, ";"), nil
	case n == 0:
		return strings.Fields(list), nil
	case strings.Contains(list, ".") || strings.Count(list, ", ") == n:
		return strings.Split(list, ","), nil
	case len(strings.Fields(list)) > 1:
		return strings.Fields(list), nil
	}
	return nil, fmt.Errorf("whether a comma in %q is a decimal point can't be known", line)
}

// cutAny is strings.Cut at the first of some characters.
func cutAny(s, chars string) (before, after string, found bool) {
	if i := strings.IndexAny(s, chars); i >= 0 {
		return s[:i], s[i+1:], true
	}
	return s, "", false
}

// Lettered says that axis letters stand before numbers.
func Lettered(ns []Number) bool {
	for _, n := range ns {
		if n.Axis != "" {
			return true
		}
	}
	return false
}

// isNumber reports text that reads as a quantity of some kind.
func isNumber(text string) bool {
	for _, k := range unit.Kinds() {
		if _, err := unit.Parse(text, k, unit.Metric); err == nil {
			return true
		}
	}
	return false
}
