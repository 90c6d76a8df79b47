package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"fliptrue/steps/fold"

	"github.com/spf13/cobra"
)

// kinds of the README's first table, as it calls them.
var called = [][2]string{
	{"T", "second side, strapped, drilled, screwed (T)"}, {"M", "the same, holes matched (M)"}, {"S", "the same, holes from side 1 (S)"},
	{"vacuum", "vacuum"}, {"tape", "tape"}, {"stops", "on stops"}, {"dowel-flip", "on pins"}, {"soft-jaws", "soft jaws"},
}

// passages are those of the README that a night's tables make, each between two marks.
var passages = map[string]func(*table) string{
	"coverage": coveragePassage, "strata": strataPassage, "catch": catchPassage, "clean": cleanPassage, "persons": personsPassage,
	"outside": outsidePassage,
}

func readmeCommand(stdout io.Writer) *cobra.Command {
	return &cobra.Command{
		Use: "readme DIR", Short: "Put the tables that all --out DIR kept into README.md of this folder", Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := os.ReadFile("README.md")
			if err != nil {
				return err
			}
			now, done, err := fillIn(string(text), args[0])
			if err != nil {
				return err
			}
			fmt.Fprintln(stdout, "made again from "+args[0]+": "+strings.Join(done, ", "))
			return os.WriteFile("README.md", []byte(now), 0o666)
		},
	}
}

// fillIn makes each passage of a text again whose table was kept in the folder.
func fillIn(text, dir string) (now string, done []string, err error) {
	for _, name := range slices.Sorted(maps.Keys(passages)) {
		t, err := nightly(dir, name)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return "", nil, err
		}
		begin, end := "<!-- prove "+name+" -->\n", "<!-- end of "+name+" -->"
		i, j := strings.Index(text, begin), strings.Index(text, end)
		if i < 0 || j < i {
			return "", nil, fmt.Errorf("README.md has no place for %s: write %s and %s", name, strings.TrimSpace(begin), end)
		}
		text = text[:i+len(begin)] + passages[name](t) + text[j:]
		done = append(done, name)
	}
	if len(done) == 0 {
		return "", nil, fmt.Errorf("%s has none of %s: make them by prove all --nightly --out %s", dir,
			strings.Join(slices.Sorted(maps.Keys(passages)), ", "), dir)
	}
	return text, done, nil
}

// nightly is a table as --out wrote it.
func nightly(dir, name string) (*table, error) {
	b, err := os.ReadFile(filepath.Join(dir, name+".json"))
	if err != nil {
		return nil, err
	}
	t := &table{}
	if err := json.Unmarshal(b, t); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return t, nil
}

// at is a cell of a row by the head of its column, as a number or a word; of one that is not there 0 or "".
func (t *table) at(row []any, head string) (n float64, word string) {
	i := slices.Index(t.Head, head)
	if i < 0 || i >= len(row) {
		return 0, ""
	}
	switch c := row[i].(type) {
	case float64:
		return c, ""
	case int:
		return float64(c), ""
	case string:
		return 0, c
	}
	return 0, ""
}

// find is the first row whose first cells are these.
func (t *table) find(first ...string) []any {
	for _, r := range t.Rows {
		is := len(r) >= len(first)
		for i, w := range first {
			is = is && r[i] == any(w)
		}
		if is {
			return r
		}
	}
	return nil
}

func coveragePassage(t *table) string {
	var b strings.Builder
	walks, _ := t.at(t.find("all"), "walks")
	fmt.Fprintf(&b, "(%.0f walks a cell, so within ±%.1f; of all intervals at the release, every effect on; `prove coverage`)\n\n", walks,
		doubt(int(walks)))
	b.WriteString("| kind | proven | first use | irreplaceable | no level |\n|---|---|---|---|---|\n")
	held := func(cells ...string) string {
		r := t.find(cells...)
		if r == nil {
			return ""
		}
		n, _ := t.at(r, "held %")
		return fmt.Sprintf(" %.1f", n)
	}
	for _, k := range called {
		fmt.Fprintf(&b, "| %s |", k[1])
		for _, l := range levels() {
			b.WriteString(held("all", k[0], l.String()) + " |")
		}
		b.WriteString("\n")
	}
	for _, k := range []string{"T", "S"} {
		for _, as := range []string{"one bore", "floating"} {
			fmt.Fprintf(&b, "| plan %s, %s | |%s | | |\n", k, as, held("all, "+as, k))
		}
	}
	return b.String()
}

