package main

import (
	"cmp"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/tui"

	"github.com/spf13/cobra"
)

type practiceOptions struct {
	holdDown string
	setup    string // kind of setup that stands for the second side
	unit     string // mm, or in for the shop without a probe
	seed     uint64
	mistake  string
	mistakes bool // --mistake was given
	out      string
	look     lookOptions
	auto     bool
	asJSON   bool
	levelOptions
}

func practiceCommand(r *runner) *cobra.Command {
	o := practiceOptions{}
	c := &cobra.Command{
		Use: "practice", Short: "Walk a built-in job on a simulated bench",
		Long: "Walks the built-in job, the back plate of a mantel barometer in bog oak, on a bench that is not there.\nThe job, its cards and " +
			"programs, and the record are written under --out, by default in the\nuser's state folder; the path is printed on leaving.",
		Args: argsNamed(),
		RunE: func(c *cobra.Command, _ []string) error {
			o.mistakes = c.Flags().Changed("mistake")
			return r.do(practice(r.env, o))
		},
	}
	f := c.Flags()
	f.StringVar(&o.holdDown, "hold-down", "T", "plan: T fixture tapped before, M holes matched, S holes made on side 1")
	f.StringVar(&o.setup, "setup", kit.SecondSide, "kind of setup: "+strings.Join(builtin.Kinds(), ", "))
	f.StringVar(&o.unit, "unit", "mm", "mm, or in: the same part in inches in a shop without a probe, by edge finder and dial, plan T")
	f.Uint64Var(&o.seed, "seed", 1, "which bench")
	f.StringVar(&o.mistake, "mistake", "", "what goes wrong unseen: a name, or none; an unknown one lists the known (default none with "+
		"--auto, else the first of that kind of setup, such as "+defaultMistake+")")
	f.StringVar(&o.out, "out", "", "folder for job, cards, programs and record")
	f.BoolVar(&o.auto, "auto", false, "let a scripted person walk it, without a screen")
	f.BoolVar(&o.asJSON, "json", false, "with --auto: print JSON; lengths in mm")
	o.levelOptions.flags(f)
	o.look.flags(f)
	_ = c.RegisterFlagCompletionFunc("setup", words(builtin.Kinds()...))
	_ = c.RegisterFlagCompletionFunc("unit", words("mm", "in"))
	return c
}

// defaultMistake is what goes wrong on a screen when nothing else was asked for, but for kinds of setup that have their own.
const defaultMistake = "chip-in-bore"

// usualMistake is that of a kind of setup.
func usualMistake(setup string) string {
	if own := bench.OwnMistakes(setup); len(own) > 0 {
		return own[0].Name
	}
	return defaultMistake
}

// shortKinds are kinds as the setups of a job are usually named.
var shortKinds = map[string]string{"side1": kit.FirstSide, "side2": kit.SecondSide, "dowels": "dowel-flip"}

// files is what the files of the practice go by: inches, a kind that has its own, else the hold-down plan.
func (o practiceOptions) files() string {
	if o.unit == "in" {
		return builtin.InInches(o.setup)
	}
	if o.setup == kit.SecondSide || o.setup == "" {
		return o.holdDown
	}
	return o.setup
}

// prepared is a practice job on the disk, its record open.
type prepared struct {
	dir    string
	job    *jobs.Job
	plan   *fold.Plan
	record *jobs.Record
	path   string       // of the record
	how    chosen       // how much its walk reads
	last   func() error // makes the files last
}

// cards are what the record carries of job, cards and programs.
func (p prepared) cards() map[string]string {
	cards := jobs.Flatten(p.job)
	maps.Copy(cards, checks.ProgramCards(p.plan))
	return cards
}

// cardBack writes what a practice comes to on the fixture's card, where its kind of setup is there for that.
func (p prepared) cardBack(e *env) *cardBack {
	c := newCardBack(e.disk, p.job, p.path, nil)
	if p.plan.WritesCard() {
		c.walks(p.plan)
	}
	return c
}

// prepare writes the files of a practice and opens its record.
func (e *env) prepare(o practiceOptions) (prepared, error) {
	p, err := e.lay(o)
	if err == nil {
		err = p.settle(e)
	}
	return p, err
}

