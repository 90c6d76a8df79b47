package steps_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"
)

// folder are programs beside a job, as they may be exchanged while it is walked.
type folder map[string]fold.ProgramFile

func (f folder) watched(p *fold.Plan) *fold.Plan {
	p.Watch(func(role string, _ fold.ProgramFile) (fold.ProgramFile, bool) { x, ok := f[role]; return x, ok })
	return p
}

// shelf are the shipped programs of a plan in a folder, one edited.
func shelf(t *testing.T, holdDown string, edit func(role, text string) string) (*fold.Plan, folder) {
	t.Helper()
	j, files := programsOf(t, holdDown, edit)
	p, err := steps.NewPlan(j, "side2", files)
	if err != nil {
		t.Fatal(err)
	}
	f := folder(files)
	return f.watched(p), f
}

// toStep walks until the step is at its decision, or done.
func toStep(t *testing.T, k *bench.Walk, id fold.StepID) *fold.StepState {
	t.Helper()
	if _, err := k.Until(func(st *fold.State) bool {
		ss, ok := st.Step(id)
		return ok && (ss.Verdict.OK() || st.Cursor.Step == id && st.Cursor.Decide)
	}); err != nil {
		t.Fatal(err)
	}
	ss, ok := k.State().Step(id)
	if !ok {
		t.Fatalf("%s was not reached: at %+v, %s", id, k.State().Cursor, k.Words)
	}
	return ss
}

// A program that nobody read is not proven; a record of before only noted it.
func TestAProgramNobodyReadIsNotProven(t *testing.T) {
	p, f := shelf(t, "S", asShipped)
	clear(f)
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	ss := toStep(t, k, "program")
	if c := checkOf(t, ss, "program.top.read"); c.Verdict != fold.NotProven || c.Limit.Class != fold.Soft || ss.Verdict != fold.NotProven {
		t.Errorf("not read: %v %v, the step is %v", c.Verdict, c.Limit.Class, ss.Verdict)
	}
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("with a reason given: held at %v, %v", k.HeldAt, err)
	}
	if w := k.State().Waivers; len(w) != 1 || w[0].Limit != "program.top.read" || w[0].Reason == "" {
		t.Errorf("waivers %+v", w)
	}
}

// What was read stands in the record and is judged there: without the files, and with others, it means the same.
func TestTheReadingIsJudgedNotTheFile(t *testing.T) {
	for name, edit := range map[string]func(string, string) string{"passes": asShipped, "fails": only(t, "top", "G54", "G55")} {
		p, f := shelf(t, "S", edit)
		k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
		_ = toStep(t, k, map[string]fold.StepID{"passes": "deck", "fails": "program"}[name])
		var read []string
		for _, e := range k.Events {
			if e.By == fold.BySelf {
				read = append(read, e.Read)
				if !strings.HasPrefix(e.Value, "top.nc: ") || !strings.Contains(e.Value, "checksum "+f["top"].Hash) || len(e.Value) > 4000 {
					t.Errorf("%s: the reading is %q", name, e.Value)
				}
			}
		}
		if len(read) == 0 || read[0] != "side2/program/1/top.read" {
			t.Fatalf("%s: read were %v", name, read)
		}
		want := k.State()
		for other, files := range map[string]folder{"gone": {}, "another": {"top": programFile("top.nc", "%\nG21\nM30\n")}} {
			q := files.watched(p.WithPrograms(files))
			if other == "gone" {
				j, _ := programsOf(t, "S", asShipped)
				var err error
				if q, err = steps.NewPlan(j, "side2", nil); err != nil {
					t.Fatal(err)
				}
			}
			st := fold.Fold(q, k.Events)
			for _, id := range []fold.StepID{"program", "deck"} {
				a, _ := want.Step(id)
				b, _ := st.Step(id)
				if a.Verdict != b.Verdict || len(a.Outcome.Checks) != len(b.Outcome.Checks) {
					t.Errorf("%s, the file %s: %s is %v, was %v", name, other, id, b.Verdict, a.Verdict)
				}
			}
		}
	}
}

// A program that failed and then is gone, or exchanged for one that was not read, does not come to pass by itself.
func TestAFailedProgramThatIsGone(t *testing.T) {
	p, f := shelf(t, "S", only(t, "top", "G54", "G55"))
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	if ss := toStep(t, k, "program"); ss.Verdict != fold.Fail {
		t.Fatalf("for another offset: %v", ss.Verdict)
	}
	bad := f["top"]
	clear(f)
	again, err := k.State().Again()
	if err != nil {
		t.Fatal(err)
	}
	if err := k.Add(again...); err != nil {
		t.Fatal(err)
	}
	ss := toStep(t, k, "program")
	if c := checkOf(t, ss, "program.top.read"); c.Verdict != fold.Fail || c.Limit.Class != fold.Hard || !strings.Contains(c.Words, bad.Hash) {
		t.Errorf("gone after it failed: %+v", c)
	}
	j, files := programsOf(t, "S", asShipped)
	_ = j
	f["top"] = files["top"]
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Errorf("with a good file: held at %v: %s, %v", k.HeldAt, k.Words, err)
	}
}

