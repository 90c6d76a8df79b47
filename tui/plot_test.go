package tui

import (
	"strings"
	"testing"

	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// Scenes are drawn without a screen, none wider than asked, by the same pen: the ring of hits with its limit, the
// targets with their numbers.
func TestPlots(t *testing.T) {
	p := lid(t, "T")
	r, err := bench.Auto(p, bench.Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	log := steps.NewLog()
	for _, e := range r.Walk.Events {
		log.Apply(e)
	}
	st := log.State(p)
	var scenes []NamedScene
	for _, id := range []fold.StepID{"square", "bore", "floor"} {
		pg, ok := log.Page(p, id)
		if !ok {
			t.Fatal(id)
		}
		sc := pg.Scene
		sc.Shapes = nil
		scenes = append(scenes, NamedScene{string(id), sc})
	}
	for _, w := range []int{60, 80, 200} {
		for _, ascii := range []bool{false, true} {
			lines := Plots(Look{ASCII: ascii}, &st, scenes, w)
			text := strings.Join(lines, "\n")
			for _, l := range lines {
				if Width(l) > w || strings.Contains(l, "\x1b") {
					t.Fatalf("%d wide of %d: %q", Width(l), w, l)
				}
			}
			for _, want := range []string{"square: ", "bore: ", "floor: ", "dial opening", "case corner", "measured", "limit"} {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in\n%s", want, text)
				}
			}
		}
	}
}
