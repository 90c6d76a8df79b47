package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"

	"github.com/spf13/cobra"
)

type checkOptions struct {
	job            string   // one job
	paths          []string // jobs, cards and folders of them
	limits, asJSON bool
}

func checkCommand(r *runner) *cobra.Command {
	var o checkOptions
	c := &cobra.Command{
		Use: "check JOB|CARD|FOLDER...", Short: "Find every fault of a job and its cards, and what can be known at the desk",
		Long: "Reads jobs with their cards, cards alone, and folders of both. Programs that lie beside a job\nare held against it. " +
			"Exit code 3 when a file has faults, 1 when a job reads well and would not hold or\nnot clear as planned, or when that or its " +
			"register is not proven or not computed;\n0 only where all of it is proven.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return argsNamed("JOB")(c, args)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			o.paths = args
			return r.do(checkAll(r.env, o))
		},
	}
	c.Flags().BoolVar(&o.limits, "limits", false, "print every limit with the rule behind it")
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON; lengths in mm, slopes as ratios")
	return c
}

// checkJSON is what check finds. Lengths in mm, slopes as ratios.
type checkJSON struct {
	Error  *jobs.Fault  `json:"error,omitempty"` // the first fault, when there is one
	Job    string       `json:"job"`
	Faults jobs.Faults  `json:"faults"` // all faults: file, line, column, what, hint
	Notes  jobs.Faults  `json:"notes"`  // odd, and no fault
	Hazard string       `json:"hazard"` // the caution that goes with cutting the part's material, "" when none is known
	Setups []setupCheck `json:"setups"` // empty while there are faults
}

type setupCheck struct {
	Name     string        `json:"name"`
	Kind     string        `json:"kind"`
	Walks    bool          `json:"walks"`            // this version walks this kind of setup
	Findings []string      `json:"findings"`         // what speaks against the job at the desk
	Features []featureJSON `json:"features"`         // best that can be proven, held as the job says
	Limits   []limitJSON   `json:"limits,omitempty"` // with --limits

	Fails    bool         `json:"fails"`     // it would not hold or not clear as planned
	Verdict  fold.Verdict `json:"verdict"`   // of all checks together: pass, fail, not_proven
	Checks   []checkLine  `json:"checks"`    // register, hold-down, keep-out and reach as planned
	HoldDown []rowJSON    `json:"hold_down"` // numbers behind them
	Sources  []string     `json:"sources"`   // what they rest on, and what could not be sourced

	outlookJSON
	Flip      string      `json:"flip"`       // x or y, "" of other kinds
	BothSides []placeJSON `json:"both_sides"` // features in the programs of side 1 and side 2

	rows []fold.Row
	held []fold.Check

	onLocator bool
	lines     string // all lines of the budget, in words
	levels    string // what a walk does not see, by its level
}

// checkLine is one limit held against the plan. Units: mm, N, N·mm, or a count.
type checkLine struct {
	Limit   string       `json:"limit"`
	Why     string       `json:"why"`
	Got     *float64     `json:"got"`
	Max     *float64     `json:"max"`
	Min     bool         `json:"min"`   // max is the least that passes
	Class   string       `json:"class"` // soft, hard, never: how it may be waived
	Verdict fold.Verdict `json:"verdict"`
	Words   string       `json:"words"`
}

// rowJSON is one labelled number, in internal units, or text.
type rowJSON struct {
	Label string   `json:"label"`
	Value *float64 `json:"value,omitempty"`
	Text  string   `json:"text,omitempty"`
}

type featureJSON struct {
	Name     string    `json:"name"`
	U        axes      `json:"U"`        // best half-width of the 95 % interval
	Guard    axes      `json:"guard"`    // one-sided 95 %
	Floating axes      `json:"floating"` // U with the part floating in its pocket
	Walls    axes      `json:"walls"`    // U against two walls
	Largest  [2]string `json:"largest"`  // largest line of the budget, along x and y
}

type axes struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

type limitJSON struct {
	ID   string   `json:"id"`
	Max  *float64 `json:"max"` // null where the rule needs a measurement
	Unit string   `json:"unit"`
	Rule string   `json:"rule"`

	kind unit.Kind
}

// limitUnit is the unit of a limit's number: that of a length and all else as reckoned inside, whatever the job shows.
func limitUnit(k unit.Kind) string {
	switch k {
	case unit.KSlope:
		return "ratio"
	case unit.KWarmth:
		return "K"
	case unit.KVacuum:
		return "MPa"
	}
	return unit.UnitName(k, unit.Metric)
}

