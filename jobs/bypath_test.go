package jobs

import (
	"slices"
	"strings"
	"testing"
)

func TestByPathCountsPlaces(t *testing.T) {
	got := strings.Fields("b at.10 at.2 at a.b.9 a.b.10.x a.b.10 a.-1 a.1 a a.99999999999 a.x")
	slices.SortFunc(got, byPath)
	want := "a a.-1 a.1 a.99999999999 a.b.9 a.b.10 a.b.10.x a.x at at.2 at.10 b"
	if strings.Join(got, " ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, " "), want)
	}
	for _, a := range got {
		for _, b := range got {
			if x, y := byPath(a, b), byPath(b, a); (x < 0) != (y > 0) {
				t.Errorf("%s against %s: %d and %d", a, b, x, y)
			}
		}
	}
}
