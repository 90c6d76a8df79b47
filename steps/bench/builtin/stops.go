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
          [[30, 38], [44, 38], [44, 86], [30, 86]], [[126, 38], [140, 38], [140, 86], [126, 86]]]`,
		`[[[0, -76], [110, -76], [110, 0], [0, 0]]]`},
}

// nested is the second side in soft jaws, of plan S.
func nested(kind, jaws string) []change {
	return []change{
		{JobFile, "    kind: second-side\n", "    " + kind + "\n    jaws: {" + jaws + "}\n"},
		{JobFile, "    hold-down: S                # S: holes made on side 1, fixture tapped before\n", ""},
		{JobFile, "    z0: floor                   # the program's Z0 is the pocket floor\n", "    z0: floor                   # the program's Z0 is the floor of the nest\n"},
		{JobFile, "    # Each screw sits at the bottom of a counterbore of 9.5, cut into this side of the blank\n" +
			"    # beforehand, down to 3 over the floor: heads and washers end far below the cut.\n" +
			"    screws: {thread: M2.5, length: 12, washer: 8, washer-thickness: 0.8, through: 3, counterbore: 9.5,\n" +
			"             at: [[8, 8], [55, 8], [102, 8], [102, 68], [55, 68], [8, 68]]}\n", ""},
		{FixtureFile, "material: phenolic-paper-xx", "material: aluminium-6061-t6"},
		{FixtureFile, "threads: {kind: tapped, relief: 1.5, depth: 8, cycles: 4, retire: 15}   # depth: full thread below the relief\n", "threads: {kind: none}\n"},
	}
}
