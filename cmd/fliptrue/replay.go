package main

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"
	"fliptrue/tui"

	"github.com/spf13/cobra"
)

type replayOptions struct {
	job, record string
	setup       string
	asJSON      bool
	plot        bool
}

func replayCommand(r *runner) *cobra.Command {
	var o replayOptions
	c := &cobra.Command{
		Use: "replay [JOB] [RECORD]", Short: "Say what a record means, without a screen",
		Long: "Folds a record as the screen does and says what it means. Writes nothing. With a job alone it\ntakes the record of its last " +
			"part. The job is taken as the record copied it when it began, so that\na record alone will do; one written by hand need not copy it, " +
			"and wants its job named.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return argsNamed("JOB", "RECORD")(c, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			o.job, o.record = jobAndRecord(r.env, args)
			return r.do(replay(r.env, o))
		},
	}
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON; lengths in mm")
	c.Flags().BoolVar(&o.plot, "plot", false, "draw what the printed sheet draws, as text")
	c.Flags().StringVar(&o.setup, "setup", "", "which setup of the record; default the last begun")
	return c
}

// replayJSON is what a record means for one setup. Lengths in mm in every job.
type replayJSON struct {
	State  string        `json:"state"`   // released or held
	HeldAt *fold.StepID  `json:"held_at"` // the step to go on at; null when released
	Named  []string      `json:"named"`   // mistakes that the readings showed, in order
	Offset *bench.Offset `json:"offset"`  // x, y, z in machine mm, rotation_deg; null when void or not yet made
	// Features are name, error and U per axis: part's feature minus where the tool will cut, half-width of the 95 % interval.
	Features []bench.Feature `json:"features"`
	Events   int             `json:"events"` // how many the record holds

	Sheet *report.Record `json:"sheet,omitempty"` // all that the printed sheet says, without the raw readings
	Tag   *report.Tag    `json:"tag,omitempty"`   // of the fixture, where the setup has one
}

func (f folded) json() replayJSON {
	j := replayJSON{State: "held", Named: f.named, Events: int(f.state.N)}
	if f.state.Released {
		j.State = "released"
	} else {
		id := f.state.Cursor.Step
		if f.state.Cursor.Idle {
			id = f.plan.Line[len(f.plan.Line)-1].ID // only the release itself is missing
		}
		j.HeldAt = &id
	}
	j.Offset, j.Features = bench.Known(&f.state)
	return j
}

// standing is the exit code of where a setup stands.
func (f folded) standing() exit {
	if f.state.Released {
		return exitOK
	}
	return exitNo
}

func replay(e *env, o replayOptions) (exit, error) {
	if o.record == "" {
		var err error
		if o.record, err = e.lastRecord(o.job); err != nil {
			return exitOf(err), err
		}
	}
	r, err := e.readRecord(o.job, o.record)
	if err != nil {
		return exitOf(err), err
	}
	r.odd(e)
	f, err := r.pick(o.setup)
	if err != nil {
		return exitUsage, err
	}
	if o.asJSON {
		j, sheet := foldRecord(f.plan, r.events).json(), e.sheetOf(r, f, o.record)
		sheet.Readings, j.Sheet = nil, &sheet
		if tag, ok := e.tagOf(f.state.Plan(), reportOptions{job: o.job, record: o.record}, r); ok {
			j.Tag = &tag
		}
		e.json(j)
		return f.standing(), nil
	}
	if o.plot {
		e.plots(r, f, o.record)
		return f.standing(), nil
	}
	if o.setup != "" {
		fmt.Fprint(e.out, foldRecord(f.plan, r.events).text())
		return f.standing(), nil
	}
	for i, f := range r.setups {
		if i > 0 {
			fmt.Fprintln(e.out)
		}
		fmt.Fprint(e.out, foldRecord(f.plan, r.events).text())
	}
	return f.standing(), nil
}

// plotWidth is how wide drawings are printed: of any terminal, and of a page.
const plotWidth = 80

// plots draws for one setup what its sheet draws, by the pen of the screen.
func (e *env) plots(r record, f folded, path string) {
	var scenes []tui.NamedScene
	for i, p := range e.sheetOf(r, f, path).Pictures() {
		if i > 0 {
			p.Scene.Shapes = nil // the setup is drawn once
		}
		scenes = append(scenes, tui.NamedScene{Name: p.Title, Scene: p.Scene})
	}
	look := tui.Look{ASCII: !e.utf8(), NoBraille: e.getenv("TERM") == "linux"}
	fmt.Fprintf(e.out, "%s, setup %s: %s\n\n", f.state.Plan().Job.Name, f.state.Setup, f.where())
	for _, l := range tui.Plots(look, &f.state, scenes, plotWidth) {
		fmt.Fprintln(e.out, strings.TrimRight(l, " "))
	}
}

// stepText is a step with what it says; where something is to be decided about it, what speaks against it and what may be done.
func stepText(s fold.StepState, decide bool, sys unit.System) string {
	says := checksLine(s.Outcome.Checks, sys)
	switch {
	case s.Verdict == fold.Void:
		says = fmt.Sprintf("%s (event %d)", s.Cause.Words, s.Cause.Seq)
	case s.Cause != nil:
		says = strings.TrimPrefix(fmt.Sprintf("%s; it served; lost since by %s (event %d)", says, s.Cause.Words, s.Cause.Seq), "; ")
	}
	text := strings.TrimRight(fmt.Sprintf("  %-11s %-12s %s", s.Verdict, s.ID, says), " ") + "\n"
	if !decide {
		return text
	}
	for _, c := range s.Outcome.Checks {
		if !c.Verdict.OK() && c.Words != "" {
			text += "    " + c.Words + "\n"
		}
	}
	for _, a := range s.Outcome.Next {
		if a.Words != "" {
			text += "    next: " + a.Words + "\n"
		}
	}
	return text
}

