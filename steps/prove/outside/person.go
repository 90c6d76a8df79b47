package outside

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// A person who errs: gives another answer, hits a key beside the one meant, leaves an act out.

// errs says whether it happens now; sizes are shares. It takes no number from another's row.
func (w *World) errs(name string) bool {
	share := w.Sizes[name]
	return share > 0 && w.slips.Float64() < share
}

// beside are the keys next to each digit on a keypad of rows 789 456 123 0.
func beside(digit byte) string {
	if digit == '0' {
		return "12"
	}
	n := int(digit - '1')
	row, column := n/3, n%3
	var out []byte
	for _, d := range [][2]int{{0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
		if r, c := row+d[0], column+d[1]; r >= 0 && r < 3 && c >= 0 && c < 3 {
			out = append(out, byte('1'+3*r+c))
		}
	}
	if row == 0 && column < 2 {
		out = append(out, '0')
	}
	return string(out)
}

// given is what the person types for what is so.
func (w *World) given(a fold.Ask, v string) string {
	if len(a.Options) > 1 && w.errs("wrong-answer") {
		for i, o := range a.Options {
			if strings.EqualFold(o, v) {
				return a.Options[(i+1+w.slips.IntN(len(a.Options)-1))%len(a.Options)]
			}
		}
		return v
	}
	if a.Kind == fold.Count && w.errs("wrong-answer") {
		if n, err := strconv.Atoi(v); err == nil {
			return strconv.Itoa(int(math.Abs(float64(n + 1 - 2*w.slips.IntN(2)))))
		}
	}
	if a.Kind == fold.Reading && w.errs("wrong-digit") {
		at := w.slips.IntN(len(v))
		for i := range v {
			if k := (at + i) % len(v); v[k] >= '0' && v[k] <= '9' {
				near := beside(v[k])
				return v[:k] + string(near[w.slips.IntN(len(near))]) + v[k+1:]
			}
		}
	}
	return v
}
