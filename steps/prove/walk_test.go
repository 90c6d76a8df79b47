package prove_test

import (
	"os"
	"strings"
	"testing"

	"fliptrue/steps/prove"
)

// TestWalksAreWhatTheyWere walks sixty seeded walks and compares them with walks.txt: what is asked,
// offered and refused on the way counts here too, not only what a record means.
// go run ./cmd/prove states does it with a thousand. UPDATE=1 accepts what is now.
func TestWalksAreWhatTheyWere(t *testing.T) {
	const name = folder + "walks.txt"
	var got []string
	for seed := uint64(1); seed <= 60; seed++ {
		w := must[*prove.Walked](t)(prove.Draw(seed))
		got = append(got, must[string](t)(w.Line()))
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(name, []byte(strings.Join(got, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want := strings.Split(strings.TrimSpace(string(must[[]byte](t)(os.ReadFile(name)))), "\n")
	if len(want) != len(got) {
		t.Fatalf("%s has %d walks, %d were walked", name, len(want), len(got))
	}
	for i, line := range got {
		if line == want[i] {
			continue
		}
		a, b := strings.Fields(want[i]), strings.Fields(line)
		what := "numbers, ids or values"
		if len(a) == 5 && len(b) == 5 && a[2] == b[2] && a[3] == b[3] {
			what = "words only"
		}
		t.Errorf("walk %d is another than it was (%s)\n  was %s\n  is  %s\nto see it: go run ./cmd/prove states --full --seed %d, before and after", i+1, what, want[i], line, i+1)
	}
}
