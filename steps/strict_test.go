package steps_test

import "fliptrue/steps/fold"

// A step that looks at what it did not declare fails the test that saw it.
func init() { fold.Strict = true }
