package tui

import (
	"os"
	"strings"
	"testing"
)

// The screens in the README are those that the program draws.
func TestReadmeShowsTheScreens(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"80x24-reading", "80x24-fail"} {
		frame, err := os.ReadFile("testdata/" + name + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range strings.Split(strings.TrimRight(string(frame), "\n"), "\n") {
			if l = strings.TrimRight(l, " "); l != "" && !strings.Contains(string(readme), "    "+l+"\n") {
				t.Errorf("the README has no line %q of %s", l, name)
			}
		}
	}
}
