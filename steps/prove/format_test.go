package prove_test

import (
	"os"
	"strings"
	"sync"
	"testing"

	"fliptrue/steps/prove"
)

// looks are the looks at one record, or why there are none. Their States are gone.
type looks struct {
	kept prove.Kept
	all  []look
	last map[string]prove.Text // by setup, after the last event
	err  error
}

type look struct {
	setup      string
	n          int
	all, plain string
}

var once struct {
	sync.Once
	looks  []looks
	format prove.Format
}

// replayed folds all records once for every test that wants them.
func replayed(t testing.TB) ([]looks, prove.Format) {
	t.Helper()
	once.Do(func() {
		f := prove.Format{}
		for _, k := range kept(t) {
			l := looks{kept: k, last: map[string]prove.Text{}}
			f.Events(k.Events)
			l.err = prove.Replay(k.Job, programs(t, k), k.Events, func(x prove.Look) {
				all, plain := x.Text.Hash()
				l.all = append(l.all, look{x.Setup, x.N, all, plain})
				if x.N == len(k.Events) {
					l.last[x.Setup] = x.Text
					f.Plan(x.State.Plan())
					f.Tables(x.State.Plan())
				}
				f.State(x.State)
			})
			once.looks = append(once.looks, l)
		}
		once.format = f
	})
	return once.looks, once.format
}

// TestFormat holds what a record may carry against format.golden. Lines may be added
// (UPDATE=1), never changed or taken away: a record written with that name would not be
// understood any more. The golden keeps a line that is not seen now until a person takes it out.
func TestFormat(t *testing.T) {
	const name = folder + "format.golden"
	_, seen := replayed(t)
	old, err := os.ReadFile(name)
	if err != nil && os.Getenv("UPDATE") == "" {
		t.Fatal(err)
	}
	golden := prove.Format{}
	gone := 0
	for line := range strings.Lines(string(old)) {
		line = strings.TrimSuffix(line, "\n")
		golden[line] = true
		if !seen[line] {
			if gone++; gone <= 20 {
				t.Errorf("gone: %s", line)
			}
		}
	}
	if gone > 0 {
		t.Errorf("%d lines of %s are gone. They are part of the file format: records that carry these names have been written and must go on meaning "+
			"what they meant. Give the name back: one that is no longer asked must still be read. Where only a walk went another way, "+
			"TestRecordsMeanWhatTheyMeant says why. UPDATE=1 takes no line out", gone, name)
	}
	added := 0
	for _, line := range seen.Lines() {
		if golden[line] {
			continue
		}
		golden[line] = true
		if added++; added <= 20 && os.Getenv("UPDATE") == "" {
			t.Errorf("%s has no line %q. A new name is there for good: look at it, and accept it with UPDATE=1; a new required field has a Since", name, line)
		}
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(name, []byte(strings.Join(golden.Lines(), "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}
