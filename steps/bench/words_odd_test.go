package bench_test

import (
	"regexp"

	"fliptrue/jobs"
)

// oddPrograms are what a reader meets that is no good program.
var oddPrograms = []string{
	"", "M30\n", "%\nG0 X1 Y1\nM30\n%\n", "%\nG21 G17\nG54\nT3 M6\nG0 X1 Y1\nG1 Z-1 F100\nM30\n%\n",
	"%\nG90 G21 G17\nG54\nT3 M6\nG43 H3\nS9000 M3\nG0 X0 Y0\nG0 Z1\nG28 Z0\nG28\nG30\nG0 X50\nG1 X60 F100\nM30\n%\n",
	"%\nG90 G20 G17\nG54\nT3 M6\nG43 H3\nS9000 M3\nG0 X0 Y0 Z2\nG1 Z-9\nG55 G0 X1\nM30\n%\n",
	"%\nG90 G21 G18\nG54\nT3 M6\nG43 H3\nS9000 M3\nG2 X10 Z5 I5 K0 F100\nG41 D3\nG10 L2 P1 X1\nG92 X0\nG51 X2\nX2\nG5.1 Q1\nM98 P100\nM30\n%\n",
	"G90 G21\n#1=3\nWHILE [#1 GT 0] DO1\nG0 X#1\nEND1\nM0\n", "%\nG90 G91 G21\nG53 G0 Z0\nG0 Z-5 X Y\nG1 X1 Y2\nG81 Z-2 R1\nG99\nX3\nG80\nM2\n", "not a program at all",
}

// hold are the crowded plans that other screws make another walk of.
var hold = regexp.MustCompile("screw|thread|shallow|worn|heavy|regions|side 1")

