package side2

import "fliptrue/steps/fold"

// What each field of the walk is asked for: the least level that asks it, its minutes at the mill, and the
// mistakes that it finds with the size from which it does (as the bench makes them; cmd/prove catch holds
// these rows against walks). A field that stands in no row is asked at every level: what can hurt somebody
// is, and what nothing else shows. Minutes are common practice: a touch 0.4, a dial 0.3, a look 0.1.
//
// Past stands where a record without a level asks more than any level: each touch twice, a count that was
// just given, a reading that another one makes needless.
var reads = map[fold.StepID][]fold.Worth{
	"mount": {
		{Field: "arrow", From: fold.FirstUse, Acts: true, Minutes: 0.1},
		// A temperature that was read is reckoned with, at any size. It stops the walk where no shop is so cold: below
		// 5 °C, 16 K under a card of 21 °C, and 1 K of the thermometer. Sooner only on one bore and a plastic: for the doubt.
		{Field: "warmth", From: fold.Irreplaceable, Minutes: 0.2, Catches: found{"cold-fixture": 18}},
		{Field: "temp", From: fold.Irreplaceable, Minutes: 0.4, Catches: found{"cold-fixture": 18}},
	},
	"lengths": {
		{Field: "runby", From: fold.FirstUse, Minutes: 0.1},
		{Field: "*.run", From: fold.FirstUse, Minutes: 1.5, Catches: found{"collet-runout": 0.02}},
		{Field: "tprobe.2", From: fold.Past, Minutes: 0.4},
		{Field: "t*", Minutes: 0.3, Catches: found{"length-convention": 5}},
	},
	"square": {
		{Field: "jog*", Minutes: 0.3, Catches: found{"tapped-wrong-way": 0.5}},
		{Field: "bolts", From: fold.Past, Acts: true, Minutes: 0.2},
	},
	"bore": {
		{Field: "pause", Minutes: 0.3, Catches: found{"bolts-snug": 0.03}},
		{Field: "mark", Minutes: 0.1, Catches: found{"spindle-unmarked": 0.01}},
		{Field: "hit*", Minutes: 0.4, Catches: found{"chip-in-bore": 0.02}},
	},
	"floor": {
		{Field: "z1", From: fold.Irreplaceable, Acts: true, Minutes: 0.4},
		{Field: "z2", From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "z3", From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "z4", From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "rim2", From: fold.Past, Minutes: 0.4},
	},
	"offset": {
		{Field: "pause", From: fold.FirstUse, Minutes: 0.1, Catches: found{"other-offset-number": 1}},
		{Field: "z0", From: fold.FirstUse, Minutes: 0.1, Catches: found{"z0-other": 1}},
		{Field: "x", Minutes: 0.3, Catches: found{"offset-slip": 0.01}},
		{Field: "left", Minutes: 0.2, Catches: found{"rotation-left-active": 0.01}},
	},
	"program": {
		{Field: "*.word", Minutes: 0.1, Catches: found{"other-offset-number": 1}},
		{Field: "*.same", From: fold.FirstUse, Minutes: 0.1, Catches: found{"program-edited": 1}},
	},
	"seat": {
		{Field: "pause", From: fold.Irreplaceable, Acts: true, Minutes: 0.1},
		{Field: "temp", From: fold.Irreplaceable, Minutes: 0.4, Catches: found{"part-hot": 5}},
		{Field: "width-*", From: fold.FirstUse, Minutes: 0.5, Catches: found{"part-hot": 5}},
		{Field: "up", From: fold.FirstUse, Acts: true, Minutes: 0.1, Catches: found{"wrong-side-up": 1}},
		{Field: "turned", From: fold.FirstUse, Minutes: 0.1, Catches: found{"flipped-wrong-axis": 180}},
		{Field: "edge", Minutes: 0.2, Catches: found{"part-rotated": 180}},
		{Field: "rock*", From: fold.FirstUse, Minutes: 0.5, Catches: found{"seated-on-chip": 0.02}},
		{Field: "strips", Minutes: 0.6, Catches: found{"seated-on-chip": 0.06}},
		{Field: "walls", Minutes: 0.4, Catches: found{"clearance-not-pushed": 0.02}},
		{Field: "py*", Minutes: 0.5},
		{Field: "walls", Walk: 4, From: fold.FirstUse, Minutes: 0.4, Catches: found{"clearance-not-pushed": 0.02}},
		{Field: "turns", Walk: 4, From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "z*", From: fold.Irreplaceable, Minutes: 0.5, Catches: found{"seated-on-chip": 0.02}},
		{Field: "pins", From: fold.Irreplaceable, Minutes: 0.4},
	},
	"straps": {
		{Field: "drawn", From: fold.Irreplaceable, Acts: true, Minutes: 0.2},
		{Field: "solid", From: fold.Irreplaceable, Minutes: 0.2},
		{Field: "xy", From: fold.Irreplaceable, Minutes: 0.3},
		{Field: "z", Minutes: 0.3, Catches: found{"strap-over-hollow": 0.06}},
		{Field: "z", Walk: 4, From: fold.FirstUse, Minutes: 0.3, Catches: found{"strap-over-hollow": 0.06}},
	},
	"drill": {
		{Field: "depth", From: fold.FirstUse, Acts: true, Minutes: 0.4, Catches: found{"drill-through": 2}},
		{Field: "near", Minutes: 0.4, Catches: found{"tool-pulled": 0.3}},
		{Field: "tight", From: fold.FirstUse, Minutes: 0.1},
	},
	"threads": {
		{Field: "good", From: fold.Irreplaceable, Acts: true, Minutes: 0.8, Catches: found{"soft-thread": 4}},
		{Field: "shards", From: fold.Irreplaceable, Minutes: 0.2},
	},
	"screws": {
		{Field: "pause", Minutes: 0.2, Catches: found{"screw-bottomed": 2}},
		{Field: "pause", Walk: 4, From: fold.FirstUse, Minutes: 0.2, Catches: found{"screw-bottomed": 2}},
		{Field: "round1*", From: fold.Past, Acts: true, Minutes: 0.4},
		{Field: "round2*", From: fold.Past, Acts: true, Minutes: 0.4},
		{Field: "round3.z", From: fold.Irreplaceable, Acts: true, Minutes: 0.4},
		{Field: "round3*", From: fold.FirstUse, Acts: true, Minutes: 0.4},
		{Field: "walls", From: fold.Irreplaceable, Minutes: 0.4, Catches: found{"clearance-not-pushed": 0.02, "bumped-part": 0.03}},
		{Field: "soft", Minutes: 0.3, Catches: found{"soft-thread": 1}},
		{Field: "loose", Minutes: 0.3, Catches: found{"screw-bottomed": 1}},
		{Field: "head", Minutes: 0.3, Catches: found{"screw-head-high": 0.7}},
	},
	"unstrap": {
		{Field: "pause", From: fold.Past, Acts: true, Minutes: 0.1},
		{Field: "move", From: fold.Irreplaceable, Acts: true, Minutes: 0.3, Catches: found{"strap-over-hollow": 0.03}},
		{Field: "left", Minutes: 0.1, Catches: found{"clamp-left-on": 1}},
	},
	"shift": {
		{Field: "*", Minutes: 0.4, Catches: found{"shift-at-swap": 0.03, "bumped-part": 0.03}},
	},
	"reference": {
		{Field: "way", From: fold.Past, Minutes: 0.1},
		{Field: "*", Minutes: 0.4},
	},
	"still": {
		{Field: "*", From: fold.FirstUse, Minutes: 0.5, Catches: found{"tapped-after-bore": 0.03}},
	},
	"deck": {
		{Field: "things", Minutes: 0.2, Catches: found{"clamp-left-on": 1}},
		{Field: "clamps", Minutes: 0.2, Catches: found{"clamp-left-on": 1}},
		{Field: "rotation", Walk: 4, From: fold.FirstUse, Minutes: 0.1, Catches: found{"rotation-left-active": 0.01}},
		{Field: "shift", Walk: 4, From: fold.FirstUse, Minutes: 0.1, Catches: found{"rotation-left-active": 0.01}},
	},
	"skim": {
		{Field: "gap", Minutes: 0.35, Catches: found{"length-convention": 5, "z0-other": 1}},
		{Field: "near", Minutes: 0.4, Catches: found{"tool-pulled": 0.3}},
		{Field: "raised", Minutes: 0.2},
		{Field: "face", Minutes: 0.8, Catches: found{"tool-pulled": 0.06}},
		{Field: "lines", Minutes: 0.3, Catches: found{"soft-thread": 2}},
		{Field: "lowered", Walk: 4, From: fold.FirstUse, Acts: true, Minutes: 0.2},
	},
}

