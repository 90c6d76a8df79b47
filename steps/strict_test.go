package steps_test

import (
	"runtime/debug"

	"fliptrue/steps/fold"
)

// A step that looks at what it did not declare fails the test that saw it.
func init() {
	fold.Strict = true
	debug.SetGCPercent(1200) // a test is short: memory is cheaper than time
}
