package ncode

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var judgedFiles = []string{"ordinary.txt", "faulty.txt", "second-look.txt", "third-look.txt"}

// How a file is written says nothing about what it does: other ends of lines, no last one,
// small letters, blanks, line numbers.
func TestJudgedInOtherForms(t *testing.T) {
	numbered := regexp.MustCompile(`(?m)^([GMTSXYZF])`)
	n := 0
	forms := map[string]func(string) string{
		"CR LF":         func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		"CR":            func(s string) string { return strings.ReplaceAll(s, "\n", "\r") },
		"no last end":   func(s string) string { return strings.TrimRight(s, "\n") },
		"small letters": strings.ToLower,
		"blanks":        func(s string) string { return regexp.MustCompile(`([XYZIJKRFGMSTHDLPQ])`).ReplaceAllString(s, " $1 ") },
		"line numbers": func(s string) string {
			return numbered.ReplaceAllStringFunc(s, func(m string) string { n += 10; return fmt.Sprintf("N%d %s", n, m) })
		},
	}
	for _, file := range judgedFiles {
		for _, j := range readJudged(t, file) {
			for name, form := range forms {
				if (name == "small letters" || name == "blanks") && strings.Contains(j.text, "(") {
					continue // words of comments are kept as they are
				}
				k := j
				k.text, n = form(j.text), 0
				got, found := judge(t, k)
				if got != j.verdict {
					t.Errorf("%s: %s, %s: %s, want %s\n%v", file, j.name, name, got, j.verdict, found)
				}
			}
		}
	}
}

// What is right is not right any more with one thing wrong in it.
func TestPlantedFaults(t *testing.T) {
	word := func(pattern, with string) func(string) string {
		re := regexp.MustCompile(`(?i)` + pattern)
		return func(s string) string { return re.ReplaceAllString(s, with) }
	}
	lower := regexp.MustCompile(`(?i)Z *([0-9.]+)`)
	faults := []struct {
		name   string
		plant  func(string) string
		except []string // setups
	}{
		{"no length", word(`G43 *H[0-9]+|H[0-9]+ *G43`, ""), []string{"touched"}},
		{"length of another tool", word(`\bH[0-9]+`, "H7"), []string{"touched"}},
		{"another offset", word(`G54\b`, "G57"), nil},
		{"no offset", word(`G54\b`, ""), nil},
		{"the other units", func(s string) string {
			if strings.Contains(s, "G20") || strings.Contains(s, "g20") {
				return word(`G20`, "G21")(s)
			}
			return word(`G21`, "G20")(s)
		}, nil},
		{"no units", word(`G2[01]\b`, ""), nil},
		{"no spindle", word(`M0?3\b`, ""), nil},
		{"speed 0", word(`\bS *[0-9]+`, "S0"), nil},
		{"no feed", word(`F *[0-9.]+( *[0-9.]+)*`, ""), nil},
		{"all rapid", func(s string) string {
			if strings.Contains(s, "G3") {
				return s // where the arcs cut, its straight moves may be in the clear
			}
			return word(`\bG0?1\b`, "G0")(s)
		}, nil},
		{"20 too low", func(s string) string {
			return lower.ReplaceAllStringFunc(s, func(m string) string {
				var v float64
				if _, err := fmt.Sscan(lower.FindStringSubmatch(m)[1], &v); err != nil || v < 1 {
					return m
				}
				return fmt.Sprintf("Z%.4f", v-20)
			})
		}, []string{"plate-inch", "drilling"}}, // of holes only the retract plane comes down
		{"a tool that is not in the list", word(`\bT[0-9]+`, "T77"), nil},
	}
	tried, missed := 0, 0
	for _, file := range []string{"ordinary.txt", "second-look.txt", "third-look.txt"} {
		for _, j := range readJudged(t, file) {
			if j.verdict != "pass" {
				continue
			}
			for _, f := range faults {
				k := j
				if k.text = f.plant(j.text); k.text == j.text || slices.Contains(f.except, j.setup) {
					continue
				}
				tried++
				if got, found := judge(t, k); got == "pass" {
					missed++
					t.Errorf("%s: %s (%s), %s: it passes\n%v", file, j.name, j.setup, f.name, found)
				}
			}
		}
	}
	t.Logf("%d faults planted, %d passed", tried, missed)
}
