package steps

import (
	"slices"

	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/dowel"
	"fliptrue/steps/facts"
	"fliptrue/steps/fixture"
	"fliptrue/steps/fold"
	"fliptrue/steps/inspect"
	"fliptrue/steps/jaws"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
	"fliptrue/steps/machine"
	"fliptrue/steps/rescue"
	"fliptrue/steps/reuse"
	"fliptrue/steps/side2"
	"fliptrue/steps/stick"
	"fliptrue/steps/vise"
)

// second is the second side, however it is held.
var second = stick.By(side2.Kind, stick.Cut{Reference: side2.Reference, Deck: side2.Deck, Skim: side2.Skim, Release: side2.Release,
	Stops: side2.Stops})

// rescued is a second side that let go while it was cut.
var rescued = rescue.Kind(rescue.Witness{Asks: side2.LetGoAsks, Reads: side2.LetGoReads, Fixture: side2.FixtureAway,
	Motion: side2.LetGoMotion})

// gripped is a second side in a nest cut into soft jaws.
var gripped = jaws.Kind(second, jaws.Cut{Seat: side2.Seat, Reference: side2.Reference, Deck: side2.Deck, Skim: side2.Skim,
	Release: side2.Release, Stops: side2.Stops})

// House is every kind of setup, in the order in which a shop comes to need them.
var House = &fold.House{
	Kinds: []*fold.Kind{vise.Kind, second, dowel.Kind(second, side2.Seat), gripped, inspect.By(side2.Again), rescued, fixture.Kind,
		reuse.Kind, machine.Ball, machine.Tram},
	Mishaps: facts.Mishaps,
	Cards:   kit.Cards,
	Limits: slices.Concat(judge.LimitRows, machine.BallLimits, vise.FirstLimits, checks.LengthLimits, side2.WarmthLimits,
		side2.HeightLimits, dowel.Limits, stick.Limits, jaws.Limits, inspect.Limits, fixture.Limits, reuse.Limits, side2.AgainLimits,
		rescue.Limits, checks.RunoutLimits, checks.GapLimits, checks.TramLimits),
	Next:       facts.Mounting,
	Bounds:     kit.Bounds,
	OffsetWord: kit.OffsetWord,
}

// NewPlan is the plan of one setup of a job. Programs, by role, may be nil.
// An unknown setup or kind is an error that lists the known.
func NewPlan(j *jobs.Job, setup string, programs map[string]fold.ProgramFile) (*fold.Plan, error) {
	return House.Plan(j, setup, programs)
}

// NewLog is an empty log.
func NewLog() *fold.Log { return House.Log() }