func strataPassage(t *table) string {
	held := func(axis string) float64 { n, _ := t.at(t.find("all", axis), "held %"); return n }
	released := ""
	if len(t.Notes) > 0 {
		released, _, _ = strings.Cut(t.Notes[0], ";")
	}
	return fmt.Sprintf("Over %d random parts, fixtures, machines and days (`prove strata`) %.1f %% hold (X %.1f, Y %.1f); %s.\n", t.Cases,
		held("both"), held("x"), held("y"), released)
}

var lets = regexp.MustCompile(`^level (.+) lets through ([0-9.]+) % of the part's worth a setup: ` +
	`([0-9.]+), ([0-9.]+) and ([0-9.]+) minutes`)

func catchPassage(t *table) string {
	var b strings.Builder
	b.WriteString("| level | lost a setup, of the part's worth | a part worth 180, 600, 3000 min | " +
		"mistakes that harmed a tenth of the parts or more, from which size |\n|---|---|---|---|\n")
	for _, n := range t.Notes {
		m := lets.FindStringSubmatch(n)
		if m == nil {
			continue
		}
		fmt.Fprintf(&b, "| *%s* | %s %% | %s, %s, %s | %s |\n", levelWords(m[1]), m[2], m[3], m[4], m[5], t.harming(m[1]))
	}
	return b.String()
}

// levelWords is a level as the README calls it.
func levelWords(l string) string {
	if l == fold.Full.String() {
		return "no level"
	}
	return l
}

// harming are the mistakes that harm a tenth of the parts at a level, with the least size.
func (t *table) harming(level string) string {
	var out []string
	seen := map[string]bool{}
	for _, r := range t.Rows {
		_, cell := t.at(r, level)
		_, name := t.at(r, "mistake")
		f := strings.Fields(cell)
		if len(f) != 3 || seen[name] {
			continue
		}
		var harmed float64
		if fmt.Sscan(f[2], &harmed); harmed < 10 {
			continue
		}
		seen[name] = true
		size, _ := t.at(r, "size")
		_, u := t.at(r, "")
		words := strings.ReplaceAll(name, "-", " ")
		if u == "mm" || u == "K" || u == "mrad" {
			words += fmt.Sprintf(" %g %s", size, u)
		}
		out = append(out, words)
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, "; ")
}

func cleanPassage(t *table) string {
	some, named, given := t.find("any"), t.find("wrongly named"), t.find("given up")
	fail, _ := t.at(some, "FAIL %")
	open, _ := t.at(some, "NOT PROVEN %")
	wrong, _ := t.at(named, "FAIL %")
	up, _ := t.at(given, "FAIL")
	return fmt.Sprintf("Sound setups: of %d in this world %.2f %% met a FAIL, %.2f %% a NOT PROVEN, %.2f %% were wrongly named, "+
		"%.0f given up (`prove clean`).\n", t.Cases, fail, open, wrong, up)
}

func personsPassage(t *table) string {
	var sound, with, honest []string
	walks := 0.0
	for _, l := range levels()[:3] {
		for _, r := range t.Rows {
			_, share := t.at(r, "answers wrong %")
			if _, at := t.at(r, "level"); at != l.String() {
				continue
			}
			// two columns are called harmed %: that of sound setups stands first
			second, _ := r[slices.Index(t.Head, "with a mistake")+2].(float64)
			switch first, _ := t.at(r, "harmed %"); share {
			case "8":
				sound, with = append(sound, fmt.Sprintf("%.0f %%", first)), append(with, fmt.Sprintf("%.0f %%", second))
				walks, _ = t.at(r, "sound")
			case "0":
				honest = append(honest, fmt.Sprintf("%.0f %%", second))
			}
		}
	}
	return fmt.Sprintf("(`prove persons`, %.0f walks each): with nothing wrong\n%s of the parts come out harmed "+
		"(proven, first use, irreplaceable); with a mistake\nthat only a question shows %s, where an honest person has %s.\n", walks,
		strings.Join(sound, ", "), strings.Join(with, ", "), strings.Join(honest, ", "))
}

func outsidePassage(t *table) string {
	all := t.find("all")
	released, _ := t.at(all, "released")
	hold, _ := t.at(all, "hold %")
	over, _ := t.at(all, "over the allowance")
	var by []string
	for _, l := range levels() {
		if r := t.find("level " + l.String()); r != nil {
			n, _ := t.at(r, "hold %")
			by = append(by, fmt.Sprintf("%s %.1f", levelWords(l.String()), n))
		}
	}
	return fmt.Sprintf("Of %d records %.0f were released, %.0f of them beyond their allowance. Of their intervals %.1f %% hold the true\n"+
		"mismatch (%s).\n", t.Cases, released, over, hold, strings.Join(by, ", "))
}
