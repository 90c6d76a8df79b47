package bench_test

import (
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
	"slices"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// much says how much is walked of a setting.
type much int

const (
	clean      much = 1 << iota // one walk in which all goes well
	wrongly                     // and each value of it given wrongly in turn
	mistaken                    // walks with each mistake
	large                       // and with each one large
	mishappens                  // walks in which each mishap is declared
	inSlice                     // walked with wrong answers in the slice that the suite keeps
)

// walked is a plan to be walked.
type walked struct {
	setting
	plan *fold.Plan
	much much
}

func readJob(t testing.TB, path string) *jobs.Job {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), filepath.FromSlash(path))
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	return j
}

func planOf(t testing.TB, j *jobs.Job, setup string, files map[string]fold.ProgramFile) *fold.Plan {
	t.Helper()
	p, err := steps.NewPlan(j, setup, files)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// shipped is the built-in job of a hold-down plan with its programs, edited.
func shipped(t testing.TB, holdDown string, edit func(j *jobs.Job, texts map[string]string)) *fold.Plan {
	t.Helper()
	j, err := builtin.Job(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	texts, err := builtin.Texts(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	byRole := map[string]string{}
	for _, g := range j.Setups[0].Programs {
		byRole[g.Role] = texts[g.File]
	}
	if edit != nil {
		edit(j, byRole)
	}
	files := map[string]fold.ProgramFile{}
	for _, g := range j.Setups[0].Programs {
		if text, ok := byRole[g.Role]; ok {
			sum := sha256.Sum256([]byte(text))
			files[g.Role] = fold.ProgramFile{Name: g.File, Hash: hex.EncodeToString(sum[:])[:16], Data: []byte(text)}
		}
	}
	return planOf(t, j, j.Setups[0].Name, files)
}

const lidJob, inchJob, trayJob = "../../jobs/testdata/lid.job.yaml", "../../jobs/testdata/inch.job.yaml", "../../testdata/tray/tray.job.yaml"

// lidWith is the second side of the example job, edited.
func lidWith(t testing.TB, edit func(j *jobs.Job, s *jobs.Setup)) *fold.Plan {
	t.Helper()
	j := readJob(t, lidJob)
	if edit != nil {
		edit(j, &j.Setups[0])
	}
	return planOf(t, j, j.Setups[0].Name, nil)
}

// sideOne is a first side before the example job's second, edited.
func sideOne(t testing.TB, edit func(j *jobs.Job, s *jobs.Setup)) *fold.Plan {
	t.Helper()
	return planOf(t, sidesJob(t, edit), "side1", nil)
}

func sidesJob(t testing.TB, edit func(j *jobs.Job, s *jobs.Setup)) *jobs.Job {
	t.Helper()
	j := readJob(t, lidJob)
	s := jobs.Setup{Name: "side1", Kind: "first-side", Z0: "top skin", Offset: "G55", Finds: "probe", Hits: 6, Stations: 7, Zero: "corner",
		Vise: jobs.Vise{Jaw: "away", JawTop: -11.5, Parallel: 20, Grip: 5, Stop: "left", Wall: 2, WallSpan: 40},
		Cut:  jobs.Cut{Tool: 3, Ae: 1, Ap: 0.5, Fz: 0.02, Lowest: -9}}
	if edit != nil {
		edit(j, &s)
	}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
	return j
}

// one is a setup of the machine alone, beside the example job's second side.
func one(t testing.TB, kind string, edit func(j *jobs.Job, s *jobs.Setup)) *fold.Plan {
	t.Helper()
	j := readJob(t, lidJob)
	s := jobs.Setup{Name: kind, Kind: kind, Finds: "probe"}
	if edit != nil {
		edit(j, &s)
	}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
	return planOf(t, j, kind, nil)
}

// settings are the plans that are walked, by kind, hold-down plan, instrument and unit.
func settings(t testing.TB) []walked {
	t.Helper()
	finds := func(with string) func(j *jobs.Job, s *jobs.Setup) {
		return func(j *jobs.Job, s *jobs.Setup) {
			s.Finds = with
			j.Machine.Probe = nil
			j.Machine.Finder = &jobs.EdgeFinder{Dia: 5, Repeat: 0.003}
		}
	}
	delivers := func(by string) func(j *jobs.Job, s *jobs.Setup) {
		return func(j *jobs.Job, s *jobs.Setup) { j.Machine.Delivers = by }
	}
	inch := readJob(t, inchJob)
	mm := func(tag string, p *fold.Plan, m much) walked { return walked{setting{tag: tag}, p, m} }
	in := func(tag string, p *fold.Plan, m much) walked { return walked{setting{tag + " inch", true}, p, m} }
	return append(append(inspections(t), makings(t)...), []walked{
		mm("T", shipped(t, "T", nil), clean|wrongly|mistaken|large|mishappens|inSlice),
		mm("M", shipped(t, "M", nil), clean|wrongly|mistaken),
		mm("S", shipped(t, "S", nil), clean|wrongly|mistaken|inSlice),
		mm("T dial", lidWith(t, finds("dial")), clean|wrongly),
		mm("T edge finder", lidWith(t, finds("edge finder")), clean|wrongly),
		mm("S pin", lidWith(t, func(j *jobs.Job, s *jobs.Setup) { finds("pin")(j, s); s.HoldDown = "S" }), clean|wrongly),
		mm("T paper", lidWith(t, finds("paper")), clean),
		mm("T rotation", lidWith(t, func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Rotation = "G68" }), clean|wrongly),
		mm("T g10", lidWith(t, delivers("g10")), clean),
		mm("T g92", lidWith(t, delivers("g92")), clean|wrongly),
		mm("T readout", lidWith(t, delivers("readout")), clean|wrongly),
		mm("T two bores", lidWith(t, func(_ *jobs.Job, s *jobs.Setup) { s.Bore2 = true }), clean|wrongly),
		mm("S bores for an edge", lidWith(t, func(j *jobs.Job, s *jobs.Setup) { s.HoldDown, s.Bore2, j.Fixture.AsMade.Edge = "S", true, nil }), clean),
		mm("T pin as datum", lidWith(t, func(j *jobs.Job, _ *jobs.Setup) { j.Fixture.AsMade.Bore.Kind = "pin" }), clean),
		mm("T square as datum", lidWith(t, func(j *jobs.Job, s *jobs.Setup) { j.Fixture.AsMade.Bore.Kind = "square" }), 0),
		mm("T floating", lidWith(t, func(_ *jobs.Job, s *jobs.Setup) { s.Floating, s.Against = true, nil }), clean|wrongly),
		mm("T finished top mirrored", lidWith(t, func(j *jobs.Job, s *jobs.Setup) { s.Z0, j.Posted, s.Flip = "finished top", "mirrored", "y" }), clean|wrongly),
		mm("T by hand", lidWith(t, func(j *jobs.Job, s *jobs.Setup) { j.Posted, j.Pace = "by hand", "known job" }), clean),
		mm("T insert", lidWith(t, func(j *jobs.Job, _ *jobs.Setup) {
			j.Fixture.Threads.Kind, j.Fixture.Threads.Pullout, j.Fixture.Threads.Source = "insert", 400, "maker"
		}), clean),
		mm("T stripped", lidWith(t, func(j *jobs.Job, _ *jobs.Setup) {
			j.Fixture.Threads.StripAngle, j.Setups[0].Cut.Ap = 200, 0.08
			j.Materials = map[string]jobs.Material{"acrylic-cast": {Tau: [2]float64{17.5, 40}, Source: "scrap"}}
		}), clean|wrongly),
		mm("T bare", lidWith(t, func(j *jobs.Job, _ *jobs.Setup) { // nothing known that need not be
			j.Machine.Tram, j.Part.Given, j.Part.Features, j.Machine.Travel, j.Machine.SquareMeasured = nil, nil, nil, nil, false
		}), clean),
		mm("T proven", shipped(t, "T", nil).AtLevel(fold.Proven), clean|wrongly|inSlice),
		mm("T first use", shipped(t, "T", nil).AtLevel(fold.FirstUse), clean|wrongly),
		mm("S first use", shipped(t, "S", nil).AtLevel(fold.FirstUse), clean),
		mm("S proven", shipped(t, "S", nil).AtLevel(fold.Proven), clean),
		mm("T irreplaceable", shipped(t, "T", nil).AtLevel(fold.Irreplaceable), clean|wrongly),
		mm("S irreplaceable", shipped(t, "S", nil).AtLevel(fold.Irreplaceable), clean),
		in("T", planOf(t, readJob(t, trayJob), "side2", nil), clean|wrongly|inSlice),
		in("T no probe", shipped(t, builtin.Inch, nil), clean|wrongly),
		in("T no probe first use", shipped(t, builtin.Inch, nil).AtLevel(fold.FirstUse), clean|mistaken),
		in("M", lidWith(t, inches(func(_ *jobs.Job, s *jobs.Setup) { s.HoldDown = "M" })), clean),
		in("T edge finder", lidWith(t, inches(finds("edge finder"))), clean),
		in("S pin", lidWith(t, inches(func(j *jobs.Job, s *jobs.Setup) { finds("pin")(j, s); s.HoldDown = "S" })), clean|wrongly),
		in("T g92", lidWith(t, inches(delivers("g92"))), clean),
		in("side 1", sideOne(t, inches(nil)), clean|wrongly),
		in("side 1 paper", sideOne(t, inches(finds("paper"))), clean),
		in("S dial", planOf(t, inch, "side2", nil), clean|wrongly|mistaken),
		mm("vacuum", shipped(t, "vacuum", nil), clean|wrongly|mistaken|mishappens),
		mm("tape", shipped(t, "tape", nil), clean|wrongly|mistaken),
		mm("soft jaws", shipped(t, "soft-jaws", nil), clean|wrongly|mistaken|mishappens),
		mm("stops", shipped(t, "stops", nil), clean|wrongly|mistaken),
		mm("stops by finder", shipped(t, "stops", func(j *jobs.Job, _ map[string]string) {
			j.Machine.Probe, j.Machine.Finder, j.Setups[0].Finds, j.Allowance = nil, &jobs.EdgeFinder{Dia: 10, Repeat: 0.005}, "edge finder", 0.1
		}), clean|wrongly),
		mm("jaws, ring", shipped(t, "soft-jaws", func(j *jobs.Job, _ map[string]string) {
			s := &j.Setups[0]
			s.Jaws.Shape, s.Jaws.Span, s.Jaws.Wrap, s.Jaws.Plug, s.Flip = "ring", 0, 75, false, "y"
		}), clean|mistaken),
		mm("jaws, no plug", shipped(t, "soft-jaws", func(j *jobs.Job, _ map[string]string) { j.Setups[0].Jaws.Plug = false }), clean),
		mm("dowel", shipped(t, "dowel-flip", nil), clean|wrongly|mistaken|mishappens|inSlice),
		mm("dowel round", shipped(t, "dowel-flip", func(j *jobs.Job, _ map[string]string) { j.Setups[0].Dowels = jobs.Dowels{Play: 0.02, Height: 15.5} }), clean),
		mm("side 1", sideOne(t, nil), clean|wrongly|mistaken|large|mishappens|inSlice),
		mm("side 1 toward", sideOne(t, func(_ *jobs.Job, s *jobs.Setup) { s.Vise.Jaw, s.Vise.Stop = "toward", "right" }), clean),
		mm("side 1 jaws low", sideOne(t, func(_ *jobs.Job, s *jobs.Setup) { s.Vise.JawTop -= 3 }), 0),
		mm("side 1 cut low", sideOne(t, func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Lowest = s.Vise.JawTop + 0.2 }), 0),
		mm("side 1 middle", sideOne(t, func(_ *jobs.Job, s *jobs.Setup) { s.Zero, s.Vise.Stop = "centre", "" }), clean|wrongly),
		mm("side 1 holes", sideOne(t, func(_ *jobs.Job, s *jobs.Setup) { s.HolesHere = true }), clean),
		mm("side 1 dial", sideOne(t, finds("dial")), clean|wrongly),
		mm("side 1 edge finder", sideOne(t, finds("edge finder")), clean|wrongly),
		mm("side 1 pin", sideOne(t, finds("pin")), clean),
		mm("side 1 paper", sideOne(t, finds("paper")), clean),
		mm("side 1 readout", sideOne(t, delivers("readout")), clean),
		mm("side 1 g92", sideOne(t, delivers("g92")), clean),
		mm("side 1 rotation", sideOne(t, func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Rotation = "G68" }), clean),
		in("side 1 edge finder", planOf(t, inch, "side1", nil), clean|wrongly|mistaken),
		mm("ball", one(t, "ball", nil), clean|wrongly|mistaken|mishappens|inSlice),
		mm("tram", one(t, "tram", nil), clean|wrongly|mistaken|mishappens|inSlice),
		mm("tram readout", one(t, "tram", func(j *jobs.Job, _ *jobs.Setup) {
			j.Machine.Foot, j.Machine.Tram = [2]float64{250, 300}, nil
		}), clean),
		in("tram", planOf(t, inch, "tram", nil), clean|wrongly),
		in("ball", one(t, "ball", func(j *jobs.Job, _ *jobs.Setup) { j.Unit = unit.Imperial }), clean),
	}...)
}

