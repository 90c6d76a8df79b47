package builtin

import (
	"maps"
	"slices"
)

// Kinds are the kinds of setup that can stand for the job's second side, the usual one first.
func Kinds() []string { return append([]string{"second-side"}, slices.Sorted(maps.Keys(kinds))...) }

// kinds are the kinds of setup that stand for the job's second side: a hold-down plan, and what of its files is another.
var kinds = map[string]struct {
	plan    string
	changes []change
}{
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