// check is one job at the desk.
func check(e *env, o checkOptions) (checkJSON, *jobs.Job, exit) {
	j, faults := jobs.ReadJob(e.disk, o.job)
	out := checkJSON{Job: j.Name, Faults: faults, Notes: j.Notes, Setups: []setupCheck{}}
	if out.Faults == nil {
		out.Faults = jobs.Faults{}
	}
	if out.Notes == nil {
		out.Notes = jobs.Faults{}
	}
	if len(faults) == 0 {
		faults = unknownLimits(j)
		out.Faults = append(out.Faults, faults...)
	}
	if len(faults) == 0 {
		out.Notes = append(out.Notes, ungrantedLimits(j)...)
	}
	if len(faults) > 0 {
		out.Error = &faults[0]
		return out, nil, exitInput
	}
	for _, s := range j.Setups {
		for _, g := range s.Programs {
			if _, err := e.disk.Size(besides(j.Path, g.File)); err != nil {
				what := "program " + quoted(g.File) + " of setup " + s.Name + " is not there"
				if !errors.Is(err, fs.ErrNotExist) {
					what = "program " + quoted(g.File) + " of setup " + s.Name + " cannot be read"
				}
				out.Notes = append(out.Notes, jobs.Fault{File: j.Path, What: what, Hint: "put it beside the job before the walk comes to it"})
			}
		}
	}
	if m, err := j.Library().Like(j.Part.Material); j.Part.Material != "" && err == nil {
		out.Hazard = m.Hazard
	}
	for _, l := range steps.Outlook(j, nil) {
		s, _ := j.Setup(l.Name)
		c := checkSetup(j, *s, o.limits)
		c.heldPrograms(e, j, *s)
		c.outlookJSON = outlookOf(l)
		out.Setups = append(out.Setups, c)
	}
	for _, s := range out.Setups {
		if s.Walks && !s.Verdict.OK() {
			return out, j, exitNo
		}
	}
	return out, j, exitOK
}

// checkSetup is one setup at the desk.
func checkSetup(j *jobs.Job, s jobs.Setup, limits bool) setupCheck {
	c := setupCheck{Name: s.Name, Kind: s.Kind, Findings: []string{}, Features: []featureJSON{}, Checks: []checkLine{}, HoldDown: []rowJSON{},
		Sources: []string{}, Flip: s.Flip, BothSides: []placeJSON{}}
	p, err := steps.NewPlan(j, s.Name, nil)
	if err != nil {
		c.Findings = append(c.Findings, "This version does not walk a setup of kind "+s.Kind+".")
		return c
	}
	c.Walks, c.BothSides, c.onLocator, c.levels = true, bothSides(p), p.OnLocator(), levelsText(p)
	d := desk.AtDesk(p)
	c.Findings = append(c.Findings, d.Findings...)
	for i, f := range d.AsJob {
		c.Features = append(c.Features, featureJSON{Name: f.Name, U: axesOf(f.U), Guard: axesOf(f.Guard),
			Floating: axesOf(d.Floating[i].U), Walls: axesOf(d.Walls[i].U), Largest: f.Largest})
	}
	if c.lines = budgetLines(d.AsJob, j.Unit); c.lines != "" {
		c.lines += "  no line for: " + strings.Join(report.NoLineAtDesk(p), "; ") + "\n"
	}
	c.Verdict = d.Verdict()
	c.Fails = c.Verdict == fold.Fail
	for _, k := range d.Checks {
		c.add(k)
	}
	for _, r := range d.HoldDown {
		row := rowJSON{Label: r.Label, Text: r.Text}
		if r.Text == "" {
			row.Value = finite(r.Value)
		}
		c.HoldDown = append(c.HoldDown, row)
	}
	c.Sources = append(c.Sources, d.Sources...)
	c.rows, c.held = d.HoldDown, d.Checks
	if limits {
		for _, row := range p.LimitTable() {
			l := limitJSON{ID: row.Label, Unit: limitUnit(row.Unit), Rule: row.Text, kind: row.Unit}
			if row.Value > 0 {
				l.Max = finite(row.Value)
			}
			c.Limits = append(c.Limits, l)
		}
	}
	return c
}

// add is one check more, as JSON has it.
func (c *setupCheck) add(k fold.Check) {
	c.Checks = append(c.Checks, checkLine{Limit: k.Limit.ID, Why: k.Limit.Why, Got: finite(k.Got), Max: finite(k.Limit.Max), Min: k.Limit.Min,
		Class: k.Limit.Class.String(), Verdict: k.Verdict, Words: k.Words})
}

