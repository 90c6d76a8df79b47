package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// maxPicture is how many rows a residual picture has at most; a longer one is a scroll.
const maxPicture = 40

// residualPicture draws residuals as bars about a middle line, one row each. The largest
// fills its half; rows beyond the picture's length are counted.
func residualPicture(residuals []float64, mark int, sys unit.System) string {
	const half = 20
	most := 0.0
	for _, r := range residuals {
		most = math.Max(most, math.Abs(r))
	}
	step := unit.Step(unit.KLength, sys) / 10
	var b strings.Builder
	fmt.Fprintf(&b, "residuals, %s; full bar %s\n", unit.UnitName(unit.KLength, sys), unit.Format(most, unit.KLength, sys, step))
	for i, r := range residuals {
		if i == maxPicture && i < len(residuals)-1 {
			fmt.Fprintf(&b, "and %d rows more\n", len(residuals)-i)
			break
		}
		n := 0
		if most > 0 {
			n = int(math.Round(half * math.Abs(r) / most))
		}
		left, right := strings.Repeat(" ", half), strings.Repeat(" ", half)
		if r < 0 {
			left = strings.Repeat(" ", half-n) + strings.Repeat("=", n)
		} else {
			right = strings.Repeat("=", n) + strings.Repeat(" ", half-n)
		}
		line := fmt.Sprintf("%4d %s|%s %10s", i+1, left, right, unit.Signed(r, unit.KLength, sys, step))
		if i == mark {
			line += "  <- suspect"
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// plainError is an error of the disk in plain words.
func plainError(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "it is not there"
	case errors.Is(err, fs.ErrPermission):
		return "it is not permitted"
	case errors.Is(err, jobs.ErrTooBig):
		return "it is too long"
	}
	return err.Error()
}
