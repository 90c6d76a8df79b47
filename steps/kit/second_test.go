package kit

import "testing"

func TestSecondTouch(t *testing.T) {
	for label, want := range map[string]string{
		"left face at its middle":           "left face at its middle, second touch",
		"fixed jaw, hit 1, Y":               "fixed jaw, hit 1, second touch, Y",
		"part top, FAR LEFT: W X +22 Y +67": "part top, FAR LEFT, second touch: W X +22 Y +67",
	} {
		if got := SecondTouch(label); got != want {
			t.Errorf("%q: %q, want %q", label, got, want)
		}
	}
}
