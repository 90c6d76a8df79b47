package main

import (
	"bufio"
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"

	"github.com/spf13/cobra"
)

// newOptions are the answers that were given as flags; what is left empty is asked at a
// terminal, and with --yes has a default.
type newOptions struct {
	dir, file string
	from      string // job whose answers are the defaults
	card      bool
	yes       bool // take the defaults without asking
	unit      string
	answers   jobs.Answers
	kinds     string // one of kindSets
	size      string
	probe     string

	known *jobs.Machine // the machine card of the folder that is used, nil for a new one
	like  *jobs.Job     // of from
}

func newCommand(r *runner) *cobra.Command {
	var o newOptions
	c := &cobra.Command{
		Use: "new", Short: "Write a first job with its cards, or with --card a fixture card alone",
		Long: "Asks the few things a first job needs and writes commented files that pass check, or says\nwhat is still open. A file that is " +
			"there is never written over. Every question has a flag;\nwithout a terminal --yes takes the defaults for the rest. ? explains a " +
			"question.",
		Args: argsNamed(),
		RunE: func(*cobra.Command, []string) error { return r.do(newFiles(r.env, o)) },
	}
	f := c.Flags()
	f.StringVar(&o.dir, "dir", ".", "folder to write into")
	f.StringVar(&o.file, "file", "", "name of the file without its ending; default by the name of the job")
	f.StringVar(&o.from, "from", "", "begin from the answers of another job")
	f.BoolVar(&o.card, "card", false, "write a fixture card only")
	f.BoolVar(&o.yes, "yes", false, "ask nothing, take the defaults")
	f.StringVar(&o.answers.Job, "job", "", "name of the job")
	f.StringVar(&o.unit, "unit", "", "mm or in")
	f.StringVar(&o.kinds, "setups", "", "which clampings: "+strings.Join(kindNames(), ", "))
	f.StringVar(&o.answers.Preset, "preset", "", "what the machine can hold: "+strings.Join(presetNames(), ", "))
	f.StringVar(&o.answers.Material, "material", "", "material of the part")
	f.StringVar(&o.size, "size", "", "finished size: length x width x thickness")
	f.StringVar(&o.answers.HoldDown, "hold-down", "", "T, M or S")
	f.StringVar(&o.answers.Flip, "flip", "", "axis the part is turned about: x or y")
	f.StringVar(&o.answers.Z0, "z0", "", "floor or finished top")
	f.StringVar(&o.answers.Offset, "offset", "", "work offset, such as G54")
	f.StringVar(&o.probe, "probe", "", "yes or no: the machine has a touch probe")
	f.StringVar(&o.answers.Finds, "finds", "", "probe, dial, edge finder, pin or paper")
	f.StringVar(&o.answers.Machine, "machine", "", "name of the machine, or its card where one is in the folder")
	f.StringVar(&o.answers.Fixture, "fixture", "", "what is engraved on the fixture")
	return c
}

// newFile is a file to write, or one that is there and kept.
type newFile struct {
	name string
	text []byte
	keep bool
	made bool // by this program for editors: an older one gives way
}

// newFiles asks and writes.
func newFiles(e *env, o newOptions) (exit, error) {
	if !e.inTerminal && !o.yes {
		return exitUsage, &usageError{"new asks, and there is no terminal to answer at", "add --yes to take the defaults for what no flag says"}
	}
	if strings.ContainsAny(o.file, `/\:`) || strings.HasPrefix(o.file, ".") {
		return exitUsage, &usageError{"--file " + quoted(o.file) + " is no plain name", "give a name such as lid, and the folder with --dir"}
	}
	if err := o.begin(e); err != nil {
		return exitOf(err), err
	}
	if err := o.answer(e); err != nil {
		return exitOf(err), err
	}
	files, stem, err := o.compose(e)
	if err != nil {
		return exitOf(err), err
	}
	return writeNew(e, o, files, stem)
}

// begin takes what another job and the folder already say.
func (o *newOptions) begin(e *env) error {
	if o.from != "" {
		j, faults := jobs.ReadJob(e.disk, o.from)
		if len(faults) > 0 {
			return faults
		}
		o.like = j
	}
	return nil
}

// answer goes through the questions: what a flag says is checked, the rest is asked at a
// terminal, and what was answered can be looked over before anything is written.
func (o *newOptions) answer(e *env) error {
	w := asking{env: e, o: o, in: bufio.NewReader(e.in), live: e.inTerminal && !o.yes}
	if err := w.fill(); err != nil || !w.live || len(w.asked) == 0 {
		return err
	}
	return w.lookOver()
}

// asking is the conversation of new.
type asking struct {
	*env
	o     *newOptions
	in    *bufio.Reader
	live  bool      // a person answers
	asked []*string // what was asked, in order
}