// found are the mistakes that a field finds, each with the size from which it does.
type found = map[string]float64

// called are the mistakes of the table in words for the person.
var called = map[string]string{
	"bolts-snug": "a fixture bolt left snug", "bumped-part": "a part that was bumped", "chip-in-bore": "a chip in the bore",
	"clamp-left-on": "a clamp left on the table", "clearance-not-pushed": "a part off its walls",
	"cold-fixture":  "a fixture colder or warmer than when it was made",
	"collet-runout": "a cutter that runs out", "drill-through": "a first hole too deep",
	"flipped-wrong-axis": "a part turned about the other axis",
	"length-convention":  "a length from another reference", "offset-slip": "a slip while keying in",
	"other-offset-number": "another offset number",
	"part-hot":            "a part still warm", "part-rotated": "a part turned end for end",
	"program-edited":       "a program edited at the control",
	"rotation-left-active": "a rotation left active", "screw-bottomed": "a screw on the bottom of its hole",
	"screw-head-high": "a head too high",
	"seated-on-chip":  "a part on a chip", "shift-at-swap": "a shift at the swap", "soft-thread": "a soft thread",
	"spindle-unmarked":  "the spindle half round",
	"strap-over-hollow": "a strap over a hollow", "tapped-after-bore": "a fixture that moved after its bore was found",
	"tapped-wrong-way": "a tap the wrong way", "tool-pulled": "a tool pulled from its collet",
	"wrong-side-up": "the wrong side up", "z0-other": "the other Z0",
}
