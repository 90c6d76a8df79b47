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
		{JobFile, "    # Each screw sits at the bottom of a counterbore of 9.5, cut into this side of the blank\n" +
			"    # beforehand, down to 3 over the floor: heads and washers end far below the cut.\n" +
			"    screws: {thread: M2.5, length: 12, washer: 8, washer-thickness: 0.8, through: 3, counterbore: 9.5,\n" +
			"             at: [[8, 8], [55, 8], [102, 8], [102, 68], [55, 68], [8, 68]]}\n", ""},
		{FixtureFile, "threads: {kind: tapped, relief: 1.5, depth: 8, cycles: 4, retire: 15}   # depth: full thread below the relief\n", "threads: {kind: none}\n"},
	}
}

// before puts a setup before the second side.
func before(text string) []change { return []change{{JobFile, "setups:\n", "setups:\n" + text}} }

// The setups before and after the second side.
const (
	sideOne = `  side1:
    kind: first-side            # the movement side, in a vise: the inside, and the outer faces down to the parting line
    offset: G55
    finds: probe
    z0: top skin                # Z0 is where side 1 ends: the lowest place of the raw top less its skin
    zero: corner
    vise: {jaw: away, jaw-top: -9.9, parallel: 25, grip: 4.5, stop: left, wall: 2.6, wall-span: 47}
    cut: {tool: 3, ae: 1.5, ap: 0.4, fz: 0.02, lowest: -8.8}
`
	inspection = `  bench:
    kind: inspect               # what came out, on the bench
    # at: how far from the middles of the faces steps are read; mate: the plate in the rebate of its case
    inspect: {at: [26, 42], wall: [2.6, 0.05], floor: [3.4, 0.05], faces: [[14, 14], [96, 62]],
      holes: [dial opening], finish: {most: 0.05, least: 2.4}, mate: {recess: [110.16, 110.22], lip: [109.97, 110.02], growth: 0.02, film: 0.02}}
`
)

// kinds are the kinds of setup that stand for the job's second side, or before it in the file: a hold-down plan, and what of its
// files is another.
var kinds = map[string]struct {
	plan    string
	changes []change
}{
	"first-side": {"T", before(sideOne)},
	"ball":       {"T", before("  ring: {kind: ball}\n")},
	"tram":       {"T", before("  head: {kind: tram}\n")},
	"inspect":    {"T", before(inspection)},
	"whole":      {"T", before(plateSetup + sideOne + inspection)}, // one after the other in one record
	"fixture":    {"T", before(plateSetup)},
	"reuse":      {"T", boxed},
	"rescue":     {"T", nil}, // the second side itself lets go in the cut
	"vacuum": {"S",
		held("{kind: vacuum, area: [96, 62], hollow: [10, 10], floor: 3.4}   # inside the seal line; grooves in a grid of 10")},
	"tape":      {"S", held("{kind: tape, area: [96, 62], tested: {load: 70N, area: [25, 25], minutes: 10, at: 30C, source: own test on scrap}, hot: 28C}")},
	"stops":     {"S", stopped},
	"soft-jaws": {"S", append(nested("kind: soft-jaws", "shape: walls, wall: 2.6, span: 104, grip: 5, force: 250N, most: 400N, source: own test with a scale, plug: true"), stopped...)},
	"dowel-flip": {"S", []change{
		{JobFile, "kind: second-side", "kind: dowel-flip"},
		{JobFile, "    against: [left, away]       # the two walls the part is pushed against\n",
			"    dowels: {push: away, land: 0.8, play: 0.007, height: 7}   # pushed across the line of the pins; the second pin is a diamond\n"},
		{JobFile, "    z0: floor                   # the program's Z0 is the pocket floor\n", "    z0: floor                   # the program's Z0 is the face that the part lies on\n"},
		{FixtureFile, "fixture: PL-2", "fixture: PL-3"},
		{FixtureFile, "material: phenolic-paper-xx", "material: aluminium-6061-t6"},
		{FixtureFile, "from a 25 mm sheet. Places count from bore 1, x along the edge.", "two pins in a plate. Places count from pin 1, x toward pin 2."},
		{FixtureFile, `bore: {dia: 10, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [150, 0]},
          edge: {side: front, from: [5, -18], length: 140, zero: 0/100},
          part-zero: [30, 24],`, `bore: {kind: pin, dia: 4.998, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [94, 0], dia: 4.998},
          part-zero: [-8, -38],`},
		{FixtureFile, "clearance: 0.05, outline: [[29.95, 23.95], [140.05, 23.95], [140.05, 100.05], [29.95, 100.05]]", "clearance: 2, outline: [[-10, -40], [104, -40], [104, 40], [-10, 40]]"},
		{FixtureFile, `[[[30, 24], [140, 24], [140, 38], [30, 38]], [[30, 86], [140, 86], [140, 100], [30, 100]],
          [[30, 38], [44, 38], [44, 86], [30, 86]], [[126, 38], [140, 38], [140, 86], [126, 86]]]`,
			`[[[-8, -38], [102, -38], [102, -24], [-8, -24]], [[-8, 24], [102, 24], [102, 38], [-8, 38]],
          [[-8, -24], [6, -24], [6, 24], [-8, 24]], [[88, -24], [102, -24], [102, 24], [88, 24]]]`},
	}},
}