// fill gives every question an answer that is good with the others. Questions hang on the
// answers before them, so they are made anew after each.
func (w *asking) fill() error {
	for i := 0; ; i++ {
		qs := w.o.questions(w.env)
		if i >= len(qs) {
			return nil
		}
		q := qs[i]
		was := *q.to
		err := q.answer(cmp.Or(was, q.def))
		mine := slices.Contains(w.asked, q.to) // no flag said it
		switch {
		case err == nil && (was != "" || !w.live):
		case w.live && (was == "" || mine):
			if was != "" {
				fmt.Fprintln(w.out, "  "+err.Error())
			}
			if !mine {
				w.asked = append(w.asked, q.to)
			}
			*q.to = ""
			if err := w.ask(w.in, q); err != nil {
				return err
			}
		default:
			what, hint := splitHint(err.Error())
			return &usageError{q.ask + ": " + what, hint}
		}
	}
}

// lookOver shows the answers until the person is content with them.
func (w *asking) lookOver() error {
	for {
		qs := slices.DeleteFunc(w.o.questions(w.env), func(q question) bool { return !slices.Contains(w.asked, q.to) })
		fmt.Fprintln(w.out)
		for i, q := range qs {
			fmt.Fprintf(w.out, "%3d  %s: %s\n", i+1, q.ask, *q.to)
		}
		fmt.Fprint(w.out, "Enter writes the files, a number changes that answer: ")
		line, err := w.line(w.in)
		if err != nil || line == "" {
			return err
		}
		n, err := unit.Parse(line, unit.Count, unit.Metric)
		if err != nil || n.Value < 1 || int(n.Value) > len(qs) {
			fmt.Fprintf(w.out, "  %s is none of the numbers\n", quoted(line))
			continue
		}
		q := qs[int(n.Value)-1]
		q.def = *q.to
		if err := w.ask(w.in, q); err != nil {
			return err
		}
		if err := w.fill(); err != nil { // another answer may want other questions
			return err
		}
	}
}

// compose makes the files and reads them before anything is written: a file that does not
// pass is not begun.
func (o *newOptions) compose(e *env) (files []newFile, stem string, err error) {
	a := o.answers
	a.Unit, a.Probe = o.system(), o.probe == "yes"
	a.Size, _ = o.sizes(o.size)
	if !o.card {
		a.Kinds = kindOf(o.kinds)
	}
	if o.probe == "no" { // there is no ball to calibrate
		a.Kinds = slices.DeleteFunc(slices.Clone(a.Kinds), func(k string) bool { return k == "ball" && len(a.Kinds) > 1 })
	}
	if stem = o.file; stem == "" {
		stem = fileName(a.Job)
		if o.card {
			stem = fileName(a.Fixture)
		}
	}
	a.FixtureFile, a.Schema = stem+".fixture.yaml", schemaDir
	a.MachineFile = o.machineFile(e)
	if o.card {
		files = []newFile{{name: a.FixtureFile, text: jobs.NewFixture(a)}}
		_, faults := jobs.ReadFixture(jobs.Mem(map[string]string{a.FixtureFile: string(files[0].text)}), a.FixtureFile)
		return withSchemas(files, "fixture"), stem, faults.Err()
	}
	jobFile := stem + ".job.yaml"
	// The heaviest cut is the deepest of these that holds at the desk; with none, the last.
	for _, depth := range map[unit.System][]string{unit.Metric: {"0.2", "0.1", "0.05", "0.02"}, unit.Imperial: {"0.008", "0.004", "0.002", "0.001"}}[a.Unit] {
		a.Depth = depth
		files = []newFile{{name: jobFile, text: jobs.NewJob(a)}, {name: a.MachineFile, text: jobs.NewMachine(a)}}
		if a.Has("second-side") {
			files = append(files, newFile{name: a.FixtureFile, text: jobs.NewFixture(a)})
		}
		j, faults := o.trial(e, files)
		if len(faults) > 0 {
			return nil, stem, faults
		}
		if holds(j) {
			break
		}
	}
	return withSchemas(files, schemaFiles...), stem, nil
}

// trial reads the files as they would lie in the folder; a machine card that is there is
// used as it is, since several jobs share one.
func (o *newOptions) trial(e *env, files []newFile) (*jobs.Job, jobs.Faults) {
	texts := map[string]string{}
	for i, f := range files {
		if strings.HasSuffix(f.name, machineEnd) {
			if old, err := e.disk.Read(filepath.Join(o.dir, f.name), maxProgram); err == nil {
				f.text, files[i].keep = old, true
			}
		}
		texts[f.name] = string(f.text)
	}
	return jobs.ReadJob(jobs.Mem(texts), files[0].name)
}

// holds reports whether every setup of a job holds its part under the planned cut: no other depth mends the rest.
func holds(j *jobs.Job) bool {
	for _, s := range j.Setups {
		p, err := steps.NewPlan(j, s.Name, nil)
		if err != nil {
			return false
		}
		for _, c := range desk.AtDesk(p).Checks {
			if strings.HasPrefix(c.Limit.ID, "hold.") && !c.Verdict.OK() {
				return false
			}
		}
	}
	return true
}

