package sent

import (
	"fmt"
	"slices"
	"strings"
)

// Form is how the lines of one instrument are to be read. The zero value reads as Line does.
type Form struct {
	Skip    string   // begins each line and is passed over
	Columns []string // what each column is: x, y, z, value, or - for what is passed over; none: as Line
	Unit    string   // put behind a number that has none, as "mm" or "in"; "" puts none
}

// Read reads a line. An error says what in it does not fit the form.
func (f Form) Read(line string) ([]Number, error) {
	line = strings.TrimSpace(line)
	rest, ok := strings.CutPrefix(line, f.Skip)
	if !ok {
		return nil, fmt.Errorf("%q does not begin with %q", line, f.Skip)
	}
	ns, err := f.numbers(rest)
	if err != nil {
		return nil, err
	}
	for i := range ns {
		if f.Unit != "" && strings.ContainsAny(ns[i].Text[len(ns[i].Text)-1:], digits+".") {
			ns[i].Text += f.Unit
		}
	}
	return ns, nil
}

func (f Form) numbers(line string) ([]Number, error) {
	if len(f.Columns) == 0 {
		return Line(line)
	}
	seps := []func(string) []string{
		strings.Fields,
		func(s string) []string {
			return strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == '\t' })
		},
		func(s string) []string { return strings.Split(s, ",") },
	}
	n := 0
	for _, sep := range seps {
		parts := sep(line)
		if len(parts) > 1 || n == 0 {
			n = len(parts)
		}
		if len(parts) == len(f.Columns) {
			return f.columns(line, parts)
		}
	}
	return nil, fmt.Errorf("%d columns in %q, and the card names %d", n, line, len(f.Columns))
}

func (f Form) columns(line string, parts []string) (ns []Number, err error) {
	for i, c := range f.Columns {
		if c == "-" {
			continue
		}
		text := strings.Trim(parts[i], " ,;")
		if bare := strings.TrimLeft(text, "XYZxyz="); len(bare) < len(text) {
			if letter := strings.Trim(text[:len(text)-len(bare)], "="); !strings.EqualFold(letter, c) && letter != "" {
				return nil, fmt.Errorf("%q in %q stands in the column of %s", text, line, c)
			}
			text = bare
		}
		if text == "" || !strings.ContainsAny(text, digits) || strings.Contains(text, "/") || !isNumber(text) {
			return nil, fmt.Errorf("%q in %q is no number", parts[i], line)
		}
		axis := c
		if c == "value" {
			axis = ""
		}
		ns = append(ns, Number{axis, text})
	}
	return ns, nil
}

// Valid is an error where the columns name an axis twice, or nothing that is wanted.
func (f Form) Valid() error {
	var seen []string
	for _, c := range f.Columns {
		switch {
		case c == "-":
			continue
		case !slices.Contains([]string{"x", "y", "z", "value"}, c):
			return fmt.Errorf("column %q is not known; write x, y, z, value or -", c)
		case slices.Contains(seen, c):
			return fmt.Errorf("column %q is named twice; write - for what is passed over", c)
		}
		seen = append(seen, c)
	}
	if len(f.Columns) > 0 && (len(seen) == 0 || len(seen) > 1 && slices.Contains(seen, "value")) {
		return fmt.Errorf("columns %s name no reading; write x, y, z, or value alone", strings.Join(f.Columns, " "))
	}
	return nil
}
