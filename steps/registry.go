package steps

import (
	"fmt"
	"strings"

	"fliptrue/jobs"
)

// Kind is a kind of setup. Its steps register themselves.
type Kind struct {
	Name  string
	Goal  FactID                                 // the fact that the walk ends in
	After FactID                                 // made again and again after the end, "" for none
	Adapt func(*jobs.Job, *jobs.Setup) *jobs.Job // what the setup is to take for the job, nil for the job itself
	Hands []FactID                               // columns of the facts that other setups of the same record pick up
}

var kinds = map[string]Kind{}

// register adds a kind of setup.
func register(k Kind) { kinds[k.Name] = k }

// Step puts a Spec into kinds of setup. A new step is one file that calls add
// from its init; nothing else lists it.
type Step struct {
	ID      StepID
	Kinds   []string
	Plans   string // hold-down plans it is walked in, of "TMS"; "" for all
	Follows StepID // the step of the line before it; "" for the first
	Off     bool   // off the line: a calibration or a recheck
	Build   func(*Plan) *Spec
}

var registry []Step

func add(s Step) { registry = append(registry, s) }

// build chains the steps of a kind by what they follow, and keeps those of the job's hold-down plan.
func build(p *Plan, kind string) (line, off []*Spec) {
	var mine []Step
	for _, s := range registry {
		if contains(s.Kinds, kind) {
			mine = append(mine, s)
		}
	}
	keep := func(s Step) *Spec {
		if s.Plans != "" && (p.Setup.HoldDown == "" || !strings.Contains(s.Plans, p.Setup.HoldDown)) {
			return nil
		}
		sp := s.Build(p)
		if sp != nil {
			sp.ID = s.ID
		}
		return sp
	}
	var chain func(after StepID)
	placed := map[StepID]bool{}
	chain = func(after StepID) {
		for _, s := range mine {
			if !s.Off && s.Follows == after {
				if placed[s.ID] {
					panic(fmt.Sprintf("steps: step %q is registered twice for %s", s.ID, kind))
				}
				placed[s.ID] = true
				if sp := keep(s); sp != nil {
					line = append(line, sp)
				}
				chain(s.ID)
			}
		}
	}
	chain("")
	for _, s := range mine {
		if s.Off {
			if sp := keep(s); sp != nil {
				off = append(off, sp)
			}
		} else if !placed[s.ID] {
			panic(fmt.Sprintf("steps: step %q follows %q, which no step of %s is", s.ID, s.Follows, kind))
		}
	}
	return line, off
}
