package bench

import (
	"fmt"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// maxRounds is how often a step's advice is followed before the person gives up.
const maxRounds = 5

// Walk is a scripted person at a World, walking the plan's setup. The person answers
// every ask from the bench, performs every act, follows advice, and gives up
// when it does not help.
type Walk struct {
	Practice
	Events []jobs.Event
	Named  []string     // mistakes that were named, each once, in order
	Failed []Failure    // what did not pass, in order
	HeldAt *fold.StepID // where the person gave up, nil otherwise
	Words  string       // why

	// Now gives the time of the n-th event, counted from 0; nil is a fixed date and 20 s an event.
	Now func(n int) time.Time
	// Emit, when set, is given each event before it counts; an error stops the walk.
	Emit func(jobs.Event) error
	// Watch, when set, sees each state that the person decides on.
	Watch func(*fold.State)

	plan  *fold.Plan
	log   *fold.Log
	state *fold.State
	tries map[fold.StepID]int
	went  map[string]bool // rounds whose advice to do an earlier step again was followed
}

// Failure is one check that did not pass on the way.
type Failure struct {
	Step    fold.StepID
	Limit   string
	Verdict fold.Verdict
	Named   string
	Answer  bool // an answer or a count gave it away, not a measurement
	Cut     bool // the first chip was made before
}

// NewWalk begins the plan's setup at a world. cards are what the record is to carry of
// job and cards (jobs.Flatten), nil for a walk that is thrown away.
func NewWalk(p *fold.Plan, w *World, cards map[string]string) *Walk {
	k := &Walk{Practice: Practice{World: w}, plan: p, log: steps.NewLog(), tries: map[fold.StepID]int{}, went: map[string]bool{}}
	begin := p.Level().At(fold.Begin(p.Setup.Name, cards, "bench"))
	begin.At = k.time(0)
	k.Events = append(k.Events, begin)
	k.log.Apply(k.Events[0])
	for c := range cards {
		if strings.HasPrefix(c, "taken.") {
			w.programEnds()
			break
		}
	}
	return k
}

func (k *Walk) time(n int) time.Time {
	if k.Now != nil {
		return k.Now(n)
	}
	return ticks(n)
}

// ticks is a fixed date and 20 s an event.
func ticks(n int) time.Time {
	return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).Add(time.Duration(n) * 20 * time.Second)
}

// State is what the events so far mean.
func (k *Walk) State() *fold.State {
	if k.state == nil {
		st := k.log.State(k.plan)
		k.state = &st
	}
	return k.state
}

// Add records events as if the person had given them.
func (k *Walk) Add(es ...jobs.Event) error {
	for _, e := range es {
		e.At = k.time(len(k.Events))
		if k.Emit != nil {
			if len(k.Events) == 1 {
				if err := k.Emit(k.Events[0]); err != nil {
					return err
				}
			}
			if err := k.Emit(e); err != nil {
				return err
			}
		}
		k.Events = append(k.Events, e)
		k.log.Apply(e)
		k.state = nil
	}
	return nil
}

// Declare records a mishap; tool names which, for one that concerns a tool.
func (k *Walk) Declare(id fold.MishapID, tool string) error {
	es, err := k.State().Declare(id, tool)
	if err != nil {
		return err
	}
	return k.Add(es...)
}

// Until walks on until stop says so, the setup is released, or the person gives up.
// It says whether stop did; a nil stop never does. What the bench can't show is an error.
func (k *Walk) Until(stop func(*fold.State) bool) (bool, error) {
	for turns := 0; ; turns++ {
		st := k.State()
		if len(st.Troubles) > 0 {
			return false, fmt.Errorf("bench: the walk made a bad record: %w", st.Troubles[0])
		}
		if stop != nil && stop(st) {
			return true, nil
		}
		if st.Released || k.HeldAt != nil {
			return false, nil
		}
		if turns > 1000 {
			k.hold(st, "it goes round in a circle")
			return false, nil
		}
		if err := k.turn(st); err != nil {
			return false, err
		}
	}
}

// turn is the one thing that the person does now.
func (k *Walk) turn(st *fold.State) error {
	if seen := k.World.Seen(); len(seen) > 0 {
		for _, id := range seen {
			if err := k.Declare(id, ""); err != nil {
				return err
			}
		}
		return nil
	}
	switch {
	case st.Cursor.Idle:
		es, err := st.Release()
		if err != nil {
			k.hold(st, err.Error())
			return nil
		}
		return k.Add(es...)
	case st.Cursor.Decide:
		return k.obey(st)
	}
	return k.answer(st)
}

func (k *Walk) hold(st *fold.State, why string) {
	id := st.Cursor.Step
	k.HeldAt, k.Words = &id, why
}

// answer takes what is asked now and not yet taken, up to the next act: before that the person
// looks at the screen again, which may ask for something else by then.
func (k *Walk) answer(st *fold.State) error {
	ss, ok := st.Step(st.Cursor.Step)
	if !ok {
		return fmt.Errorf("bench: nothing is asked at %q", st.Cursor.Step)
	}
	var fields []string
	for _, a := range ss.Asks {
		taken := false
		if st.Cursor.Open {
			_, taken = ss.Round.Get(a.Field)
		}
		if !a.Optional && (!taken || a.Field == st.Cursor.Field) {
			if len(fields) > 0 && len(a.Do) > 0 {
				break
			}
			fields = append(fields, a.Field)
		}
	}
	return k.read(st, ss, fields)
}

// read reads the fields from the bench and takes them.
func (k *Walk) read(st *fold.State, ss *fold.StepState, fields []string) error {
	var values [][2]string
	for _, f := range fields {
		for _, a := range ss.Asks {
			if a.Field != f {
				continue
			}
			v, err := k.Offer(st, a)
			if err != nil {
				return err
			}
			if v, err = k.doubt(st, a, k.World.slip(a, v)); err != nil {
				return err
			}
			values = append(values, [2]string{f, v})
		}
	}
	es, err := st.Take("bench", values...)
	if err != nil {
		return err
	}
	return k.Add(es...)
}

// doubt is what the person does about a value that the screen calls unlikely: looks
// again, puts right what the slip shows, and takes what then stands there.
func (k *Walk) doubt(st *fold.State, a fold.Ask, v string) (string, error) {
	e, err := st.Understand(a.Field, v)
	if err != nil || !e.Far || a.Kind != fold.Reading {
		return v, err
	}
	f := Failure{Step: st.Cursor.Step, Limit: "window", Verdict: fold.Fail, Cut: k.World.hand.drilled}
	if len(e.Slips) > 0 {
		f.Named = e.Slips[0].Words
	}
	k.Failed = append(k.Failed, f)
	k.World.Correct(a)
	return k.World.Read(a)
}
