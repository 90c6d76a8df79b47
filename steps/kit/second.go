package kit

import "strings"

// SecondTouch is the label of a place that is touched once more, by its name: whoever comes to the page there knows where.
// Coordinates behind a colon and the axis at its end stay where they are.
func SecondTouch(label string) string {
	const again = ", second touch"
	if at, rest, ok := strings.Cut(label, ":"); ok {
		return at + again + ":" + rest
	}
	if n := len(label) - len(", X"); n > 0 && strings.HasPrefix(label[n:], ", ") {
		return label[:n] + again + label[n:]
	}
	return label + again
}
