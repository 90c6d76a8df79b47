package tui

import "fliptrue/steps"

// legOf names the leg that begins with a step; a step without a name here belongs to the
// leg of the step before it.
//
// The names belong to the steps themselves: once a StepState carries its leg this table goes.
var legOf = map[steps.StepID]string{
	"mount": "FIXTURE", "vise": "VISE", "bore": "DATUM", "stock": "STOCK", "corner": "DATUM", "seat": "PART", "drill": "HOLD", "threads": "HOLD", "screws": "HOLD",
	"deck": "CUT", "cut": "CUT", "reference": "CUT", "jaws": "CUT", "zero": "BALL", "tram": "TRAM",
}
