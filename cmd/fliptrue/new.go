package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"

	"github.com/spf13/cobra"
)

func init() { commands = append(commands, newCommand) }

// newOptions are the answers that were given as flags; what is left empty is asked at a
// terminal, and has a default elsewhere.
type newOptions struct {
	dir, file string
	card      bool
	yes       bool // take the defaults without asking
	unit      string
	answers   jobs.Answers
	size      string
	probe     string
}

func newCommand(r *runner) *cobra.Command {
	var o newOptions
	c := &cobra.Command{
		Use: "new", Short: "Write a first job with its cards, or with --card a fixture card alone",
		Long: "Asks the few things a first job needs and writes commented files that pass check.\nA file that is there is never written over. Every question has a flag.",
		Args: argsNamed(),
		RunE: func(*cobra.Command, []string) error { return r.do(newFiles(r.env, o)) },
	}
	f := c.Flags()
	f.StringVar(&o.dir, "dir", ".", "folder to write into")
	f.StringVar(&o.file, "file", "", "name of the file without its ending, such as lid")
	f.BoolVar(&o.card, "card", false, "write a fixture card only")
	f.BoolVar(&o.yes, "yes", false, "ask nothing, take the defaults")
	f.StringVar(&o.answers.Job, "job", "", "name of the job")
	f.StringVar(&o.unit, "unit", "", "mm or in")
	f.StringVar(&o.answers.Preset, "preset", "", "what the machine can hold: "+strings.Join(presetNames(), ", "))
	f.StringVar(&o.answers.Material, "material", "", "material of the part")
	f.StringVar(&o.size, "size", "", "finished size: length x width x thickness")
	f.StringVar(&o.answers.HoldDown, "hold-down", "", "T, M or S")
	f.StringVar(&o.answers.Flip, "flip", "", "axis the part is turned about: x or y")
	f.StringVar(&o.answers.Z0, "z0", "", "floor or finished top")
	f.StringVar(&o.answers.Offset, "offset", "", "work offset, such as G54")
	f.StringVar(&o.probe, "probe", "", "yes or no: the machine has a touch probe")
	f.StringVar(&o.answers.Finds, "finds", "", "probe, dial, edge finder, pin or paper")
	f.StringVar(&o.answers.Machine, "machine", "", "name of the machine")
	f.StringVar(&o.answers.Fixture, "fixture", "", "what is engraved on the fixture")
	return c
}

func presetNames() []string {
	var out []string
	for _, p := range jobs.Presets {
		out = append(out, p.Name)
	}
	return out
}

// question is one thing that new asks.
type question struct {
	ask     string
	words   []string // the only answers, nil for any text
	def     string
	to      *string
	onCard  bool               // asked for a fixture card too
	correct func(string) error // nil when any text will do
}

func (o *newOptions) questions() []question {
	yesNo := []string{"yes", "no"}
	return []question{
		{ask: "name of the job", def: "compass-box lid", to: &o.answers.Job},
		{ask: "unit", words: []string{"mm", "in"}, def: "mm", to: &o.unit, onCard: true},
		{ask: "what the machine can hold", words: presetNames(), def: "bench", to: &o.answers.Preset},
		{ask: "material of the part", def: "walnut-stabilised", to: &o.answers.Material},
		{ask: "finished size of the part, length x width x thickness", to: &o.size, onCard: true, correct: func(s string) error { _, err := o.sizes(s); return err }},
		{ask: "hold-down: T fixture tapped before, M holes matched, S holes made on side 1", words: []string{"T", "M", "S"}, def: "T", to: &o.answers.HoldDown},
		{ask: "axis the part is turned about", words: []string{"x", "y"}, def: "x", to: &o.answers.Flip},
		{ask: "Z0 of the second side's program", words: []string{"floor", "finished top"}, def: "floor", to: &o.answers.Z0},
		{ask: "work offset", words: []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}, def: "G54", to: &o.answers.Offset},
		{ask: "the machine has a touch probe", words: yesNo, def: "yes", to: &o.probe},
		{ask: "name of the machine", def: "bench mill", to: &o.answers.Machine},
		{ask: "what is engraved on the fixture", def: "FX-1", to: &o.answers.Fixture, onCard: true},
	}
}

// sizes takes a size apart: 96 x 64 x 16, 96x64x16 or 96 64 16.
func (o *newOptions) sizes(s string) ([3]string, error) {
	var out [3]string
	fields := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == 'X' || r == ' ' || r == '\u00d7' })
	if len(fields) != 3 {
		return out, errors.New("three lengths are wanted; type them as 96 x 64 x 16")
	}
	for i, f := range fields {
		n, err := unit.Parse(f, unit.KLength, o.system())
		if err != nil {
			return out, err
		}
		if n.Value <= 0 {
			return out, fmt.Errorf("%s is not above 0; type a length", quoted(f))
		}
		out[i] = f
	}
	return out, nil
}

func (o *newOptions) system() unit.System {
	if o.unit == "in" {
		return unit.Imperial
	}
	return unit.Metric
}

