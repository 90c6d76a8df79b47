package main

import (
	"strings"

	"fliptrue/steps/fold"
)

// levelsText says, before a level is chosen, what it leaves unseen. Nothing for a kind that reads all.
func levelsText(p *fold.Plan) string {
	var b strings.Builder
	for _, l := range []fold.Level{fold.Proven, fold.FirstUse, fold.Irreplaceable} {
		at := p.AtLevel(l)
		if at.Level() == fold.Full {
			return ""
		}
		misses := "nothing, it reads most"
		if m := at.Misses(); len(m) > 0 {
			misses = strings.Join(m, "; ")
		}
		b.WriteString("    " + l.String() + ": " + misses + "\n")
	}
	return "  what no reading shows at each level of its walk, and more reading would:\n" + b.String()
}
