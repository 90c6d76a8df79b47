package facts

import (
	"fliptrue/steps/fold"
)

// nextPart is raised at the begin of a record that takes facts over, RotationEnded there too where the control turns programs,
// OffsetShifted where a witness cut may have been followed, AnotherFile with a program posted again, PartIsOut by the step that
// takes the part out,
// ViseOpen by the one that opens the vise, where the part has to go back into it.
const (
	nextPart      fold.MishapID = "next-part"
	RotationEnded fold.MishapID = "rotation-ended"
	OffsetShifted fold.MishapID = "offset-shifted"
	AnotherFile   fold.MishapID = "another-file"
	PartIsOut     fold.MishapID = "part-out"
	ViseOpen      fold.MishapID = "vise-opened"
)

// AMounting is one mounting of the probe, one home, one warmth: what a set of readings that are
// compared with each other rests on. No step makes it and nothing waits for it; a mishap that
// hits it between the first and the last reading of a round tears the round.
const AMounting fold.FactID = "mounting"

// ByFace says that vacuum or tape holds the part; mishaps hit it as they hit screws.
const ByFace fold.FactID = "screws/face"

// Cautions said of several mishaps (common practice).
const (
	stopFirst  = "E-STOP or feed hold. Wait until the spindle stands, raise the head clear. Then hands."
	standsStop = "Spindle stopped before a hand goes near."
)