// settle makes the files last and opens the record: all of it that waits for the disk.
func (p *prepared) settle(e *env) (err error) {
	if err = p.last(); err == nil {
		p.record, _, _, err = jobs.OpenRecord(e.disk, p.path, e.who())
	}
	return err
}

// lay is prepare but for what waits for the disk: the files are there to be read.
func (e *env) lay(o practiceOptions) (prepared, error) {
	var p prepared
	texts, err := builtin.Texts(o.files())
	if err != nil {
		what, hint := splitHint(err.Error())
		return p, &usageError{what, hint}
	}
	if p.dir, err = e.practiceDir(o); err != nil {
		return p, err
	}
	if err := e.disk.MakeDir(p.dir); err != nil {
		return p, &jobs.DiskError{Op: "make", Path: p.dir, What: "the folder cannot be made: " + plainError(err),
			Hint: "choose another with --out", Err: err}
	}
	texts = e.asWritten(p.dir, texts)
	path := filepath.Join(p.dir, builtin.JobFile)
	read := make(chan error, 1) // from the texts themselves, while they are written
	go func() {
		var err error
		p.job, err = builtin.Read(texts, p.dir)
		read <- err
	}()
	p.last, err = jobs.WriteFiles(e.disk, p.dir, texts)
	if err = cmp.Or(err, <-read); err != nil {
		return p, err
	}
	if p.plan, err = e.plan(p.job, p.job.Setups[0].Name); err != nil {
		return p, err
	}
	part, err := jobs.NextPart(e.disk, path)
	if err != nil {
		return p, err
	}
	if p.how, err = e.chooseLevel(o.levelOptions, path, part, p.plan); err != nil {
		return p, err
	}
	p.plan = p.plan.AtLevel(p.how.level)
	p.path = jobs.RecordPath(path, part)
	return p, nil
}

// asWritten are the files of a practice with the fixture's card as an earlier practice there has written to it.
func (e *env) asWritten(dir string, texts map[string]string) map[string]string {
	read := func(name string) string {
		b, _ := e.disk.Read(filepath.Join(dir, name), maxProgram)
		return string(b)
	}
	if read(builtin.JobFile) != texts[builtin.JobFile] {
		return texts
	}
	out := maps.Clone(texts)
	for name := range texts {
		if card := read(name); card != "" && strings.HasSuffix(name, ".fixture.yaml") {
			out[name] = card
		}
	}
	return out
}

// practiceDir is the folder of a practice: the one asked for, else a new one of the person's own.
func (e *env) practiceDir(o practiceOptions) (string, error) {
	if o.out != "" {
		return o.out, nil
	}
	state, err := e.stateDir()
	if err != nil {
		return "", err
	}
	return e.freeDir(filepath.Join(state, "practice", strings.ToLower(o.files())+"-"+strconv.FormatUint(o.seed, 10))), nil
}

// freeDir is the folder itself when it is new, else the first -N that is.
func (e *env) freeDir(dir string) string {
	for n := 1; ; n++ {
		try := dir
		if n > 1 {
			try += "-" + strconv.Itoa(n)
		}
		if names, err := e.disk.List(try); err != nil || len(names) == 0 {
			return try
		}
	}
}

