package prove_test

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"fliptrue/steps/fold"
)

var (
	digits = regexp.MustCompile(`[0-9]+`)
	seen   struct {
		sync.Mutex
		looked, asked map[string]bool
	}
)

// shared are fields that a step only looks for because it shares its reading with steps that ask
// for them. The list may only shrink.
var shared = strings.Split("baseline pin.x.#, baseline pin.y.#, datum-check b#pin.x.#, datum-check b#pin.y.#, datum-check d#.#, datum-check hit#.x, datum-check hit#.y, "+
	"datum-check pin.x.#, datum-check pin.y.#, datum-check sx.#, datum-check sy.#, lengths t#.#, lift px, lift py#, lift z#.#, next pin.x.#, next pin.y.#, reference pin.x.#, "+
	"reference pin.y.#, seat strip, seat-check pin.x.#, seat-check pin.y.#, shift pin.x.#, shift pin.y.#, sizes wal#, square e#.d#.#, square e#.hit#.x, square e#.hit#.y, "+
	"square e#.pin.x, square e#.pin.y.#, square e#.sx.#, square e#.sy.#, square f#.d#.#, square f#.hit#.x, square f#.hit#.y, square f#.pin.x, square f#.pin.y.#, square f#.sx.#, "+
	"square f#.sy.#, thread-check strip", ", ")

// TestMain watches what steps look at over all records and walks: a fact that a step does not
// need is a panic, a field that it never asks for, by any name of that shape, is misspelt.
func TestMain(m *testing.M) {
	fold.Strict = true
	debug.SetGCPercent(1200) // a test is short: memory is cheaper than time
	seen.looked, seen.asked = map[string]bool{}, map[string]bool{}
	note := func(in map[string]bool) func(fold.StepID, string) {
		return func(s fold.StepID, field string) {
			seen.Lock()
			in[string(s)+" "+digits.ReplaceAllString(field, "#")] = true
			seen.Unlock()
		}
	}
	fold.Looked, fold.Asked = note(seen.looked), note(seen.asked)
	code := m.Run()
	if run := flag.Lookup("test.run").Value.String(); run == "" || strings.Contains(run, "Records") && strings.Contains(run, "Walks") {
		var never []string
		for f := range seen.looked {
			if !seen.asked[f] && !slices.Contains(shared, f) {
				never = append(never, f)
			}
		}
		if slices.Sort(never); len(never) > 0 {
			fmt.Println("looked at and never asked for: " + strings.Join(never, ", "))
			code = 1
		}
	}
	os.Exit(code)
}
