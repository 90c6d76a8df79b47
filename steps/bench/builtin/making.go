package builtin

// plateSetup makes the fixture of the built-in job.
const plateSetup = `  plate:
    kind: fixture               # pocket, bores and edge in one clamping, measured before it leaves the table
    fixture: lid.fixture.yaml
    offset: G55
    finds: probe
    stations: 5
    make: {tool: 3, bore: 8, bore2: [120, 0], blank: 24,
           pads: {left: {wall: left, at: [45, 52]}, away 1: {wall: away, at: [58, 84]}, away 2: {wall: away, at: [128, 84]}}}
`

func init() {
	add := func(kind, plan string, cs ...change) {
		kinds[kind] = struct {
			plan    string
			changes []change
		}{plan, cs}
	}
	add("fixture", "T", change{JobFile, "setups:\n", "setups:\n" + plateSetup})
}
