package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/tui"

	"github.com/spf13/cobra"
)

type openOptions struct {
	job   string
	setup string
	part  int
	next  bool
	look  lookOptions
	levelOptions

	unmoved bool // with next: the mounting is taken over from the part before
}

func openCommand(r *runner) *cobra.Command {
	var o openOptions
	c := &cobra.Command{
		Use: "open [JOB]", Short: "Walk a setup; goes on where it stopped",
		Long: "Walks a setup and goes on where it stopped, after anything. Without a job it offers those of this\nfolder, the one that " +
			"was last " +
			"walked first.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return argsNamed("JOB")(c, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				o.job = args[0]
				return r.do(open(r.env, o))
			}
			return r.do(openLast(r.env, o))
		},
	}
	c.Flags().StringVar(&o.setup, "setup", "", "which setup; default the first that is not released")
	c.Flags().IntVar(&o.part, "part", 0, "which part; default the last that has a record")
	c.Flags().BoolVar(&o.next, "next", false, "begin the record of the next part")
	c.Flags().BoolVar(&o.unmoved, "nothing-moved", false,
		"with --next: take bore, floor and offset over from the part before, through a recheck")
	o.levelOptions.flags(c.Flags())
	o.look.flags(c.Flags())
	return c
}

// begin opens the record of a part, makes it when there is none, says in it that the job
// has changed when it has, and begins the setup if it is not begun.
func begin(e *env, o openOptions) (s *session, err error) {
	j, err := e.readJob(o.job)
	if err != nil {
		return nil, err
	}
	part, err := o.partFrom(e.disk)
	if err != nil {
		return nil, err
	}
	taken, left, err := takeOver(e, o, part)
	if err != nil {
		return nil, err
	}
	if s, err = recordSession(e, j, jobs.RecordPath(o.job, part)); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			s.close()
			s = nil
		}
	}()
	if err = s.mayGoOn(o.job); err != nil {
		return s, err
	}
	if err = s.owed(e); err != nil {
		return s, err
	}
	s.changed(e, o.job)
	name, err := s.choose(e, o)
	if err != nil {
		return s, err
	}
	if s.plan, err = s.planOf(e, name); err != nil {
		return s, err
	}
	if slices.Contains(begun(s.events), name) {
		s.goOn(e.now(), name)
		return s, nil
	}
	if s.due.owed != nil {
		// Its begin would copy values that the record knows to be old.
		return s, s.due.owed
	}
	s.due.walks(s.plan)
	how, err := e.chooseLevel(o.levelOptions, o.job, partOf(s.path), s.plan)
	if err != nil {
		return s, err
	}
	if s.plan = s.plan.AtLevel(how.level); how.said() != "" {
		s.notes = append(s.notes, how.said())
	}
	s.start(e.now(), how, taken, left)
	return s, nil
}

// recordSession holds the record of a part, new where there is none.
func recordSession(e *env, j *jobs.Job, path string) (*session, error) {
	s := &session{job: j, path: path, log: steps.NewLog()}
	var report jobs.Report
	var err error
	if s.record, s.events, report, err = jobs.OpenRecord(e.disk, path, e.who()); err != nil {
		return nil, err
	}
	s.isNew = report.New
	if text := report.String(); text != "" {
		s.notes = append(s.notes, filepath.Base(s.path)+": "+text)
	}
	return s, nil
}

// goOn is a setup that is begun already, at the level that it was begun with.
func (s *session) goOn(now time.Time, name string) {
	st := s.log.State(s.plan)
	if st.Earlier() != "" {
		s.notes = append(s.notes, st.Earlier())
	}
	s.plan = s.plan.AtLevel(st.Level)
	s.reposted(now, name)
}

// partFrom is the part that is meant: the one named, else the last, with --next the one after it.
func (o openOptions) partFrom(d jobs.Disk) (int, error) {
	switch {
	case o.part < 0:
		return 0, &usageError{fmt.Sprintf("part %d", o.part), "parts count from 1"}
	case o.part > 0:
		return o.part, nil
	}
	next, err := jobs.NextPart(d, o.job)
	if err != nil || o.next {
		return next, err
	}
	return max(1, next-1), nil
}

