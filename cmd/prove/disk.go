package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"slices"
	"strings"
	"syscall"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// diskFault is one way for a disk to fail.
type diskFault struct {
	name  string
	err   error
	ops   []string // what fails, each in a trial of its own
	short int      // bytes of a failing write that reach the disk all the same
}

var diskFaultList = []diskFault{
	{"disk full", syscall.ENOSPC, []string{"write", "sync", "create"}, 17},
	{"quota used up", syscall.EDQUOT, []string{"write"}, 3},
	{"input/output error", syscall.EIO, []string{"read", "write", "sync", "syncdir", "truncate"}, 9},
	{"no permission", fs.ErrPermission, []string{"append", "create", "lock", "list"}, 0},
	{"read-only", syscall.EROFS, []string{"append", "create", "lock", "rename"}, 0},
	{"rename fails", syscall.EIO, []string{"rename"}, 0},
	{"folder removed", fs.ErrNotExist, []string{"size", "append", "syncdir"}, 0},
}

// session is a program at work on a disk: it opens the record, adds a walk's events one by one, and
// counts the release on the fixture's card. A person presses the key again when it is refused.
type attack struct {
	said     []string // what the person was told, each once
	lost     bool
	finished bool
	err      error
}

func (a *attack) told(err error) {
	if s := err.Error(); !slices.Contains(a.said, s) {
		a.said = append(a.said, s)
	}
}

// again does a thing until the disk lets it: at the third refusal somebody mends the disk. False is that it never did.
func (a *attack) again(do func() error, mend func()) bool {
	for try := range 6 {
		if try == 3 {
			mend()
		}
		err := do()
		if err == nil {
			return true
		}
		a.told(err)
	}
	return false
}

// suffer lets an act of the disk fail, for a while, from its k-th time on.
func suffer(f diskFault, op string, k int, events []jobs.Event) attack {
	var a attack
	texts, err := builtin.Texts("T")
	if err != nil {
		a.err = err
		return a
	}
	d := jobs.Mem(texts)
	d.Short = f.short
	seen, failing := 0, true
	d.Fail = func(o, path string) error {
		if o != op || !failing {
			return nil
		}
		if seen++; seen > k {
			return &fs.PathError{Op: o, Path: path, Err: f.err}
		}
		return nil
	}
	again := func(do func() error) bool { return a.again(do, func() { failing = false }) }
	var r *jobs.Record
	var es []jobs.Event
	if !again(func() (err error) { r, es, _, err = jobs.OpenRecord(d, recordFile, "prove"); return err }) {
		a.lost = true
		return a
	}
	confirmed := len(es)
	for _, e := range events[confirmed:] {
		if !again(func() error { return r.Append(e) }) {
			a.lost = true
			return a
		}
	}
	again(func() error {
		return jobs.WriteCard(d, "pl-2.fixture.yaml", jobs.Writeback{Key: "back.1", Add: map[string]int{"uses": 1, "threads.cycles": 1}})
	})
	r.Close()
	again(func() error {
		_, err := jobs.Records(d, builtin.JobFile)
		return err
	})
	failing = false
	d.Crash(0) // what was not synced is gone
	_, got, _, err := jobs.OpenRecord(d, recordFile, "prove")
	card, faults := jobs.ReadFixture(d, "pl-2.fixture.yaml")
	a.finished = err == nil && len(faults) == 0 && card.Uses == 1
	a.lost = !reflect.DeepEqual(got, events)
	return a
}

// diskFaults injects each fault at each act and says what the person reads.
func diskFaults(_ context.Context, o options) (*table, error) {
	t := &table{Title: "what the person reads when the disk fails, and what is lost; the disk is mended at the third try, then the power goes",
		Head: []string{"fault", "at", "lost", "done after it", "what is said"}}
	p, events, _, err := walkRecord(3)
	if err != nil {
		return nil, err
	}
	for _, f := range diskFaultList {
		if o.only != "" && o.only != f.name {
			continue
		}
		for _, op := range f.ops {
			for _, k := range []int{0, 1, len(events) / 2} {
				a := suffer(f, op, k, events)
				if a.err != nil {
					return nil, a.err
				}
				t.Cases++
				if a.lost || !a.finished {
					t.Failures = append(t.Failures, fault{uint64(k), f.name + " " + op, fmt.Sprintf("lost %v, finished %v", a.lost, a.finished)})
				}
				if len(a.said) == 0 {
					continue // it did not come to this act so often
				}
				yes := map[bool]string{true: "yes", false: "no"}
				where := op
				if k > 0 {
					where = fmt.Sprintf("%s, after %d", op, k)
				}
				t.row(f.name, where, yes[a.lost], yes[a.finished], strings.Join(a.said, " | "))
			}
		}
	}
	if len(t.Failures) > 0 {
		t.miss("%d trials lost or could not be finished", len(t.Failures))
	}
	t.Cases += oddities(t, p, events)
	return t, nil
}

// oddities are the faults that are no failed act: slow, changed, locked, the clock set back.
func oddities(t *table, p *fold.Plan, events []jobs.Event) int {
	texts, err := builtin.Texts("T")
	if err != nil {
		panic("prove: " + err.Error())
	}
	fresh := func() (*jobs.MemDisk, *jobs.Record) {
		d := jobs.Mem(texts)
		r, _, _, err := jobs.OpenRecord(d, recordFile, "process 4711 on shop")
		if err != nil {
			panic("prove: " + err.Error())
		}
		return d, r
	}
	put := func(name, at string, ok bool, said string) {
		if !ok {
			t.miss("%s: %s", name, said)
		}
		t.row(name, at, "no", map[bool]string{true: "yes", false: "no"}[ok], said)
	}

	d, r := fresh()
	d.Fail = func(op, _ string) error {
		if op == "sync" {
			time.Sleep(40 * time.Millisecond)
		}
		return nil
	}
	began := time.Now()
	err = r.Append(events[0])
	put("sync takes 40 ms", "sync", err == nil && time.Since(began) >= 40*time.Millisecond,
		"nothing: a reading counts as taken only when the sync is over")

	d, r = fresh()
	r.Append(events[0])
	d.Put(recordFile, d.Text(recordFile)+"--- {at: 2026-03-01T10:00:00Z, note: by another}\n")
	err = r.Append(events[1])
	put("another program wrote", "write", err != nil && strings.Contains(d.Text(recordFile), "by another"), said(err))

	d, _ = fresh()
	_, _, _, err = jobs.OpenRecord(d, recordFile, "process 2")
	var held *jobs.LockedError
	put("open twice", "lock", errors.As(err, &held), said(err))

	// The clock goes back by an hour in the middle: order is place in the record.
	back := slices.Clone(events)
	for i := range back[len(back)/2:] {
		k := len(back)/2 + i
		back[k].At = back[k].At.Add(-time.Hour)
	}
	a, b := fold.Fold(p, events), fold.Fold(p, back)
	put("clock set back an hour", "half way", meaning(a) == meaning(b) && a.Released == b.Released,
		"nothing: order is place in the record, and the walk means the same")
	return 4
}

func said(err error) string {
	if err == nil {
		return "nothing"
	}
	return err.Error()
}
