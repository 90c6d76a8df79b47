package builtin

import "slices"

// The card of the fixture in inches, and of the machine that has no probe.
const (
	inchFixture = "pl-4.fixture.yaml"
	inchMachine = "knee.machine.yaml"
)

// InInches is the name of a kind of setup in the shop that works in inches.
func InInches(kind string) string {
	if kind == "" || kind == Kinds()[0] {
		return Inch
	}
	return Inch + "-" + kind
}

const inchThreads = "threads: {kind: tapped, relief: 0.06, depth: 0.32, cycles: 1, retire: 15}   # depth: full thread below the relief\n"

// inchDrill and inchScrews are what a part has that is screwed through holes drilled under straps.
const (
	inchDrill  = "  5: {name: drill number 30, dia: 0.1285, point: 118, flute: 1-1/4, shank: 0.1285, stickout: 1-1/2, holder: {dia: 1-1/8, length: 1-1/4}}\n"
	inchScrews = "    # Each screw sits at the bottom of a counterbore of 7/16, cut into this side of the blank\n" +
		"    # beforehand, down to 0.12 over the floor: heads and washers end far below the cut.\n" +
		"    screws: {thread: 4-40, length: 1/2, washer: 3/8, washer-thickness: 0.032, through: 0.12, counterbore: 7/16,\n" +
		"             at: [[0.33, 0.33], [2-1/4, 0.33], [4.045, 0.33], [4.045, 2.67], [2-1/4, 2.67], [0.33, 2.67]]}\n"
)

const inchClamps = "    clamps:\n" +
	"      left: {outline: [[-2-1/4, 1-1/4], [0.36, 1-1/4], [0.36, 1-3/4], [-2-1/4, 1-3/4]], top: 1.08, heel: 1-1/4, tip: 0.9, bolt: M6, torque: 140in-oz}\n" +
	"      right: {outline: [[4.015, 1-1/4], [6-5/8, 1-1/4], [6-5/8, 1-3/4], [4.015, 1-3/4]], top: 1.08, heel: 1-1/4, tip: 0.9, bolt: M6, torque: 140in-oz}\n"

// inchHolesBefore is the part with its holes made on side 1: no drill, and no straps.
var inchHolesBefore = []change{{JobFile, inchDrill, ""}, {JobFile, programs, "programs: {top: top.nc}"}, {JobFile, inchClamps, ""}, changes["S"][0]}

// inchHeld is held, in inches.
func inchHeld(what string) []change {
	return append(slices.Clone(inchHolesBefore),
		change{JobFile, "hold-down: S                # S: holes made on side 1, fixture tapped before\n",
			"hold-down: V                # V: the face under the part holds it\n    hold: " + what + "\n"},
		change{JobFile, inchScrews, ""}, change{inchFixture, inchThreads, "threads: {kind: none}\n"})
}

// inchPlate is what of the fixture's card is another where places count from something else than bore 1.
func inchPlate(id, from, found, zero string, outline, support string) []change {
	return []change{
		{inchFixture, "fixture: PL-4", "fixture: " + id},
		{inchFixture, "Places count from bore 1, x along the edge.", from},
		{inchFixture, "bore: {dia: 3/8, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [6, 0]},\n" +
			"          edge: {side: front, from: [1/5, -0.7], length: 5-1/2, zero: 0/4},\n          part-zero: [1-1/4, 0.95],", found + ",\n          part-zero: " + zero + ","},
		{inchFixture, "clearance: 0.002, outline: [[1.248, 0.948], [5.627, 0.948], [5.627, 3.952], [1.248, 3.952]]", outline},
		{inchFixture, `[[[1.25, 0.95], [5.625, 0.95], [5.625, 1.5], [1.25, 1.5]], [[1.25, 3.4], [5.625, 3.4], [5.625, 3.95], [1.25, 3.95]],
          [[1.25, 1.5], [1.8, 1.5], [1.8, 3.4], [1.25, 3.4]], [[5.075, 1.5], [5.625, 1.5], [5.625, 3.4], [5.075, 3.4]]]`, support},
	}
}

// inchStopped is the plain plate with three stops.
func inchStopped() []change {
	return append(slices.Clone(inchHolesBefore), inchPlate("PL-6", "Places count from the corner of its stops.",
		"stops: {long: away, at: [0.6, 3.8], end: left, end-at: -1-1/2}", "[0, -3]",
		"clearance: 0, outline: [[0, -3], [4-3/8, -3], [4-3/8, 0], [0, 0]]", "[[[0, -3], [4-3/8, -3], [4-3/8, 0], [0, 0]]]")...)
}

const inchAluminium = "material: aluminium-6061-t6"

