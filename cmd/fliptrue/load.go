package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// errNotBegun is a record without a setup in it yet.
var errNotBegun = errors.New("")

// maxProgram is the longest program taken into memory for its heading and checksum.
const maxProgram = 64 << 20

// readJob reads a job that is fit to be walked.
func (e *env) readJob(path string) (*jobs.Job, error) {
	j, faults := jobs.ReadJob(e.disk, path)
	return j, faults.Err()
}

// plan is the plan of a setup with its programs as they stand on the disk now. A program
// that is not there is left out: the walk asks for it when its time comes.
func (e *env) plan(j *jobs.Job, setup string) (*fold.Plan, error) {
	s, ok := j.Setup(setup)
	if !ok {
		return nil, &usageError{"there is no setup " + quoted(setup) + " in " + j.Path, "the setups are: " + strings.Join(setupNames(j), " ")}
	}
	shelf := shelf{disk: e.disk, marks: map[string]jobs.Mark{}}
	programs := map[string]fold.ProgramFile{}
	for _, g := range s.Programs {
		if f, ok := shelf.look(besides(j.Path, g.File), g.File, fold.ProgramFile{}); ok {
			programs[g.Role] = f
		}
	}
	p, err := steps.NewPlan(j, setup, programs)
	if err != nil {
		return nil, &inputError{j.Path, err.Error(), "this version walks other kinds of setups"}
	}
	p.Watch(func(role string, was fold.ProgramFile) (fold.ProgramFile, bool) {
		for _, g := range s.Programs {
			if g.Role == role {
				return shelf.look(besides(j.Path, g.File), g.File, was)
			}
		}
		return fold.ProgramFile{}, false
	})
	return p, nil
}

// shelf are program files on the disk; one that did not change is not read again.
type shelf struct {
	disk  jobs.Disk
	marks map[string]jobs.Mark
}

// look is a file as it lies there now, was as it was read last.
func (s shelf) look(path, name string, was fold.ProgramFile) (fold.ProgramFile, bool) {
	mark, err := s.disk.Mark(path)
	if err == nil && was.Hash != "" && mark.Same(s.marks[path]) {
		return was, true
	}
	data, err := s.disk.Read(path, maxProgram)
	if err != nil {
		return fold.ProgramFile{}, false
	}
	s.marks[path] = mark
	sum := sha256.Sum256(data)
	return fold.ProgramFile{Name: name, Hash: hex.EncodeToString(sum[:])[:16], Data: data}, true
}

// besides is a file named in a job, as a path.
func besides(jobPath, name string) string {
	return filepath.Join(filepath.Dir(jobPath), filepath.FromSlash(name))
}

func setupNames(j *jobs.Job) []string {
	var out []string
	for _, s := range j.Setups {
		out = append(out, s.Name)
	}
	return out
}

// begun are the setups that a record has begun, in order.
func begun(es []jobs.Event) []string {
	var out []string
	for _, ev := range es {
		if ev.Begin != "" && !slices.Contains(out, ev.Begin) {
			out = append(out, ev.Begin)
		}
	}
	return out
}

// jobOf is the job as the record began it and changed it since, which is what its readings
// were measured against; the job on the disk when the record holds none. Values that do not
// read are an error: another job in their place would judge readings it never saw.
func jobOf(onDisk *jobs.Job, es []jobs.Event, path string) (*jobs.Job, error) {
	flat := flatOf(es)
	if !slices.ContainsFunc(slices.Collect(maps.Keys(flat)), func(k string) bool { return strings.HasPrefix(k, "job.") }) {
		return onDisk, nil
	}
	j, faults := jobs.FromFlat(flat)
	if len(faults) > 0 {
		return nil, &inputError{path, "the job copied into it does not read: " + faults[0].What, "restore the record from a copy"}
	}
	j.Path = onDisk.Path
	return j, nil
}

