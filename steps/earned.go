package steps

import (
	"slices"
	"strings"

	"fliptrue/calc/worth"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// Asked is what a walk asked that is worth something only together, with what it finds.
type Asked struct {
	worth.Group
	Fields           []string // step/field
	Numbers, Answers int      // a number is read from an instrument, an answer is a count, a choice, a look or a value read back
	Gate             bool
}

// AskedIn are the groups of a walk in walk order. What the program read itself is not among them, and what was given twice is once.
func AskedIn(st *fold.State, events []jobs.Event) []Asked {
	asks := map[string]fold.Ask{}
	for _, ss := range st.Steps {
		for _, a := range ss.Asks {
			asks[string(ss.ID)+"/"+a.Field] = a
		}
	}
	var out []Asked
	seen := map[string]bool{}
	for _, e := range events {
		step, field, given := addressed(e)
		a, known := asks[step+"/"+field]
		if !given || !known || e.By == fold.BySelf || seen[step+"/"+field] {
			continue
		}
		seen[step+"/"+field] = true
		name := a.With
		if name == "" {
			name = step + "/" + a.Worth.Field
			if a.Worth.Field == "" {
				name = step + "/" + field
			}
		}
		i := slices.IndexFunc(out, func(g Asked) bool { return g.Name == name })
		if i < 0 {
			i = len(out)
			out = append(out, Asked{Group: worth.Group{Name: name}})
		}
		out[i].add(step, field, a)
	}
	return out
}

func (g *Asked) add(step, field string, a fold.Ask) {
	g.Fields, g.Gate, g.Minutes = append(g.Fields, step+"/"+field), g.Gate || a.Gate, g.Minutes+Minutes(a)
	look := step
	if a.Kind == fold.Reading {
		look = ""
		g.Numbers++
	} else {
		g.Answers++
	}
	for m, from := range a.Catches {
		c := worth.Catch{Mistake: m, From: from, Look: look}
		if c.Echo = a.Kind == fold.Echo; c.Echo {
			c.Look = ""
		}
		i := slices.IndexFunc(g.Catches, func(o worth.Catch) bool { return o.Mistake == m && o.Look == c.Look })
		if i < 0 {
			g.Catches = append(g.Catches, c)
			continue
		}
		g.Catches[i].From = min(g.Catches[i].From, c.From) // the group sees what its keenest field sees
	}
	slices.SortFunc(g.Catches, func(a, b worth.Catch) int { return strings.Compare(a.Mistake+a.Look, b.Mistake+b.Look) })
}

func addressed(e jobs.Event) (step, field string, ok bool) {
	a := strings.SplitN(e.Read+e.Answer, "/", 4)
	if len(a) < 4 {
		return "", "", false
	}
	return a[1], a[3], true
}

// Minutes is what an ask takes at the mill: as its table has it, else by its instrument (common practice).
func Minutes(a fold.Ask) float64 {
	if a.Minutes > 0 {
		return a.Minutes
	}
	switch a.What.By {
	case "probe", "touch", "tool", "finder", "paper":
		return 0.4
	case "dial", "feeler", "driver", "control":
		return 0.3
	case "block", "micrometer", "depth gauge", "thermometer":
		return 0.5
	}
	return 0.1
}

// Lost is what a walk of those groups costs and leaves, minutes, for a part of that worth; guard is the register's at the worst
// feature. A fixture at the least level counts as proven.
func Lost(p *fold.Plan, asked []Asked, worthOf, guard float64) (worth.Loss, error) {
	var gs []worth.Group
	in := make([]bool, len(asked))
	for i, a := range asked {
		gs, in[i] = append(gs, a.Group), true
	}
	m, err := worth.NewModel(worth.Setting{Allowance: float64(p.Job.Allowance), Thickness: float64(p.Job.Thickness), Worth: worthOf,
		U: worth.Of95(guard), Proven: p.Level() == fold.Proven, Strapped: p.Setup.HoldDown == "T" || p.Setup.HoldDown == "M"}, gs)
	if err != nil {
		return worth.Loss{}, err
	}
	return m.Loss(in), nil
}