// crowded are second sides that can't be as planned, each in its way.
var crowded = map[string]func(j *jobs.Job, s *jobs.Setup){
	"desk: narrow":    func(j *jobs.Job, s *jobs.Setup) { j.Allowance = 0.005 },
	"desk: floating":  func(j *jobs.Job, s *jobs.Setup) { s.Floating, s.Against, j.Allowance = true, nil, 0.02 },
	"desk: coarse":    func(j *jobs.Job, s *jobs.Setup) { j.Machine.Dial.Graduation = 0.02 },
	"desk: heavy cut": func(j *jobs.Job, s *jobs.Setup) { s.Cut.Ap, s.Cut.Ae, s.Cut.Fz = 6, 3, 0.1 },
	"desk: deep":      func(j *jobs.Job, s *jobs.Setup) { s.Cut.Lowest = -20 },
	"desk: no threads": func(j *jobs.Job, s *jobs.Setup) {
		j.Fixture.Threads.Kind = "none"
	},
	"desk: short screws": func(j *jobs.Job, s *jobs.Setup) { s.Screws.Length = 3 },
	"desk: long screws":  func(j *jobs.Job, s *jobs.Setup) { s.Screws.Length = 40 },
	"desk: odd thread":   func(j *jobs.Job, s *jobs.Setup) { s.Screws.Thread = "M99" },
	"desk: no screws":    func(j *jobs.Job, s *jobs.Setup) { s.Screws.At = nil },
	"desk: outside":      func(j *jobs.Job, s *jobs.Setup) { s.Screws.At[0] = jobs.Point{X: 300, Y: 300} },
	"desk: material":     func(j *jobs.Job, s *jobs.Setup) { j.Part.Material = "unobtainium" },
	"desk: no force":     func(j *jobs.Job, s *jobs.Setup) { j.Part.Material = "epoxy-cast" },
	"desk: no crush": func(j *jobs.Job, s *jobs.Setup) {
		j.Part.Material, j.Materials = "own", map[string]jobs.Material{"own": {Kc: [2]float64{60, 100}}}
	},
	"desk: no shear": func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Material = "walnut" },
	"desk: no fixture material": func(j *jobs.Job, s *jobs.Setup) {
		j.Fixture.Material = "unobtainium"
	},
	"desk: no tool": func(j *jobs.Job, s *jobs.Setup) { s.Cut.Tool = 77 },
	"desk: no clamp force": func(j *jobs.Job, s *jobs.Setup) {
		for i := range s.Clamps {
			s.Clamps[i].Torque, s.Clamps[i].Tip = 1, 300
		}
	},
	"desk: hard clamps": func(j *jobs.Job, s *jobs.Setup) {
		for i := range s.Clamps {
			s.Clamps[i].Torque = 200000
		}
	},
	"desk: clamp in the way": func(j *jobs.Job, s *jobs.Setup) {
		s.Clamps[0].Outline, s.Clamps[0].Top = jobs.Outline{{X: -50, Y: 2}, {X: 20, Y: 2}, {X: 20, Y: 20}, {X: -50, Y: 20}}, 60
	},
	"desk: regions": func(j *jobs.Job, s *jobs.Setup) {
		s.Cut.Regions = []jobs.Region{{Name: "over all", Lowest: 1, Outline: jobs.Outline{{X: -30, Y: -30}, {X: 130, Y: -30}, {X: 130, Y: 100}, {X: -30, Y: 100}}}}
		s.Table = jobs.Outline{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 20}, {X: 0, Y: 20}}
		s.Obstacles = []jobs.Standing{{Name: "stop", Top: 30, Outline: jobs.Outline{{X: 100, Y: 0}, {X: 120, Y: 0}, {X: 120, Y: 20}, {X: 100, Y: 20}}}}
	},
	"desk: no holder": func(j *jobs.Job, s *jobs.Setup) {
		for n, tool := range j.Tools {
			tool.Holder, tool.Stickout, tool.Flute, tool.Shank = jobs.Holder{}, 0, 0, 0
			j.Tools[n] = tool
		}
	},
	"desk: short tool": func(j *jobs.Job, s *jobs.Setup) {
		for n, tool := range j.Tools {
			tool.Stickout, tool.Flute = 4, 2
			j.Tools[n] = tool
		}
		s.Cut.Lowest = 2
	},
	"desk: one clamp":      func(j *jobs.Job, s *jobs.Setup) { s.Clamps = s.Clamps[:1] },
	"desk: clamp bolt":     func(j *jobs.Job, s *jobs.Setup) { s.Clamps[0].Bolt = "banana" },
	"desk: clamp heel":     func(j *jobs.Job, s *jobs.Setup) { s.Clamps[0].Heel = 0 },
	"desk: clamp tip":      func(j *jobs.Job, s *jobs.Setup) { s.Clamps[0].TipAt = &jobs.Point{X: -400, Y: 500} },
	"desk: clamp middle":   func(j *jobs.Job, s *jobs.Setup) { s.Clamps[0].TipAt = &jobs.Point{X: 48, Y: 32} },
	"desk: clamps hollow":  func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Support = nil },
	"desk: no drill":       func(j *jobs.Job, s *jobs.Setup) { delete(j.Tools, 5) },
	"desk: wide allowance": func(j *jobs.Job, s *jobs.Setup) { s.Floating, s.Against, j.Allowance = true, nil, 0.3 },
	"desk: walls prove it": func(j *jobs.Job, s *jobs.Setup) { j.Allowance = 0.07 },
	"desk: one offset":     func(j *jobs.Job, s *jobs.Setup) { j.Machine.Offsets = 1 },
	"desk: no relief":      func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Threads.Relief = 0 },
	"desk: out of square":  func(j *jobs.Job, s *jobs.Setup) { j.Machine.Squareness, j.Machine.SquareMeasured = 0.002, true },
	"desk: three hits":     func(j *jobs.Job, s *jobs.Setup) { s.Hits = 3 },
	"desk: one screw":      func(j *jobs.Job, s *jobs.Setup) { s.Screws.At = s.Screws.At[:1] },
	"desk: long thread":    func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Threads.StripAngle, j.Fixture.Threads.StripTorque = 3, 900 },
	"desk: lean":           func(j *jobs.Job, s *jobs.Setup) { j.Machine.Tram = &jobs.Tram{X: 0.003, Y: 0.003, Void: "no"} },
	"desk: not homed":      func(j *jobs.Job, s *jobs.Setup) { j.Machine.Homed = false },
	"desk: no probe":       func(j *jobs.Job, s *jobs.Setup) { j.Machine.Probe, j.Machine.Tram = nil, nil },
	"desk: shallow":        func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Threads.Depth = 1 },
	"desk: worn":           func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Threads.Retire, j.Fixture.Threads.Cycles = 5, 9 },
	"desk: two setups":     func(j *jobs.Job, s *jobs.Setup) { j.Setups = append(j.Setups, jobs.Setup{Name: "x", Kind: "nothing"}) },
	"desk: side 1, no holes": func(j *jobs.Job, s *jobs.Setup) {
		j.Setups = append(j.Setups, jobs.Setup{Name: "side1", Kind: "first-side", Zero: "corner", Z0: "top skin", Offset: "G55", Finds: "probe"})
	},
	"desk: side 1": func(j *jobs.Job, s *jobs.Setup) {
		j.Setups = append(j.Setups, jobs.Setup{Name: "side1", Kind: "first-side", Zero: "corner", Z0: "top skin", Offset: "G55", Finds: "probe", HolesHere: true})
	},
}

