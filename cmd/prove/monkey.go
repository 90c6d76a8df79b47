package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"time"

	"fliptrue/steps/fold"

	"github.com/creack/pty"
)

// monkeySizes are the windows in which keys are pressed, in turn.
var monkeySizes = [][2]uint16{{80, 24}, {120, 36}, {60, 20}}

// monkeyKeys are pressed at random. What goes on comes often, so that the walk gets anywhere;
// Ctrl-C and Ctrl-Z, which end it, do not come.
var monkeyKeys = []string{
	"\r", "\r", "\r", "\r", "\r", "\r", "+", "+", "+", "+", "+", "+", "+", "+", "1", "2", "3", "4", "0", ".", "-", "5", "9", "/", "*", "?",
	"\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[5~", "\x1b[6~", "\x1bOQ", "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~", "\x1b[18~", "\x7f",
	"\x15", "\t",
	"\x1b", "\x1b", "\x1b", "\x1b", "\x1b", "\x1b", "\x1b", "\x1b", "\r", "\r", "\r", "+", "+", "+", "+",
	"b", "w", "u", "r", "x", "\x1b[200~1.5\x1b[201~", "\x1b[200~1 2\r3 4\x1b[201~", "\x1b[200~7", "\x1b[201~",
}

// fed is what came of one case.
type fed struct {
	keys, taken, passed int
	released            bool
	wrong               []string
	pressed, got        []string // keys; readings and answers of the record
}

// monkey presses seeded random keys at the real program, a practice, slowly enough that the
// guards against bounces and bursts let them through.
func monkey(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "random keys at the real program in a pseudo-terminal, at three sizes and through windows too small to work in",
		Cases: o.n, Head: []string{"what", "count"}}
	root, done, err := o.workplace(ctx, "prove-monkey-")
	if err != nil {
		return nil, err
	}
	defer done()
	keys := 150
	if o.stride > 1 { // a test
		keys = 30
	}
	got := make([]fed, o.n)
	lanes := o
	lanes.workers = min(6*o.workers, o.n) // most of it is waiting
	err = each(ctx, lanes, "monkey", o.n, func(i int) error {
		var err error
		got[i], err = feed(ctx, o.binary, filepath.Join(root, fmt.Sprint("m", i)), o.seed+uint64(i), monkeySizes[i%len(monkeySizes)], keys)
		return err
	})
	if err != nil {
		return nil, err
	}
	if o.verbose {
		got[0].tell(o)
		return &table{}, nil
	}
	var sum fed
	released, wrong := 0, 0
	for i, f := range got {
		sum.keys, sum.taken, sum.passed = sum.keys+f.keys, sum.taken+f.taken, sum.passed+f.passed
		if f.released {
			released++
		}
		for _, w := range f.wrong {
			wrong++
			t.Failures = append(t.Failures, fault{o.seed + uint64(i), "monkey", w})
		}
	}
	t.row("keys", sum.keys)
	t.row("readings and answers taken", sum.taken)
	t.row("steps that pass at the end", sum.passed)
	t.row("released", released)
	t.row("panics, records not readable, steps that pass without their readings", wrong)
	if wrong > 0 {
		t.miss("%d went wrong; mark 0", wrong)
	}
	if sum.taken == 0 && sum.keys >= 1000 {
		t.miss("nothing was taken: the keys did not pass the guards")
	}
	t.Notes = append(t.Notes, "a wrong PASS is here one of a step of which a reading is missing, or a release that the record does not bear; "+
		"whether values are true is not judged")
	return t, nil
}

// feed is one case.
func feed(ctx context.Context, binary, dir string, seed uint64, size [2]uint16, keys int) (f fed, err error) {
	s, err := newSitting(binary, dir+"-plan", seed)
	if err != nil {
		return f, err
	}
	s.dir = dir // the practice lays its own files there
	rng := rand.New(rand.NewPCG(seed, 7))
	t, err := start(binary, dir+"-plan", "practice", "--out", dir, "--seed", fmt.Sprint(seed))
	if err != nil {
		return f, err
	}
	resize := func(w, h uint16) {
		pty.Setsize(t.tty, &pty.Winsize{Cols: w, Rows: h})
		t.mu.Lock()
		t.vt.Resize(int(w), int(h))
		t.mu.Unlock()
	}
	resize(size[0], size[1])
	time.Sleep(2 * time.Second)
	for range keys {
		select {
		case <-t.end:
			f.wrong = append(f.wrong, "the program ended by itself")
		case <-ctx.Done():
			t.kill()
			return f, ctx.Err()
		default:
		}
		if len(f.wrong) > 0 {
			break
		}
		if rng.IntN(60) == 0 {
			resize(uint16(10+rng.IntN(80)), uint16(4+rng.IntN(30)))
		} else if rng.IntN(20) == 0 {
			resize(size[0], size[1])
		}
		key := monkeyKeys[rng.IntN(len(monkeyKeys))]
		t.tty.WriteString(key)
		f.keys++
		f.pressed = append(f.pressed, key)
		time.Sleep(settle + time.Duration(rng.IntN(60))*time.Millisecond)
		if strings.Contains(t.text(), bare("the program made a mistake")) {
			f.wrong = append(f.wrong, "a panic: "+t.text())
		}
	}
	t.kill()
	st, es, _, err := s.state()
	if err != nil {
		f.wrong = append(f.wrong, "the record is not readable: "+err.Error())
		return f, nil
	}
	f.got, f.released = taken(es), st.Released
	f.taken = len(f.got)
	f.wrong = append(f.wrong, hollow(st, &f.passed)...)
	return f, nil
}

// tell tells one sitting in full.
func (f fed) tell(o options) {
	size := monkeySizes[0]
	fmt.Fprintf(o.stdout, "seed %d, a window of %d x %d, %d keys: %q\n", o.seed, size[0], size[1], f.keys, f.pressed)
	fmt.Fprintf(o.stdout, "taken: %s\n", orNone(f.got))
	fmt.Fprintf(o.stdout, "%d steps pass at the end, released: %v; wrong: %s\n", f.passed, f.released, orNone(f.wrong))
}

// hollow are steps that pass without what they ask, and a release over a step that does not pass.
func hollow(st *fold.State, passed *int) (out []string) {
	for i := range st.Steps {
		ss := &st.Steps[i]
		if ss.Verdict != fold.Pass || ss.Round == nil {
			continue
		}
		*passed++
		for _, a := range ss.Asks {
			if _, ok := ss.Round.Get(a.Field); !ok && !a.Optional {
				out = append(out, fmt.Sprintf("%s passes and %s was not read", ss.ID, a.Field))
			}
		}
	}
	if st.Released && *passed == 0 {
		out = append(out, "released, and no step passes")
	}
	return out
}
