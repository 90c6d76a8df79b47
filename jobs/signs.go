package jobs

import (
	"slices"
	"strconv"
	"strings"
)

// signOf is what plus and minus mean of a key, "" where it has no sign. The path has NAME and N for a person's own names.
func signOf(file, path string) string {
	for _, k := range Keys() {
		if k.File == file && k.Path == path {
			return k.Sign
		}
	}
	return ""
}

// signComments puts beside what was written to a card what its sign means: one line above the group for each key
// that has one. A line that is there already is not written again.
func signComments(file string, data []byte, paths []string) ([]byte, error) {
	root, faults := parseTree(file, data)
	if len(faults) > 0 {
		return nil, faults
	}
	card := "machine"
	if child(root, "fixture") != nil {
		card = "fixture"
	}
	var keys []string
	for _, p := range paths {
		if i := strings.LastIndexByte(p, '.'); i > 0 {
			if _, err := strconv.Atoi(p[i+1:]); err == nil {
				p = p[:i] // one number of a pair
			}
		}
		if parts := strings.Split(p, "."); len(parts) == 3 && signOf(card, p) == "" { // in a group by a name of somebody's own
			p = parts[0] + ".NAME." + parts[2]
		}
		if !strings.HasPrefix(p, "history.") && signOf(card, p) != "" && !slices.Contains(keys, p) {
			keys = append(keys, p)
		}
	}
	slices.Sort(keys)
	for _, p := range slices.Backward(keys) {
		top, rest, _ := strings.Cut(p, ".")
		if rest == "" {
			rest = top
		}
		line := "# " + strings.TrimPrefix(rest, "NAME.") + ": " + signOf(card, p)
		if strings.Contains(string(data), line) {
			continue
		}
		if root, faults = parseTree(file, data); len(faults) > 0 {
			return nil, faults
		}
		for i := 0; i+1 < len(root.Content); i += 2 {
			if k := root.Content[i]; k.Value == top {
				bom := len(data) - len(strings.TrimPrefix(string(data), "\xef\xbb\xbf"))
				at := bom + offset(data[bom:], k.Line, 1)
				eol := "\n"
				if strings.Contains(string(data), "\r\n") {
					eol = "\r\n"
				}
				data = slices.Concat(data[:at], []byte(strings.Repeat(" ", k.Column-1)+line+eol), data[at:])
			}
		}
	}
	return data, nil
}