// answer checks a text as the answer to a question and puts it in its place.
func (q question) answer(text string) error {
	text = strings.TrimSpace(text)
	if q.words != nil {
		i := slices.IndexFunc(q.words, func(w string) bool { return strings.EqualFold(w, text) })
		if i < 0 {
			return fmt.Errorf("%s is none of the answers; type one of: %s", quoted(text), strings.Join(q.words, ", "))
		}
		text = q.words[i]
	}
	if q.correct != nil {
		if err := q.correct(text); err != nil {
			return err
		}
	}
	*q.to = text
	return nil
}

// newFile is a file to write, or one that is there and kept.
type newFile struct {
	name string
	text []byte
	keep bool
}

// newFiles asks and writes.
func newFiles(e *env, o newOptions) (exit, error) {
	in := bufio.NewReader(e.in)
	ask := e.inTerminal && !o.yes
	for _, q := range o.questions() {
		if q.to == &o.size {
			// Known only after the unit.
			q.def = map[unit.System]string{unit.Metric: "96 x 64 x 16", unit.Imperial: "3.75 x 2.5 x 0.625"}[o.system()]
		}
		switch {
		case *q.to != "":
			if err := q.answer(*q.to); err != nil {
				what, hint := splitHint(err.Error())
				return exitUsage, &usageError{q.ask + ": " + what, hint}
			}
		case ask && (!o.card || q.onCard):
			if err := e.ask(in, q); err != nil {
				return exitInterrupted, err
			}
		default:
			if err := q.answer(q.def); err != nil {
				panic("fliptrue: default answer of " + q.ask + ": " + err.Error())
			}
		}
	}
	a := o.answers
	a.Unit, a.Probe = o.system(), o.probe == "yes"
	a.Size, _ = o.sizes(o.size)
	stem := o.file
	if stem == "" {
		stem = "lid"
	}
	if strings.ContainsAny(stem, `/\:`) || strings.HasPrefix(stem, ".") {
		return exitUsage, &usageError{"--file " + quoted(o.file) + " is no plain name", "give a name such as lid, and the folder with --dir"}
	}
	a.FixtureFile, a.MachineFile = stem+".fixture.yaml", "bench.machine.yaml"
	files := []newFile{{name: a.FixtureFile, text: jobs.NewFixture(a)}}
	if !o.card {
		files = append(files, newFile{name: a.MachineFile, text: jobs.NewMachine(a)}, newFile{name: stem + ".job.yaml", text: jobs.NewJob(a)})
	}
	// Read what would be written before anything is: a file that does not pass is not begun.
	trial := map[string]string{}
	for i, f := range files {
		// Several jobs share a machine card: one that is there is used as it is.
		if f.name == a.MachineFile {
			if old, err := e.disk.Read(filepath.Join(o.dir, f.name), maxProgram); err == nil {
				f.text, files[i].keep = old, true
			}
		}
		trial[f.name] = string(f.text)
	}
	var faults jobs.Faults
	if o.card {
		_, faults = jobs.ReadFixture(jobs.Mem(trial), a.FixtureFile)
	} else {
		_, faults = jobs.ReadJob(jobs.Mem(trial), stem+".job.yaml")
	}
	if len(faults) > 0 {
		return exitInput, faults
	}
	for _, f := range files {
		// All or none: a half new job would mix with files of another.
		if path := filepath.Join(o.dir, f.name); !f.keep && exists(e.disk, path) {
			return exitDisk, &jobs.DiskError{Op: "make", Path: path, What: quoted(f.name) + " is already there", Hint: "choose another name with --file or another folder with --dir; nothing was written"}
		}
	}
	if err := e.disk.MakeDir(o.dir); err != nil {
		return exitDisk, &jobs.DiskError{Op: "make", Path: o.dir, What: "the folder cannot be made: " + plainError(err), Hint: "choose another with --dir", Err: err}
	}
	for _, f := range files {
		if f.keep {
			fmt.Fprintln(e.out, "uses  "+filepath.Join(o.dir, f.name)+", which is there")
			continue
		}
		if err := jobs.WriteFile(e.disk, filepath.Join(o.dir, f.name), f.text); err != nil {
			return exitDisk, err
		}
		fmt.Fprintln(e.out, "wrote "+filepath.Join(o.dir, f.name))
	}
	if !o.card {
		fmt.Fprintf(e.out, "\nThe values are nominal: replace them by what you measured, then\n  fliptrue check %s\n", filepath.Join(o.dir, stem+".job.yaml"))
	}
	return exitOK, nil
}

func exists(d jobs.Disk, path string) bool {
	_, err := d.Size(path)
	return err == nil
}

// ask puts one question until it is answered; an empty line takes the default.
func (e *env) ask(in *bufio.Reader, q question) error {
	for {
		prompt := q.ask
		if q.words != nil && len(q.words) <= 4 {
			prompt += " (" + strings.Join(q.words, ", ") + ")"
		}
		fmt.Fprintf(e.out, "%s [%s]: ", prompt, q.def)
		line, err := in.ReadString('\n')
		if err != nil && (line == "" || !errors.Is(err, io.EOF)) {
			fmt.Fprintln(e.out)
			return errInterrupted
		}
		if strings.TrimSpace(line) == "" {
			line = q.def
		}
		if err := q.answer(line); err != nil {
			fmt.Fprintln(e.out, "  "+err.Error())
			continue
		}
		return nil
	}
}