// A file exchanged between its check and the cut is not the one that was checked.
func TestAProgramExchangedAfterItsCheck(t *testing.T) {
	p, f := shelf(t, "S", asShipped)
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "deck" }); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, from, to string }{
		{"harmless", "F440", "F450"},
		{"into a screw head", "G0 Z64\nM5", "X102 Y68\nG1 Z4 F300\nG0 Z64\nM5"},
	} {
		q := *k
		text := strings.Replace(string(f["top"].Data), c.from, c.to, 1)
		was := f["top"]
		f["top"] = programFile("top.nc", text)
		deck := toStep(t, k, "deck")
		if x := checkOf(t, deck, "program.top.file"); x.Verdict != fold.Fail || x.Limit.Class != fold.Never || !strings.Contains(x.Words, f["top"].Hash) {
			t.Errorf("%s: %+v", c.name, x)
		}
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		if st := k.State(); st.Released != (c.name == "harmless") {
			t.Errorf("%s: released %v, at %+v: %s", c.name, st.Released, st.Cursor, k.Words)
		}
		f["top"] = was
		_ = q
		if c.name == "harmless" {
			k = bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
			if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "deck" }); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A program posted again after the release takes the release back, and what stands on the table is held against the new one.
func TestRepostedProgramCounts(t *testing.T) {
	p, f := shelf(t, "S", asShipped)
	cards := jobs.Flatten(p.Job)
	for k, v := range checks.ProgramCards(p) {
		cards[k] = v
	}
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), cards)
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("not released: %v", err)
	}
	text := strings.Replace(string(f["top"].Data), "G0 Z64\nM5", "X102 Y68\nG1 Z4 F300\nG0 Z64\nM5", 1)
	f["top"] = programFile("top.nc", text)
	es := []jobs.Event{{Plan: p.Job.Hash, Cards: map[string]string{"program.side2.top.hash": f["top"].Hash}, Changed: []string{"program.side2.top.hash"}}, {Mishap: "side2/program-reposted"}}
	if err := k.Add(es...); err != nil {
		t.Fatal(err)
	}
	if st := k.State(); st.Released || st.Cursor.Step != "program" {
		t.Errorf("released %v, at %s", st.Released, st.Cursor.Step)
	}
	if _, ok := k.State().Fact("program/top"); ok {
		t.Error("the old check still stands")
	}
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	if k.HeldAt == nil || *k.HeldAt != "deck" {
		t.Errorf("into a screw head: held at %v, released %v", k.HeldAt, k.State().Released)
	}
}

// A travel put right on the card costs one more look at the files, and no answer of the person.
func TestAJobEditReadsTheFilesAgain(t *testing.T) {
	p, _ := shelf(t, "S", asShipped)
	cards := jobs.Flatten(p.Job)
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), cards)
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("held at %v: %s %v", k.HeldAt, k.Words, err)
	}
	before := len(k.Events)
	edit := jobs.Event{Plan: "edited", Cards: map[string]string{"machine.travel.z.1": cards["machine.travel.z.1"] + "0"}, Changed: []string{"machine.travel.z.1"}}
	if err := k.Add(edit); err != nil {
		t.Fatal(err)
	}
	if st := k.State(); st.Released || st.Cursor.Step != "program" || !st.Cursor.Decide {
		t.Fatalf("after the edit: released %v, at %+v", st.Released, st.Cursor)
	}
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("held at %v: %s %v", k.HeldAt, k.Words, err)
	}
	var fresh []string
	for _, e := range k.Events[before+1:] {
		if e.Read+e.Answer != "" && e.By != fold.BySelf {
			fresh = append(fresh, e.Read+e.Answer)
		}
	}
	if slices.ContainsFunc(fresh, func(a string) bool { return strings.Contains(a, "/program/") }) {
		t.Errorf("asked again were %v", fresh)
	}
}

// The page of a record shows the checksum that was judged, and says when another file lies there now.
func TestTheReportShowsWhatWasJudged(t *testing.T) {
	p, f := shelf(t, "S", asShipped)
	k := walkOf(t, p)
	judged := f["top"].Hash
	f["top"] = programFile("top.nc", "%\nG21\nM30\n")
	for name, q := range map[string]*fold.Plan{"edited": p.WithPrograms(f), "gone": must(steps.NewPlan(p.Job, "side2", nil))} {
		st := fold.Fold(q, k.Events)
		if !st.Released {
			t.Fatalf("%s: not released", name)
		}
		log := steps.NewLog()
		for _, e := range k.Events {
			log.Apply(e)
		}
		r := report.Make(log, q, report.About{})
		if len(r.Programs) != 1 || r.Programs[0].Checksum != judged || r.Programs[0].Verdict != "PASS" {
			t.Errorf("%s: programs %+v, judged was %s", name, r.Programs, judged)
		}
		if says := strings.Join(strings.Fields(r.Text()), " "); (name == "edited") != strings.Contains(says, "CHANGED SINCE, now "+f["top"].Hash) || (name == "gone") != strings.Contains(says, "the file is not there now") {
			t.Errorf("%s: the page says %q", name, says)
		}
	}
}

func must(p *fold.Plan, err error) *fold.Plan {
	if err != nil {
		panic(err)
	}
	return p
}
