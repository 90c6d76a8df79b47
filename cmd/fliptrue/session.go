package main

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// session is a record open for adding, with the plan of the setup to walk.
type session struct {
	job    *jobs.Job
	plan   *fold.Plan
	plans  map[string]*fold.Plan // made so far, by setup
	record *jobs.Record
	path   string       // of the record
	settle func() error // opens the record of one that is begun beside its screen; nil where it is open
	events []jobs.Event // all so far, those just added included
	notes  []string     // what to tell the person first
	first  string       // what has to be known before anything else, on a page of its own
	log    *fold.Log    // of the events; the screen adds to it what it saves
	due    *cardBack    // nil in a practice

	deaf    func()       // ends the listening to the feeds; nil before it began
	pending []jobs.Event // what opening found, to be written with the first event after it
	isNew   bool         // the record was made by opening it
}

// pend stamps events with the time and counts them in: they are among s.events and in the
// log, and come into the record with the first thing that is taken. Opening alone writes
// nothing: a person who looks and leaves has not said yes to anything.
func (s *session) pend(now time.Time, es ...jobs.Event) {
	s.stamp(now, es)
	s.pending = append(s.pending, es...)
}

// save adds events to the record, with what waits for them; when it returns nil all are on
// the disk. The screen puts them into the log.
func (s *session) save(es []jobs.Event) error {
	if s.settle != nil {
		if err := s.settle(); err != nil {
			return err
		}
	}
	all := append(slices.Clip(s.pending), es...)
	if err := s.record.Append(all...); err != nil {
		return err
	}
	s.pending, s.isNew = nil, false
	s.events = append(s.events, es...)
	s.due.saved(all)
	return nil
}

// close lets go of the record. One that was made just now and holds nothing goes away again.
func (s *session) close() {
	if s.deaf != nil {
		s.deaf()
	}
	if s.isNew {
		_ = s.record.Drop() // a record without an event does no harm
	}
	s.record.Close()
}

// append counts events in and adds them to the record; when it returns nil they are on the disk.
func (s *session) append(now time.Time, es ...jobs.Event) error {
	s.stamp(now, es)
	return s.write(es)
}

// stamp puts the time to events, and counts them in.
func (s *session) stamp(now time.Time, es []jobs.Event) {
	for i := range es {
		es[i].At = now
		s.log.Apply(es[i])
	}
	s.events = append(s.events, es...)
}

// write puts events that are counted in into the record.
func (s *session) write(es []jobs.Event) error {
	if err := s.record.Append(es...); err != nil {
		return err
	}
	s.due.saved(es)
	return nil
}

// planOf is the plan of a setup, made once: each makes a plan of its own from what the
// record copied of the job.
func (s *session) planOf(e *env, setup string) (*fold.Plan, error) {
	if p := s.plans[setup]; p != nil {
		return p, nil
	}
	p, err := e.plan(s.job, setup)
	if err == nil {
		if s.plans == nil {
			s.plans = map[string]*fold.Plan{}
		}
		s.plans[setup] = p
	}
	return p, err
}

// choose is the setup to walk: the one asked for, else the one where the person stopped, and
// when that is released the first in the order of the walk that is not. Where others are
// begun and open too it says so.
func (s *session) choose(e *env, o openOptions) (string, error) {
	if o.setup != "" {
		if _, ok := s.job.Setup(o.setup); !ok {
			return "", &usageError{"there is no setup " + quoted(o.setup) + " in " + o.job, "the setups are: " + strings.Join(
				setupNames(s.job), " ")}
		}
		return o.setup, nil
	}
	walked, first := "", ""
	var open []string // begun and not released
	for _, l := range steps.Outlook(s.job, s.log) {
		p, err := s.planOf(e, l.Name)
		if err != nil {
			continue // of a kind that is not walked
		}
		walked = l.Name
		if l.GoesOn != "" { // it was broken off, and went on elsewhere
			continue
		}
		if s.log.State(p).Released {
			continue
		}
		if first == "" {
			first = l.Name
		}
		if slices.Contains(begun(s.events), l.Name) {
			open = append(open, l.Name)
		}
	}
	name := cmp.Or(first, walked)
	if last := stoppedAt(s.events); slices.Contains(open, last) {
		name = last
	}
	if name == "" {
		return "", &inputError{o.job, "none of its setups is of a kind that this version walks", "give a setup of kind second-side"}
	}
	if others := slices.DeleteFunc(open, func(n string) bool { return n == name }); len(others) > 0 {
		s.notes = append(s.notes, "goes on with "+name+", where you stopped; begun too: "+strings.Join(others, ", ")+" (open --setup)")
	}
	return name, nil
}

// stoppedAt is the setup that the last event is about, "" when none is.
func stoppedAt(es []jobs.Event) string {
	for _, ev := range slices.Backward(es) {
		if addr := cmp.Or(ev.Begin, ev.Round, ev.Read, ev.Answer, ev.Waive, ev.Mishap, ev.Release); addr != "" {
			setup, _, _ := strings.Cut(addr, "/")
			return setup
		}
	}
	return ""
}
