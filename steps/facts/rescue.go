package facts

import (
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// StoppedFact is where a program was stopped: its line, and of a line that calls a subprogram which of its runs was in hand.
type StoppedFact struct {
	Line   float64 `fact:"line"`
	Repeat float64 `fact:"repeat"`
	Role   float64 `fact:"role"`       // place of the program among the job's
	Wrote  float64 `fact:"wrote,bare"` // the line as written down, where an earlier one is gone by; else 0
}

// LostFact is what let go: which screws, as bits from the first of the job; the deepest mark and what is still to come off there.
type LostFact struct {
	Screws float64     `fact:"screws"`
	Mark   unit.Length `fact:"mark"`
	Stock  unit.Length `fact:"stock"`
	Tool   float64     `fact:"tool"` // 0 as it was, 1 pulled, 2 broken
}

// RestartFact is the line from which the program is run again, and the minutes that it cuts in air up to the stop.
type RestartFact struct {
	Line    float64 `fact:"line"`
	Minutes float64 `fact:"minutes"`
}

// letGo opens a setup of its own: what is done in the first minute stands on its card (common practice).
//
//	b i s b f o e s c b h t s s t l p d c t i m m c
var letGo = fold.Mishap{ID: "part-moved-in-cut", Words: "something let go while it was being cut", Opens: "rescue",
	Cells:   ". . R R R D D V V V R R V V . R V V . . . . V .",
	Caution: stopFirst, Tall: "E-STOP", Card: []string{
		"HANDS OFF. Door shut until the spindle stands. Never reach, never catch.",
		"Chatter, powder, a screw head turns, the part still sits: feed hold, Z up, then stop the spindle.",
		"Cutter broke or stuck: nothing moves in X or Y. Stuck: open the collet, head up.",
		"Power gone: E-STOP in before it comes back. Do not home. Look with a lamp.",
		"Smoke: main switch off, extraction off. CO2 or water; metal fines: dry sand. Not out at once: out, shut the door, call."}}
