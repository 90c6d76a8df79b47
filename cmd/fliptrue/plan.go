package main

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"

	"github.com/spf13/cobra"
)

type planOptions struct {
	job, setup string
	about      string
	asJSON     bool
}

// subjects are what plan speaks about, in their order.
var subjects = []string{"ways", "sides", "feeds", "stock", "dust", "storage"}

func planCommand(r *runner) *cobra.Command {
	var o planOptions
	c := &cobra.Command{
		Use: "plan JOB", Short: "Compare ways to hold, order of sides, feeds, and what comes before and after",
		Long: "Compares at the desk, from the job's own part, cut, machine and cards: ways to hold the second side\n(register, deepest cut, " +
			"readings, minutes, risk, what has to be there), which side first, feeds and speeds,\nstock, dust and fire, storage.",
		Args: argsNamed("JOB"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.job = args[0]
			return r.do(plan(r.env, o))
		},
	}
	c.Flags().StringVar(&o.setup, "setup", "", "which second side; default the first")
	c.Flags().StringVar(&o.about, "about", "", "one of "+strings.Join(subjects, ", ")+"; default all")
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON; lengths in mm, times in minutes")
	_ = c.RegisterFlagCompletionFunc("about", words(subjects...))
	return c
}

// planJSON is what plan finds. Lengths in mm, times in minutes; null where a number is not known.
type planJSON struct {
	Job      string     `json:"job"`
	Setup    string     `json:"setup"`
	Level    string     `json:"level"` // at which all ways are walked
	Why      string     `json:"why"`   // that level
	Worth    *float64   `json:"worth"` // of a part; null: the risk is a share of it
	Planned  float64    `json:"planned"`
	Ways     []wayJSON  `json:"ways,omitempty"`
	Sections []planPart `json:"sections,omitempty"`
}

// planPart is one subject in sentences.
type planPart struct {
	About string   `json:"about"`
	Head  string   `json:"head"`
	Lines []string `json:"lines"`
}

type wayJSON struct {
	Name     string   `json:"name"`
	What     string   `json:"what"`
	Own      bool     `json:"own"` // the job's
	Takes    string   `json:"takes"`
	Buy      string   `json:"buy"`
	Pulls    string   `json:"pulls"`
	Register *float64 `json:"register"`
	At       string   `json:"at"`
	Deepest  *float64 `json:"deepest"`
	Leaves   *float64 `json:"leaves"`
	Numbers  *int     `json:"numbers"`
	Answers  *int     `json:"answers"`
	Minutes  *float64 `json:"minutes"` // of reading
	Risk     *float64 `json:"risk"`    // share of the part's worth
	Why      string   `json:"why"`     // what is not reckoned
}

func plan(e *env, o planOptions) (exit, error) {
	if o.about != "" && !slices.Contains(subjects, o.about) {
		return exitUsage, &usageError{"about " + quoted(o.about) + " is not known", "one of " + strings.Join(subjects, " ")}
	}
	j, err := e.readJob(o.job)
	if err != nil {
		return exitOf(err), err
	}
	i := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Second() && (o.setup == "" || s.Name == o.setup) })
	if i < 0 {
		return exitInput, &inputError{o.job, "there is no second side to plan", "its second sides are: " + strings.Join(secondSides(j), " ")}
	}
	name := j.Setups[i].Name
	p, err := e.plan(j, name)
	if err != nil {
		return exitOf(err), err
	}
	how, err := e.chooseLevel(levelOptions{}, o.job, 1, p)
	if err != nil {
		return exitOf(err), err
	}
	out := planJSON{Job: j.Name, Setup: name, Level: how.level.String(), Why: how.why, Planned: j.Setups[i].Cut.Ap}
	if j.Worth > 0 {
		w := float64(j.Worth) / float64(1+j.Spares)
		out.Worth = &w
	}
	if o.about == "" || o.about == "ways" {
		if out.Ways, err = waysOf(j, name, how.level); err != nil {
			return exitInput, &inputError{o.job, err.Error(), ""}
		}
	}
	for _, about := range subjects[1:] {
		if o.about == "" || o.about == about {
			out.Sections = append(out.Sections, planned(about, p))
		}
	}
	if o.asJSON {
		e.json(out)
		return exitOK, nil
	}
	fmt.Fprint(e.out, out.text(j.Unit))
	return exitOK, nil
}

func secondSides(j *jobs.Job) (out []string) {
	for _, s := range j.Setups {
		if s.Second() {
			out = append(out, s.Name)
		}
	}
	return out
}

// waysOf are the ways with what each asks of the person, counted on a sound setup of the simulated bench.
func waysOf(j *jobs.Job, setup string, l fold.Level) (out []wayJSON, err error) {
	ways, err := steps.Ways(j, setup)
	for _, w := range ways {
		x := wayJSON{Name: w.Name, What: w.What, Own: w.Is, Takes: w.Takes, Buy: w.Buy, Pulls: w.Pulls, At: w.At, Why: w.Why}
		positive := func(v float64) *float64 {
			if v > 0 {
				return finite(v)
			}
			return nil
		}
		x.Register, x.Deepest, x.Leaves = positive(w.Register), positive(w.Deepest), positive(w.Leaves)
		if w.Unheld != "" {
			x.Why = w.Unheld
		}
		if w.Count != nil && w.Register > 0 {
			x.count(w.Count.AtLevel(l), w.Guard)
		}
		out = append(out, x)
	}
	return out, err
}

