package bench

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// keypad are the keys beside each digit of a numeric keypad.
var keypad = map[byte]string{'0': "12", '1': "024", '2': "0135", '3': "26", '4': "157", '5': "2468", '6': "359", '7': "48",
	'8': "579", '9': "68"}

// errs says that the person slips now, who does so in that share of cases. It has a stream of its own: without it nothing else moves.
func (w *World) errs(share float64) bool {
	if share <= 0 {
		return false
	}
	if w.person == nil {
		w.person = w.lot.stream("person")
	}
	return w.person.Float64() < share
}

// slip is what the person gives in place of what is so: another answer, a count off by one, a neighbouring digit.
func (w *World) slip(a fold.Ask, v string) string {
	switch {
	case a.Self != nil:
		return v
	case a.Kind == fold.Reading || a.Kind == fold.Text:
		if w.errs(w.Effects.WrongDigit) {
			return mistyped(v, w.person)
		}
	case w.errs(w.Effects.WrongAnswer):
		if a.Kind != fold.Count && len(a.Options) == 0 {
			return v
		}
		if a.Kind != fold.Count {
			i := slices.Index(a.Options, v)
			return a.Options[(i+1)%len(a.Options)]
		}
		if n, err := strconv.Atoi(v); err == nil {
			return fmt.Sprint(max(n+1-2*w.person.IntN(2), 0))
		}
	}
	return v
}

// mistyped is a number with one of its digits taken for the key beside it.
func mistyped(v string, r *rand.Rand) string {
	var at []int
	for i := range len(v) {
		if keypad[v[i]] != "" {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return v
	}
	i := at[r.IntN(len(at))]
	beside := keypad[v[i]]
	return v[:i] + string(beside[r.IntN(len(beside))]) + v[i+1:]
}

// skips says that the person passes an act over. What the next reading could not be taken without is never passed over.
func (w *World) skips(a fold.Act) bool {
	switch a.Do {
	case "wipe", "push", "tighten", "retighten", "mark", "key", "cancel", "wait", "press":
		return w.errs(w.Effects.SkippedAct)
	}
	return false
}

// skipped does what a skipped act leaves behind.
func (w *World) skipped(a fold.Act) {
	switch what := thing(a.Of); {
	case a.Do == "push" && what == "part" && w.bed == nil && !w.part.free:
		w.part.shift, w.part.free = w.part.shift.add(w.inward().times(w.card.Pocket.Clearance)), true
	case (a.Do == "tighten" || a.Do == "retighten") && what == "fixture":
		w.hand.snug = 0.03
	case strings.HasPrefix(a.Do, "mark"):
		w.ball.ecc = w.ball.ecc.times(-1)
	}
}
