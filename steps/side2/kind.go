package side2

import (
	"slices"

	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

var Kind = &fold.Kind{
	Reads: reads, Called: called,
	Name: kit.SecondSide, Side: "side 2", Z0: []string{"floor", "finished top"}, Goal: "release", After: "stops",
	Out: &fold.Out{Step: partOutStep, Sits: "seat", Mishap: facts.PartIsOut},
	Ended: func(p *fold.Plan) (ids []fold.MishapID) {
		if judge.WitnessCuts(p) { // what mended that part is not for the next
			ids = append(ids, facts.OffsetShifted)
		}
		if checks.Rotates(p) { // a program's end and a reset cancel it
			ids = append(ids, facts.RotationEnded)
		}
		return ids
	},
	Foresees: foresees,
	Shows:    []fold.FactID{"bore", "skew", "length", "seat"},
	Given: func(p *fold.Plan) []fold.Known {
		return slices.Concat(kit.GivenFacts(p), givenPart(p), checks.GivenLengths(p))
	},
	Line: []fold.Place{
		{ID: "mount", Leg: "FIXTURE", Build: mount},
		{ID: "lengths", Build: checks.Lengths},
		{ID: "square", Build: checks.Square},
		{ID: "bore", Leg: "DATUM", Build: bore},
		{ID: "floor", Build: floor},
		{ID: "offset", Build: offset},
		{ID: "program", Build: checks.Program},
		{ID: "sense", Build: sense},
		{ID: "seat", Leg: "PART", Build: seat},
		{ID: "straps", Plans: "TM", Build: straps},
		{ID: "baseline", Plans: "TM", Build: baseline},
		{ID: "drill", Leg: "HOLD", Plans: "TM", Build: drill},
		{ID: "lift", Plans: "TM", From: fold.Past, Build: lifting},
		{ID: "threads", Leg: "HOLD", Plans: "TM", Build: threads},
		{ID: "screws", Leg: "HOLD", Build: screws},
		{ID: "unstrap", Plans: "TM", Build: unstrap},
		{ID: "shift", Plans: "TM", Build: shift},
		{ID: "reference", Leg: "CUT", Plans: "SV", From: fold.Irreplaceable, Build: reference},
		{ID: "still", Leg: "CUT", Build: still},
		{ID: "deck", Leg: "CUT", Build: deck},
		{ID: "skim", Build: skim},
		{ID: "witness-cut", From: fold.Irreplaceable, Build: witnessCut},
		{ID: "release", Build: release},
		{ID: "stops", Build: stops},
	},
	Off: []fold.Place{
		{ID: "ball", Build: checks.Calibrate},
		{ID: "ball-check", Build: checks.BallCheck},
		{ID: "clamp-check", Plans: "TM", Build: clampCheck},
		{ID: "datum-check", Build: datumCheck},
		{ID: "deburr", Build: checks.Deburr},
		{ID: "edge-check", Build: checks.EdgeCheck},
		{ID: "hole-check", Build: holeCheck},
		{ID: "length-check", Build: checks.LengthCheck},
		{ID: "next", Build: next},
		{ID: partOutStep, Build: partOut},
		{ID: "reread", Build: checks.Reread},
		{ID: "screw-check", Build: screwCheck},
		{ID: "seat-check", Build: seatCheck},
		{ID: "thread-check", Build: threadCheck},
		{ID: "tram", Build: checks.Tram},
		{ID: "warm-up", Build: checks.WarmUp},
	},
}
