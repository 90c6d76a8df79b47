package main

import (
	"path/filepath"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/tui"
)

// entry is one line of the job list with what each of its actions does.
type entry struct {
	line tui.JobLine
	do   []func() (exit, error)
}

// browse shows the job list and opens what was chosen. Nothing chosen is leaving by choice.
func browse(e *env, l lookOptions) (exit, error) {
	look, err := e.look(l)
	if err != nil {
		return exitUsage, err
	}
	var entries []entry
	e.ownInterrupts()
	dir, err := filepath.Abs(".")
	if err != nil {
		dir = "."
	}
	picked, err := tui.RunJobs(tui.JobsOptions{Look: look, Now: e.now, Title: filepath.Base(dir),
		Lead: []string{"Jobs in this folder. A new one is written by fliptrue new."},
		List: func() []tui.JobLine {
			entries = e.entries(l)
			lines := make([]tui.JobLine, len(entries))
			for i, x := range entries {
				lines[i] = x.line
			}
			return lines
		}}, e.terminal())
	if err = e.ended(err, "fliptrue"); err != nil {
		return exitOf(err), err
	}
	if picked.Left || picked.Index < 0 || picked.Index >= len(entries) {
		return exitOK, nil
	}
	x := entries[picked.Index]
	return x.do[min(max(picked.Action, 0), len(x.do)-1)]()
}

// entries are the setups of the jobs in this folder, with the last part of each, and the practice.
func (e *env) entries(look lookOptions) []entry {
	var out []entry
	files, err := jobs.JobFiles(e.disk, ".")
	if err != nil {
		out = append(out, entry{tui.JobLine{Job: "this folder", Standing: faultsOf(err)[0].Error(), Verdict: "fail"}, nil})
	}
	for _, file := range files {
		l, err := e.listJob(file)
		if err != nil {
			l.Faults = max(l.Faults, 1)
		}
		open := func(o openOptions) func() (exit, error) {
			o.job, o.look = file, look
			return func() (exit, error) { return open(e, o) }
		}
		name := filepath.Base(file)
		if l.Faults > 0 {
			out = append(
				out, entry{tui.JobLine{Job: name, Standing: counted(l.Faults, "fault"), Verdict: "fail", Actions: []string{"see the faults"}},
					[]func() (exit, error){open(openOptions{})}})
			continue
		}
		if len(l.Parts) == 0 {
			out = append(out, entry{tui.JobLine{Job: name, Standing: "not begun", Verdict: "waiting", Detail: append([]string{l.Job}, l.Due...),
				Actions: []string{"begin part 1"}}, []func() (exit, error){open(openOptions{})}})
			continue
		}
		p := l.Parts[len(l.Parts)-1]
		part := "part " + strconv.Itoa(p.Part)
		detail := append([]string{l.Job}, l.Due...)
		if p.HeldBy != "" {
			detail = append(detail, part+" is in use by "+p.HeldBy)
		}
		if p.Fault != "" {
			out = append(out, entry{tui.JobLine{Job: name, Setup: part, Standing: "its record cannot be followed", Verdict: "fail",
				Detail: []string{p.Fault}, Actions: []string{"begin the next part"}}, []func() (exit, error){open(openOptions{next: true})}})
			continue
		}
		for _, s := range p.Setups {
			x := entry{line: tui.JobLine{Job: name, Setup: s.Name, Standing: part + ": " + s.Where, Verdict: "current", Detail: detail}}
			if s.State == "released" {
				x.line.Verdict = "pass"
				x.line.Actions = []string{"look at " + part, "next blank, nothing moved", "next part, from the bare table"}
				x.do = []func() (exit, error){open(openOptions{setup: s.Name, part: p.Part}),
					open(openOptions{setup: s.Name, next: true, unmoved: true}), open(openOptions{setup: s.Name, next: true})}
			} else {
				x.line.Actions = []string{map[bool]string{true: "begin it", false: "go on"}[s.State == "waiting"]}
				x.do = []func() (exit, error){open(openOptions{setup: s.Name, part: p.Part})}
			}
			out = append(out, x)
		}
	}
	practise := practiceOptions{holdDown: "T", seed: 1, look: look}
	return append(out, entry{tui.JobLine{Job: "practice", Standing: "the built-in job on a simulated bench", Actions: []string{"practise"}},
		[]func() (exit, error){func() (exit, error) { return practice(e, practise) }}})
}

// mend shows the faults of a job beside their lines until they are mended or left.
func (e *env) mend(path string, look tui.Look) (bool, error) {
	e.ownInterrupts()
	mended, err := tui.RunFaults(tui.FaultsOptions{Look: look, Now: e.now, Title: filepath.Base(path),
		Load: func() (jobs.Faults, map[string][]string) {
			_, faults := jobs.ReadJob(e.disk, path)
			files := map[string][]string{}
			for _, f := range faults {
				if _, ok := files[f.File]; ok {
					continue
				}
				files[f.File] = nil
				if data, err := e.disk.Read(f.File, 4<<20); err == nil {
					text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.TrimPrefix(string(data), "\ufeff"))
					files[f.File] = strings.Split(text, "\n")
				}
			}
			return faults, files
		}}, e.terminal())
	return mended, e.ended(err, stemOf(path))
}