// offsetText is the offset that is known, under its name, and how far off the features are; "" where none is.
func offsetText(st *fold.State, name string, sys unit.System) string {
	of, fs := bench.Known(st)
	if of == nil {
		return ""
	}
	var b strings.Builder
	rot := ""
	if of.Rotation != 0 {
		rot = fmt.Sprintf("  rotation %.4f deg", of.Rotation)
	}
	fmt.Fprintf(&b, "  %s  X %s  Y %s  Z %s %s%s\n", name, unit.Signed(of.X, unit.KLength, sys, 0),
		unit.Signed(of.Y, unit.KLength, sys, 0), unit.Signed(of.Z, unit.KLength, sys, 0), unit.UnitName(unit.KLength, sys), rot)
	for _, x := range fs {
		fmt.Fprintf(&b, "  %s: side 2 off by X %s  Y %s (U 95 %%)\n", x.Name, pm(x.Error.X, x.U.X, sys), pm(x.Error.Y, x.U.Y, sys))
	}
	if lines := budgetLines(steps.Register(st), sys); lines != "" {
		b.WriteString(lines + "  no line for: " + strings.Join(report.NoLine(st), "; ") + "\n")
	}
	return b.String()
}

// text is one line a step with its verdict and limits, and what to do next.
func (f folded) text() string {
	var b strings.Builder
	st, sys := &f.state, f.plan.Job.Unit
	job := st.Plan().Job
	fmt.Fprintf(&b, "%s, setup %s: %s\n", job.Name, st.Setup, f.where())
	for _, s := range st.Steps {
		if s.Verdict != fold.NotApplicable {
			b.WriteString(stepText(s, s.ID == st.Cursor.Step && st.Cursor.Decide, sys))
		}
	}
	for _, f := range desk.JudgedFiles(st) {
		if says := f.Says(); says != "" {
			fmt.Fprintf(&b, "  %s: judged was checksum %s; %s\n", f.File, f.Sum, says)
		}
	}
	for _, w := range st.Waivers {
		fmt.Fprintf(&b, "  waived: %s at %s, %s\n", w.Limit, w.Number, w.Reason)
	}
	for _, m := range st.Mishaps {
		if m.By == "" {
			fmt.Fprintf(&b, "  mishap: %s (event %d)\n", m.ID, m.Seq)
		}
	}
	for _, x := range st.Strays {
		fmt.Fprintf(&b, "  not used: event %d, %s\n", x.Seq, x.What)
	}
	if e := st.Earlier(); e != "" {
		fmt.Fprintf(&b, "  %s\n", e)
	}
	if len(st.Way) > 0 {
		b.WriteString("  way back:\n")
		for _, w := range st.Way {
			fmt.Fprintf(&b, "    %s: %d readings\n", w.Title, w.Readings)
		}
	}
	b.WriteString(offsetText(st, f.plan.Setup.Offset, sys))
	if len(f.named) > 0 {
		b.WriteString("  named on the way: " + strings.Join(f.named, ", ") + "\n")
	}
	return b.String()
}

func pm(v, u float64, sys unit.System) string { return unit.FormatU(v, u, unit.KLength, sys, 0) }

// where says where a setup stands in one phrase.
func (f folded) where() string {
	st := &f.state
	switch {
	case !st.Begun:
		return "not begun"
	case st.Released:
		return "RELEASED"
	case st.Ready:
		return "everything passes; the release itself is missing"
	case st.Cursor.Decide:
		return fmt.Sprintf("held at %s: it does not pass", stepWords(st))
	case st.TakenBack != nil:
		return fmt.Sprintf("release taken back (%s); next is %s", st.TakenBack.Words, stepWords(st))
	}
	next := st.Cursor.Field
	if a, ok := st.Ask(next); ok && a.Label != "" {
		next = a.Label
	}
	return fmt.Sprintf("held at %s, next: %s; %d steps left", stepWords(st), next, len(st.Left))
}

// stepWords is the step in hand as the screen names it.
func stepWords(st *fold.State) string {
	if ss, ok := st.Step(st.Cursor.Step); ok && ss.Title != "" {
		return ss.Title
	}
	return string(st.Cursor.Step)
}

// checksLine says each limit with what was measured against it.
func checksLine(cs []fold.Check, sys unit.System) string {
	var out []string
	for _, c := range cs {
		if c.Count {
			if !c.Verdict.OK() {
				out = append(out, c.Limit.ID+" "+c.Verdict.String())
			}
			continue
		}
		c.Limit.System = sys
		got, limit := c.Against()
		s := c.Limit.ID + " " + got
		if c.Guard > 0 {
			s += " ± guard " + unit.Format(c.Guard, c.Limit.Unit, sys, 0)
		}
		s += " of " + limit
		if c.Verdict != fold.Pass {
			s += " " + c.Verdict.String()
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}
