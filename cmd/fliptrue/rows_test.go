package main

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
)

func TestRowsForms(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       [][]float64
		fault      string // part of the first fault, with its place
	}{
		{"blanks", "1 2\n  3\t4  \n", [][]float64{{1, 2}, {3, 4}}, ""},
		{"commas", "1,2\n3 , 4\n5 ,6", [][]float64{{1, 2}, {3, 4}, {5, 6}}, ""},
		{"decimal commas", "1,5 2\n3 4,25", [][]float64{{1.5, 2}, {3, 4.25}}, ""},
		{"comment and heading", "# x y\n1 2 # first\n\n#\n", [][]float64{{1, 2}}, ""},
		{"CR LF", "1 2\r\n3 4\r\n", [][]float64{{1, 2}, {3, 4}}, ""},
		{"CR", "1 2\r3 4\r", [][]float64{{1, 2}, {3, 4}}, ""},
		{"byte order mark", "\ufeff1 2\n", [][]float64{{1, 2}}, ""},
		{"units", "1in 1/8in\n.5 3mm", [][]float64{{25.4, 3.175}, {0.5, 3}}, ""},
		{"heading without #", "x y\n1 2", nil, "f:1:1: x \"x\""},
		{"empty value", "1,\n", nil, "f:1:3: y \"\": nothing typed"},
		{"empty value first", ",1\n", nil, "f:1:1: x \"\": nothing typed"},
		{"too many", "1 2 3", nil, "f:1:5: 3 values"},
		{"too few", "1", nil, "f:1:1: 1 values"},
		{"NaN", "1 NaN", nil, "f:1:3: y \"NaN\""},
		{"Inf", "1 Inf", nil, "f:1:3: y \"Inf\""},
		{"exponent", "1 1e308", nil, "f:1:3: y \"1e308\": an exponent form"},
		{"grouping", "1_000 1", nil, "f:1:1: x \"1_000\""},
		{"hexadecimal", "1 0x10", nil, "f:1:3: y \"0x10\": a hexadecimal number"},
		{"clock", "12:30 1", nil, "f:1:1: x \"12:30\""},
		{"escape", "1 \x1b[31m2", nil, "f:1:3: y \"\\x1b[31m2\""},
		{"binary", "1 2\n\x00\xff", nil, "f:2: not a file of text"},
		{"no UTF-8", "1 \xff", nil, "f:1: not a file of text"},
		{"long line", "1 2\n" + strings.Repeat("1 ", 5000), nil, "f:2: line is longer"},
		{"comma is both", "1,2\n1,5 2", nil, "f:2: a comma separates"},
		{"nothing", "\n\n# a\n", nil, "f: there are no rows"},
	} {
		got, faults := readRows("f", []byte(c.text), lengths("x", "y"), unit.Metric)
		if c.fault != "" {
			if len(faults) == 0 || !strings.HasPrefix(faults[0].Error(), c.fault) {
				t.Errorf("%s: faults %v, want %s", c.name, faults, c.fault)
			}
			if len(got.rows) > 0 {
				t.Errorf("%s: rows %v beside a fault", c.name, got.rows)
			}
			continue
		}
		if len(faults) > 0 {
			t.Errorf("%s: %v", c.name, faults)
			continue
		}
		if len(got.rows) != len(c.want) {
			t.Errorf("%s: rows %v, want %v", c.name, got.rows, c.want)
			continue
		}
		for i, r := range got.rows {
			if r[0] != c.want[i][0] || r[1] != c.want[i][1] {
				t.Errorf("%s: row %d is %v, want %v", c.name, i+1, r, c.want[i])
			}
		}
	}
}

func TestRowsFaultsAreBounded(t *testing.T) {
	_, faults := readRows("f", []byte(strings.Repeat("a b\n", 100000)), lengths("x", "y"), unit.Metric)
	if len(faults) > 2*maxRowFaults+1 {
		t.Errorf("%d faults", len(faults))
	}
}

// What reads writes back to the same rows; a fault has a place in the file and no rows
// beside it.
func FuzzRows(f *testing.F) {
	for _, s := range []string{"1 2\n", "1,2", "1,5 2,5\n", "# a\n1in 1/8in", "\ufeff1 2\r\n3 4\r", "1,,2", "x y", "1 2 3", "\x00", "1 \x1b[2J"} {
		f.Add([]byte(s), false)
	}
	f.Fuzz(func(t *testing.T, data []byte, inch bool) {
		sys := unit.Metric
		if inch {
			sys = unit.Imperial
		}
		columns := lengths("x", "y")
		got, faults := readRows("f", data, columns, sys)
		if len(faults) > 0 {
			for _, ft := range faults {
				if ft.Line < 0 || ft.Line > strings.Count(string(data), "\n")+strings.Count(string(data), "\r")+1 || ft.Column < 0 {
					t.Fatalf("fault at %d:%d", ft.Line, ft.Column)
				}
				for _, r := range ft.Error() {
					if r < ' ' {
						t.Fatalf("control character in %q", ft.Error())
					}
				}
			}
			if len(got.rows) > 0 {
				t.Fatal("rows beside faults")
			}
			return
		}
		var b strings.Builder
		for _, r := range got.rows {
			b.WriteString(unit.Write(r[0], unit.KLength, sys) + "\t" + unit.Write(r[1], unit.KLength, sys) + "\n")
		}
		back, faults := readRows("f", []byte(b.String()), columns, sys)
		if len(faults) > 0 || len(back.rows) != len(got.rows) {
			t.Fatalf("%q read back: %v", b.String(), faults)
		}
		for i := range got.rows {
			// Write keeps 23 decimals, so that a length far below an atom may lose its last bits
			const lost = 1e-20
			if math.Abs(back.rows[i][0]-got.rows[i][0]) > lost || math.Abs(back.rows[i][1]-got.rows[i][1]) > lost {
				t.Fatalf("row %d: %v read back as %v", i+1, got.rows[i], back.rows[i])
			}
		}
	})
}
