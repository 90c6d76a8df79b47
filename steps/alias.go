package steps

import (
	"fliptrue/steps/checks"
	"fliptrue/steps/kit"
)

// What is asked of rooms by those that may not know them: the bench shares no formula with the walk, the report asks no step.
var (
	Register    = kit.Register
	JudgedFiles = checks.JudgedFiles
)
