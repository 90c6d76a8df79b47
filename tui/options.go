package tui

import (
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// Options is all that the screen of one setup gets from outside.
type Options struct {
	Look Look
	Now  func() time.Time // must not run backwards; time.Now will do

	Plan *fold.Plan
	Log  *fold.Log // with the setup begun; the screen adds to it what was saved
	Part string    // which part or blank this is, for the top line; may be empty

	// Save puts events on the disk and returns nil only when they are there. It is called
	// from another goroutine, one call at a time. The screen shows nothing as taken before.
	Save func([]jobs.Event) error

	// Settle does what Save has to wait for, such as opening a record on a slow disk; an error ends
	// the screen. Called from another goroutine, and more than once; nil for nothing.
	Settle func() error

	// Standing is what is amiss beside the record and stays on the screen until it is mended, such
	// as a card that can't be written: what, on which file, what to do. Asked when the screen
	// begins and after each Save, like it from another goroutine; nil for nothing.
	Standing func() []string

	// Open is the plan of another setup of the record, which was just begun: the screen goes on with it. nil where
	// the screen stays with its setup.
	Open func(setup string) (*fold.Plan, error)

	Feed    <-chan Arrival // what instruments send; nil where the machine card names none
	Bench   Bench          // the simulated bench of a practice; nil at a machine
	Notices []string       // said once on the first page: a line that broke off, a changed job
	First   string         // said on a page of its own before anything else; may be empty
	Record  string         // where the record is, told on leaving; may be empty
}

// Bench stands in for the machine in a practice. steps/bench.World is one.
type Bench interface {
	Offer(fold.Ask) (string, error) // what a person would read
	Do(fold.Act) error              // an act was done
	Correct(fold.Ask)               // what a wrong or doubtful answer showed was put right
}

// Result is how a walk was left.
type Result struct {
	State    fold.State
	Released bool
	Summary  string // lines to print once the screen is gone
}
