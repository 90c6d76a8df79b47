package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// sittings are several at a time: most of it is waiting for the screen's own guard of young pages.
type sittings struct {
	o       options
	root    string
	longest int // ms
	sat     []*sitting
	free    chan int

	mu    sync.Mutex
	walks int
}

func newSittings(o options, root string) *sittings {
	n := min(8*o.workers, o.n)
	s := &sittings{o: o, root: root, longest: 10000, sat: make([]*sitting, n), free: make(chan int, n)}
	if o.n < 100 {
		s.longest = 4000
	}
	for i := range n {
		s.free <- i
	}
	return s
}

// kill goes on with a walk that is under way, or begins one, and kills it. One that is released or spoilt is not gone on with.
func (s *sittings) kill(i int) (killed, error) {
	lane := <-s.free
	defer func() { s.free <- lane }()
	at := s.sat[lane]
	if at == nil {
		s.mu.Lock()
		s.walks++
		dir := filepath.Join(s.root, fmt.Sprint("walk", s.walks))
		s.mu.Unlock()
		var err error
		if at, err = newSitting(s.o.binary, dir, s.o.seed+uint64(i)); err != nil {
			return killed{}, err
		}
		s.sat[lane] = at
	}
	k, err := at.round(time.Duration(30+at.rng.IntN([]int{1500, s.longest}[i%2])) * time.Millisecond)
	if err == nil && (k.released || k.spoilt()) {
		s.sat[lane] = nil
	}
	return k, err
}

// tellKill kills one walk, late, and tells it in full.
func (s *sittings) tellKill() error {
	at, err := newSitting(s.o.binary, filepath.Join(s.root, "walk"), s.o.seed)
	if err != nil {
		return err
	}
	after := time.Duration(s.longest/2+at.rng.IntN(s.longest/2)) * time.Millisecond
	k, err := at.round(after)
	if err != nil {
		return err
	}
	w := s.o.stdout
	fmt.Fprintf(w, "seed %d: killed %d ms after the start; the clock says where, so no second run is killed at the same place\n", s.o.seed,
		after.Milliseconds())
	fmt.Fprintf(w, "shown as taken: %d; in the record then: %s\n", k.shown, orNone(at.confirmed))
	fmt.Fprintf(w, "a torn line set aside: %v; lost: %s; invented: %s; not opened: %s\n", k.torn, orNone(there(k.lost)),
		orNone(there(k.invented)), orNone(there(k.unopened)))
	return nil
}

// there is a list of what is there.
func there(s string) []string {
	return slices.DeleteFunc([]string{s}, func(s string) bool { return s == "" })
}

// spoilt says that something went wrong.
func (k killed) spoilt() bool { return k.lost != "" || k.invented != "" || k.unopened != "" }

// workplace is a folder of its own for the real program, which is built there where none was given; done takes it away.
func (o *options) workplace(ctx context.Context, name string) (root string, done func(), err error) {
	if root, err = os.MkdirTemp("", name); err != nil {
		return "", nil, err
	}
	if o.binary == "" {
		if o.binary, err = build(ctx, root); err != nil {
			os.RemoveAll(root)
			return "", nil, err
		}
	}
	return root, func() { os.RemoveAll(root) }, nil
}

// kills walks the real program at a pseudo-terminal, kills it at random moments, opens it again
// and goes on, until there were n kills. A released walk is followed by a fresh one.
func kills(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "the real program at a pseudo-terminal, killed at random moments of a walk and opened again", Cases: o.n,
		Head: []string{"what", "count"}}
	root, done, err := o.workplace(ctx, "prove-kills-")
	if err != nil {
		return nil, err
	}
	defer done()
	s := newSittings(o, root)
	if o.verbose {
		return &table{}, s.tellKill()
	}
	got := make([]killed, o.n)
	lanes := o
	lanes.workers = len(s.sat)
	err = each(ctx, lanes, "kills", o.n, func(i int) (err error) {
		got[i], err = s.kill(i)
		return err
	})
	if err != nil {
		return nil, err
	}
	t.tellKills(got, s.walks, o.seed)
	t.Notes = append(t.Notes, fmt.Sprintf("a kill comes 0.03 to 1.5 s and to %d s, in turn, after the start;", s.longest/1000)+
		" a SIGKILL leaves what the system has taken over: that the disk keeps it is what cuts and disk prove")
	return t, nil
}

// tellKills writes what came of all kills, over so many walks.
func (t *table) tellKills(got []killed, walks int, seed uint64) {
	shown, lost, invented, unopened, torn, released := 0, 0, 0, 0, 0, 0
	for i, k := range got {
		shown += max(k.shown, 0)
		for _, f := range []struct {
			what string
			n    *int
		}{{k.lost, &lost}, {k.invented, &invented}, {k.unopened, &unopened}} {
			if f.what != "" {
				*f.n++
				t.Failures = append(t.Failures, fault{seed + uint64(i), "kill", f.what})
			}
		}
		if k.torn {
			torn++
		}
		if k.released {
			released++
		}
	}
	t.row("kills", len(got))
	t.row("walks begun", walks)
	t.row("walks released", released)
	t.row("readings shown as taken before a kill", shown)
	t.row("lines found torn and set aside", torn)
	t.row("confirmed readings lost", lost)
	t.row("readings invented", invented)
	t.row("records that would not open", unopened)
	if lost+invented+unopened > 0 {
		t.miss("%d lost, %d invented, %d not opened; mark 0", lost, invented, unopened)
	}
	if shown == 0 {
		t.miss("nothing was taken before any kill: the harness did not type")
	}
}
