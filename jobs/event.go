package jobs

import "time"

// Seq is the place of an event in its record: 1 for the first. Order is place, never clock.
type Seq int

// Event is one thing that happened. Exactly one of the verbs is set.
//
// An address is setup/step/round/field (side2/bore/1/hit3.x) for a reading or an
// answer, setup/step/round for a round, and setup alone for begin and release.
type Event struct {
	At time.Time

	Begin   string // setup begun
	Round   string // a round of a step opened: side2/bore/2
	Read    string // a reading taken at an address
	Answer  string // a question, count, read-back or pause point answered at an address
	Waive   string // a limit waived: setup/step/round/limit
	Mishap  string // setup/mishap-id
	Plan    string // hash of the job as it now is
	Note    string // free text
	Release string // setup released

	Value   string            // as typed (mishap: which tool; waive: the number as shown)
	Reason  string            // with waive
	By      string            // keyed, instrument, pasted, bench or program
	Cards   map[string]string // with begin: job, machine and fixture values used and file hashes; with plan: the changed values
	Changed []string          // with plan: job keys that changed
}
