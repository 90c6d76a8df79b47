package steps_test

import (
	"strconv"
	"time"
)

var r0 = time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)

// fmtMM is a number as a person types it.
func fmtMM(v float64) string { return strconv.FormatFloat(v, 'f', 6, 64) }