// Mishaps is the table of all kinds. Cells hold the net effect, live dependence included;
// common practice, from memory.
//
// D stands where the table of the trade has R but no act of its own: offset,
// echo and program check come back with bore, floor, echo and lengths.
var Mishaps = fold.NewTable(fold.Table{
	Columns: []fold.FactID{"ball", "identity", "skew", "bore", "floor", "offset", "echo", "seat", "clamps", "baseline",
		"holes", "threads", "screws", "shift", "tram", "length", "program", "deck", "corner", "top", "inspect", "mismatch", AMounting, "chain"},
	Rechecks: map[fold.FactID]fold.StepID{
		"ball": "ball-check", "skew": "edge-check", "bore": "datum-check", "floor": "datum-check",
		"seat": "seat-check", "baseline": "seat-check", "shift": "seat-check", "clamps": "clamp-check",
		"holes": "hole-check", "threads": "thread-check", "screws": "screw-check", "length": "length-check",
		"corner": "seat-check", "top": "seat-check",
	},
	Rows: []fold.Mishap{
		//                                                        b i s b f o e s c b h t s s t l p d c t b m m
		letGo,
		{ID: "fixture-tapped", Words: "fixture tapped, or a fixture bolt retorqued", Where: fold.OnFixture, Cells: ". . V V R V V V V V R . V V . . V V V V . . V V",
			Caution: standsStop + " Never tap with the part in: part out first."},
		{ID: "part-bumped", Words: "part bumped", Cells: ". . R R R D D R R R R . R R . . D V R R . . . .",
			Question: "Can the fixture have moved too? If so declare that instead.",
			Caution:  "While cutting: " + stopFirst},
		{ID: "clamp-moved", Words: "clamp slipped, loosened or set elsewhere", Cells: ". . . . . . . R V R R . R R . . V V R R . . . .",
			Caution: "While cutting: " + stopFirst + " No cut on a loose clamp."},
		{ID: "hold-lost", Words: "vacuum fell or tape let go: the part is or was loose", Of: ByFace, Cells: ". . . . . . . V V V . . V V . R V V V V . . . .",
			Caution: "While cutting: " + stopFirst + " Stand out of the part's way."},
		{ID: "jaws-off", Words: "soft jaws unbolted, or bolted on again", Of: Nest.ID, Where: fold.OnFixture, Cells: ". V V V V V V V V V V V V V . . V V V V . . V .",
			Caution: standsStop + " Bolted on again the nest lies elsewhere: it is skimmed and found anew."},
		{ID: "pin-bent", Words: "a locating pin bent, worked loose, or pressed in anew", Of: Pins.ID, Where: fold.OnFixture, Cells: ". . V V . V V V V V . . V V . . V V V . . . V .",
			Caution: standsStop + " Part out first: a part on bent pins splits as it is pulled."},
		{ID: "tool-pulled", Words: "tool pulled, or gripped again in its collet", Where: fold.OfTool, PerTool: true, Cells: ". . . . . . . . . . R . . . . V V V . . . . . .",
			Caution: "While cutting: " + stopFirst + " It may hang in the part."},
		{ID: "tool-broke", Words: "tool broke", Where: fold.OfTool, PerTool: true, Cells: ". . . . . . . R R R R R R R . V V V R R . . . V",
			Caution: stopFirst + " Shards cut: tweezers; magnifier in the pocket."},
		{ID: "probe-refitted", Words: "probe taken out and put back", Where: fold.OnMachine, PerTool: true, AtOnce: true, Cells: "R . . . . . . . . . . . . . . R . . . . . . V .",
			Caution: "Spindle command locked off while the probe is in."},
		{ID: "probe-changed", Words: "probe bumped, or stylus changed", Where: fold.OnMachine, PerTool: true, Cells: "V . . R R D D . . R . . . R . V D D R R . . V .",
			Caution: "Spindle command locked off: a cracked stylus flies.",
			Others: map[fold.FactID]fold.StepID{"bore": "ball", "floor": "ball", "baseline": "ball", "shift": "ball", "corner": "ball",
				"top": "ball"}},
		{ID: "spindle-crash", Words: "spindle crash", Where: fold.OnMachine, Cells: "V . V V V V V V V V R R V V V V V V V V . . V V",
			Caution: "E-STOP. Wait until the spindle stands. Look before any axis moves; then Z up by hand, the tool clear of the " +
				"part. Then hands."},
		{ID: "head-moved", Words: "head or column moved, or trammed again", Where: fold.OnMachine, Cells: ". . R V V V V . . R . . . R V R V V V V . . V V",
			Caution: standsStop + " Hold the head before its bolts are loosened."},
		{ID: "rehomed", Words: "machine homed again", Where: fold.OnMachine, Cells: ". . . R R D D . . . . . . . . R D . R R . . V V",
			Caution: "Homing moves axes over clamps: Z first."},
		{ID: "power-lost", Words: "power lost at the machine", Where: fold.OnMachine, Cells: ". . . R R D V . . . R R . . . R D V R R . . V V",
			Question: "Is a tool in the part? Then declare a broken tool as well, until you have looked.",
			Caution:  "E-STOP in before power returns. A tool may be IN the part: do not home first. Raise Z by hand only after a look."},
		{ID: "offset-edited", Words: "offset edited at the control", Where: fold.OnMachine, Cells: ". . . . . . V . . . R . . . . . D . . . . . . V",
			Caution:  "Feed hold; no cycle start until the offset is read back.",
			Question: "Before or after the last hole? After: the holes are untouched, their pin test is quick."},
		{ID: "program-reposted", Words: "program posted again or edited", Also: AnotherFile, Cells: ". . . . . . . . . . . . . . . . V . . . . . . .",
			Caution: "No cycle start until the program is checked."},
		{ID: "temperature-moved", Words: "temperature moved", Where: fold.OnMachine, Cells: ". . . R R D D . . R . . . . . R D . R R . . V .",
			Caution: "No cutting on until the part is proven: it has grown or shrunk."},
		{ID: "left-alone", Words: "left alone for over an hour, or door open that long", Where: fold.OnMachine, Cells: ". . . R R D D . R R . . R R . R D V R R . . V .",
			Caution: standsStop + " Is anyone or anything in the machine? Look before any axis moves."},
		{ID: "part-warm", Words: "the part was measured warm from the machine, or from the hand", Of: Benched.ID, Cells: ". . . . . . . . . . . . . . . . . . . . V V . .",
			Caution: "Lay it on the bench, air all round; measure nothing until it is as warm as the bench."},
		{ID: "finish-applied", Words: "sanded, oiled or varnished before it was measured", Of: Benched.ID, Cells: ". . . . . . . . . . . . . . . . . . . . . V . .",
			Caution:  "Oily rags burn by themselves: flat to dry outdoors, or in a closed can with water.",
			Question: "Its edges are rounded: read the steps where nothing was sanded. Widths stay as they were read."},
		{ID: nextPart, Words: "the next part, on facts taken over", Inner: true, Cells: ". R R R R D D D D D D D D D . R D D . . . . . .",
			Others: map[fold.FactID]fold.StepID{"identity": "next", "skew": "next", "bore": "next", "floor": "next", "length": "next"}},
		{ID: OffsetShifted, Words: "the witness cut of the part before may have shifted the offset", Inner: true, Since: 3, Cells: ". . . . . . V . . . . . . . . . . . . . . . . ."},
		{ID: RotationEnded, Words: "the rotation ended with the program of the part before", Inner: true, Since: 3, Cells: ". . . . . . V . . . . . . . . . . . . . . . . ."},
		{ID: AnotherFile, Words: "another file was held against what stands there", Inner: true, Since: 3, Cells: ". . . . . . . . . . . . . . . . . V . . . . . ."},
		{ID: "straps-off", Words: "the straps came off", Inner: true, Cells: ". . . . . . . . V . . . . . . . . . . . . . . ."},
		{ID: PartIsOut, Words: "the part came out of its pocket", Inner: true, Cells: ". . . . . . . V V V . . V V . . . V . . . . . ."},
		{ID: ViseOpen, Words: "the vise was opened", Inner: true, Failing: true, Since: 3, Cells: ". . . . . V V V V V . . V V . . V V V V . . . ."},
	},
})

// Offered are the mishaps a person may declare, in table order.
func Offered() []fold.Mishap { return Mishaps.Offered() }

// Mounting is what of a mounting outlives one part. The walk itself takes the probe out: it is touched again first.
var Mounting = fold.Takeover{
	Mishap:  nextPart,
	Facts:   []fold.AnyFact{Identity, Skew, Bore, Pins, Nest, Floor, Offset, Echo, Length, Program},
	Must:    []fold.FactID{"identity", "bore", "floor", "offset"},
	Despite: "probe-refitted",
}
