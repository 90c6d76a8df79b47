package steps

import (
	"testing"

	"fliptrue/jobs"
)

// Every kind has its turn among the setups of a job; one that is not known comes last, not first.
func TestEveryKindHasItsTurn(t *testing.T) {
	for _, k := range House.Kinds {
		if turn(&jobs.Setup{Kind: k.Name}) == noTurn {
			t.Errorf("kind %q has no turn: give it one in kindOrder", k.Name)
		}
	}
	if turn(&jobs.Setup{Kind: "nothing"}) != noTurn {
		t.Error("what is no kind has a turn")
	}
}
