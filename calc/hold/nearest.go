package hold

import (
	"fmt"
	"sort"
	"strings"
)

// unknown makes the error for a name that is not in a table: it lists the known names,
// nearest first.
func unknown(what, name string, known []string, hint string) error {
	return fmt.Errorf("unknown %s %q; known, nearest first: %s; %s", what, name, strings.Join(nearest(name, known), ", "), hint)
}

// nearest returns the names sorted by edit distance to name, equal distances in table order.
func nearest(name string, known []string) []string {
	out := append([]string(nil), known...)
	n := strings.ToLower(name)
	sort.SliceStable(out, func(i, j int) bool {
		return edits(n, strings.ToLower(out[i])) < edits(n, strings.ToLower(out[j]))
	})
	return out
}

// edits is the Levenshtein distance of two names; a known name that begins with the
// typed one counts as a single edit.
func edits(a, b string) int {
	if a != "" && a != b && strings.HasPrefix(b, a) {
		return 1
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diag := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diag
			if a[i-1] != b[j-1] {
				cost++
			}
			diag = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