// mayGoOn refuses a record of another job, or of a walk that is not known here.
func (s *session) mayGoOn(jobPath string) error {
	if len(s.events) > 0 && s.events[0].By == "bench" {
		s.first = "This part was begun on a practice bench, which is gone. Type readings of your own here, or leave and run fliptrue practice " +
			"for a new part."
	}
	if err := cmp.Or(ofThisJob(s.job, jobPath, s.path, s.events), walkedHere(s.job, jobPath, s.path, s.events)); err != nil {
		return err
	}
	if text := newerWalk(s.events); text != "" {
		return &inputError{s.path, text, "go on with that one: this one would not ask all that it asks; fliptrue replay says what " +
			"the record means here"}
	}
	return nil
}

// changed has the record say what of job and cards is another since, with what that costs.
func (s *session) changed(e *env, jobPath string) {
	flat, old := jobs.Flatten(s.job), flatOf(s.events)
	if old == nil {
		return
	}
	changed := own(s.job, s.path, jobs.Changed(ofFiles(old), flat), flat)
	if len(changed) == 0 {
		return
	}
	ev := jobs.Event{Plan: s.job.Hash, Changed: changed, Cards: map[string]string{}}
	for _, k := range changed {
		if v, ok := flat[k]; ok {
			ev.Cards[k] = v
		}
	}
	s.pend(e.now(), ev)
	said := "the job has changed since: " + strings.Join(changed, ", ")
	if r, err := e.readRecord(jobPath, s.path); err == nil {
		if costs := e.costNote(&r, jobPath); costs != "" {
			said += "; " + costs
		}
	}
	s.notes = append(s.notes, said)
}

// start begins the setup: its record copies job, cards and programs, and what is taken over of the part before, which was left that long.
func (s *session) start(now time.Time, how chosen, taken map[string]string, left time.Duration) {
	name, cards := s.plan.Setup.Name, jobs.Flatten(s.job)
	maps.Copy(cards, checks.ProgramCards(s.plan))
	maps.Copy(cards, taken)
	es := []jobs.Event{how.begin(fold.Begin(name, cards, s.job.Operator))}
	if left >= alone { // a pause for the day: what is taken over is read again first
		es = append(es, jobs.Event{Mishap: name + "/left-alone"})
		s.notes = append(s.notes, fmt.Sprintf("nothing was done for %.0f h: that counts as left alone. Warm the spindle up for 30 min; then "+
			"bore, far end, floor and lengths are read again", left.Hours()))
	}
	s.pend(now, es...)
}

// reposted declares that programs were posted again when they are not those that the record
// speaks of, and has the record speak of those that lie there now.
func (s *session) reposted(now time.Time, name string) {
	old := map[string]string{}
	for _, ev := range s.events {
		if ev.Begin == name || ev.Plan != "" {
			maps.Copy(old, fold.PostedPrograms(ev.Cards, name))
		}
	}
	ev := jobs.Event{Plan: s.job.Hash, Cards: map[string]string{}}
	var changed []string
	for card, hash := range checks.ProgramCards(s.plan) {
		for role, now := range fold.PostedPrograms(map[string]string{card: hash}, name) {
			if was := old[role]; was != hash {
				ev.Cards[card] = now
				ev.Changed = append(ev.Changed, card)
				if was != "" {
					changed = append(changed, role)
				}
			}
		}
	}
	if len(ev.Changed) == 0 {
		return
	}
	slices.Sort(ev.Changed)
	es := []jobs.Event{ev}
	if slices.Sort(changed); len(changed) > 0 {
		es = append(es, jobs.Event{Mishap: name + "/program-reposted"})
		s.notes = append(s.notes, "posted again since, or edited: "+strings.Join(changed, ", "))
	}
	s.pend(now, es...)
}

