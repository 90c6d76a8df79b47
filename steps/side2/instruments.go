package side2

import (
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// What a limit that these instruments cannot prove would take: the coarsest dial, probe or finder alone that proves it.

// sold are divisions and repeats that instruments come with, from the coarsest, mm (common practice).
func sold(p *fold.Plan) []float64 {
	if p.Job.Unit == unit.Imperial {
		in := float64(unit.Inch)
		return []float64{0.001 * in, 0.0005 * in, 0.0001 * in, 0.00005 * in}
	}
	return []float64{0.02, 0.01, 0.005, 0.002, 0.001, 0.0005}
}

// coarsest is the coarsest of them that is no coarser than that.
func coarsest(p *fold.Plan, most float64) (float64, bool) {
	all := sold(p)
	i := slices.IndexFunc(all, func(s float64) bool { return s <= most*(1+1e-9) })
	if i < 0 {
		return 0, false
	}
	return all[i], true
}

// instrument is one of the machine card: what it is called, and what it tells on a card.
type instrument struct {
	has  func(*jobs.Machine) *float64 // nil where the card has none
	says func(by string) string
}

var instruments = []instrument{
	{func(m *jobs.Machine) *float64 { return &m.Dial.Graduation }, func(by string) string { return "a dial of " + by }},
	{func(m *jobs.Machine) *float64 {
		if m.Probe == nil {
			return nil
		}
		b := *m.Probe
		m.Probe = &b
		return &b.Repeat
	}, func(by string) string { return "a probe that repeats within " + by }},
	{func(m *jobs.Machine) *float64 {
		if m.Finder == nil {
			return nil
		}
		b := *m.Finder
		m.Finder = &b
		return &b.Repeat
	}, func(by string) string { return "an edge finder that repeats within " + by }},
}

// takes is what would prove limits at best, by their ids; none where no single instrument does.
func takes(p *fold.Plan, open []fold.Check) map[string]string {
	out := map[string]string{}
	for _, in := range instruments {
		for _, s := range sold(p) {
			job := *p.Job
			at := in.has(&job.Machine)
			if at == nil || *at <= s {
				continue
			}
			*at = s
			best := bestOf(p.With(&job))
			for _, c := range open {
				i := slices.IndexFunc(best, func(b fold.Check) bool { return b.Limit.ID == c.Limit.ID })
				if i >= 0 && best[i].Verdict.OK() && !strings.Contains(out[c.Limit.ID], in.says("")) {
					by := in.says(p.Len(s))
					if was := out[c.Limit.ID]; was != "" {
						by = was + ", or " + by
					}
					out[c.Limit.ID] = by
				}
			}
		}
	}
	return out
}