// schemaDir is the folder of the schemas beside a new job, hidden where dots hide.
const schemaDir = ".fliptrue"

func withSchemas(files []newFile, of ...string) []newFile {
	for _, f := range of {
		files = append(files, newFile{name: schemaDir + "/" + f + ".json", text: jobs.Schema(f), made: true})
	}
	return files
}

// writeNew writes all files or none: a half new job would mix with files of another.
func writeNew(e *env, o newOptions, files []newFile, stem string) (exit, error) {
	path := func(f newFile) string { return filepath.Join(o.dir, filepath.FromSlash(f.name)) }
	for _, f := range files {
		if !f.keep && !f.made && exists(e.disk, path(f)) {
			return exitDisk, &jobs.DiskError{Op: "make", Path: path(f), What: quoted(f.name) + " is already there",
				Hint: "choose another name with --file or another folder with --dir; nothing was written"}
		}
	}
	for _, f := range files {
		dir := filepath.Dir(path(f))
		if err := e.disk.MakeDir(dir); err != nil {
			return exitDisk, &jobs.DiskError{Op: "make", Path: dir, What: "the folder cannot be made: " + plainError(err),
				Hint: "choose another with --dir", Err: err}
		}
		if f.keep {
			fmt.Fprintln(e.out, "uses  "+path(f)+", which is there")
			continue
		}
		if f.made {
			if err := writeSchema(e, path(f), f.text); err != nil {
				return exitDisk, err
			}
			continue
		}
		if err := jobs.WriteFile(e.disk, path(f), f.text); err != nil {
			return exitDisk, err
		}
		fmt.Fprintln(e.out, "wrote "+path(f))
	}
	if !o.card {
		jobPath := filepath.Join(o.dir, stem+".job.yaml")
		fmt.Fprint(e.out, stillOpen(e, jobPath))
		fmt.Fprintf(e.out, "\nThen\n  fliptrue check %s\n", jobPath)
	}
	return exitOK, nil
}

// writeSchema puts a schema in the place of an older one of this program's own making.
func writeSchema(e *env, path string, text []byte) error {
	if old, err := e.disk.Read(path, maxProgram); err == nil {
		if string(old) == string(text) || !strings.Contains(string(old), jobs.SchemaMark) {
			return nil
		}
		if err := e.disk.Remove(path); err != nil {
			return &jobs.DiskError{Op: "write", Path: path, What: "the schema for editors cannot be renewed: " + plainError(err),
				Hint: "take it away, or leave it: only editors look at it", Err: err}
		}
	}
	return jobs.WriteFile(e.disk, path, text)
}

// stillOpen says what a new job lacks before it can be walked.
func stillOpen(e *env, path string) string {
	j, faults := jobs.ReadJob(e.disk, path)
	if len(faults) > 0 {
		return "\n" + faults.Error() + "\n"
	}
	var b strings.Builder
	b.WriteString("\nStill open:\n  - the values are nominal: replace them by what you measured\n")
	for _, s := range j.Setups {
		for _, g := range s.Programs {
			if !exists(e.disk, besides(j.Path, g.File)) {
				fmt.Fprintf(&b, "  - program %s of setup %s is to be put beside the job\n", quoted(g.File), s.Name)
			}
		}
		p, err := steps.NewPlan(j, s.Name, nil)
		if err != nil {
			continue
		}
		d := desk.AtDesk(p)
		for _, f := range d.Findings {
			fmt.Fprintf(&b, "  - %s: %s\n", s.Name, f)
		}
		if s.Finds == "paper" || s.Finds == "pin" {
			fmt.Fprintf(&b, "  - %s: found with %s, too coarse for a tight register: the walk may not be able to prove %s\n", s.Name, s.Finds,
				unit.Show(float64(j.Allowance), unit.KLength, j.Unit, 0))
		}
		if s.Cut.Tool > 0 {
			says := "the hold-down carries cuts of"
			switch reckoned := slices.ContainsFunc(
				d.Checks, func(c fold.Check) bool { return strings.HasPrefix(c.Limit.ID, "hold.") && !c.Count }); {
			case s.Kind == "first-side":
				says = "planned are cuts of"
			case !reckoned:
				says = "NOT RECKONED is whether the hold-down carries cuts; planned are"
			}
			fmt.Fprintf(&b, "  - %s: %s %s by %s at most; a program that cuts deeper is another plan\n", s.Name, says,
				unit.Show(s.Cut.Ap, unit.KLength, j.Unit, 0), unit.Show(s.Cut.Ae, unit.KLength, j.Unit, 0))
		}
	}
	return b.String()
}

func exists(d jobs.Disk, path string) bool {
	_, err := d.Size(path)
	return err == nil
}
