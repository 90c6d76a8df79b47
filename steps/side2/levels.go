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
		{Field: "id", Minutes: 0.1, Catches: found{"wrong-fixture": 1}},
		{Field: "arrow", From: fold.FirstUse, Acts: true, Minutes: 0.1, Catches: found{"fixture-end-for-end": 1}},
		// A temperature that was read is reckoned with, at any size. It stops the walk where no shop is so cold: below
		// 5 °C, 16 K under a card of 21 °C, and 1 K of the thermometer. Sooner only on one bore and a plastic: for the doubt.
		{Field: "warmth", With: "warmth", From: fold.Irreplaceable, Minutes: 0.2, Catches: found{"cold-fixture": 18}},
		{Field: "temp", With: "warmth", From: fold.Irreplaceable, Minutes: 0.4, Catches: found{"cold-fixture": 18}},
	},
	"lengths": {
		{Field: "runby", With: "runout", From: fold.FirstUse, Minutes: 0.1},
		{Field: "*.run", With: "runout", From: fold.FirstUse, Minutes: 1.5, Catches: found{"collet-runout": 0.02}},
		{Field: "tprobe.2", From: fold.Past, Minutes: 0.4},
		{Field: "tprobe", Minutes: 0.4},
		{Field: "t*", Minutes: 0.3, Catches: found{"length-convention": 5}},
	},
	"square": {
		{Field: "jog*", With: "jog", Minutes: 0.3, Catches: found{"tapped-wrong-way": 0.5}},
		{Field: "s*", Minutes: 0.3},
		{Field: "bolts", From: fold.Past, Acts: true, Minutes: 0.2},
	},
	"bore": {
		{Field: "pause", Gate: true, Minutes: 0.3, Catches: found{"bolts-snug": 0.03}},
		{Field: "mark", Minutes: 0.1, Catches: found{"spindle-unmarked": 0.01}},
		{Field: "hit*", With: "bore", Minutes: 0.4, Catches: found{"chip-in-bore": 0.02}},
		{Field: "f*", With: "bore", Minutes: 0.4, Catches: found{"chip-in-bore": 0.02, "coolant-drop": 0.06, "wrong-stylus": 0.02}},
		{Field: "b2*", With: "bore 2", Minutes: 0.4},
	},
	"floor": {
		{Field: "z1", With: "corners", From: fold.Irreplaceable, Acts: true, Minutes: 0.4},
		{Field: "z2", With: "corners", From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "z3", With: "corners", From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "z4", With: "corners", From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "d*", With: "corners", From: fold.Irreplaceable, Minutes: 0.3},
		{Field: "rim1", Minutes: 0.4, Catches: found{"chip-on-floor": 0.02}},
		{Field: "rim2", From: fold.Past, Minutes: 0.4},
	},
	"offset": {
		{Field: "pause", From: fold.FirstUse, Minutes: 0.1, Catches: found{"other-offset-number": 1}},
		{Field: "z0", From: fold.FirstUse, Minutes: 0.1, Catches: found{"z0-other": 1}},
		{Field: "x", With: "read back", Minutes: 0.3, Catches: found{"offset-slip": 0.01}},
		{Field: "y", With: "read back", Minutes: 0.3},
		{Field: "z", With: "read back", Minutes: 0.3},
		{Field: "left", Minutes: 0.2, Catches: found{"rotation-left-active": 0.01}},
	},
	"program": {
		{Field: "*.word", Minutes: 0.1, Catches: found{"other-offset-number": 1}},
		{Field: "*.loaded", Minutes: 0.1, Catches: found{"other-offset-number": 1, "program-edited": 1}},
		{Field: "*.same", From: fold.FirstUse, Minutes: 0.1, Catches: found{"program-edited": 1}},
	},
	"seat": {
		{Field: "pause", From: fold.Irreplaceable, Acts: true, Minutes: 0.1},
		{Field: "temp", From: fold.Irreplaceable, Minutes: 0.4, Catches: found{"part-hot": 5}},
		// Growth is what they tell: 15 K of heat in wood stays within their window (prove catch).
		{Field: "width-*", From: fold.FirstUse, Minutes: 0.5, Catches: found{"part-grown": 0.01}},
		{Field: "up", From: fold.FirstUse, Acts: true, Minutes: 0.1, Catches: found{"wrong-side-up": 1}},
		{Field: "turned", From: fold.FirstUse, Minutes: 0.1, Catches: found{"flipped-wrong-axis": 180}},
		{Field: "edge", Minutes: 0.2, Catches: found{"part-rotated": 180, "flipped-wrong-axis": 180}},
		// Turned over about the other axis is turned half round; up is an answer of the same look.
		{Field: "up", Walk: 4, From: fold.Past, Acts: true, Minutes: 0.1},
		{Field: "turned", Walk: 4, From: fold.Past, Minutes: 0.1},
		{Field: "edge", Walk: 4, Minutes: 0.2, Catches: found{"part-rotated": 180, "flipped-wrong-axis": 180, "wrong-side-up": 1}},
		{Field: "rock*", With: "rock", From: fold.FirstUse, Minutes: 0.5, Catches: found{"seated-on-chip": 0.02}},
		{Field: "strips", Minutes: 0.6, Catches: found{"seated-on-chip": 0.06}},
		{Field: "walls", Minutes: 0.4, Catches: found{"clearance-not-pushed": 0.02, "turned-at-walls": 0.25}},
		{Field: "py*", With: "turn at the walls", Minutes: 0.5, Catches: found{"turned-at-walls": 0.1}},
		{Field: "turns", Walk: 4, From: fold.Irreplaceable, Minutes: 0.4},
		{Field: "z*", With: "part heights", From: fold.Irreplaceable, Minutes: 0.5, Catches: found{"seated-on-chip": 0.02}},
		{Field: "pins", From: fold.Irreplaceable, Minutes: 0.4},
	},
	"straps": {
		{Field: "drawn", From: fold.Irreplaceable, Acts: true, Minutes: 0.2},
		{Field: "solid", From: fold.Irreplaceable, Minutes: 0.2},
		{Field: "on", Gate: true, Minutes: 0.2, Catches: found{"loose-strap": 1}},
		{Field: "torque", Gate: true, Minutes: 0.3, Catches: found{"loose-strap": 1}},
		{Field: "xy", From: fold.Irreplaceable, Minutes: 0.3},
		{Field: "z", Minutes: 0.3, Catches: found{"strap-over-hollow": 0.06}},
		{Field: "z", Walk: 4, From: fold.FirstUse, Minutes: 0.3, Catches: found{"strap-over-hollow": 0.06}},
	},
	"baseline": {{Field: "*", With: "witness", Minutes: 0.4}, {Field: "zero", With: "witness", Minutes: 0.8}},
	"drill": {
		{Field: "pause", Gate: true, Minutes: 0.1, Catches: found{"probe-in-spindle": 1}},
		{Field: "depth", From: fold.FirstUse, Acts: true, Minutes: 0.4, Catches: found{"drill-through": 2}},
		{Field: "near", Gate: true, Minutes: 0.4, Catches: found{"length-convention": 5, "tool-pulled": 0.3}},
		{Field: "tight", From: fold.FirstUse, Minutes: 0.1, Catches: found{"loose-strap": 1}},
	},
	"threads": {
		{Field: "good", From: fold.Irreplaceable, Acts: true, Minutes: 0.8, Catches: found{"soft-thread": 4}},
		{Field: "shards", From: fold.Irreplaceable, Minutes: 0.2},
		{Field: "turns", Gate: true, Minutes: 0.4, Catches: found{"soft-thread": 1}},
	},
	"screws": {
		{Field: "pause", Minutes: 0.2, Catches: found{"screw-bottomed": 2}},
		{Field: "pause", Walk: 4, From: fold.FirstUse, Minutes: 0.2, Catches: found{"screw-bottomed": 2}},
		{Field: "round1*", From: fold.Past, Acts: true, Minutes: 0.4},
		{Field: "round2*", From: fold.Past, Acts: true, Minutes: 0.4},
		{Field: "round3.z", From: fold.Irreplaceable, Acts: true, Minutes: 0.4},
		{Field: "round3*", With: "dial on the part", From: fold.FirstUse, Acts: true, Minutes: 0.4, Catches: found{"screws-shift": 0.01}},
		{Field: "set", Gate: true, Minutes: 0.1},
		{Field: "walls", From: fold.Irreplaceable, Minutes: 0.4, Catches: found{"clearance-not-pushed": 0.02, "bumped-part": 0.03}},
		{Field: "soft", Gate: true, Minutes: 0.3, Catches: found{"soft-thread": 1}},
		{Field: "loose", Gate: true, Minutes: 0.3, Catches: found{"screw-bottomed": 1}},
		{Field: "in", Gate: true, Minutes: 0.1, Catches: found{"soft-thread": 1}},
		{Field: "head", Gate: true, Minutes: 0.3, Catches: found{"screw-head-high": 0.7}},
		{Field: "torque", Gate: true, Minutes: 0.3},
	},
	"unstrap": {
		{Field: "pause", From: fold.Past, Acts: true, Minutes: 0.1},
		{Field: "move", From: fold.Irreplaceable, Acts: true, Minutes: 0.3, Catches: found{"strap-over-hollow": 0.03}},
		{Field: "left", Gate: true, Minutes: 0.1, Catches: found{"clamp-left-on": 1}},
	},
	"shift": {
		{Field: "*", With: "witness", Minutes: 0.4, Catches: found{"shift-at-swap": 0.03, "bumped-part": 0.03, "lifted-at-swap": 0.06}},
	},
	"reference": {
		{Field: "way", From: fold.Past, Minutes: 0.1},
		{Field: "*", With: "reference", Minutes: 0.4},
	},
	"still": {
		{Field: "*", With: "fixture once more", From: fold.FirstUse, Minutes: 0.5, Catches: found{"tapped-after-bore": 0.03, "fixture-turned": 0.15}},
	},
	"deck": {
		{Field: "things", Gate: true, Minutes: 0.2, Catches: found{"clamp-left-on": 1, "left-on-table": 1}},
		{Field: "clamps", Gate: true, Minutes: 0.2, Catches: found{"clamp-left-on": 1}},
		{Field: "bolts", Gate: true, Minutes: 0.1, Catches: found{"left-on-table": 1}},
		{Field: "wrenches", Gate: true, Minutes: 0.1, Catches: found{"left-on-table": 1}},
		{Field: "dials", Gate: true, Minutes: 0.1, Catches: found{"left-on-table": 1}},
		{Field: "rotation", Walk: 4, From: fold.FirstUse, Minutes: 0.1, Catches: found{"rotation-left-active": 0.01}},
		{Field: "shift", Walk: 4, From: fold.FirstUse, Minutes: 0.1, Catches: found{"rotation-left-active": 0.01}},
	},
	"skim": {
		{Field: "pause", Gate: true, Minutes: 0.1, Catches: found{"probe-in-spindle": 1}},
		{Field: "gap", Gate: true, Minutes: 0.35, Catches: found{"length-convention": 5, "z0-other": 1}},
		{Field: "near", Gate: true, Minutes: 0.4, Catches: found{"length-convention": 5, "tool-pulled": 0.3}},
		{Field: "raised", Gate: true, Minutes: 0.2, Catches: found{"raise-left-in": 0.1}},
		{Field: "pass", With: "first cut", Minutes: 0.1},
		{Field: "kept", With: "first cut", Minutes: 0.1},
		{Field: "face", With: "first cut", Minutes: 0.8, Catches: found{"tool-pulled": 0.06, "length-convention": 0.06, "probe-length": 0.04, "chip-on-floor": 0.04}},
		{Field: "rim", With: "first cut", Minutes: 0.4},
		{Field: "lines", Gate: true, Minutes: 0.3, Catches: found{"soft-thread": 2}},
		{Field: "lowered", Walk: 4, From: fold.FirstUse, Acts: true, Minutes: 0.2, Catches: found{"raise-left-in": 0.1}},
	},
	"release": {{Field: "pause", Gate: true, Minutes: 0.1}},
}

// found are the mistakes that a field finds, each with the size from which it does.
type found = map[string]float64

// called are the mistakes of the table in words for the person.
var called = map[string]string{
	"bolts-snug": "a fixture bolt left snug", "chip-on-floor": "a chip under a touch of the floor",
	"coolant-drop": "a drop in the bore", "fixture-end-for-end": "a fixture turned end for end",
	"fixture-turned": "a fixture that turned after its bore was found", "left-on-table": "a wrench left on the table",
	"lifted-at-swap": "a part that rose at the swap", "loose-strap": "a loose strap", "part-grown": "a part that has grown since",
	"probe-in-spindle": "the probe in a spindle that starts", "probe-length": "a wrong length of the probe",
	"raise-left-in": "a raise left in", "screws-shift": "screws that push the part",
	"turned-at-walls": "a part turned at its walls", "wrong-fixture": "another fixture", "wrong-stylus": "another stylus",
	"bumped-part": "a part that was bumped", "chip-in-bore": "a chip in the bore",
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