// ofThisJob refuses a record that another job began. It says so before anything is judged
// or written: readings of one part mean nothing for another.
func ofThisJob(j *jobs.Job, jobPath, path string, es []jobs.Event) error {
	name := flatOf(es)["job.job"]
	if name == "" || name == j.Name {
		return nil
	}
	return &inputError{path, "it is a record of the job " + quoted(name) + ", and " + jobPath + " is the job " + quoted(j.Name),
		"name the job that it belongs to; if the job got another name, give it the old one back, or begin the next part with " +
			"fliptrue open --next"}
}

// newerWalk says that a record was begun by a newer program, "" when it was not.
func newerWalk(es []jobs.Event) string {
	newest := 0
	for _, ev := range es {
		if n, err := strconv.Atoi(ev.Cards["walk"]); err == nil && ev.Begin != "" {
			newest = max(newest, n)
		}
	}
	if newest <= fold.Walk {
		return ""
	}
	return fmt.Sprintf("it was begun by a newer fliptrue (walk %d; this one knows walk %d)", newest, fold.Walk)
}

// lastRecord is the record of a job's last part.
func (e *env) lastRecord(jobPath string) (string, error) {
	if _, err := e.readJob(jobPath); err != nil {
		return "", err
	}
	list, err := jobs.Records(e.disk, jobPath)
	if err != nil {
		return "", err
	}
	if len(list) == 0 {
		return "", &inputError{jobPath, "no part of this job has a record yet", "fliptrue open " + jobPath + " begins one"}
	}
	return list[len(list)-1].Path, nil
}

// walkedHere refuses a record of setups that the job has not: one of another job, or of
// before a setup got another name.
func walkedHere(j *jobs.Job, jobPath, path string, es []jobs.Event) error {
	for _, name := range begun(es) {
		if _, ok := j.Setup(name); !ok {
			return &inputError{path, "setup " + quoted(name) + " is begun, which the job has not",
				"the setups of " + jobPath + " are: " + strings.Join(setupNames(j), " ") +
					"; give the setup its old name, or begin the next part with --next"}
		}
	}
	return nil
}

// flatOf are the job's values as the record knows them, nil when it began without.
func flatOf(es []jobs.Event) map[string]string {
	var flat map[string]string
	for _, ev := range es {
		switch {
		case ev.Begin != "" && len(ofFiles(ev.Cards)) > 0:
			flat = ev.Cards
		case ev.Plan != "" && flat != nil:
			flat = jobs.Update(flat, ev)
		}
	}
	return flat
}

// folded is one setup of a record as it stands.
type folded struct {
	plan  *fold.Plan
	state fold.State
	named []string // mistakes named on the way; only fold looks for them
}

// foldRecord folds a record for one setup, and collects what mistakes were named on the way.
func foldRecord(p *fold.Plan, es []jobs.Event) folded {
	f := folded{plan: p, named: []string{}}
	log := steps.NewLog()
	taken := map[string]bool{}
	look := func() {
		f.state = log.State(p)
		ss, ok := f.state.Step(f.state.Cursor.Step)
		if n := ""; ok && f.state.Cursor.Decide {
			if n = ss.Outcome.Named; n != "" && !slices.Contains(f.named, n) {
				f.named = append(f.named, n)
			}
		}
	}
	last, opened := "", false
	for _, ev := range es {
		// A verdict is settled when something other than a new reading or a note follows it. Of one
		// field read many times in a row only the first and the last are looked at, of rounds opened
		// one after the other only the first: an empty round has no verdict.
		addr := ev.Read + ev.Answer
		settles := addr == "" && ev.Begin == "" && ev.Note == "" && !(opened && ev.Round != "")
		if settles || taken[addr] && addr != last {
			look()
		}
		taken[addr], last = addr != "", addr
		opened = ev.Round != "" || opened && ev.Note != ""
		log.Apply(ev)
	}
	look()
	return f
}

// record is a record read with the setups in it as they stand; what was named on the way
// is not looked for, since that takes a look at every event.
type record struct {
	job    *jobs.Job
	events []jobs.Event
	report jobs.Report
	setups []folded
	notes  []string // sentences with the file's name: what is odd about the record
	log    *fold.Log
}

