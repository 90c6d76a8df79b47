package main

import (
	"errors"
	"path/filepath"
	"runtime"
	"sync"

	"fliptrue/jobs"
	"fliptrue/steps/report"
)

// overview is one page over the jobs of a folder: their parts, their fixtures, and what is due.
func (e *env) overview(dir string) (report.Overview, error) {
	name := dir
	if abs, err := filepath.Abs(dir); err == nil {
		name = filepath.Base(abs)
	}
	out := report.NewOverview(name)
	files, err := jobs.JobFiles(e.disk, dir)
	if err != nil {
		return out, err
	}
	for _, file := range files {
		j, faults := jobs.ReadJob(e.disk, file)
		if len(faults) > 0 {
			out.Due = append(out.Due, report.Line{What: filepath.Base(file), Says: counted(len(faults), "fault") + "; see fliptrue check"})
			continue
		}
		records, err := jobs.Records(e.disk, file)
		if err != nil {
			return out, err
		}
		lines := make([][]report.PartLine, len(records))
		each(len(records), func(i int) { lines[i] = e.partLines(j, file, records[i]) })
		var parts []report.PartLine
		for _, l := range lines {
			parts = append(parts, l...)
		}
		out.Add(j, parts, e.wanted(j), e.now())
	}
	out.Done()
	return out, nil
}

// partLines are the setups of a record, or that it cannot be followed.
func (e *env) partLines(j *jobs.Job, file string, rec jobs.PartRecord) []report.PartLine {
	r, err := e.recordOf(j, file, rec.Path)
	if err != nil && !errors.Is(err, errNotBegun) {
		return []report.PartLine{{Job: j.Name, Part: rec.Part, Record: rec.Path, State: faultsOf(err)[0].Error()}}
	}
	var out []report.PartLine
	for i := range r.setups {
		out = append(out, report.PartOf(&r.setups[i].state, rec.Path, rec.Part))
	}
	return out
}

// each does n things, as many at a time as there are processors.
func each(n int, do func(i int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(n, runtime.NumCPU()) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				do(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}
