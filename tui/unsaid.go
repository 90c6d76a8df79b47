package tui

import (
	"slices"
	"strings"
)

// unsaid is a text without the sentences that were said already, and without a reason behind a colon that was.
func unsaid(text string, said []string) string {
	var out []string
	for _, t := range sentences(text) {
		for _, s := range said {
			if act, ok := strings.CutSuffix(t, ": "+s); ok {
				t = act + "."
			}
		}
		if !slices.Contains(said, t) {
			out = append(out, t)
		}
	}
	return strings.Join(out, " ")
}
