package published

import (
	"os"
	"testing"
)

// Ours rounds to every printed number, but where a reason is given beside it.
func TestOursIsWhatIsPrinted(t *testing.T) {
	rows := Rows()
	if len(rows) < 150 {
		t.Errorf("only %d rows", len(rows))
	}
	for _, r := range rows {
		if !r.Agrees() {
			t.Errorf("%s, %s: printed %s, ours %.9g", r.Source, r.What, r.Printed, r.Ours)
		}
		if r.Off != "" && r.Within == 0 {
			t.Errorf("%s, %s: a reason and no bound", r.Source, r.What)
		}
	}
}

// A number off by one in its last digit does not pass.
func TestAgrees(t *testing.T) {
	for _, c := range []struct {
		printed string
		ours    float64
		agrees  bool
	}{{"1.23", 1.2349, true}, {"1.23", 1.2351, false}, {"1.23", 1.2249, false}, {"-0.5e-3", -0.00054, true}, {"-0.5e-3", -0.00056, false}, {"12", 12.4, true}, {"12", 11.4, false}} {
		if r := (Row{Printed: c.printed, Ours: c.ours}); r.Agrees() != c.agrees {
			t.Errorf("%s and %g: %v", c.printed, c.ours, r.Agrees())
		}
	}
}

// The page is what the program writes.
func TestPage(t *testing.T) {
	const name = "../../../testdata/PUBLISHED.md"
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(name, []byte(Page()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil || string(want) != Page() {
		t.Errorf("%s is not what `go run ./cmd/prove published` writes (UPDATE=1 writes it): %v", name, err)
	}
}
