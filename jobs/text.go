package jobs

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits of a file that a person wrote; far above any honest one.
const (
	maxFile  = 4 << 20 // bytes of a job or a card
	maxLine  = 64 << 10
	maxDepth = 12  // levels of nesting
	maxText  = 200 // bytes of a text
	maxList  = 1000
)

// printable reports whether a rune may stand in a text: it prints, or is a space.
// Control characters, escape, direction marks and invisible characters do not.
func printable(r rune) bool { return unicode.IsPrint(r) || unicode.Is(unicode.Zs, r) }

// badRune finds the first rune of a text that may not stand there.
func badRune(s string) (rune, bool) {
	for i, r := range s {
		if r == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return r, true
			}
		}
		if !printable(r) {
			return r, true
		}
	}
	return 0, false
}

// clean checks the bytes of a file before YAML sees them and takes off a byte
// order mark. CR, LF and CR LF all end a line.
func clean(file string, data []byte) ([]byte, Faults) {
	whole := func(what, hint string) Faults { return Faults{{File: file, What: what, Hint: hint}} }
	if len(data) > maxFile {
		return nil, whole(fmt.Sprintf("file is longer than %d MB", maxFile>>20), "this is not a job or a card; name the right file")
	}
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return nil, whole("file is UTF-16 text", "save it as UTF-8")
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.IndexByte(data, 0) >= 0 || !utf8.Valid(data) {
		line, col := place(data, badByte(data))
		return nil,
			Faults{{file, line, col, "file is not UTF-8 text", "this is a binary or damaged file; name the right file or save it as UTF-8"}}
	}
	var fs Faults
	line, col, start := 1, 0, 0
	for i, r := range string(data) {
		col++
		switch {
		case r == '\n' && i > 0 && data[i-1] == '\r':
			start, col = i+1, 0
		case r == '\n' || r == '\r':
			line, col, start = line+1, 0, i+1
		case r == '\t' || printable(r):
			if i-start == maxLine {
				return nil, append(fs, Fault{file, line, 0, fmt.Sprintf("line is longer than %d characters", maxLine), "break it into several lines"})
			}
		case len(fs) < maxFaults:
			fs = append(fs, Fault{file, line, col, fmt.Sprintf("control character %U", r), "delete it; texts hold printing characters only"})
		}
	}
	return data, fs
}

// badByte is the place of the first NUL or byte that is no UTF-8.
func badByte(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if data[i] == 0 || r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// place turns an offset into line and column.
func place(data []byte, at int) (line, col int) {
	head := bytes.ReplaceAll(data[:at], []byte("\r\n"), []byte("\n"))
	head = bytes.ReplaceAll(head, []byte("\r"), []byte("\n"))
	last := bytes.LastIndexByte(head, '\n')
	return 1 + bytes.Count(head, []byte("\n")), utf8.RuneCount(head[last+1:]) + 1
}

// nearest is the word of known that is closest to a mistyped one, or "" when none is near.
// Case, underscores and spaces count nothing.
func nearest(word string, known []string) string {
	fold := strings.NewReplacer("_", "-", " ", "-")
	a := fold.Replace(strings.ToLower(word))
	if len(a) > maxText {
		return ""
	}
	best, least := "", len(a)/3+2
	for _, k := range known {
		if d := distance(a, fold.Replace(strings.ToLower(k))); d < least && d < len(k) {
			best, least = k, d
		}
	}
	return best
}

// distance counts the insertions, deletions, replacements and swaps of neighbours
// that turn a into b (optimal string alignment).
func distance(a, b string) int {
	prev2, prev, cur := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}

// Nearest is the word of known that is closest to a mistyped one, "" when none is near.
func Nearest(word string, known []string) string { return nearest(word, known) }
