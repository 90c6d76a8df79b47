package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// table is one result as printed.
type table struct {
	Name     string   `json:"table"`
	Title    string   `json:"title"`
	Head     []string `json:"head"`
	Rows     [][]any  `json:"rows"` // strings, ints and floats
	Notes    []string `json:"notes,omitempty"`
	Missed   []string `json:"missed,omitempty"`   // marks that are missed, in words
	Failures []fault  `json:"failures,omitempty"` // cases
	Cases    int      `json:"cases"`
	Seed     uint64   `json:"seed"`
	Seconds  float64  `json:"seconds"`
	Drawing  string   `json:"-"` // stands above the rows
}

// fault is one case that went wrong. Its seed and --n 1 do it again.
type fault struct {
	Seed uint64 `json:"seed"`
	Row  string `json:"row,omitempty"`
	What string `json:"what"`
}

// maxFaults is how many faults are printed as text; JSON has all.
const maxFaults = 20

func (t *table) row(cells ...any) { t.Rows = append(t.Rows, cells) }

func (t *table) miss(format string, a ...any) { t.Missed = append(t.Missed, fmt.Sprintf(format, a...)) }

// cell is how a cell is printed, and whether it stands to the right.
func cell(c any) (string, bool) {
	switch c := c.(type) {
	case string:
		return c, false
	case float64:
		if c != 0 && math.Abs(c) < 0.01 {
			return strconv.FormatFloat(c, 'g', 2, 64), true // three decimals would hide it
		}
		return strconv.FormatFloat(c, 'f', 3, 64), true
	}
	return fmt.Sprint(c), true
}

func (t *table) text(w io.Writer) {
	wide := make([]int, len(t.Head))
	right := make([]bool, len(t.Head))
	lines := [][]string{t.Head}
	for _, r := range t.Rows {
		line := make([]string, len(r))
		for i, c := range r {
			var n bool
			line[i], n = cell(c)
			right[i] = right[i] || n
		}
		lines = append(lines, line)
	}
	for _, l := range lines {
		for i, c := range l {
			wide[i] = max(wide[i], len([]rune(c)))
		}
	}
	fmt.Fprintf(w, "%s: %s\n\n", t.Name, t.Title)
	if t.Drawing != "" {
		fmt.Fprintln(w, t.Drawing)
	}
	for k, l := range lines {
		var b strings.Builder
		for i, c := range l {
			pad := strings.Repeat(" ", wide[i]-len([]rune(c)))
			if right[i] {
				b.WriteString("  " + pad + c)
			} else {
				b.WriteString("  " + c + pad)
			}
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
		if k == 0 {
			b.Reset()
			for _, n := range wide {
				b.WriteString("  " + strings.Repeat("-", n))
			}
			fmt.Fprintln(w, b.String())
		}
	}
	fmt.Fprintln(w)
	for _, n := range t.Notes {
		fmt.Fprintln(w, "  "+n)
	}
	for _, m := range t.Missed {
		fmt.Fprintln(w, "  MISSED: "+m)
	}
	for i, f := range t.Failures {
		if i == maxFaults {
			fmt.Fprintf(w, "  and %d more; --json has them all\n", len(t.Failures)-i)
			break
		}
		fmt.Fprintf(w, "  seed %d  %s  %s\n", f.Seed, f.Row, f.What)
	}
	fmt.Fprintf(w, "  %d cases from seed %d in %.0f s\n\n", t.Cases, t.Seed, t.Seconds)
}

// print shows the table, and writes it when a folder was given.
func (t *table) print(o options) error {
	var b bytes.Buffer
	t.text(&b)
	js, err := json.MarshalIndent(t, "", " ")
	if err != nil {
		return err
	}
	js = append(js, '\n')
	shown := b.Bytes()
	if o.asJSON {
		shown = js
	}
	if _, err := o.stdout.Write(shown); err != nil {
		return err
	}
	if o.out == "" {
		return nil
	}
	if err := o.write(t.Name+".txt", b.Bytes()); err != nil {
		return err
	}
	return o.write(t.Name+".json", js)
}
