package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
)

// cardCheck is what check finds of a card alone.
type cardCheck struct {
	Error  *jobs.Fault `json:"error,omitempty"` // the first fault, when there is one
	File   string      `json:"file"`
	Kind   string      `json:"kind"` // machine or fixture
	Name   string      `json:"name"`
	Faults jobs.Faults `json:"faults"`
	Notes  jobs.Faults `json:"notes"`
}

// checkAll checks all that it was given. One job or card is printed as itself, several one
// after the other, as JSON in a list.
func checkAll(e *env, o checkOptions) (exit, error) {
	paths, err := e.checked(o.paths)
	if err != nil {
		return exitOf(err), err
	}
	code, faulty := exitOK, 0
	list := []any{}
	for i, path := range paths {
		if i > 0 && !o.asJSON {
			fmt.Fprintln(e.out)
		}
		var out any
		var faults jobs.Faults
		c, text := exitOK, ""
		if kind := jobs.KindOf(e.disk, path); kind == "machine" || kind == "fixture" {
			k := e.checkCard(path)
			out, faults, text = k, k.Faults, k.text()
			if len(faults) > 0 {
				c = exitInput
			}
		} else {
			one := o
			one.job = path
			k, j, code := check(e, one)
			out, faults, c = k, k.Faults, code
			if c != exitInput {
				text = k.text(j)
			}
		}
		if code = max(code, c); c == exitInput {
			faulty++
		}
		list = append(list, out)
		for _, f := range faults {
			fmt.Fprintln(e.err, f.Error())
		}
		if len(faults) > 0 {
			fmt.Fprintf(e.err, "%s; %s\n", counted(len(faults), "fault"), "nothing else is judged until the files read well")
		}
		if !o.asJSON {
			fmt.Fprint(e.out, text)
		}
	}
	switch {
	case o.asJSON && len(list) == 1:
		e.json(list[0])
	case o.asJSON:
		e.json(struct {
			Files []any `json:"files"`
		}{list})
	case len(paths) > 1:
		fmt.Fprintf(e.out, "\n%s, %d with faults\n", counted(len(paths), "file"), faulty)
	}
	return code, nil
}

// checked are the files that are meant: of a folder its jobs, then the cards that none of
// them names.
func (e *env) checked(paths []string) ([]string, error) {
	var out []string
	for _, p := range paths {
		if exists(e.disk, p) {
			out = append(out, p)
			continue
		}
		names, err := e.disk.List(p)
		if err != nil || len(names) == 0 {
			out = append(out, p) // said where it is read
			continue
		}
		files, err := jobs.JobFiles(e.disk, p)
		if err != nil {
			return nil, err
		}
		named := map[string]bool{}
		for _, f := range files {
			j, _ := jobs.ReadJob(e.disk, f)
			named[besides(f, j.Card)] = true
			for _, s := range j.Setups {
				named[besides(f, s.Card)] = true
			}
		}
		before := len(out)
		out = append(out, files...)
		for _, n := range names {
			if card := strings.HasSuffix(n, ".machine.yaml") || strings.HasSuffix(n, ".fixture.yaml"); card && !named[filepath.Join(p, n)] {
				out = append(out, filepath.Join(p, n))
			}
		}
		if len(out) == before {
			return nil, &inputError{p, "there is no job and no card in this folder", "name one that has some; fliptrue new writes a first job"}
		}
	}
	return out, nil
}

func (e *env) checkCard(path string) cardCheck {
	kind, name, notes, faults := jobs.CheckCard(e.disk, path)
	c := cardCheck{File: path, Kind: kind, Name: name, Faults: append(jobs.Faults{}, faults...), Notes: append(jobs.Faults{}, notes...)}
	if len(faults) > 0 {
		c.Error = &faults[0]
	}
	return c
}

func (c cardCheck) text() string {
	if len(c.Faults) > 0 {
		return ""
	}
	s := fmt.Sprintf("%s: %s card %s: no faults\n", c.File, c.Kind, quoted(c.Name))
	for _, n := range c.Notes {
		s += "note: " + n.Error() + "\n"
	}
	return s
}

// ungrantedLimits are the limits of a job that do not hold as it sets them.
func ungrantedLimits(j *jobs.Job) (notes jobs.Faults) {
	for _, s := range j.Setups {
		p, err := steps.NewPlan(j, s.Name, nil)
		if err != nil {
			continue
		}
		not := p.Ungranted()
		for _, name := range slices.Sorted(maps.Keys(not)) {
			n := j.At(jobs.Path("limits", name), "it is looser than it may be in setup "+s.Name, not[name])
			if !slices.ContainsFunc(notes, func(o jobs.Fault) bool { return o.Line == n.Line && o.Hint == n.Hint }) {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// unknownLimits are the limits of a job that no setup of it has.
func unknownLimits(j *jobs.Job) jobs.Faults {
	var known []string
	for _, s := range j.Setups {
		if p, err := steps.NewPlan(j, s.Name, nil); err == nil {
			for _, row := range p.LimitTable() {
				known = append(known, row.Label)
			}
			break // the table is one for all setups
		}
	}
	if len(known) == 0 {
		return nil
	}
	var faults jobs.Faults
	for _, name := range slices.Sorted(maps.Keys(j.Limits)) {
		if slices.Contains(known, name) {
			continue
		}
		hint := "fliptrue check --limits lists them"
		if near := jobs.Nearest(name, known); near != "" {
			hint = "did you mean " + quoted(near) + "?"
		}
		faults = append(faults, j.At(jobs.Path("limits", name), "there is no limit of this name", hint))
	}
	return faults
}