func practice(e *env, o practiceOptions) (exit, error) {
	if kind, short := shortKinds[o.setup]; short {
		o.setup = kind
	}
	if o.unit == "inch" {
		o.unit = "in"
	}
	switch {
	case o.mistake == "none":
		o.mistakes, o.mistake = false, ""
	case !o.mistakes && !o.auto && o.setup != kit.Rescue:
		o.mistake = usualMistake(o.setup)
	}
	if o.setup != "" && !slices.Contains(builtin.Kinds(), o.setup) {
		return exitUsage, &usageError{"setup " + quoted(o.setup) + " is not known", "known are: " + strings.Join(builtin.Kinds(), " ")}
	}
	if o.asJSON && !o.auto {
		return exitUsage, &usageError{"--json without --auto", "a screen has no JSON; add --auto"}
	}
	if !strings.Contains(builtin.HoldDowns, strings.ToUpper(o.holdDown)) || len(o.holdDown) != 1 {
		return exitUsage, &usageError{"hold-down plan " + quoted(o.holdDown) + " is not known", "the plans are T, M and S"}
	}
	o.holdDown = strings.ToUpper(o.holdDown)
	switch {
	case o.unit != "mm" && o.unit != "in" && o.unit != "":
		return exitUsage, &usageError{"unit " + quoted(o.unit) + " is not known", "mm or in"}
	case o.unit == "in" && o.holdDown != "T":
		return exitUsage, &usageError{"there is no inch bench for plan " + o.holdDown, "--unit in goes with plan T and with every kind of setup"}
	}
	if known := mistakesOf(o); o.mistakes && !slices.Contains(known, o.mistake) {
		what := " is not known"
		if slices.Contains(bench.MistakeNames(), o.mistake) {
			what = " is none of that kind of setup"
		}
		return exitUsage, &usageError{"mistake " + quoted(o.mistake) + what, "known are: " + strings.Join(known, " ")}
	}
	if !o.auto {
		return screenPractice(e, o)
	}
	return practiceAuto(e, o)
}

// mistakesOf are those that the bench can make in that practice.
func mistakesOf(o practiceOptions) (names []string) {
	if o.setup == wholeJob {
		return bench.MistakeNames()
	}
	ms := bench.OwnMistakes(o.setup)
	if j, err := builtin.Job(o.files()); err == nil && o.setup != kit.Rescue {
		if p, err := steps.NewPlan(j, j.Setups[0].Name, nil); err == nil {
			ms = bench.MistakesIn(p)
		}
	}
	for _, m := range ms {
		names = append(names, m.Name)
	}
	return names
}

// practiceAuto lets the scripted person walk. Without --out nothing is kept: it is a
// calculation, asked for its numbers.
func practiceAuto(e *env, o practiceOptions) (exit, error) {
	disk := e.disk
	if o.out == "" {
		mem := *e
		mem.disk = jobs.Mem(nil)
		e, o.out = &mem, "practice"
	}
	p, err := e.prepare(o)
	if err != nil {
		return exitOf(err), err
	}
	defer p.record.Close()
	kept := e.disk == disk
	if o.setup == wholeJob {
		return wholeAuto(e, o, p, kept)
	}
	// Events go to the disk in one write: nobody is waiting for each of them.
	var events []jobs.Event
	res, err := bench.Auto(p.plan, bench.Options{Seed: o.seed, Mistake: o.mistake, Cards: p.cards(), LetsGo: o.setup == kit.Rescue})
	if err != nil {
		return exitInput, err
	}
	events = res.Walk.Events
	if kept {
		if err := p.record.Append(events...); err != nil {
			return exitDisk, err
		}
	}
	if kept {
		log := steps.NewLog()
		for _, ev := range events {
			log.Apply(ev)
		}
		if _, err := p.cardBack(e).settle(log); err != nil {
			return exitDisk, err
		}
	}
	code := exitNo
	if res.State == "released" {
		code = exitOK
	}
	if o.asJSON {
		e.json(res)
		return code, nil
	}
	f := foldRecord(res.Walk.Plan(), events)
	fmt.Fprint(e.out, f.text())
	if res.Mistake != nil {
		fmt.Fprintf(e.out, "  %s\n", madeWords(*res.Mistake, res.Walk.World))
	}
	if kept {
		fmt.Fprintf(e.out, "record: %s\n", p.path)
	}
	return code, nil
}

// madeWords say whether the bench came to make the mistake that it was to make.
func madeWords(mistake string, w *bench.World) string {
	for _, m := range w.Made() {
		if m.Name == mistake && !m.Begun {
			return "the bench was to make " + mistake + ", and the walk never came to where it happens"
		}
	}
	return "the bench made: " + mistake
}