// odd says what is odd about a record, on standard error.
func (r record) odd(e *env) {
	for _, n := range r.notes {
		fmt.Fprintln(e.err, "fliptrue: "+n)
	}
}

// readRecord reads a job and a record of it, writing nothing. A record that cannot be
// followed is an error with the line of each fault. With no job the record stands alone: it
// has to carry its job and cards.
func (e *env) readRecord(jobPath, path string) (record, error) {
	onDisk := &jobs.Job{Path: path}
	if jobPath != "" {
		var err error
		if onDisk, err = e.readJob(jobPath); err != nil {
			return record{}, err
		}
	}
	return e.recordOf(onDisk, jobPath, path)
}

// recordOf is the same where the job is at hand already.
func (e *env) recordOf(onDisk *jobs.Job, jobPath, path string) (record, error) {
	es, report, faults := jobs.ReadRecord(e.disk, path)
	if len(faults) > 0 {
		return record{}, faults
	}
	j, err := jobOf(onDisk, es, path)
	if err != nil {
		return record{}, err
	}
	r := record{job: j, events: es, report: report}
	for _, text := range []string{report.String(), newerWalk(es)} {
		if text != "" {
			r.notes = append(r.notes, path+": "+text)
		}
	}
	if jobPath == "" && j == onDisk {
		return record{}, &inputError{path, "it does not carry its job, as one written by hand", "name the job before it: fliptrue replay JOB " +
			filepath.Base(path)}
	}
	names := begun(es)
	if len(names) == 0 {
		return r, fmt.Errorf("%w%w", errNotBegun, &inputError{path, "no setup is begun in this record",
			"put a line with begin: and a setup's name first, as --- {at: 2026-03-01T09:00:00+01:00, begin: side2}"})
	}
	if jobPath != "" {
		if err := cmp.Or(ofThisJob(onDisk, jobPath, path, es), walkedHere(r.job, jobPath, path, es)); err != nil {
			return r, err
		}
	}
	log := steps.NewLog()
	for _, ev := range es {
		log.Apply(ev)
	}
	r.log = log
	var troubles []fold.Trouble
	for _, name := range names {
		p, err := e.plan(r.job, name)
		if err != nil {
			return r, err
		}
		f := folded{plan: p, state: log.State(p), named: []string{}}
		for _, t := range f.state.Troubles {
			if !slices.Contains(troubles, t) {
				troubles = append(troubles, t)
			}
		}
		r.setups = append(r.setups, f)
	}
	if len(troubles) > 0 {
		return r, e.faultsOf(troubles, path)
	}
	return r, nil
}

// faultsOf are the troubles of a record at the lines that they stand at.
func (e *env) faultsOf(troubles []fold.Trouble, path string) (faults jobs.Faults) {
	lines := e.eventLines(path)
	for _, t := range troubles {
		ft := jobs.Fault{File: path, What: t.What, Hint: t.Hint}
		if i := int(t.Seq) - 1; i >= 0 && i < len(lines) {
			ft.Line = lines[i]
		}
		faults = append(faults, ft)
	}
	return faults
}

// eventLines are the lines of a record on which its events stand.
func (e *env) eventLines(path string) []int {
	data, err := e.disk.Read(path, 1<<30)
	if err != nil {
		return nil
	}
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.TrimPrefix(string(data), "\ufeff"))
	var out []int
	headed := false
	for i, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		if !headed {
			headed = true
			continue
		}
		out = append(out, i+1)
	}
	return out
}

// pick is one setup of the record: the one asked for, else the last begun.
func (r record) pick(setup string) (folded, error) {
	if setup == "" {
		return r.setups[len(r.setups)-1], nil
	}
	var names []string
	for _, f := range r.setups {
		if f.state.Setup == setup {
			return f, nil
		}
		names = append(names, f.state.Setup)
	}
	return folded{}, &usageError{"setup " + quoted(setup) + " is not begun in this record", "begun are: " + strings.Join(names, " ")}
}