// soundTries is how many benches are tried for a sound setup.
const soundTries = 6

// count walks a sound setup.
func (x *wayJSON) count(p *fold.Plan, guard float64) {
	r, err := bench.Auto(p, bench.Options{Seed: 1})
	for seed := uint64(2); err == nil && r.State != "released" && seed <= soundTries; seed++ { // not every bench is a good one
		r, err = bench.Auto(p, bench.Options{Seed: seed})
	}
	if err != nil || r.State != "released" {
		switch {
		case x.Why != "":
		case err != nil:
			x.Why = err.Error()
		default:
			x.Why = fmt.Sprintf("its simulated walk ends at %s: %s", *r.HeldAt, r.Walk.Words)
		}
		return
	}
	numbers, answers, minutes := 0, 0, 0.0
	asked := steps.AskedIn(r.Walk.State(), r.Walk.Events)
	for _, g := range asked {
		numbers, answers, minutes = numbers+g.Numbers, answers+g.Answers, minutes+g.Minutes
	}
	x.Numbers, x.Answers, x.Minutes = &numbers, &answers, &minutes
	if guard > 0 && p.Level() != fold.Full {
		const of = 1000 // minutes: what of them is lost beside the machine's own is nearly the share
		if lost, err := steps.Lost(p, asked, of, guard); err == nil {
			share := lost.Risk() / of
			x.Risk = &share
		}
	}
}

func (out planJSON) text(sys unit.System) string {
	var b strings.Builder
	length := func(v *float64) string {
		if v == nil {
			return "-"
		}
		return unit.Format(*v, unit.KLength, sys, 0)
	}
	if len(out.Ways) > 0 {
		fmt.Fprintf(&b, "%s, setup %s\nread as for %s: %s\n", out.Job, out.Setup, out.Level, out.Why)
		fmt.Fprintf(&b, "planned cut %s; lengths in %s\nminutes of reading; risk %s\n\n", unit.Show(out.Planned, unit.KLength, sys, 0),
			map[unit.System]string{unit.Metric: "mm", unit.Imperial: "inches"}[sys], out.riskUnit())
		fmt.Fprintf(&b, "  %-8s %9s %9s %9s %10s %7s %7s\n", "way", "register", "deepest", "leaves", "readings", "minutes", "risk")
		for _, w := range out.Ways {
			mark := " "
			if w.Own {
				mark = ">"
			}
			read, minutes := "-", "-"
			if w.Minutes != nil {
				read, minutes = fmt.Sprintf("%d + %d", *w.Numbers, *w.Answers), fmt.Sprintf("%.0f", *w.Minutes)
			}
			fmt.Fprintf(&b, "%s %-8s %9s %9s %9s %10s %7s %7s\n", mark, w.Name, length(w.Register), length(w.Deepest), length(w.Leaves), read,
				minutes, out.risk(w.Risk))
		}
		b.WriteString("\n")
		for _, w := range out.Ways {
			hung(&b, "  ", w.Name+": "+w.What+". Pulls at the part: "+w.Pulls+".")
			hung(&b, "    ", "has to be there: "+w.Buy)
			if w.Takes != "" {
				hung(&b, "    ", "assumed: "+w.Takes)
			}
			if w.Why != "" {
				hung(&b, "    ", "hold: "+w.Why)
			}
		}
		b.WriteString(waysNotes)
	}
	for i, s := range out.Sections {
		if i > 0 || len(out.Ways) > 0 {
			b.WriteString("\n")
		}
		b.WriteString(s.Head + "\n")
		for _, l := range s.Lines {
			hung(&b, "  ", l)
		}
	}
	return b.String()
}

// columns is how wide text is printed.
const columns = 80

// hung writes a text, what does not fit on a line hanging under it.
func hung(b *strings.Builder, indent, text string) {
	line := indent + text[:len(text)-len(strings.TrimLeft(text, " "))]
	indent = line + "  "
	for i, w := range strings.Fields(text) {
		switch {
		case i == 0:
			line += w
		case len([]rune(line))+1+len([]rune(w)) > columns:
			b.WriteString(line + "\n")
			line = indent + w
		default:
			line += " " + w
		}
	}
	b.WriteString(line + "\n")
}

const waysNotes = `
  register: within which it is proven at best at the worst feature, 95 %
  deepest: cut that neither slips nor lifts it with one screw lost
  leaves: above it the part is thrown
  readings: numbers + answers of a sound setup, counted on a simulated walk
  risk: mistakes that no reading of the level sees, and sides that do not meet;
  frequencies are judgement (factor 3), the same for every way but straps;
  what lets go unseen is not in it
`

func (out planJSON) riskUnit() string {
	if out.Worth == nil {
		return "in % of the part's worth (the job has no worth)"
	}
	return fmt.Sprintf("in minutes of a part worth %.0f", *out.Worth)
}

func (out planJSON) risk(share *float64) string {
	switch {
	case share == nil:
		return "-"
	case out.Worth == nil:
		return fmt.Sprintf("%.1f", 100**share)
	}
	return fmt.Sprintf("%.1f", *share**out.Worth)
}
