package builtin

import (
	"maps"
	"slices"
)

// Kinds are the kinds of setup that practice walks, the usual one first.
func Kinds() []string { return append([]string{"second-side"}, slices.Sorted(maps.Keys(kinds))...) }

// held are the ways in which the face under the part holds it, made of plan S.
func held(what string) []change {
	return []change{
		{JobFile, "hold-down: S                # S: holes made on side 1, fixture tapped before\n", "hold-down: V                # V: the face under the part holds it\n    hold: " + what + "\n"},
		{JobFile, "    # Each screw sits at the bottom of a counterbore of 7, cut into this side of the blank\n    # beforehand, down to 2.5 over the floor: heads and washers end far below the cut.\n" +
			"    screws: {thread: M2, length: 8, washer: 5, through: 2.5, at: [[6, 6], [90, 6], [90, 58], [6, 58]]}\n", ""},
		{"lid.fixture.yaml", "threads: {kind: tapped, relief: 1, depth: 5, cycles: 3, retire: 10}   # depth: full thread below the relief\n", "threads: {kind: none}\n"},
	}
}

// kinds are the kinds of setup that stand for the job's second side, or before it in the file: a hold-down plan, and what of its files is another.
var kinds = map[string]struct {
	plan    string
	changes []change
}{
	"vacuum":  {"S", held("{kind: vacuum, area: [84, 52], hollow: [10, 10], floor: 2}   # inside the seal line; grooves in a grid of 10")},
	"tape":    {"S", held("{kind: tape, area: [84, 52], tested: {load: 60N, area: [25, 25], minutes: 10, at: 30C, source: own test on scrap}, hot: 28C}")},
	"inspect": {"T", []change{{JobFile, "setups:\n", "setups:\n  bench:\n    kind: inspect               # what came out, on the bench\n    inspect: {at: [22, 36], wall: [2.4, 0.05], floor: [2, 0.05], faces: [[10, 10], [86, 54]],\n      holes: [hinge bore], finish: {most: 0.05, least: 2.2}, mate: {recess: [91.75, 91.8], lip: [91.55, 91.6], growth: 0.02, film: 0.02}}\n"}}},
	"stops":   {"S", stopped},
	"dowel-flip": {"S", []change{
		{JobFile, "kind: second-side", "kind: dowel-flip"},
		{JobFile, "    against: [left, away]       # the two walls the part is pushed against\n",
			"    dowels: {push: away, land: 0.6, play: 0.007, height: 9}   # pushed across the line of the pins; the second pin is a diamond\n"},
		{JobFile, "    z0: floor                   # the program's Z0 is the pocket floor\n", "    z0: floor                   # the program's Z0 is the face that the part lies on\n"},
		{"lid.fixture.yaml", "fixture: FX-3", "fixture: FX-7"},
		{"lid.fixture.yaml", "material: acrylic-cast", "material: aluminium-6061-t6"},
		{"lid.fixture.yaml", "Places count from bore 1, x along the edge.", "Places count from pin 1, x toward pin 2."},
		{"lid.fixture.yaml", `bore: {dia: 8, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [120, 0]},
          edge: {side: front, from: [0, -15], length: 120, zero: 0/100},
          part-zero: [45, 20],`, `bore: {kind: pin, dia: 3.998, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [84, 0], dia: 3.998},
          part-zero: [-6, -32],`},
		{"lid.fixture.yaml", "clearance: 0.02, outline: [[44.98, 19.98], [141.02, 19.98], [141.02, 84.02], [44.98, 84.02]]", "clearance: 2, outline: [[-8, -34], [92, -34], [92, 34], [-8, 34]]"},
		{"lid.fixture.yaml", `[[[45, 20], [141, 20], [141, 32], [45, 32]], [[45, 72], [141, 72], [141, 84], [45, 84]],
          [[45, 32], [57, 32], [57, 72], [45, 72]], [[129, 32], [141, 32], [141, 72], [129, 72]]]`, `[[[-6, -32], [90, -32], [90, -20], [-6, -20]], [[-6, 20], [90, 20], [90, 32], [-6, 32]],
          [[-6, -20], [6, -20], [6, 20], [-6, 20]], [[78, -20], [90, -20], [90, 20], [78, 20]]]`},
	}},
}