// crowdedFace are parts held by vacuum, or by tape where the name says so, of that sort.
var crowdedFace = map[string]func(j *jobs.Job, s *jobs.Setup){
	"vacuum: deep":    func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Ap = 3 },
	"vacuum: no cut":  func(_ *jobs.Job, s *jobs.Setup) { s.Cut = jobs.Cut{} },
	"vacuum: drum":    func(j *jobs.Job, s *jobs.Setup) { s.Hold.Hollow, j.Materials = [2]float64{84, 52}, stiff(j) },
	"vacuum: unknown": func(j *jobs.Job, _ *jobs.Setup) { j.Part.Material = "unobtainium" },
	"tape: no test":   func(_ *jobs.Job, s *jobs.Setup) { s.Hold.Hot = nil },
	"tape: little":    func(_ *jobs.Job, s *jobs.Setup) { s.Hold.Area = [2]float64{5, 5} },
}

func stiff(j *jobs.Job) map[string]jobs.Material {
	return map[string]jobs.Material{j.Part.Material: {E: [2]float64{2500, 2500}, Source: "demonstration"}}
}

// crowdedPins are parts on two pins of that sort.
var crowdedPins = map[string]func(j *jobs.Job, s *jobs.Setup){
	"pins: round":   func(_ *jobs.Job, s *jobs.Setup) { s.Dowels.Land = 0 },
	"pins: tall":    func(_ *jobs.Job, s *jobs.Setup) { s.Dowels.Height = 15.5 },
	"pins: wide":    func(_ *jobs.Job, s *jobs.Setup) { s.Dowels.Land = 9 },
	"pins: play":    func(_ *jobs.Job, s *jobs.Setup) { s.Dowels.Push, s.Dowels.Play = "", 0.3 },
	"pins: at heat": func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Material, s.Dowels.Land = "acrylic-cast", 3 },
}

// crowdedVise are first sides of that sort.
var crowdedVise = map[string]func(j *jobs.Job, s *jobs.Setup){
	"vise: thin wall":    func(_ *jobs.Job, s *jobs.Setup) { s.Vise.Wall, s.Vise.WallSpan, s.Vise.Force = 0.3, 90, 5000 },
	"vise: stout wall":   func(_ *jobs.Job, s *jobs.Setup) { s.Vise.Wall, s.Vise.WallSpan = 40, 42 },
	"vise: known force":  func(_ *jobs.Job, s *jobs.Setup) { s.Vise.Force = 3000 },
	"vise: little grip":  func(_ *jobs.Job, s *jobs.Setup) { s.Vise.Grip = 1 },
	"vise: high jaws":    func(_ *jobs.Job, s *jobs.Setup) { s.Vise.JawTop = -2 },
	"vise: deep cut":     func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Lowest, s.Cut.Ap, s.Cut.Ae = -18, 6, 3 },
	"vise: other tool":   func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Tool = 77 },
	"vise: no material":  func(j *jobs.Job, _ *jobs.Setup) { j.Part.Material = "unobtainium" },
	"vise: wet board":    func(j *jobs.Job, _ *jobs.Setup) { j.Part.Material = "oak" },
	"vise: along grain":  func(j *jobs.Job, _ *jobs.Setup) { j.Part.Material, j.Part.Grain = "maple-hard", "x" },
	"vise: metal":        func(j *jobs.Job, _ *jobs.Setup) { j.Part.Material = "aluminium-6061-t6" },
	"vise: one offset":   func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Offsets = 1 },
	"vise: thick skins":  func(j *jobs.Job, _ *jobs.Setup) { j.Part.Skin = [2]float64{3, 3} },
	"vise: no tram":      func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Tram = nil },
	"vise: not homed":    func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Homed = false },
	"vise: many offsets": func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Offsets = 100 },
}
