package main

import (
	"context"
	"path/filepath"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// heldPrograms holds the setup's programs that lie there against it, by the judge of the walk and of `program`. Only what does not
// pass is listed; one that is not there is a note of the files.
func (c *setupCheck) heldPrograms(e *env, j *jobs.Job, s jobs.Setup) {
	p, err := steps.NewPlan(j, s.Name, nil)
	if err != nil {
		return
	}
	for _, g := range s.Programs {
		r, err := heldProgram(e, p, besides(j.Path, g.File), g.Role)
		if err != nil {
			continue
		}
		for _, k := range r.Checks {
			if k.Verdict.OK() {
				continue
			}
			k.Limit.System = j.Unit
			c.add(k)
			c.held = append(c.held, k)
			if k.Words != "" {
				c.Findings = append(c.Findings, k.Words)
			}
		}
		c.Verdict = fold.Worst([]fold.Check{{Verdict: c.Verdict}, {Verdict: r.Verdict()}})
		c.Fails = c.Verdict == fold.Fail
	}
}

// heldProgram is one program at the desk.
func heldProgram(e *env, p *fold.Plan, path, role string) (desk.ProgramReport, error) {
	src, err := e.disk.Open(path)
	if err != nil {
		return desk.ProgramReport{}, err
	}
	defer src.Close()
	size, _ := e.disk.Size(path)
	return desk.CheckProgram(p, context.Background(), filepath.Base(path), role, src, nil, e.progress(filepath.Base(path), size))
}