// ofFiles are the values that come from the job and its cards; a begin may carry others.
func ofFiles(flat map[string]string) map[string]string {
	out := map[string]string{}
	for k, v := range flat {
		switch file, _, _ := strings.Cut(k, "."); file {
		case "job", "machine", "fixture":
			out[k] = v
		}
	}
	return out
}

// takeOver is what the mounting of the part before hands to the next one where nothing moved, left is since anything was done at it.
func takeOver(e *env, o openOptions, part int) (taken map[string]string, left time.Duration, err error) {
	switch {
	case !o.unmoved:
		return nil, 0, nil
	case !o.next || part < 2:
		return nil, 0, &usageError{"--nothing-moved without a part before", "add --next once a part is released"}
	}
	before := jobs.RecordPath(o.job, part-1)
	r, err := e.readRecord(o.job, before)
	if err != nil {
		return nil, 0, err
	}
	f, err := r.pick(cmp.Or(o.setup, secondOf(r.job)))
	if err != nil {
		return nil, 0, err
	}
	if taken, err = f.state.Taken(); err != nil {
		what, hint := splitHint(err.Error())
		return nil, 0, &inputError{before, what, hint}
	}
	return taken, e.now().Sub(r.events[len(r.events)-1].At), nil
}

// secondOf is the first second side of a job, "" without one: an inspection may have been walked after it.
func secondOf(j *jobs.Job) string {
	for _, s := range j.Setups {
		if s.Second() {
			return s.Name
		}
	}
	return ""
}

// alone is how long a mounting may stand before that counts as left alone.
const alone = time.Hour

// owed writes to the cards what the record owes them, and reads the job again when that
// changed one. What cannot be written is told, and holds up nothing that is begun already.
func (s *session) owed(e *env) error {
	for _, ev := range s.events {
		s.log.Apply(ev)
	}
	s.due = newCardBack(e.disk, s.job, s.path, s.events)
	for _, name := range begun(s.events) {
		if p, err := s.planOf(e, name); err == nil {
			s.due.walks(p)
		}
	}
	if wrote, _ := s.due.settle(s.log); wrote { // what is owed still, the screen says
		j, err := e.readJob(s.job.Path)
		if err != nil {
			return err
		}
		s.job, s.plans = j, nil
	}
	return nil
}

func open(e *env, o openOptions) (exit, error) {
	look, err := e.look(o.look)
	if err != nil {
		return exitUsage, err
	}
	if err := e.wantTerminal("fliptrue replay says what a record means without one"); err != nil {
		return exitDisk, err
	}
	if list, err := jobs.Records(e.disk, o.job); err == nil && len(list) > 0 {
		if err := e.askReasons(bufio.NewReader(e.in), o.job); err != nil {
			return exitOf(err), err
		}
	}
	var s *session
	show := func() error {
		_, err := e.show(look, o.job, func() (t tui.Options, err error) {
			if s, err = begin(e, o); err != nil {
				return t, err
			}
			if st := s.log.State(s.plan); len(st.Troubles) > 0 {
				s.close()
				return t, &inputError{s.path, st.Troubles[0].What, st.Troubles[0].Hint}
			}
			t = s.options(e, look)
			t.Feed, s.deaf = e.feeds(s.job.Machine)
			return t, nil
		})
		return err
	}
	err = show()
	if faults := (jobs.Faults)(nil); errors.As(err, &faults) && exists(e.disk, o.job) {
		if _, here := jobs.ReadJob(e.disk, o.job); len(here) > 0 {
			mended, merr := e.mend(o.job, look)
			if merr != nil {
				return exitOf(merr), merr
			}
			if !mended {
				return exitInput, err
			}
			err = show()
		}
	}
	if err != nil {
		return exitOf(err), err
	}
	defer s.close()
	s.due.mu.Lock()
	defer s.due.mu.Unlock()
	err = s.due.owed
	return exitOf(err), err
}
