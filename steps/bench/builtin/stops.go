package builtin

// stopped are what of the files is another on a plain plate with three stops.
var stopped = []change{
	{FixtureFile, "fixture: PL-2", "fixture: PL-5"},
	{FixtureFile, "Places count from bore 1, x along the edge.", "Places count from the corner of its stops."},
	{FixtureFile, `bore: {dia: 10, bias: [0, 0], eccentricity: [0, 0]}, bore2: {at: [150, 0]},
          edge: {side: front, from: [5, -18], length: 140, zero: 0/100},
          part-zero: [30, 24],`, `stops: {long: away, at: [14, 96], end: left, end-at: -38},
          part-zero: [0, -76],`},
	{FixtureFile, "clearance: 0.05, outline: [[29.95, 23.95], [140.05, 23.95], [140.05, 100.05], [29.95, 100.05]]", "clearance: 0, outline: [[0, -76], [110, -76], [110, 0], [0, 0]]"},
	{FixtureFile, `[[[30, 24], [140, 24], [140, 38], [30, 38]], [[30, 86], [140, 86], [140, 100], [30, 100]],
          [[30, 38], [44, 38], [44, 86], [30, 86]], [[126, 38], [140, 38], [140, 86], [126, 86]]]`, `[[[0, -76], [110, -76], [110, 0], [0, 0]]]`},
}
