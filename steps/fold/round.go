package fold

import (
	"time"

	"fliptrue/jobs"
)

// Seq is a place in the record.
type Seq = jobs.Seq

// Round is one go at a step. A State's rounds are never changed after it was made.
type Round struct {
	Step        StepID
	No          int
	Opened      Seq
	First, Last Seq // places of the first and last reading or answer, 0 before any
	Taken       []Taken
	Waivers     []Waiver

	at     map[string]int // field -> index in Taken
	shared bool           // a State holds it: copy before changing
}

// Taken is a reading or answer at one address. Before holds what it replaced, oldest first.
type Taken struct {
	Field, Value, By string
	Seq, Since       Seq // place of this value, and of the first one at this field
	At               time.Time
	Before           []string
	seqs             []Seq // their places
}

// Waiver is a limit waived by the person; it holds only while nothing was read after it.
type Waiver struct {
	Seq           Seq
	Limit, Number string
	Reason        string
	At            time.Time
}

// Get returns what was taken at a field.
func (r *Round) Get(field string) (Taken, bool) {
	if r == nil {
		return Taken{}, false
	}
	i, ok := r.at[field]
	if !ok {
		return Taken{}, false
	}
	return r.Taken[i], true
}

// take records a value at its place.
func (r *Round) take(field, value, by string, seq Seq, at time.Time) {
	t := Taken{Field: field, Value: value, By: by, Seq: seq, Since: seq, At: at}
	if i, ok := r.at[field]; ok {
		old := r.Taken[i]
		t.Since = old.Since
		t.Before = append(old.Before, old.Value) // history only grows: a shared array is never overwritten
		t.seqs = append(old.seqs, old.Seq)
		r.Taken[i] = t
	} else {
		r.at[field] = len(r.Taken)
		r.Taken = append(r.Taken, t)
	}
	if r.First == 0 {
		r.First = seq
	}
	r.Last = seq
}

// Of is a copy of the round that holds what keep gives of what was taken; its waivers are left behind.
func (r *Round) Of(keep func(Taken) (Taken, bool)) *Round {
	c := &Round{Step: r.Step, No: r.No, Opened: r.Opened, First: r.First, Last: r.Last, at: map[string]int{}}
	for _, t := range r.Taken {
		if t, ok := keep(t); ok {
			c.at[t.Field] = len(c.Taken)
			c.Taken = append(c.Taken, t)
		}
	}
	return c
}

// clone copies the round so that a State keeps the old one.
func (r *Round) clone() *Round {
	c := *r
	c.shared = false
	c.Taken = append([]Taken(nil), r.Taken...)
	c.Waivers = append([]Waiver(nil), r.Waivers...)
	c.at = make(map[string]int, len(r.at))
	for k, v := range r.at {
		c.at[k] = v
	}
	return &c
}