// screenPractice opens the screen on the bench.
func screenPractice(e *env, o practiceOptions) (exit, error) {
	look, err := e.look(o.look)
	if err != nil {
		return exitUsage, err
	}
	if err := e.wantTerminal("fliptrue practice --auto walks it without one"); err != nil {
		return exitDisk, err
	}
	if o.out, err = e.practiceDir(o); err != nil {
		return exitOf(err), err
	}
	if o.setup == wholeJob {
		return wholeScreen(e, o, look)
	}
	var s *session
	res, err := e.show(look, filepath.Join(o.out, builtin.JobFile), func() (t tui.Options, err error) {
		var world *bench.World
		if s, world, err = e.beginPractice(o); err != nil {
			return t, err
		}
		t = s.options(e, look)
		t.Bench, t.Part = world, "practice, "+t.Part
		t.Open = func(setup string) (*fold.Plan, error) {
			p, err := e.plan(s.job, setup)
			if err != nil {
				return nil, err
			}
			s.plan = p
			world.LetGo(p)
			if o.setup == kit.Rescue && o.mistake != "" {
				err = world.Make(o.mistake, 0)
			}
			return p, err
		}
		return t, nil
	})
	if err != nil {
		return exitOf(err), err
	}
	s.record.Close() // the screen has waited for it
	fmt.Fprint(e.out, practiceEnd(o.mistake, res.Released, foldRecord(s.plan, s.events).named))
	return exitOK, nil
}

// practiceEnd is said once a practice was left. What went wrong unseen is told only when the
// setup was released: before, it would spoil going on.
func practiceEnd(mistake string, released bool, named []string) string {
	switch {
	case released:
		return mistakeWords(mistake, named)
	case mistake == "":
		return "its bench ends here: fliptrue practice begins a new part, fliptrue open goes on with this one by typed readings\n"
	}
	return "what went wrong unseen is told at the release; its bench ends here:\nfliptrue practice begins a new part, fliptrue open goes on " +
		"with this one by typed readings\n"
}

// beginPractice begins the record of a practice, and gives the bench that stands for the machine.
// The session has its record once it is settled.
func (e *env) beginPractice(o practiceOptions) (*session, *bench.World, error) {
	p, err := e.lay(o)
	if err != nil {
		return nil, nil, err
	}
	world := bench.NewWorld(p.plan, o.seed, bench.Usual(p.plan))
	if o.mistake != "" && o.setup != kit.Rescue {
		if err := world.Make(o.mistake, 0); err != nil {
			return nil, nil, &usageError{what: err.Error()}
		}
	}
	s := &session{job: p.job, plan: p.plan, path: p.path, log: steps.NewLog()}
	if p.plan.WritesCard() {
		s.due = p.cardBack(e)
	}
	if part := partOf(p.path); part > 1 {
		s.notes = append(s.notes, fmt.Sprintf("%s was practised here before: this is part %d, from the bare table",
			counted(part-1, "part"), part))
	}
	if how := p.how.said(); how != "" {
		s.notes = append(s.notes, how)
	}
	begun := []jobs.Event{p.how.begin(fold.Begin(p.plan.Setup.Name, p.cards(), "bench"))}
	if o.setup == kit.Rescue {
		k := bench.NewWalk(p.plan, world, p.cards())
		if _, err := k.Until(nil); err != nil {
			return nil, nil, err
		}
		begun = append(begun, k.Events[1:]...)
		s.first = letGoNow
	}
	s.stamp(e.now(), begun)
	s.settle = sync.OnceValue(func() error {
		err := p.settle(e)
		if s.record = p.record; err == nil {
			err = s.write(begun)
		}
		return err
	})
	return s, world, nil
}

// letGoNow opens the practice of a rescue: the bench has walked its second side to the cut.
const letGoNow = "Side 2 was walked to its release, and it is being cut. NOW the pitch changes, a screw head turns, powder flies: " +
	"something lets go. Close this page; then * and the first line."

// mistakeWords say what went wrong unseen, whether it was caught, and what it would have cost.
func mistakeWords(name string, named []string) string {
	for _, m := range bench.All() {
		if m.Name != name {
			continue
		}
		caught := "It was not named up to here."
		switch {
		case slices.Contains(named, name):
			caught = "It was caught."
		case len(named) > 0:
			caught = "Named on the way: " + strings.Join(named, ", ") + "."
		}
		return fmt.Sprintf("the bench made a mistake unseen: %s. %s %s\n", name, caught, m.Cost)
	}
	return ""
}
