package steps_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// deskJob is the example job with lines of its files replaced.
func deskJob(t *testing.T, edits ...string) *jobs.Job {
	t.Helper()
	texts := map[string]string{}
	for _, name := range []string{"lid.job.yaml", "bench.machine.yaml", "lid.fixture.yaml"} {
		b, err := os.ReadFile(filepath.Join("..", "testdata", "lid", name))
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = strings.NewReplacer(edits...).Replace(string(b))
	}
	j, faults := jobs.ReadJob(jobs.Mem(texts), "lid.job.yaml")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

func onDesk(t *testing.T, edits ...string) (*fold.Plan, desk.Desk) {
	t.Helper()
	j := deskJob(t, edits...)
	j.Fixture.Material = "aluminium-6061-t6" // no damp moves it
	p, err := steps.NewPlan(j, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p, desk.AtDesk(p)
}

const walls, floating = "against: [left, away]       # the two walls the part is pushed against", "floating: true"

func TestDeskFloatingPartCostsTheClearance(t *testing.T) {
	_, d := onDesk(t)
	if len(d.AsJob) != 2 || len(d.Floating) != 2 || len(d.Walls) != 2 {
		t.Fatalf("features: %d as the job, %d floating, %d walls", len(d.AsJob), len(d.Floating), len(d.Walls))
	}
	for i := range d.AsJob {
		for a := range d.AsJob[i].U {
			if d.AsJob[i].U[a] != d.Walls[i].U[a] {
				t.Errorf("%s: the job stands against walls, U is %v and %v", d.AsJob[i].Name, d.AsJob[i].U, d.Walls[i].U)
			}
			if math.Abs(d.AsJob[i].Error[a]) > 2*1e-4*64/2+1e-9 { // what squareness leaves at a wall on the middle line
				t.Errorf("%s: nominal readings leave an error of %v", d.AsJob[i].Name, d.AsJob[i].Error)
			}
		}
		// At the hinge bore both levers are short, so that the pocket's clearance of 0.020
		// stands against a wall contact of 0.005 alone.
		if d.Floating[0].U[i] <= d.Walls[0].U[i] {
			t.Errorf("floating gives %v, two walls %v", d.Floating[0].U, d.Walls[0].U)
		}
	}
	if len(d.Findings) != 0 {
		t.Errorf("findings of a sound job: %q", d.Findings)
	}
}

// The desk holds each limit of the walk against the instrument that reads it, and does not call provable what no walk
// passes: at 0.02 none squares the fixture by a dial of 0.002 (over its run 0.001 is left); a pin shows no shift of 0.01.
// What the walks do is walked in steps/bench.
func TestDeskHoldsLimitsAgainstInstruments(t *testing.T) {
	finder := []string{"finds: probe", "finds: edge finder", "dial: {graduation: 0.002}", "dial: {graduation: 0.002}\nedge-finder: {dia: 5, repeat: 0.003}"}
	for _, c := range []struct {
		name  string
		edits []string
		fails string // "" where all can be proven
	}{
		{"probe, 0.05", nil, ""},
		{"probe, 0.03", []string{"allowance: 0.05", "allowance: 0.03"}, ""},
		{"probe, 0.02", []string{"allowance: 0.05", "allowance: 0.02"}, "square.skew"},
		{"probe, floating, 0.02", []string{walls, floating, "allowance: 0.05", "allowance: 0.02"}, "square.skew"},
		{"dial, 0.02", []string{"finds: probe", "finds: dial", "allowance: 0.05", "allowance: 0.02"}, "square.skew"},
		{"edge finder, 0.05", finder, ""},
		{"edge finder, 0.025", append([]string{"allowance: 0.05", "allowance: 0.025"}, finder...), "shift.register"},
		{"pin, 0.05", []string{"finds: probe", "finds: pin"}, "shift.register"},
		{"dial of 0.02, S", []string{"hold-down: T", "hold-down: S", "graduation: 0.002", "graduation: 0.02"}, "screws.shift.x"},
		{"dial of 0.02", []string{"graduation: 0.002", "graduation: 0.02"}, "screws.round"},
	} {
		_, d := onDesk(t, c.edits...)
		failed := ""
		for _, k := range d.Checks {
			if k.Limit.ID == c.fails && k.Verdict == fold.NotProven {
				failed = c.fails
			}
		}
		said := strings.Join(d.Findings, "\n")
		if failed != c.fails || (d.Verdict() == fold.Pass) != (c.fails == "") || c.fails != "" && strings.Contains(said, "can be proven") {
			t.Errorf("%s: %v %q, want %s\n%+v", c.name, d.Verdict(), d.Findings, c.fails, d.Checks)
		}
	}
}

func TestDeskFindings(t *testing.T) {
	// A micrometer's doubt of the part's width is small: the allowance that tells the two ways of holding
	// apart lies between their guards, where the walk can still square the fixture.
	_, d := onDesk(t)
	_, _, vw, gw := kit.WorstFeature(d.Walls)
	_, _, vf, gf := kit.WorstFeature(d.Floating)
	if gw >= gf {
		t.Fatalf("guard against walls %v, floating %v", gw, gf)
	}
	between := fmt.Sprintf("allowance: %.4f", 0.03*(vw+gw)+0.97*(vf+gf))
	for _, c := range []struct {
		name  string
		edits []string
		want  string
	}{
		{"floating", []string{walls, floating, "allowance: 0.05", between}, "cannot be proven with a floating part; against two walls it can."},
		{"walls", []string{"allowance: 0.05", between, "graduation: 0.002", "graduation: 0.0005"}, "can be proven against two walls; with a floating part it could not"},
		{"neither", []string{"allowance: 0.05", "allowance: 0.005"}, "cannot be proven against two walls: "},
		{"floating, neither", []string{walls, floating, "allowance: 0.05", "allowance: 0.005"}, "cannot be proven with a floating part: "},
		{"no tram", []string{"tram: {x: 0.010/300, y: 0.006/300}\n", ""}, "tram is not on the machine card"},
		{"no squareness", []string{"squareness: 0.010/100\n", ""}, "squareness is not on its card"},
	} {
		_, d := onDesk(t, c.edits...)
		if !strings.Contains(strings.Join(d.Findings, "\n"), c.want) {
			t.Errorf("%s: findings %q, want %q", c.name, d.Findings, c.want)
		}
	}
}