// inches is an edit whose job is in inches, its sizes as they were.
func inches(edit func(*jobs.Job, *jobs.Setup)) func(*jobs.Job, *jobs.Setup) {
	return func(j *jobs.Job, s *jobs.Setup) {
		if edit != nil {
			edit(j, s)
		}
		j.Unit = unit.Imperial
	}
}

// programmed are plans whose programs are not as shipped, one fault each (and one file that is not there).
func programmed(t testing.TB) []walked {
	t.Helper()
	var out []walked
	for _, c := range []struct {
		holdDown, role string
		edit           []string
	}{
		{"T", "top", []string{"G54", "G55"}},
		{"T", "top", []string{"G21", "G20"}},
		{"T", "top", []string{"Z14.3", "Z0.3", "Z14.15", "Z0.15", "Z14.5", "Z0.5", "Z14 ", "Z0 ", "Z14\n", "Z0\n", "Z16", "Z2", "Z20", "Z6", "Z44", "Z30", "Z64", "Z50"}},
		{"T", "drill", []string{"G54\n", "G54\nG68 X0 Y0 R0.5\n"}},
		{"T", "top", []string{"T3 M6", "T9 M6", "H3", "H9"}},
		{"T", "top", []string{"H3", "H5"}},
		{"T", "top", []string{"S11000 M3", "S11000 M5"}},
		{"T", "top", []string{"G0 Z44", "G0 Z44\nG92 X1"}},
		{"T", "top", []string{"G0 Z64\nM5", "G0 Z64\nX-300\nM5"}},
		{"T", "top", []string{"X-4 Y-1.5\nZ16\nG1 Z14.3", "X20 Y20\nZ12\nX-4 Y-1.5\nG1 Z14.3"}},
		{"T", "drill", []string{"Z-1.07 R5", "Z-1.6 R18"}},
		{"T", "top", []string{"G40 ", "G41 D3 "}},
		{"T", "drill", []string{"M30\n%\n", ""}},
		{"T", "drill", []string{"G0 Z44", "G0 Z28"}},
		{"T", "drill", []string{"X8 Y8\nG98", "X4 Y38\nG98", "G83 X8 Y8 Z-1.07 R5", "G83 X4 Y38 Z-1.07 R18"}},
		{"M", "drill", []string{"Q1 F60\nX55\nX102\n", "Q1 F60\nX55\nX102 Y18 R18\n"}},
		{"S", "top", []string{"G0 Z64\nM5", "X114 Y38\nG1 Z7 F300\nG0 Z64\nM5"}},
		{"S", "top", []string{"G0 Z64\nM5", "X102 Y68\nG1 Z4 F300\nG0 Z64\nM5"}},
		{"S", "top", []string{"Z14.3", "Z14.05"}},
		{"T", "top", nil},
	} {
		p := shipped(t, c.holdDown, func(_ *jobs.Job, texts map[string]string) {
			if c.edit == nil {
				delete(texts, c.role)
				return
			}
			texts[c.role] = replaced(t, texts[c.role], c.edit)
		})
		out = append(out, walked{setting{tag: c.holdDown}, p, clean})
	}
	return slices.Clip(out)
}
