package steps_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// golden compares text with a file of testdata; UPDATE=1 accepts it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := "testdata/" + name
	if os.Getenv("UPDATE") != "" {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run UPDATE=1 go test ./steps and look at the file", err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run UPDATE=1 go test ./steps and look at the change.\n--- got\n%s", path, got)
	}
}

func join(fs []fold.FactID) string {
	var out []string
	for _, f := range fs {
		out = append(out, string(f))
	}
	return strings.Join(out, " ")
}

// stepTable prints the steps of a plan with what they stand on and make.
func stepTable(p *fold.Plan) string {
	var b strings.Builder
	row := func(s *fold.Spec, off bool) {
		id := string(s.ID)
		if off {
			id = "(" + id + ")"
		}
		fmt.Fprintf(&b, "%-14s", id)
		for _, c := range []struct {
			name string
			fs   []fold.FactID
		}{{"live", restsOn(s, fold.AtOnce, fold.Always)}, {"as read", restsOn(s, fold.AsItWas, fold.Always)}, {"wants", restsOn(s, fold.AsItWas, fold.OnceBegun)},
			{"binds", restsOn(s, fold.AtOnce, fold.NotWaited)}, {"makes", s.Makes}, {"lifts", s.Lifts()}, {"may make", s.Remakes()}} {
			if len(c.fs) > 0 {
				fmt.Fprintf(&b, " | %s: %s", c.name, join(c.fs))
			}
		}
		if len(s.Raises) > 0 {
			fmt.Fprintf(&b, " | raises: %v", s.Raises)
		}
		if s.Bare != fold.PartMayStay {
			fmt.Fprintf(&b, " | bare: %s", map[fold.Bare]string{fold.UnlessSeated: "unless seated", fold.OnceSeated: "once seated", fold.PartMustBeOut: "always"}[s.Bare])
		}
		if s.Pause != nil {
			fmt.Fprintf(&b, " | pause: %s", s.Pause.Heading)
		}
		b.WriteString("\n")
	}
	for _, s := range p.Line {
		row(s, false)
	}
	for _, s := range p.Off {
		row(s, true)
	}
	return b.String()
}

func TestStepTable(t *testing.T) {
	var b strings.Builder
	for _, plan := range []string{"T", "M", "S"} {
		fmt.Fprintf(&b, "second side, hold-down %s\n\n%s\n", plan, stepTable(lidPlan(t, func(j *jobs.Job) { j.Setups[0].HoldDown = plan })))
	}
	fmt.Fprintf(&b, "dowel flip, hold-down S\n\n%s\n", stepTable(practicePlan(t, "dowel-flip")))
	fmt.Fprintf(&b, "soft jaws\n\n%s\n", stepTable(practicePlan(t, "soft-jaws")))
	fmt.Fprintf(&b, "second side, hold-down V\n\n%s\n", stepTable(practicePlan(t, "vacuum")))
	fmt.Fprintf(&b, "inspect\n\n%s\n", stepTable(practicePlan(t, "inspect")))
	fmt.Fprintf(&b, "fixture\n\n%s\n", stepTable(practicePlan(t, "fixture")))
	fmt.Fprintf(&b, "reuse\n\n%s\n", stepTable(practicePlan(t, "reuse")))
	first := side1Plan(t, func(_ *jobs.Job, s *jobs.Setup) { s.HolesHere = true })
	fmt.Fprintf(&b, "first side\n\n%s\n", stepTable(first))
	for _, kind := range []string{kit.TramKind, kit.BallKind} {
		j := *first.Job
		j.Setups = []jobs.Setup{{Name: kind, Kind: kind}}
		p, err := steps.NewPlan(&j, kind, nil)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "%s\n\n%s\n", kind, stepTable(p))
	}
	golden(t, "steps.golden", b.String())
}

func TestMishapTable(t *testing.T) {
	var b strings.Builder
	fmt.Fprintf(&b, "%-18s", "")
	for _, c := range facts.Mishaps.Columns {
		fmt.Fprintf(&b, " %s", c)
	}
	b.WriteString("\n")
	for i := range facts.Mishaps.Rows {
		m := &facts.Mishaps.Rows[i]
		fmt.Fprintf(&b, "%-18s", m.ID)
		for _, c := range facts.Mishaps.Columns {
			cell := string(m.Cell(c))
			if s := m.Recheck(c); s != "" {
				cell += ":" + string(s)
			}
			fmt.Fprintf(&b, " %-*s", len(c), cell)
		}
		b.WriteString("\n")
	}
	golden(t, "mishaps.golden", b.String())
}

// The cells hold the net effect, so where a fact rests live on another its cell
// may not be milder than the other's: only "comes back with" may stand for R.
func TestCellsAgreeWithLiveArrows(t *testing.T) {
	n := 0
	for _, plan := range []string{"T", "M", "S"} {
		p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].HoldDown = plan })
		for _, s := range append(append([]*fold.Spec{}, p.Line...), p.Off...) {
			for _, f := range s.Makes {
				if !slices.Contains(facts.Mishaps.Columns, f.Column()) {
					continue
				}
				for _, g := range restsOn(s, fold.AtOnce, fold.Always) {
					if !slices.Contains(facts.Mishaps.Columns, g.Column()) {
						continue
					}
					for i := range facts.Mishaps.Rows {
						m := &facts.Mishaps.Rows[i]
						n++
						over, under := m.Cell(f), m.Cell(g)
						if !m.Hits(g, "") {
							continue // of another tool
						}
						if under == fold.V && over != fold.V || (under == fold.R || under == fold.D) && over == fold.Untouched {
							t.Errorf("%s: %s is %c but rests live on %s, which is %c", m.ID, f, over, g, under)
						}
					}
				}
			}
		}
	}
	if n == 0 {
		t.Fatal("nothing compared")
	}
}

// Every R has a recheck in the plan or can be made again; every fact a step stands on is made by a step or given.
func TestEveryFactHasAMaker(t *testing.T) {
	for _, plan := range []string{"T", "M", "S"} {
		p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].HoldDown = plan })
		given := map[fold.FactID]bool{}
		for _, f := range p.Given() {
			given[f.ID] = true
		}
		for _, s := range append(append([]*fold.Spec{}, p.Line...), p.Off...) {
			for _, f := range s.Stands() {
				if len(p.Makers(f)) == 0 && !given[f] && f != facts.AMounting {
					t.Errorf("%s: %s stands on %s, which nothing makes", plan, s.ID, f)
				}
			}
		}
	}
}

// No fact that one setup hands to another comes back with others: handed facts have V or R only.
func TestNoHandedFactComesBackWithAnother(t *testing.T) {
	n := 0
	for _, k := range steps.House.Kinds {
		for _, f := range k.Hands {
			for i := range facts.Mishaps.Rows {
				if n++; facts.Mishaps.Rows[i].Cell(f) == fold.D {
					t.Errorf("%s of %s is D at %s", f, k.Name, facts.Mishaps.Rows[i].ID)
				}
			}
		}
	}
	if n == 0 {
		t.Error("nothing compared")
	}
}

// restsOn lists what a step rests on in one way.
func restsOn(s *fold.Spec, r fold.Rests, w fold.Waits) (out []fold.FactID) {
	for _, n := range s.Needs {
		if n.Rests == r && n.Waits == w {
			out = append(out, n.Fact)
		}
	}
	return out
}
