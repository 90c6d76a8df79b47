package main

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fixture"
	"fliptrue/steps/report/pen"

	"github.com/spf13/cobra"
)

type pocketOptions struct {
	job, svg string
	asJSON   bool
}

func pocketCommand(r *runner) *cobra.Command {
	var o pocketOptions
	c := &cobra.Command{
		Use: "pocket JOB", Short: "Say how the pocket of a fixture should be, while it can still be cut",
		Long: "Reckons for the job's fixture: three pads and the turn that they hold, play of the free walls for a damp summer\n(24 C, 65 %) " +
			"and a heated winter (17 C, 30 %), relief of the corners, spare threads, how the plate is annealed.\nBy the card's day, else 21 C and " +
			"45 %.",
		Args: argsNamed("JOB"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.job = args[0]
			return r.do(pocket(r.env, o))
		},
	}
	c.Flags().StringVar(&o.svg, "svg", "", "write the drawing to this new file as well")
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON; lengths in mm")
	return c
}

// pocketJSON is the advice. Lengths in mm; turn in rad.
type pocketJSON struct {
	Fixture string     `json:"fixture"`
	Apart   float64    `json:"pads_apart"`
	Turn    float64    `json:"turn"`
	Free    [2]float64 `json:"free"` // play along X and Y
	Worst   [2]string  `json:"worst"`
	Relief  float64    `json:"relief"` // from both walls
	Eats    float64    `json:"eats"`
	Spares  int        `json:"spares"`
	Lines   []string   `json:"lines"`
}

func pocket(e *env, o pocketOptions) (exit, error) {
	j, err := e.readJob(o.job)
	if err != nil {
		return exitOf(err), err
	}
	i := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Card != "" })
	if i < 0 {
		return exitInput, &inputError{o.job, "none of its setups has a fixture", "add a second side, or a setup of kind fixture"}
	}
	p, err := steps.NewPlan(j, j.Setups[i].Name, nil)
	if err != nil {
		return exitOf(err), err
	}
	a, err := fixture.Advise(p, fixture.Air(p), fixture.Days)
	if err != nil {
		return exitInput, &inputError{o.job, err.Error(), "look at part.size and at the fixture's card"}
	}
	lines := a.Lines(p)
	if o.svg != "" {
		d, ok := pen.Plan{Scene: a.Scene, Short: func(s string) string { return s }}.Draw(180, 130)
		if !ok {
			return exitInput, &inputError{o.job, "the card has no pocket to draw", "give pocket.outline"}
		}
		if err := jobs.WriteFile(e.disk, o.svg, []byte(svg(d))); err != nil {
			return exitOf(err), err
		}
	}
	if o.asJSON {
		e.json(pocketJSON{j.Fixture.ID, a.Apart, a.Turn, a.Free, a.Worst, a.Corner.A, a.Corner.Eats, a.Spares, lines})
		return exitOK, nil
	}
	fmt.Fprintf(e.out, "pocket of %s, %s\n", j.Fixture.ID, j.Fixture.Material)
	for _, l := range lines {
		fmt.Fprintln(e.out, "  "+l)
	}
	if o.svg != "" {
		fmt.Fprintln(e.out, "drawing: "+o.svg)
	}
	return exitOK, nil
}

// svg is a drawing as a file of its own.
func svg(d pen.Drawing) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %g %g\" width=\"%gmm\" height=\"%gmm\">\n<title>%s</title>\n",
		d.W, d.H, d.W, d.H, html.EscapeString(d.What))
	b.WriteString("<style>path{fill:none;stroke:#222;stroke-width:.3}.support{fill:#bbb}.part{stroke-dasharray:2 " +
		"1}.bore{stroke-width:.2}text{font:3px sans-serif}</style>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n")
	for _, s := range d.Strokes {
		fmt.Fprintf(&b, "<path class=\"%s\" d=\"%s\"/>\n", html.EscapeString(s.Look), html.EscapeString(s.Path))
	}
	for _, w := range d.Words {
		turn := ""
		if strings.Contains(w.Look, "up") {
			turn = fmt.Sprintf(" transform=\"rotate(-90 %g %g)\"", w.X, w.Y)
		}
		fmt.Fprintf(&b, "<text x=\"%g\" y=\"%g\" text-anchor=\"%s\"%s>%s</text>\n", w.X, w.Y, w.Anchor, turn, html.EscapeString(w.Text))
	}
	b.WriteString("</svg>\n")
	return b.String()
}
