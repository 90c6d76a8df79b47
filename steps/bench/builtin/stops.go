package builtin

// stopped are what of the files is another on a plain plate with three stops.
var stopped = []change{
	{"lid.fixture.yaml", "fixture: FX-3", "fixture: ST-1"},
	{"lid.fixture.yaml", "Places count from bore 1, x along the edge.", "Places count from the corner of its stops."},
	{"lid.fixture.yaml", `bore: {dia: 8, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [120, 0]},
          edge: {side: front, from: [0, -15], length: 120, zero: 0/100},
          part-zero: [45, 20],`, `stops: {long: away, at: [12, 84], end: left, end-at: -32},
          part-zero: [0, -64],`},
	{"lid.fixture.yaml", "clearance: 0.02, outline: [[44.98, 19.98], [141.02, 19.98], [141.02, 84.02], [44.98, 84.02]]", "clearance: 0, outline: [[0, -64], [96, -64], [96, 0], [0, 0]]"},
	{"lid.fixture.yaml", `[[[45, 20], [141, 20], [141, 32], [45, 32]], [[45, 72], [141, 72], [141, 84], [45, 84]],
          [[45, 32], [57, 32], [57, 72], [45, 72]], [[129, 32], [141, 32], [141, 72], [129, 72]]]`, `[[[0, -64], [96, -64], [96, 0], [0, 0]]]`},
}
