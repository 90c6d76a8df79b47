package bench_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The words of steps, all of them in one place. words.golden has every sentence that steps gave out to a
// table, to walks on the bench and to bad records and cards; words-unreached.golden has the literals that
// none of them brought to light. Three more lists hold today's exceptions to the rules of a sentence.
//
//	UPDATE=1 go test -run TestWords ./steps/bench
//
// goes through all of it, as WHOLE=1 does, and rewrites them; without either it walks each setting once, holds
// what is said against the lists, and the literals of the sources against what words.golden says. The lists of exceptions only while they do not grow. A source that reaches more may bring an
// old sentence to light that breaks a rule: mend the sentence, or put its line in by hand and say so.
func TestWords(t *testing.T) {
	if !update() && os.Getenv("WHOLE") == "" {
		slice(t, gather(t, true))
		return
	}
	said := gather(t, false)
	whole(t, said)
	unreached := said.unreached(literals(t, ".."))
	only(t, "unreached", "literals that nothing reached: reach it from words_walks_test.go, words_odd_test.go or words_records_test.go", unreached)
	laid(t, less(written(t).unreached(literals(t, "..")), unreached))
	only(t, "long", fmt.Sprintf("sentences of more than %d words", mostWords), said.long())
	only(t, "glossary", "words that DEVELOPERS.md has in its column of what a thing is not called", said.unwanted(notWords(t)))
	only(t, "mm", "units of the other system said in an inch walk", slices.Sorted(maps.Keys(said.mm)))
	fixed(t, said.fixed())
}

// whole holds all that was said against words.golden.
func whole(t *testing.T, said *said) {
	t.Helper()
	got := said.golden()
	if update() {
		keep(t, "words", got)
		return
	}
	want := kept(t, "words")
	gone, come := less(want, got), less(got, want)
	if len(gone)+len(come) > 0 {
		t.Errorf("the words of steps are others than in %s: look at these, then accept them with UPDATE=1 go test -run TestWords ./steps/bench\n%s%s",
			file("words"), listed("- ", gone), listed("+ ", come))
	}
}

// fixed holds the sentences with a number that is the same in mm and inches: a count, an angle, a
// word of the control. A length among them is a sentence that forgot its unit: look at each new one.
func fixed(t *testing.T, got []string) {
	t.Helper()
	got = slices.Compact(slices.Sorted(slices.Values(got)))
	if update() {
		keep(t, "fixed", got)
		return
	}
	if come := less(got, kept(t, "fixed")); len(come) > 0 {
		t.Errorf("the same number in mm and inches: look whether one is a length, then UPDATE=1\n%s", listed("+ ", come))
	}
}

// written is what words.golden says, as if it had been said.
func written(t *testing.T) *said {
	t.Helper()
	s := newSaid()
	for _, l := range kept(t, "words") {
		if _, text, ok := strings.Cut(untagged(l), ": "); ok {
			s.texts[text] = true
		}
	}
	return s
}

// laid holds the literals that stand in laid-out text alone, which words.golden does not repeat.
func laid(t *testing.T, got []string) {
	t.Helper()
	if update() {
		keep(t, "laid", got)
		return
	}
	want := kept(t, "laid")
	if gone, come := less(want, got), less(got, want); len(gone)+len(come) > 0 {
		t.Errorf("%s is not as it was: UPDATE=1 go test -run TestWords ./steps/bench\n%s%s", file("laid"), listed("- ", gone), listed("+ ", come))
	}
}

// slice holds what a walk of each setting said against words.golden and the lists: each line, each long
// sentence and each word of the glossary has to be there. A literal of the sources has to stand in words.golden
// or in a list; a reworded one does not.
func slice(t *testing.T, said *said) {
	t.Helper()
	for name, got := range map[string][]string{"long": said.long(), "glossary": said.unwanted(notWords(t)), "mm": slices.Sorted(maps.Keys(said.mm)),
		"unreached": less(written(t).unreached(literals(t, "..")), kept(t, "laid"))} {
		if come := less(got, kept(t, name)); len(come) > 0 {
			t.Errorf("not in %s: look at these, then UPDATE=1 go test -run TestWords ./steps/bench\n%s", file(name), listed("+ ", come))
		}
	}
	known := map[string]bool{}
	for _, l := range kept(t, "words") {
		known[untagged(l)] = true
	}
	var come []string
	for l := range said.lines {
		if !known[l] {
			come = append(come, l)
		}
	}
	slices.Sort(come)
	if len(come) > 0 {
		t.Errorf("words of steps that are not in %s: look at these, then accept them with UPDATE=1 go test -run TestWords ./steps/bench\n%s",
			file("words"), listed("+ ", come))
	}
	if len(said.lines) < 500 {
		t.Errorf("only %d lines were said: the walks do not walk", len(said.lines))
	}
}

// only holds a list of exceptions that may only shrink.
func only(t *testing.T, name, of string, got []string) {
	t.Helper()
	got = slices.Compact(slices.Sorted(slices.Values(got)))
	if _, err := os.Stat(file(name)); update() && os.IsNotExist(err) {
		keep(t, name, got)
		return
	}
	want := kept(t, name)
	gone, come := less(want, got), less(got, want)
	switch {
	case update() && len(got) <= len(want):
		keep(t, name, got)
	case len(come) > 0:
		t.Errorf("%s may only shrink (%s): %d now, %d before; one reworded is taken by UPDATE=1, one more is not\n%s%s", file(name), of, len(got), len(want), listed("+ ", come), listed("- ", gone))
	case len(gone) > 0:
		t.Errorf("%s has %d less, well done: UPDATE=1 go test -run TestWords ./steps/bench\n%s", file(name), len(gone), listed("- ", gone))
	}
}

func update() bool { return os.Getenv("UPDATE") != "" }

func file(name string) string {
	if name != "words" {
		name = "words-" + name
	}
	return filepath.Join("testdata", name+".golden")
}

func kept(t *testing.T, name string) []string {
	t.Helper()
	b, err := os.ReadFile(file(name))
	if err != nil {
		t.Fatalf("%v; make it with UPDATE=1", err)
	}
	return strings.FieldsFunc(string(b), func(r rune) bool { return r == '\n' })
}

func keep(t *testing.T, name string, lines []string) {
	t.Helper()
	if err := os.MkdirAll("testdata", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file(name), []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	t.Logf("%s: %d lines", file(name), len(lines))
}

// less are the lines of a that b has not.
func less(a, b []string) (out []string) {
	in := map[string]bool{}
	for _, l := range b {
		in[l] = true
	}
	for _, l := range a {
		if !in[l] {
			out = append(out, l)
		}
	}
	return out
}

func listed(mark string, lines []string) string {
	const most = 40
	var b strings.Builder
	for i, l := range lines {
		if i == most {
			fmt.Fprintf(&b, "%sand %d more\n", mark, len(lines)-most)
			break
		}
		b.WriteString(mark + l + "\n")
	}
	return b.String()
}
