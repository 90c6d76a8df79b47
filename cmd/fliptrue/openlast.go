package main

import (
	"bufio"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// walkedJob is a job of this folder and when it was last walked.
type walkedJob struct {
	file string
	part int       // 0: not begun
	at   time.Time // of the last event of its last part
}

// lastWalked are the jobs of this folder, the last walked first.
func (e *env) lastWalked() ([]walkedJob, error) {
	files, err := jobs.JobFiles(e.disk, ".")
	if err != nil {
		return nil, err
	}
	var out []walkedJob
	for _, f := range files {
		w := walkedJob{file: f}
		records, err := jobs.Records(e.disk, f)
		if err != nil {
			return nil, err
		}
		for _, rec := range records {
			if es, _, _ := jobs.ReadRecord(e.disk, rec.Path); len(es) > 0 && !es[len(es)-1].At.Before(w.at) {
				w.part, w.at = rec.Part, es[len(es)-1].At
			}
		}
		out = append(out, w)
	}
	slices.SortStableFunc(out, func(a, b walkedJob) int { return b.at.Compare(a.at) })
	return out, nil
}

// openLast offers the jobs of this folder, the one last walked first, and opens the chosen.
func openLast(e *env, o openOptions) (exit, error) {
	if err := e.wantTerminal("name the job: fliptrue replay JOB says what its record means without one"); err != nil {
		return exitDisk, err
	}
	list, err := e.lastWalked()
	if err != nil {
		return exitOf(err), err
	}
	switch len(list) {
	case 0:
		return exitInput, &inputError{"", "there is no job in this folder",
			"fliptrue new writes a first one, fliptrue practice walks a built-in one"}
	case 1:
		o.job = list[0].file
		return open(e, o)
	}
	in := bufio.NewReader(e.in)
	for {
		for i, w := range list {
			says := "not begun"
			if w.part > 0 {
				says = fmt.Sprintf("part %d, last walked %s", w.part, w.at.Format("2006-01-02 15:04"))
			}
			fmt.Fprintf(e.out, "%3d  %-30s %s\n", i+1, filepath.Base(w.file), says)
		}
		fmt.Fprintf(e.out, "Enter opens %s, a number another: ", filepath.Base(list[0].file))
		line, err := e.line(in)
		if err != nil {
			return exitInterrupted, err
		}
		n := 1
		if line != "" {
			x, err := unit.Parse(line, unit.Count, unit.Metric)
			if n = int(x.Value); err != nil || n < 1 || n > len(list) {
				fmt.Fprintf(e.out, "  %s is none of the numbers\n", quoted(line))
				continue
			}
		}
		o.job = list[n-1].file
		return open(e, o)
	}
}
