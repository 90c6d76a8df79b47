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
	p, err := steps.NewPlan(deskJob(t, edits...), "side2", nil)
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

func TestDeskFindings(t *testing.T) {
	// Walnut's movement over 96 mm is the largest line: the allowance that tells the two
	// ways of holding apart lies between their guards.
	_, d := onDesk(t)
	_, _, vw, gw := kit.WorstFeature(d.Walls)
	_, _, vf, gf := kit.WorstFeature(d.Floating)
	if gw >= gf {
		t.Fatalf("guard against walls %v, floating %v", gw, gf)
	}
	between := fmt.Sprintf("allowance: %.4f", (vw+gw+vf+gf)/2)
	for _, c := range []struct {
		name  string
		edits []string
		want  string
	}{
		{"floating", []string{walls, floating, "allowance: 0.05", between}, "cannot be proven with a floating part; against two walls it can"},
		{"walls", []string{"allowance: 0.05", between}, "can be proven against two walls; with a floating part it could not"},
		{"neither", []string{"allowance: 0.05", "allowance: 0.005"}, "cannot be proven against two walls: "},
		{"floating, neither", []string{walls, floating, "allowance: 0.05", "allowance: 0.005"}, "nor against two walls"},
		{"no tram", []string{"tram: {x: 0.010/300, y: 0.006/300}\n", ""}, "tram is not on the machine card"},
		{"no squareness", []string{"squareness: 0.010/100\n", ""}, "squareness is not on its card"},
	} {
		_, d := onDesk(t, c.edits...)
		if !strings.Contains(strings.Join(d.Findings, "\n"), c.want) {
			t.Errorf("%s: findings %q, want %q", c.name, d.Findings, c.want)
		}
	}
}
