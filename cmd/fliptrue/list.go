package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
)

type listOptions struct {
	asJSON, text bool
	look         lookOptions
}

// listJSON is the jobs in this folder.
type listJSON struct {
	Jobs []listedJob `json:"jobs"`
}

type listedJob struct {
	File   string       `json:"file"`
	Job    string       `json:"job"`
	Faults int          `json:"faults"` // of the job and its cards; 0 when it reads well
	Order  []string     `json:"order"`  // the setups in the order of the walk
	Due    []string     `json:"due"`    // sentences: what wants doing before the next part
	Parts  []listedPart `json:"parts"`  // one a record, by part number
}

type listedPart struct {
	Part   int           `json:"part"`
	Record string        `json:"record"`
	Fault  string        `json:"fault"`   // "" when the record can be followed
	HeldBy string        `json:"held_by"` // who has it open, "" when nobody has
	Setups []listedSetup `json:"setups"`  // all setups of the job, in the order of the walk
}

type listedSetup struct {
	Name  string `json:"name"`
	State string `json:"state"` // released, held or waiting
	Where string `json:"where"` // the same in words
	outlookJSON

	goesOn string // the setup that went on from it where it was broken off
}

// list says which jobs are in this folder and where each setup stands: to a person at a
// terminal on a screen from which they are opened, else as text or JSON, writing nothing.
func list(e *env, o listOptions) (exit, error) {
	if e.inTerminal && e.outTerminal && !o.text && !o.asJSON {
		return browse(e, o.look)
	}
	files, err := jobs.JobFiles(e.disk, ".")
	if err != nil {
		return exitDisk, err
	}
	out := listJSON{Jobs: []listedJob{}}
	for _, file := range files {
		l, err := e.listJob(file)
		if err != nil {
			return exitDisk, err
		}
		out.Jobs = append(out.Jobs, l)
	}
	if o.asJSON {
		e.json(out)
		return exitOK, nil
	}
	fmt.Fprint(e.out, out.text())
	return exitOK, nil
}

func (e *env) listJob(file string) (listedJob, error) {
	j, faults := jobs.ReadJob(e.disk, file)
	l := listedJob{File: file, Job: j.Name, Faults: len(faults), Order: []string{}, Due: []string{}, Parts: []listedPart{}}
	if len(faults) > 0 {
		return l, nil
	}
	for _, x := range steps.Outlook(j, nil) {
		l.Order = append(l.Order, x.Name)
	}
	records, err := jobs.Records(e.disk, file)
	if err != nil {
		return l, err
	}
	for _, rec := range records {
		part := listedPart{Part: rec.Part, Record: rec.Path, HeldBy: jobs.HeldBy(e.disk, rec.Path), Setups: []listedSetup{}}
		r, err := e.readRecord(file, rec.Path)
		if err != nil && !errors.Is(err, errNotBegun) {
			part.Fault = faultsOf(err)[0].Error()
		}
		log := steps.NewLog()
		for _, ev := range r.events {
			log.Apply(ev)
		}
		at := map[string]folded{}
		for _, f := range r.setups {
			at[f.state.Setup] = f
		}
		for _, x := range steps.Outlook(j, log) {
			ls := listedSetup{Name: x.Name, State: "waiting", Where: "not begun", outlookJSON: outlookOf(x), goesOn: x.GoesOn}
			if f, ok := at[x.Name]; ok {
				ls.Where, ls.State = f.where(), f.json().State
			}
			if x.GoesOn != "" {
				ls.Where = "broken off, went on in " + x.GoesOn
			}
			part.Setups = append(part.Setups, ls)
		}
		l.Parts = append(l.Parts, part)
	}
	l.Due = append(l.Due, e.due(j, l.Parts)...)
	return l, nil
}

// wanted is what a job wants before its next part is begun.
func (e *env) wanted(j *jobs.Job) []string {
	var out []string
	if t := j.Fixture.Threads; t.Retire > 0 && t.Cycles >= t.Retire {
		out = append(out, fmt.Sprintf("threads of fixture %s: %d of %d cycles, renew them", j.Fixture.ID, t.Cycles, t.Retire))
	}
	if p := j.Machine.Probe; p != nil && p.Void != "" && p.Void != "no" {
		out = append(out, "calibrate the probe: "+p.Void)
	}
	if t := j.Machine.Tram; t != nil && t.Void != "" && t.Void != "no" {
		out = append(out, "sweep the spindle: "+t.Void)
	}
	for _, s := range j.Setups {
		for _, g := range s.Programs {
			if !exists(e.disk, besides(j.Path, g.File)) {
				out = append(out, "program "+quoted(g.File)+" of setup "+s.Name+" is not there")
			}
		}
	}
	return out
}

// due is that, and how many parts are to be made still.
func (e *env) due(j *jobs.Job, parts []listedPart) []string {
	out := e.wanted(j)
	done := 0
	for _, p := range parts {
		if p.Fault == "" && len(p.Setups) > 0 && !slices.ContainsFunc(p.Setups, func(s listedSetup) bool {
			return s.State != "released" &&
				s.goesOn == ""
		}) {
			done++
		}
	}
	if j.Parts > done {
		out = append(out, fmt.Sprintf("%d of %s made", done, counted(j.Parts, "part")))
	}
	return out
}

func (l listJSON) text() string {
	var b strings.Builder
	if len(l.Jobs) == 0 {
		return "There is no job in this folder.\n\n" +
			"  fliptrue practice     walk a built-in job on a simulated bench\n" +
			"  fliptrue new          write a first job with its cards\n" +
			"  fliptrue --help       all commands\n"
	}
	for i, j := range l.Jobs {
		if i > 0 {
			b.WriteString("\n")
		}
		name := filepath.Base(j.File)
		if j.Faults > 0 {
			fmt.Fprintf(&b, "%s: %s; see fliptrue check %s\n", name, counted(j.Faults, "fault"), name)
			continue
		}
		fmt.Fprintf(&b, "%s: %s\n", name, j.Job)
		if order := inOrder(j.Order); order != "" {
			b.WriteString("  " + order + "\n")
		}
		for _, d := range j.Due {
			b.WriteString("  due: " + d + "\n")
		}
		if len(j.Parts) == 0 {
			fmt.Fprintf(&b, "  not begun; fliptrue open %s\n", name)
		}
		for _, p := range j.Parts {
			if p.HeldBy != "" {
				fmt.Fprintf(&b, "  part %d  in use by %s\n", p.Part, p.HeldBy)
			}
			if p.Fault != "" {
				fmt.Fprintf(&b, "  part %d: %s\n", p.Part, p.Fault)
				continue
			}
			for _, s := range p.Setups {
				fmt.Fprintf(&b, "  part %d  %-10s %s\n", p.Part, s.Name, s.Where)
				if s.State != "released" {
					b.WriteString(s.outlookJSON.text("      "))
				}
			}
		}
	}
	return b.String()
}
