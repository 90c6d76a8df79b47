package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// Limits of a file of rows; far above any honest one.
const (
	maxRows      = 16 << 20 // bytes
	maxRowLine   = 4096     // characters
	maxRowFaults = 20
)

// column is one value of a row: a number of a kind, or one of some words.
type column struct {
	name  string
	kind  unit.Kind
	words []string
}

// table are the rows read. Numbers are in internal units; a word is its place in words.
type table struct {
	rows  [][]float64
	lines []int // line of each row in the file, from 1
}

// rowReader reads a table, and gathers what is wrong with it.
type rowReader struct {
	name    string
	columns []column
	sys     unit.System

	decimal, separator int // first line in which a comma is the one or the other
	t                  table
	faults             jobs.Faults
}

func (r *rowReader) fault(line, col int, what, hint string) {
	r.faults = append(r.faults, jobs.Fault{File: r.name, Line: line, Column: col, What: what, Hint: hint})
}

// wants says what a row has.
func (r *rowReader) wants() string {
	return fmt.Sprintf("give %d values in each row: %s", len(r.columns), names(r.columns))
}

// readRows reads rows of values separated by blanks, tabs or commas. What follows a # is
// a comment. A comma stands for the decimal point instead where blanks alone give the
// right number of values ("12,5 3,4"); a file keeps to one of the two. Bare numbers are
// of system sys. Faults have line and column, counted in characters from 1.
func readRows(name string, data []byte, columns []column, sys unit.System) (table, jobs.Faults) {
	r := rowReader{name: name, columns: columns, sys: sys}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	oneEnd := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace
	if i := badByte(data); i >= 0 {
		r.fault(1+strings.Count(oneEnd(string(data[:i])), "\n"), 0, "not a file of text (UTF-8)", "give rows of numbers, as 12.500 3.250")
		return r.t, r.faults
	}
	for n, line := range strings.Split(oneEnd(string(data)), "\n") {
		if len(r.faults) >= maxRowFaults {
			r.fault(n+1, 0, "more faults follow", "mend these first")
			break
		}
		if !r.line(n+1, line) {
			break
		}
	}
	if len(r.faults) == 0 && len(r.t.rows) == 0 {
		r.fault(0, 0, "there are no rows", r.wants())
	}
	if len(r.faults) > 0 {
		return table{}, r.faults
	}
	return r.t, nil
}

// line reads one line; false where nothing after it can be understood.
func (r *rowReader) line(at int, line string) bool {
	if utf8.RuneCountInString(line) > maxRowLine {
		r.fault(at, 0, fmt.Sprintf("line is longer than %d characters", maxRowLine), "give one row a line")
		return true
	}
	line, _, _ = strings.Cut(line, "#")
	if strings.Trim(line, " \t") == "" {
		return true
	}
	fields := split(line, true)
	if strings.Contains(line, ",") {
		if blank := split(line, false); len(fields) != len(r.columns) && len(blank) == len(r.columns) {
			fields = blank
			r.decimal = cmp.Or(r.decimal, at)
		} else {
			r.separator = cmp.Or(r.separator, at)
		}
		if r.decimal > 0 && r.separator > 0 {
			r.fault(at, 0, fmt.Sprintf("a comma separates values in line %d and is the decimal point in line %d", r.separator, r.decimal),
				"write decimal points, or separate by blanks throughout")
			return false
		}
	}
	if len(fields) != len(r.columns) {
		r.fault(at, fields[min(len(fields)-1, len(r.columns))].col, fmt.Sprintf("%d values in the row", len(fields)),
			r.wants()+"; a heading begins with #")
		return true
	}
	r.row(at, fields)
	return true
}

// row reads the values of a row, as many as there are columns.
func (r *rowReader) row(at int, fields []field) {
	row := make([]float64, len(r.columns))
	good := true
	for i, f := range fields {
		v, err := r.columns[i].read(f.text, r.sys)
		if err != nil {
			what, hint := err.Error(), ""
			var entry *unit.EntryError
			if errors.As(err, &entry) {
				what, hint = fmt.Sprintf("%q: %s", entry.Text, entry.What), entry.Hint
			}
			r.fault(at, f.col, r.columns[i].name+" "+what, hint)
			good = false
		}
		row[i] = v
	}
	if good {
		r.t.rows, r.t.lines = append(r.t.rows, row), append(r.t.lines, at)
	}
}

// badByte is the place of the first byte that no text holds, -1 when there is none.
func badByte(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == 0 || r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

func names(columns []column) string {
	s := make([]string, len(columns))
	for i, c := range columns {
		s[i] = c.name
	}
	return strings.Join(s, " ")
}

func (c column) read(text string, sys unit.System) (float64, error) {
	if c.words != nil {
		for i, w := range c.words {
			if strings.EqualFold(w, text) {
				return float64(i), nil
			}
		}
		return 0, &unit.EntryError{Text: cutText(text), What: "is none of the known words", Hint: "write one of " + strings.Join(c.words, " ")}
	}
	n, err := unit.Parse(text, c.kind, sys)
	return n.Value, err
}

// field is one value with the column it begins in.
type field struct {
	text string
	col  int
}

// split takes a row apart at blanks and tabs, and at commas when they count. Blanks
// round a comma belong to it; two commas have an empty value between them.
func split(line string, commas bool) []field {
	var out []field
	col, begun, pending := 0, -1, false // pending: a comma stands and no value has come after it
	var b strings.Builder
	end := func() {
		if begun >= 0 {
			out = append(out, field{b.String(), begun})
			b.Reset()
			begun = -1
		}
	}
	for _, r := range line {
		col++
		switch {
		case r == ' ' || r == '\t':
			end()
		case r == ',' && commas:
			if begun < 0 && (pending || len(out) == 0) {
				out = append(out, field{"", col})
			}
			end()
			pending = true
		default:
			if begun < 0 {
				begun, pending = col, false
			}
			b.WriteRune(r)
		}
	}
	end()
	if pending {
		out = append(out, field{"", col + 1})
	}
	return out
}

func cutText(s string) string {
	if r := []rune(s); len(r) > unit.MaxText {
		return string(r[:unit.MaxText]) + "..."
	}
	return s
}

// quoted shows a text from outside so that nothing in it reaches a terminal as a command.
func quoted(s string) string { return strconv.Quote(cutText(s)) }
