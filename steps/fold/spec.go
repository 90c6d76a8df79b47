package fold

import (
	"time"

	"fliptrue/calc/unit"
)

// StepID names a step, such as "bore".
type StepID string

// FactID names a fact, such as "bore"; where there are several of a kind it is kind/thing: "length/3".
type FactID string

// Column is the mishap table's column of the fact: "length/3" falls under "length".
func (f FactID) Column() FactID {
	for i := 0; i < len(f); i++ {
		if f[i] == '/' {
			return f[:i]
		}
	}
	return f
}

// Thing is the part after the slash: "3" of "length/3", "" without one.
func (f FactID) Thing() string {
	if c := f.Column(); len(c) < len(f) {
		return string(f[len(c)+1:])
	}
	return ""
}

// Spec is a step as data. Setups and plans share Specs.
type Spec struct {
	ID    StepID
	Title string // two or three words for the list of steps
	Leg   string // of its Place

	Needs   []Need
	Makes   []FactID // one a thing where there are several
	Recheck *Recheck // what it brings back; and of any off-line step where it is done

	Raises []MishapID    // what the step itself does to facts, at its end (some at once: see Mishap)
	Keeps  time.Duration // how long what it makes may be relied on, by the times of the record; 0 without end
	Keys   []string      // job keys that what it measured rests on: editing one voids the round; what only judges is judged again
	Former []string      // keys that did so before the third walk: since then the readings are judged again
	Pause  *Pause        // pause point before it

	Settles Settles // what nothing that happens later touches any more, once this step has passed

	Bare   Bare // needs the pocket bare: once the part is in, it comes out first
	Record bool // it looks at what happened in the whole record: see View.Spoiled
	Covers bool // from its first reading on the part lies in its pocket

	Asks  func(View) []Ask
	Judge func(View) Outcome
	Page  func(View) Page

	// Owns says which of Makes a field belongs to, where a round may make only some; nil means all.
	Owns func(FactID, string) bool

	relations
	reads []Worth // of the kind's table, set as the plan is made
}

// Settles are facts that were read of a thing as it lay: once it is let go they can neither be read again nor become wrong, but by what
// damages the thing itself.
type Settles struct {
	Facts []FactID
	But   []MishapID
}

// Bare says when a step needs the pocket bare, once the part has been in.
type Bare int

const (
	PartMayStay   Bare = iota
	UnlessSeated       // a part whose seat stands may stay: the step then asks only what can be read with it in
	OnceSeated         // it is looked at bare after a round of its own that passed; until one does the part goes in and out by its advice
	PartMustBeOut      // the part lies over what is read
)

// Pause is a pause point: what can't be undone after it, and the answer that opens it.
type Pause struct {
	Heading string // names what becomes irreversible
	Lost    string // one sentence
	Ask     func(View) Ask
	Again   *Pause // its words once an earlier round may have done it, nil for the same; its Ask is not used
}

// in is the pause as it reads in a step's only round, or in a later one.
func (p *Pause) in(later bool) *Pause {
	if p == nil || !later || p.Again == nil {
		return p
	}
	return p.Again
}

// AskKind says what is wanted and how it is given: a Reading is taken with Enter, all else is answered with +.
type AskKind int

const (
	Reading AskKind = iota
	Count
	Choice
	Text
	Echo // a value read back from the control, blind
)

// Ask is one thing wanted from the person.
type Ask struct {
	Field    string
	Label    string // the words beside the field
	Kind     AskKind
	What     What
	Do       []Act // what to do before it is read
	Unit     unit.Kind
	Bare     string   // unit of a number typed without one, as it is written: "mNm"; "" for that of its kind
	Window   *Window  // prediction
	Options  []string // of a Choice, answered by number or word
	Want     string   // the only answer that passes, when there is one; compared without case
	WantWhy  string   // what another answer means
	Hint     string   // what to do after another answer
	Cure     []Act    // after another answer nothing further is asked: this is done first; see fatal.go
	Shows    string   // the mistake that such an answer shows
	Form     string   // Asks of one form are shown and answered together
	Blind    bool     // the expected value is hidden until answered
	Since    Since    // a field that records of an earlier walk were not asked for
	Worth             // from which level on it is asked, and what for
	Optional bool
	Self     func() string `json:"-"` // what the program itself reads here, from a file; never asked of the person: see own.go
}

