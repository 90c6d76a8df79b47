package steps

import (
	"slices"

	"fliptrue/jobs"
)

// house is every kind of setup, in the order in which a shop comes to need them.
var house *House

func init() {
	house = &House{
		Kinds:   []*Kind{firstSideKind, secondSideKind, ballKindKind, tramKindKind},
		Mishaps: Mishaps,
		Cards:   Cards,
		Limits:  slices.Concat(limitRows, ballLimits, firstLimits, lengthLimits, warmthLimits, runoutLimits, gapLimits, tramLimits),
		Next:    Mounting,
	}
}

// NewPlan is the plan of one setup of a job. Programs, by role, may be nil.
// An unknown setup or kind is an error that lists the known.
func NewPlan(j *jobs.Job, setup string, programs map[string]ProgramFile) (*Plan, error) {
	return house.Plan(j, setup, programs)
}

// NewLog is an empty log.
func NewLog() *Log { return house.Log() }

var secondSideKind = &Kind{
	Name: secondSide, Goal: "release", After: "stops",
	Out:   &Out{Step: partOutStep, Sits: "seat", Mishap: partIsOut},
	Given: func(p *Plan) []Fact { return append(givenFacts(p), givenPart(p)...) },
	Line: []Place{
		{ID: "mount", Build: mount},
		{ID: "lengths", Build: lengths},
		{ID: "square", Build: square},
		{ID: "bore", Build: bore},
		{ID: "floor", Build: floor},
		{ID: "offset", Build: offset},
		{ID: "program", Build: program},
		{ID: "sense", Build: sense},
		{ID: "seat", Build: seat},
		{ID: "straps", Plans: "TM", Build: straps},
		{ID: "baseline", Plans: "TM", Build: baseline},
		{ID: "drill", Plans: "TM", Build: drill},
		{ID: "lift", Plans: "TM", Build: lifting},
		{ID: "threads", Plans: "TM", Build: threads},
		{ID: "screws", Build: screws},
		{ID: "unstrap", Plans: "TM", Build: unstrap},
		{ID: "shift", Plans: "TM", Build: shift},
		{ID: "reference", Plans: "S", Build: reference},
		{ID: "deck", Build: deck},
		{ID: "skim", Build: skim},
		{ID: "release", Build: release},
		{ID: "stops", Build: stops},
	},
	Off: []Place{
		{ID: "ball", Build: calibrate},
		{ID: "ball-check", Build: ballCheck},
		{ID: "clamp-check", Plans: "TM", Build: clampCheck},
		{ID: "datum-check", Build: datumCheck},
		{ID: "edge-check", Build: edgeCheck},
		{ID: "hole-check", Build: holeCheck},
		{ID: "length-check", Build: lengthCheck},
		{ID: "next", Build: next},
		{ID: partOutStep, Build: partOut},
		{ID: "reread", Build: reread},
		{ID: "screw-check", Build: screwCheck},
		{ID: "seat-check", Build: seatCheck},
		{ID: "thread-check", Build: threadCheck},
		{ID: "tram", Build: tram},
	},
}

var firstSideKind = &Kind{
	Name: firstSide, Goal: "release", Hands: []FactID{"part"}, Adapt: inVise, Given: givenFacts,
	Line: []Place{
		{ID: "vise", Build: visestep},
		{ID: "lengths", Build: lengths},
		{ID: "square", Build: jaw},
		{ID: "stock", Build: stock},
		{ID: "grip", Build: grip},
		{ID: "corner", Build: corner},
		{ID: "top", Build: topFace},
		{ID: "offset", Build: viseOffset},
		{ID: "program", Build: program},
		{ID: "jaws", Build: jaws},
		{ID: "cut", Build: cutSide},
		{ID: "through-holes", Build: throughHoles},
		{ID: "sizes", Build: sizes},
		{ID: "open", Build: springTest},
	},
	Off: []Place{
		{ID: "ball", Build: viseBall},
		{ID: "ball-check", Build: ballCheck},
		{ID: "edge-check", Build: jawCheck},
		{ID: "length-check", Build: lengthCheck},
		{ID: "reread", Build: reread},
		{ID: "tram", Build: tram},
		{ID: "seat-check", Build: viseCheck},
	},
}

var ballKindKind = &Kind{Name: ballKind, Goal: "ball/done", Hands: []FactID{"ball"}, Given: givenFacts, Line: []Place{{ID: "ball", Build: ballSetup}}}

var tramKindKind = &Kind{
	Name: tramKind, Goal: "tram/done", Hands: []FactID{"tram", "squareness"}, Given: givenFacts,
	Line: []Place{{ID: "tram", Build: tramSetup}, {ID: "column", Build: columnLean}, {ID: "test-square", Build: squareTest}},
}
