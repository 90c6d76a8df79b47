package main

import (
	"context"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
)

// What a walk asks at each level stands in the README as it is counted.
func TestReadmeSaysWhatIsAsked(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	c, err := counts(context.Background(), options{seed: 1, n: 8})
	if err != nil {
		t.Fatal(err)
	}
	asked := regexp.MustCompile(`\d+ \+ \d+`)
	rows := map[string][]any{}
	for _, r := range c.Rows {
		if r[1] == "ALL" {
			rows[fmt.Sprint(r[0])] = r
		}
	}
	for i, level := range c.Head[2:] {
		name := strings.Replace(level, "full", "all that a record without a level is asked", 1)
		row := fmt.Sprintf("| %s | %s | %s |", name, asked.FindString(fmt.Sprint(rows["T"][i+2])), asked.FindString(fmt.Sprint(rows["S"][i+2])))
		if !strings.Contains(string(b), row) {
			t.Errorf("the README has no row %q", row)
		}
	}
}
