package vise

import (
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

var Kind = &fold.Kind{
	Name: kit.FirstSide, Side: "side 1", Z0: []string{"top skin", "finished top"}, Raw: true, Goal: "release", Hands: []fold.FactID{"part"},
	Given: kit.GivenFacts, Foresees: foreseen,
	Line: []fold.Place{
		{ID: "vise", Leg: "VISE", Build: visestep},
		{ID: "lengths", Build: checks.Lengths},
		{ID: "square", Build: jaw},
		{ID: "stock", Leg: "STOCK", Build: stock},
		{ID: "grip", Build: grip},
		{ID: "corner", Leg: "DATUM", Build: corner},
		{ID: "top", Build: topFace},
		{ID: "offset", Build: viseOffset},
		{ID: "program", Build: checks.Program},
		{ID: "jaws", Leg: "CUT", Build: jaws},
		{ID: "cut", Leg: "CUT", Build: cutSide},
		{ID: "through-holes", Build: throughHoles},
		{ID: "sizes", Build: sizes},
		{ID: "open", Build: springTest},
	},
	Off: []fold.Place{
		{ID: "ball", Build: viseBall},
		{ID: "ball-check", Build: checks.BallCheck},
		{ID: "edge-check", Build: jawCheck},
		{ID: "length-check", Build: checks.LengthCheck},
		{ID: "reread", Build: checks.Reread},
		{ID: "tram", Build: func(p *fold.Plan) *fold.Spec { return checks.TramBefore(p, "vise") }},
		{ID: "seat-check", Build: viseCheck},
	},
}
