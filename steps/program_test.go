package steps_test

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// programsOf are the built-in job of a hold-down plan and its programs, each text edited first.
func programsOf(t testing.TB, holdDown string, edit func(role, text string) string) (*jobs.Job, map[string]fold.ProgramFile) {
	t.Helper()
	texts, err := builtin.Texts(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	j, err := builtin.Job(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]fold.ProgramFile{}
	for _, g := range j.Setups[0].Programs {
		files[g.Role] = programFile(g.File, edit(g.Role, texts[g.File]))
	}
	return j, files
}

func programFile(name, text string) fold.ProgramFile {
	sum := sha256.Sum256([]byte(text))
	return fold.ProgramFile{Name: name, Hash: hex.EncodeToString(sum[:])[:16], Data: []byte(text)}
}

func asShipped(_, text string) string { return text }

func planWith(t testing.TB, holdDown string, edit func(role, text string) string) *fold.Plan {
	t.Helper()
	j, files := programsOf(t, holdDown, edit)
	p, err := steps.NewPlan(j, "side2", files)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// only edits one role's program; the text to be replaced has to be there.
func only(t testing.TB, role string, pairs ...string) func(string, string) string {
	return func(r, text string) string {
		if r != role {
			return text
		}
		for i := 0; i < len(pairs); i += 2 {
			if !strings.Contains(text, pairs[i]) {
				t.Fatalf("%s has no %q", role, pairs[i])
			}
			text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
		}
		return text
	}
}

func walkOf(t testing.TB, p *fold.Plan) *bench.Walk {
	t.Helper()
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	return k
}

// The shipped programs pass in all plans, and their boxes are the facts.
func TestProgramsArePassed(t *testing.T) {
	for _, hd := range []string{"T", "M", "S"} {
		st := walkOf(t, planWith(t, hd, asShipped)).State()
		if !st.Released {
			t.Fatalf("plan %s is held at %s", hd, st.Cursor.Step)
		}
		want := map[fold.FactID][]float64{"program/top": {-4, -5, 8.6, 114, 78, 64}}
		switch hd {
		case "T":
			want["program/drill"] = []float64{8, 8, -1.07, 102, 68, 64}
		case "M":
			want["program/drill"] = []float64{8, 8, -12.4, 102, 68, 64}
		}
		for id, box := range want {
			f, ok := st.Fact(id)
			if !ok || len(f.Value) < 6 || !slices.EqualFunc(f.Value[:6], box, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
				t.Errorf("plan %s: %s is %v, want %v", hd, id, f.Value, box)
			}
		}
		deck, _ := st.Step("deck")
		if c := checkOf(t, deck, "program.top.step.3"); c.Verdict != fold.Pass || math.Abs(c.Got-0.2) > 1e-6 { // a turn round the outside; the top goes down by 0.15 at most
			t.Errorf("plan %s: deepest step %v %v, want 0.2 PASS", hd, c.Got, c.Verdict)
		}
	}
}

func checkOf(t testing.TB, ss *fold.StepState, id string) fold.Check {
	t.Helper()
	var have []string
	for _, c := range ss.Outcome.Checks {
		if c.Limit.ID == id {
			return c
		}
		have = append(have, c.Limit.ID)
	}
	t.Errorf("%s has no check %s; it has %s", ss.ID, id, strings.Join(have, " "))
	return fold.Check{}
}

// What is wrong in a program is found where its moves are first held against the setup, with its line.
func TestProgramFindings(t *testing.T) {
	g68 := "G54\nG68 X0 Y0 R0.5\n"
	for _, c := range []struct {
		name, holdDown, role string
		edit                 []string
		step                 fold.StepID
		limit                string
		verdict              fold.Verdict
		class                fold.Class
		named, words         string
	}{
		{"another offset", "T", "top", []string{"G54", "G55"}, "program", "program.top.offset", fold.Fail, fold.Never, "other-offset-number", "Line 6: G55"},
		{"inches", "T", "top", []string{"G21", "G20"}, "program", "program.top.units", fold.Fail, fold.Never, "", "Line 5"},
		{"other Z0", "T", "top", []string{"Z14.3", "Z0.3", "Z14.15", "Z0.15", "Z14.5", "Z0.5", "Z14 ", "Z0 ", "Z14\n", "Z0\n", "Z16", "Z2", "Z20", "Z6", "Z44", "Z30", "Z64", "Z50"},
			"program", "program.top.other-z0", fold.Fail, fold.Never, "z0-other", "posted for Z0 = finished top"},
		{"rotation left on", "T", "drill", []string{"G54\n", g68}, "program", "program.drill.rotation", fold.Fail, fold.Never, "rotation-left-active", "Line 7"},
		{"unknown tool", "T", "top", []string{"T3 M6", "T9 M6", "H3", "H9"}, "program", "program.top.tool-list", fold.Fail, fold.Hard, "", "T9"},
		{"another length", "T", "top", []string{"H3", "H5"}, "program", "program.top.length-register", fold.Fail, fold.Hard, "", "H5 with T3"},
		{"spindle stopped", "T", "top", []string{"S11000 M3", "S11000 M5"}, "program", "program.top.spindle", fold.Fail, fold.Hard, "", "spindle stopped"},
		{"zero moved", "T", "top", []string{"G0 Z44", "G0 Z44\nG92 X1"}, "program", "program.top.zero-shift", fold.Fail, fold.Hard, "", "G92"},
		{"past the travel", "T", "top", []string{"G0 Z64\nM5", "G0 Z64\nX-300\nM5"}, "program", "program.top.travel", fold.Fail, fold.Never, "", "past the travel"},
		{"rapid into the part", "T", "top", []string{"X-4 Y-1.5\nZ16\nG1 Z14.3", "X20 Y20\nZ12\nX-4 Y-1.5\nG1 Z14.3"}, "program", "program.top.rapid-in-part", fold.Fail, fold.Never, "", "Line 13"},
		{"through the fixture", "T", "drill", []string{"Z-1.07 R5", "Z-1.6 R18"}, "program", "program.drill.floor", fold.Fail, fold.Never, "", "0.1000 below the lowest Z allowed, -1.5000"},
		{"compensation", "T", "top", []string{"G40 ", "G41 D3 "}, "program", "program.top.compensation.unproven", fold.NotProven, fold.Soft, "", "Line 5"},
		{"cut off", "T", "drill", []string{"M30\n%\n", ""}, "program", "program.drill.no-end.refused", fold.Fail, fold.Hard, "", "is the file whole"},
		{"over a strap", "T", "drill", []string{"G0 Z44", "G0 Z28"}, "straps", "program.drill.clamp-right", fold.Fail, fold.Hard, "", "Line 15: the tool of T5 passes over clamp right"},
		{"a hole under a strap", "T", "drill", []string{"X8 Y8\nG98", "X4 Y38\nG98", "G83 X8 Y8 Z-1.07 R5", "G83 X4 Y38 Z-1.07 R18"}, "straps", "program.drill.clamp-left", fold.Fail, fold.Never, "", "Line 12: the tool of T5 hits clamp left"},
		{"a holder at a strap", "M", "drill", []string{"Q1 F60\nX55\nX102\n", "Q1 F60\nX55\nX102 Y18 R18\n"}, "straps", "program.drill.clamp-right", fold.Fail, fold.Never, "", "the holder of T4 hits"},
		{"into the rim", "S", "top", []string{"G0 Z64\nM5", "X114 Y38\nG1 Z7 F300\nG0 Z64\nM5"}, "deck", "program.top.fixture-RIGHT-of-the-pocket", fold.Fail, fold.Never, "", "the tool of T3 hits fixture RIGHT"},
		{"through a screw head", "S", "top", []string{"G0 Z64\nM5", "X102 Y68\nG1 Z4 F300\nG0 Z64\nM5"}, "deck", "program.top.head-of-screw-4", fold.Fail, fold.Never, "", "the tool of T3 hits head of screw 4"},
		{"a step too deep", "S", "top", []string{"Z14.15 F180", "Z13.9 F180"}, "deck", "program.top.step.3", fold.NotProven, fold.Hard, "", "cuts 0.400 mm deep, 1.250 mm wide; held 0.324 mm"},
		{"a step too deep, before a hole is drilled", "T", "top", []string{"Z14.15 F180", "Z13.9 F180"}, "straps", "program.top.step.3", fold.NotProven, fold.Hard, "", "cuts 0.400 mm deep, 1.250 mm wide; held 0.324 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			k := walkOf(t, planWith(t, c.holdDown, only(t, c.role, c.edit...)))
			st := k.State()
			if k.HeldAt == nil || *k.HeldAt != c.step {
				t.Fatalf("held at %v, want %s", st.Cursor.Step, c.step)
			}
			ss, _ := st.Step(c.step)
			got := checkOf(t, ss, c.limit)
			if got.Verdict != c.verdict || got.Limit.Class != c.class || !strings.Contains(got.Words, c.words) {
				t.Errorf("%v %v %q, want %v %v %q", got.Verdict, got.Limit.Class, got.Words, c.verdict, c.class, c.words)
			}
			if ss.Outcome.Named != c.named {
				t.Errorf("named %q, want %q", ss.Outcome.Named, c.named)
			}
			if len(ss.Outcome.Next) == 0 || ss.Outcome.Next[0].Do != "post" {
				t.Errorf("next is %v", ss.Outcome.Next)
			}
		})
	}
}

// The word that the control shows is asked although the file is right.
func TestLoadedProgramIsAsked(t *testing.T) {
	p := planWith(t, "T", asShipped)
	w := bench.NewWorld(p, 7, bench.Effects{})
	if err := w.Make("other-offset-number", 0); err != nil {
		t.Fatal(err)
	}
	k := bench.NewWalk(p, w, nil)
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	found := false
	for _, f := range k.Failed {
		found = found || f.Step == "program" && strings.HasSuffix(f.Limit, ".word") || f.Step == "offset" && f.Limit == "pause"
	}
	if !found {
		t.Errorf("failed %v", k.Failed)
	}
}

// Strict reading refuses the usual safety line; lenient reading takes it.
func TestDialectOfPrograms(t *testing.T) {
	safety := only(t, "top", "G17 G21", "G0 G17 G21")
	for _, dialect := range []string{"strict", "lenient", ""} {
		j, files := programsOf(t, "S", safety)
		j.Machine.Dialect = dialect
		p, err := steps.NewPlan(j, "side2", files)
		if err != nil {
			t.Fatal(err)
		}
		k := walkOf(t, p)
		st := k.State()
		ss, _ := st.Step("program")
		if refused := ss.Verdict != fold.Pass; refused != (dialect == "strict") {
			t.Errorf("dialect %q: %v %+v", dialect, ss.Verdict, ss.Outcome.Checks)
		}
	}
}

// The path is drawn where the program cuts, and what it hits is marked.
func TestProgramPicture(t *testing.T) {
	p := planWith(t, "T", only(t, "drill", "X8 Y8\nG98", "X4 Y38\nG98", "G83 X8 Y8 Z-1.07 R5", "G83 X4 Y38 Z-1.07 R18"))
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "straps" && st.Cursor.Decide }); err != nil || !ok {
		t.Fatalf("did not get there: %v", err)
	}
	pg := k.State().Page()
	path, marked := 0, map[string]bool{}
	for _, s := range pg.Scene.Shapes {
		switch s.Role {
		case fold.RolePath:
			path += len(s.Points)
		case fold.RoleConflict:
			marked[s.Name] = true
		}
	}
	if path < 4 || !marked["clamp left"] || !marked["line 12"] {
		t.Errorf("%d places of the path, marked %v", path, marked)
	}
}