// The setups before and after the second side, and the one that makes its fixture.
const (
	inchSideOne = `  side1:
    kind: first-side            # the movement side, in a vise: the inside, and the outer faces down to the parting line
    offset: G54
    finds: edge finder
    z0: top skin                # Z0 is where side 1 ends: the lowest place of the raw top less its skin
    zero: corner
    vise: {jaw: away, jaw-top: -0.39, parallel: 1, grip: 0.18, stop: left, wall: 0.1, wall-span: 1.85}
    cut: {tool: 3, ae: 0.06, ap: 0.016, fz: 0.0008, lowest: -0.346}
`
	inchInspection = `  bench:
    kind: inspect               # what came out, on the bench
    # at: how far from the middles of the faces steps are read; mate: the plate in the rebate of its case
    inspect: {at: [1, 1-5/8], wall: [0.1, 0.002], floor: [0.135, 0.002], faces: [[0.55, 0.55], [3.8, 2.45]],
      holes: [dial opening], finish: {most: 0.002, least: 0.092}, mate: {recess: [4.381, 4.3835], lip: [4.3735, 4.3755], growth: 0.0008, film: 0.0008}}
`
	inchPlateSetup = `  plate:
    kind: fixture               # pocket, bores and edge in one clamping, measured before it leaves the table
    fixture: pl-4.fixture.yaml
    offset: G56
    finds: edge finder
    stations: 5
    make: {tool: 3, bore: 3/8, bore2: [6, 0], blank: 1,   # bore2 and pads from bore 1
           pads: {left: {wall: left, at: [1-1/4, 2.45]}, away 1: {wall: away, at: [1.8, 3.95]}, away 2: {wall: away, at: [5.1, 3.95]}}}
`
)

// inchKinds are the kinds of setup in inches, in a shop without a probe where the kind can do without.
var inchKinds = map[string][]change{
	"first-side": before(inchSideOne),
	"ball": append(before("  ring: {kind: ball}\n"),
		change{inchMachine, "# A knee mill with an inch readout and no probe;", "# A knee mill with an inch readout, its probe on loan;"},
		change{inchMachine, "edge-finder: {dia: 1/5, repeat: 0.0001}", "edge-finder: {dia: 1/5, repeat: 0.0001}\n" +
			"probe: {ball: 3/32, radius: 0.0465, eccentricity: [0, 0], repeat: 0.00004, dof: 30, source: ring gauge}"}),
	"tram":    before("  head: {kind: tram}\n"),
	"whole":   before(inchPlateSetup + inchSideOne + inchInspection),
	"rescue":  nil,
	"inspect": before(inchInspection),
	"fixture": before(inchPlateSetup),
	"reuse": append(before(`  season:
    kind: reuse                 # the fixture comes back: growth, wear, threads
    fixture: pl-4.fixture.yaml
    finds: edge finder
    stations: 5
`), change{inchFixture, "as-made: {temperature: 70F, ", "as-made: {temperature: 70F, humidity: 45, date: 2026-03-01, form: 0.0001, bore-u: 0.0001, spacing-u: 0.00005,\n          "},
		change{inchFixture, "retire: 15}", "retire: 15, spares: 2}"}),
	"vacuum": inchHeld(
		"{kind: vacuum, area: [3.8, 2.45], hollow: [3/8, 3/8], floor: 0.135}   # inside the seal line; grooves in a grid of 3/8"),
	"tape":  inchHeld("{kind: tape, area: [3.8, 2.45], tested: {load: 16lbf, area: [1, 1], minutes: 10, at: 86F, source: own test on scrap}, hot: 82F}"),
	"stops": inchStopped(),
	"soft-jaws": append(inchStopped(),
		change{JobFile, "    kind: second-side\n", "    kind: soft-jaws\n    jaws: {shape: walls, wall: 0.1, span: 4.1, grip: 0.2, force: 56lbf, most: 90lbf, source: own test with a scale, plug: true}\n"},
		change{JobFile, "    hold-down: S                # S: holes made on side 1, fixture tapped before\n", ""},
		change{JobFile, "# the program's Z0 is the pocket floor\n", "# the program's Z0 is the floor of the nest\n"},
		change{JobFile, inchScrews, ""}, change{inchFixture, inchThreads, "threads: {kind: none}\n"},
		change{inchFixture, "material: phenolic-paper-xx", inchAluminium}),
	"dowel-flip": append(append(slices.Clone(inchHolesBefore), inchPlate("PL-7", "Places count from pin 1, x toward pin 2.",
		"bore: {kind: pin, dia: 0.1874, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [3.7, 0], dia: 0.1874}", "[-0.3, -1-1/2]",
		"clearance: 0.08, outline: [[-0.38, -1.58], [4.155, -1.58], [4.155, 1.58], [-0.38, 1.58]]",
		`[[[-0.3, -1.5], [4.075, -1.5], [4.075, -0.95], [-0.3, -0.95]], [[-0.3, 0.95], [4.075, 0.95], [4.075, 1.5], [-0.3, 1.5]],
          [[-0.3, -0.95], [0.25, -0.95], [0.25, 0.95], [-0.3, 0.95]], [[3.525, -0.95], [4.075, -0.95], [4.075, 0.95], [3.525, 0.95]]]`)...),
		change{JobFile, "kind: second-side", "kind: dowel-flip"},
		change{JobFile, "    against: [left, away]       # the two walls the part is pushed against\n",
			"    dowels: {push: away, land: 0.03, play: 0.0003, height: 0.28}   # pushed across the line of the pins; the second pin is a diamond\n"},
		change{JobFile, "# the program's Z0 is the pocket floor\n", "# the program's Z0 is the face that the part lies on\n"},
		change{inchFixture, "material: phenolic-paper-xx", inchAluminium}),
}