// Window is what the field is expected to be.
type Window struct {
	Want, Half float64 // internal units
	Least      float64 // nearer to Want than this is as far out as beyond Half; 0 without
	Nearer     string  // what a reading nearer than Least looks like
	Why        string
	Slips      unit.SlipContext
}

// What is enough of a reading for the practice bench, the words and the slips.
//
// By is the instrument: probe, dial, touch, tool, control, count, eye, feeler, thermometer, driver, finger.
// Of is the thing, with its place after an @: bore, bore2, edge@40, floor@45,20, rim@1, part-x@27, clamps, screws.
// Dir is the direction: degrees of a hit, x+ ..., or the quantity wanted. Axis is the coordinate wanted: x, y, z or "".
type What struct{ By, Of, Dir, Axis string }

// Act is a physical act as data, so that bench and words both follow it. Amounts in mm or rad as the act says.
type Act struct {
	Do, Of, Dir string
	Amount      float64
	Words       string // the sentence for the person
	Needle      Needle // of the dial that is watched while it is done
}

// Needle is what a dial shows once an act is done: To by its own figures, By from where it stands,
// rising as it shows more, in mm of the dial; Step is its graduation. By is 0 where no dial shows it.
type Needle struct{ To, By, Step float64 }

// Class says how a limit may be waived.
type Class int

const (
	Soft Class = iota // a numbered reason
	Hard              // the number as shown, and a reason
	Never
)

func (c Class) String() string { return [...]string{"soft", "hard", "never"}[c] }

// Held is what is held against the limit: what was found and its guard, to the worse side.
func (c Check) Held() float64 {
	if c.Limit.Min {
		return c.Got - c.Guard
	}
	return c.Got + c.Guard
}

// Limit is one limit of a job.
type Limit struct {
	ID    string
	Why   string
	Max   float64
	Min   bool // Max is the least that passes, not the most
	Class Class
	Unit  unit.Kind
	// System is the job's: a number shown is shown in it, and a waiver repeats it as shown.
	System unit.System `json:"-"`
}

// Check is one limit held against what was measured.
type Check struct {
	Limit   Limit
	Got     float64
	Guard   float64
	Verdict Verdict
	Largest string // largest line of the budget behind the guard
	Words   string // what a verdict other than PASS means here
	Count   bool   // Got and Max are counts, or an answer: shown without a guard
	On      string // the one field that it judges, if there is one: what is read elsewhere leaves a waiver as it is
}

// Outcome is what a step's readings mean.
type Outcome struct {
	Facts   []Known
	Leaves  []FactID // a recheck that passed, yet does not lift these
	Checks  []Check
	Next    []Act    // the physical next act
	Named   string   // id of a mistake that the readings show, "" for none
	Learned string   // one line: what was just learned; where a check does not pass its words take this place
	Notes   []string // what is not computed, what is assumed
	Lines   []Row    // numbers worth showing: budget, features, offset
}

// Row is one labelled number to show.
type Row struct {
	Label   string
	Value   float64
	Unit    unit.Kind
	Guard   float64 // 0 without
	Text    string  // shown instead of the value when set
	Big     bool    // the number that matters now
	Signed  bool
	Verdict Verdict
	Bar     float64 // share 0..1, drawn as a bar when > 0
}

// Known is a vector with covariance that a round made.
type Known struct {
	ID          FactID
	Value       []float64   // meaning and units: see facts.go
	Cov         [][]float64 // nil when exact
	Dof         float64     // degrees of freedom behind Cov; 0 means many
	First, Last Seq         // places of the first and last reading of its round
	By          StepID
	Void        *Cause // nil when current
}

// Cause says why a fact is void.
type Cause struct {
	Seq    Seq
	Fact   FactID // the fact that was hit first
	Mishap MishapID
	Cell   Cell   // V or R
	Words  string // fixture tapped; bore read again; job key changed
}

// Page is a step's words and picture; no layout.
type Page struct {
	Act     string // the step's act, imperative; not shown once an act of the step's own asks was told
	Now     bool   // Act is that of this ask: it is shown all the same
	Why     string
	Read    string // how the reading is taken
	Caution string // at most two lines, immediately before the act
	After   string // once it has passed: the first move by it, with its caution
	Hands   string // "hands away, expect 10 min": no idle page, no prompt
	Rows    []Row  // numbers to work by: depths, places, forces
	Scene   Scene
	Reached string // what is just behind: "bolt at LEFT was only snug" to re-verify
}
