package prove

import (
	"fmt"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Every is after how many events a State is looked at.
const Every = 10

// Look is a State at a place of a record.
type Look struct {
	Setup string
	N     int // events folded
	State *fold.State
	Text  Text
}

// Replay folds a record and shows the State of the setup begun last after every tenth event,
// and that of each setup after the last one. The job is as the record copied it, else the one given.
func Replay(job *jobs.Job, programs map[string]fold.ProgramFile, es []jobs.Event, show func(Look)) error {
	return replay(job, programs, es, func(n int) bool { return n%Every == 0 }, show)
}

// At is the State of the setup begun last after n events.
func At(job *jobs.Job, programs map[string]fold.ProgramFile, es []jobs.Event, n int) (Text, error) {
	var out Text
	err := replay(job, programs, es[:min(n, len(es))], func(int) bool { return false }, func(l Look) { out = l.Text })
	return out, err
}

func replay(job *jobs.Job, programs map[string]fold.ProgramFile, es []jobs.Event, at func(n int) bool, show func(Look)) error {
	if len(es) > 0 && es[0].Cards["job.hash"] != "" {
		j, fs := jobs.FromFlat(es[0].Cards)
		if len(fs) > 0 {
			return fmt.Errorf("the record's own job does not read: %w", fs)
		}
		job = j
	}
	log := steps.NewLog()
	plans, begun := map[string]*fold.Plan{}, []string(nil)
	look := func(name string) {
		st := log.State(plans[name])
		show(Look{name, log.Len(), &st, StateText(&st)})
	}
	for i, e := range es {
		log.Apply(e)
		if e.Begin != "" && plans[e.Begin] == nil {
			p, err := steps.NewPlan(job, e.Begin, programs)
			if err != nil {
				return err
			}
			plans[e.Begin], begun = p, append(begun, e.Begin)
		}
		if len(begun) > 0 && i+1 < len(es) && at(i+1) {
			look(begun[len(begun)-1])
		}
	}
	for _, name := range begun {
		look(name)
	}
	return nil
}

// Line is a walk in one line: seed, name, and the hash of all its looks, with and without words.
func (w *Walked) Line() (string, error) {
	all, plain, err := w.Looks(nil)
	return fmt.Sprintf("%d %s %d %s %s", w.Seed, w.Name, len(w.Events), plain, all), err
}

// Looks folds the walk's record anew and gives the hashes of its looks together; show, when set, sees each.
func (w *Walked) Looks(show func(Look)) (all, plain string, err error) {
	programs, err := Programs(w.Programs)
	if err != nil {
		return "", "", err
	}
	var a, b strings.Builder
	err = Replay(w.Job, programs, w.Events, func(l Look) {
		x, y := l.Text.Hash()
		a.WriteString(x)
		b.WriteString(y)
		if show != nil {
			show(l)
		}
	})
	all, _ = Text(a.String()).Hash()
	plain, _ = Text(b.String()).Hash()
	return all, plain, err
}
