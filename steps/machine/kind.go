package machine

import (
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

var Ball = &fold.Kind{Name: kit.BallKind, Goal: "ball/done", Hands: []fold.FactID{"ball"}, Given: kit.GivenFacts,
	Line: []fold.Place{{ID: "ball", Leg: "BALL", Build: ballSetup}}}

var Tram = &fold.Kind{
	Name: kit.TramKind, Goal: "tram/done", Hands: []fold.FactID{"tram", "squareness"}, Given: kit.GivenFacts,
	Line: []fold.Place{{ID: "tram", Leg: "TRAM", Build: tramSetup}, {ID: "column", Build: columnLean}, {ID: "test-square", Build: squareTest}},
}
