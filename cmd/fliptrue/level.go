package main

import (
	"maps"
	"strings"

	"fliptrue/calc/worth"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"

	"github.com/spf13/pflag"
)

// levelOptions say how much a walk reads, where the person says so.
type levelOptions struct {
	level   string // "" for what the table chooses
	because string // why less than it chooses
}

func (o *levelOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.level, "level", "", "how much the walk reads: proven, first-use or irreplaceable; default by the job's worth and spares, "+
		"allowance and history")
	f.StringVar(&o.because, "because", "", "with --level: why less than is chosen")
}

// chosen is how much a setup's walk reads, and why.
type chosen struct {
	level, table fold.Level
	why          string
	because      string // the reason for less than the table chose
}

// begin is a begin at that level.
func (c chosen) begin(ev jobs.Event) jobs.Event {
	if c.level < c.table {
		return c.level.Below(c.table, c.because, ev)
	}
	return c.level.At(ev)
}

// said is one line about it for the person, "" where the kind of setup has no levels.
func (c chosen) said() string {
	if c.level == fold.Full {
		return ""
	}
	if c.level != c.table {
		return "reads as for " + c.level.String() + "; chosen was " + c.table.String() + ": " + c.why
	}
	return "reads as for " + c.level.String() + ": " + c.why
}

// chooseLevel is the level of a setup about to be begun: the table's, or the person's.
func (e *env) chooseLevel(o levelOptions, jobPath string, part int, p *fold.Plan) (chosen, error) {
	if p.AtLevel(fold.Irreplaceable).Level() == fold.Full {
		return chosen{}, nil // its kind reads all
	}
	c := e.history(jobPath, part, p)
	n, why, err := worth.Choose(c)
	if err != nil {
		return chosen{}, &inputError{jobPath, err.Error(), "correct worth and spares in the job"}
	}
	out := chosen{level: fold.Level(n), table: fold.Level(n), why: why}
	if o.level == "" {
		return out, nil
	}
	l, ok := fold.LevelOf(strings.ReplaceAll(o.level, "-", " "))
	if !ok {
		return chosen{}, &usageError{"level " + quoted(o.level) + " is not known", "give proven, first-use or irreplaceable"}
	}
	if out.level = l; l < out.table && strings.TrimSpace(o.because) == "" {
		return chosen{}, &usageError{"level " + l.String() + " reads less than the " + out.table.String() + " that is chosen here: " + why,
			"say why with --because; it stands as a waiver in walk and report"}
	}
	out.because = o.because
	return out, nil
}

// history is what the choice rests on: the job, its fixture's card, and the records of the parts before.
func (e *env) history(jobPath string, part int, p *fold.Plan) worth.Case {
	j := p.Job
	c := worth.Case{Allowance: j.Allowance, Worth: j.Worth, Spares: j.Spares, GoodFixture: j.Fixture.Uses,
		Scale: j.Fixture.AsMade.Bore2 != nil, Strapped: p.Setup.HoldDown != "S"}
	same := true
	for k := part - 1; k >= 1 && same; k-- {
		es, _, faults := jobs.ReadRecord(e.disk, jobs.RecordPath(jobPath, k))
		if len(faults) > 0 {
			break
		}
		w := walkedBefore(es, p)
		if k == part-1 {
			c.Doubted = w.doubted
		}
		if same = w.same; same && w.released && !w.doubted {
			c.GoodPrograms++
		}
	}
	return c
}

// walked is what a record says of how a setup went.
type walked struct{ released, doubted, same bool }

// walkedBefore says whether a setup was released, whether something happened to it on the way, and
// whether its programs were the ones that lie there now.
func walkedBefore(es []jobs.Event, p *fold.Plan) walked {
	w := walked{same: true}
	posted := map[string]string{}
	for _, ev := range es {
		switch {
		case ev.Begin == p.Setup.Name, ev.Plan != "":
			maps.Copy(posted, ev.Cards)
		case strings.HasPrefix(ev.Mishap, p.Setup.Name+"/"):
			w.doubted = true
		case ev.Release == p.Setup.Name:
			w.released = true
		}
	}
	for card, hash := range checks.ProgramCards(p) {
		w.same = w.same && posted[card] == hash
	}
	return w
}
