package builtin

// plateSetup makes the fixture of the built-in job.
const plateSetup = `  plate:
    kind: fixture               # pocket, bores and edge in one clamping, measured before it leaves the table
    fixture: pl-2.fixture.yaml
    offset: G55
    finds: probe
    stations: 5
    make: {tool: 3, bore: 10, bore2: [150, 0], blank: 25,   # bore2 and pads from bore 1
           pads: {left: {wall: left, at: [30, 62]}, away 1: {wall: away, at: [44, 100]}, away 2: {wall: away, at: [126, 100]}}}
`

// seasonSetup takes it out of its box for another season.
const seasonSetup = `  season:
    kind: reuse                 # the fixture comes back: growth, wear, threads
    fixture: pl-2.fixture.yaml
    finds: probe
    stations: 5
`

// boxed is the same fixture with what a card says of one that has seen seasons.
var boxed = append(before(seasonSetup),
	change{FixtureFile, "as-made: {temperature: 21C, ", "as-made: {temperature: 21C, humidity: 45, date: 2026-03-01, form: 0.002, bore-u: 0.002, spacing-u: 0.001,\n          "},
	change{FixtureFile, "retire: 15}", "retire: 15, spares: 2}"})
