package kit

import (
	"fmt"
	"sort"

	"fliptrue/steps/fold"
)

// ToolNumbers are the job's tools in order.
func ToolNumbers(p *fold.Plan) []int {
	var ns []int
	for n := range p.Job.Tools {
		ns = append(ns, n)
	}
	sort.Ints(ns)
	return ns
}

// ToolName is a tool as the person finds it: its number with its name in the job.
func ToolName(p *fold.Plan, number string) string {
	for _, n := range ToolNumbers(p) {
		if fmt.Sprint(n) == number && p.Job.Tools[n].Name != "" {
			return "T" + number + " " + p.Job.Tools[n].Name
		}
	}
	return "T" + number
}

// LengthFacts are one a tool and, where there is a probe, its own last.
func LengthFacts(p *fold.Plan) []fold.FactID {
	var out []fold.FactID
	for _, n := range ToolNumbers(p) {
		out = append(out, fold.FactID(fmt.Sprintf("length/%d", n)))
	}
	if p.Job.Machine.Probe != nil {
		out = append(out, "length/probe")
	}
	return out
}

// ZDatum is the length that the floor's Z stands on: the probe's, or the first tool's without a probe.
func ZDatum(p *fold.Plan) fold.FactID {
	if p.Job.Machine.Probe != nil {
		return "length/probe"
	}
	if ns := ToolNumbers(p); len(ns) > 0 {
		return fold.FactID(fmt.Sprintf("length/%d", ns[0]))
	}
	return "length/probe"
}