func axesOf(v [2]float64) axes { return axes{v[0], v[1]} }

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (c checkJSON) text(j *jobs.Job) string {
	var b strings.Builder
	sys := j.Unit
	fmt.Fprintf(&b, "%s: %s; register allowance %s\n", c.Job, c.says(), unit.Show(float64(j.Allowance), unit.KLength, sys, 0))
	for _, n := range c.Notes {
		b.WriteString("note: " + n.Error() + "\n")
	}
	if c.Hazard != "" {
		fmt.Fprintf(&b, "caution, %s: %s\n", j.Part.Material, c.Hazard)
	}
	var names []string
	for _, s := range c.Setups {
		names = append(names, s.Name)
	}
	if order := inOrder(names); order != "" {
		b.WriteString(order + "\n")
	}
	for _, s := range c.Setups {
		fmt.Fprintf(&b, "\nsetup %s (%s)\n%s", s.Name, s.Kind, s.outlookJSON.text("  "))
		for _, f := range s.Findings {
			b.WriteString("  " + f + "\n")
		}
		s.featuresText(&b, sys)
		b.WriteString(flipText(s.Flip, s.BothSides, sys))
		s.holdText(&b, sys)
		b.WriteString(s.levels)
		s.limitsText(&b, sys)
	}
	return b.String()
}

// says is what files and desk come to, in words.
func (c checkJSON) says() string {
	says := "no faults"
	for _, s := range c.Setups {
		switch {
		case s.Fails:
			return "no faults in the files, and it FAILS at the desk"
		case s.Walks && !s.Verdict.OK():
			says = "no faults in the files, and NOT PROVEN at the desk"
		}
	}
	return says
}

// featuresText is the best that can be proven at each feature, a line each.
func (s setupCheck) featuresText(b *strings.Builder, sys unit.System) {
	if len(s.Features) == 0 {
		return
	}
	w := len("feature")
	for _, f := range s.Features {
		w = max(w, len([]rune(f.Name)))
	}
	fmt.Fprintf(b, "  best that these instruments can prove, ± %s (95 %%):\n", unit.UnitName(unit.KLength, sys))
	others := func(walls, floating string) string {
		if s.onLocator { // no walls to be compared
			return ""
		}
		return fmt.Sprintf("%-19s %-19s ", walls, floating)
	}
	fmt.Fprintf(b, "  %-*s  %-19s %s%s\n", w, "feature", "as the job", others("two walls", "floating"), "largest line")
	show := func(v float64) string { return unit.Format(v, unit.KLength, sys, 0) }
	pair := func(a axes) string { return fmt.Sprintf("X %s Y %s", show(a.X), show(a.Y)) }
	for _, f := range s.Features {
		largest := f.Largest[0]
		if f.U.Y > f.U.X {
			largest = f.Largest[1]
		}
		fmt.Fprintf(b, "  %-*s  %-19s %s%s\n", w, f.Name, pair(f.U), others(pair(f.Walls), pair(f.Floating)), largest)
	}
	b.WriteString(s.lines)
}

// limitsText are the limits of the setup, where they were asked for.
func (s setupCheck) limitsText(b *strings.Builder, sys unit.System) {
	if len(s.Limits) == 0 {
		return
	}
	b.WriteString("  limits:\n")
	for _, l := range s.Limits {
		v := "as measured"
		if l.Max != nil {
			v = unit.Show(*l.Max, l.kind, sys, 0)
		}
		fmt.Fprintf(b, "    %-18s %-22s %s\n", l.ID, v, l.Rule)
	}
}

// holdText is the hold-down, keep-out and reach of a setup as planned.
func (s setupCheck) holdText(b *strings.Builder, sys unit.System) {
	if len(s.Checks) == 0 && len(s.rows) == 0 {
		return
	}
	b.WriteString("  held and cleared as planned:\n")
	for _, k := range s.held {
		fmt.Fprintf(b, "    %-11s %s", k.Verdict, k.Limit.Why)
		if !k.Count && (k.Limit.Max > 0 || !k.Verdict.OK()) {
			k.Limit.System = sys
			got, limit := k.Against()
			fmt.Fprintf(b, ": %s of %s", got, limit)
		}
		b.WriteString("\n")
	}
	w := 0
	for _, r := range s.rows {
		w = max(w, len([]rune(r.Label)))
	}
	for _, r := range s.rows {
		text := r.Text
		if text == "" {
			text = unit.Show(r.Value, r.Unit, sys, 0)
		}
		fmt.Fprintf(b, "    %-*s  %s\n", w, r.Label, text)
	}
	for _, x := range s.Sources {
		b.WriteString("    - " + x + "\n")
	}
}
