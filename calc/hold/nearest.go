package hold

import (
	"fmt"
	"sort"
	"strings"
)

// mostListed is how many names of a long table an error lists.
const mostListed = 14

// unknown makes the error for a name that is not in a table: it lists the known names,
// nearest first, and of a long table the nearest ones.
func unknown(what, name string, known []string, hint string) error {
	list := nearest(name, known)
	more := ""
	if n := len(list); n > mostListed {
		list, more = list[:mostListed], fmt.Sprintf(" and %d more", n-mostListed)
	}
	return fmt.Errorf("unknown %s %q; known, nearest first: %s%s; %s", what, name, strings.Join(list, ", "), more, hint)
}

// nearest returns the names sorted by edit distance to name, equal distances in table order.
func nearest(name string, known []string) []string {
	out := append([]string(nil), known...)
	n := strings.ToLower(name)
	sort.SliceStable(out, func(i, j int) bool {
		return far(n, strings.ToLower(out[i])) < far(n, strings.ToLower(out[j]))
	})
	return out
}

// far is how little a typed name is like a known one: by edits of the whole, or of the
// known one's beginning and one more; a known one that holds the typed one counts as two.
func far(typed, known string) int {
	d := edits(typed, known)
	if len(typed) > 2 && typed != known && strings.Contains(known, typed) {
		d = min(d, 2)
	}
	if n := len(typed); n > 2 && n < len(known) {
		d = min(d, 1+edits(typed, known[:n]))
	}
	return d
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
