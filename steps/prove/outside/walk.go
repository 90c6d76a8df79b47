package outside

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Walked is one record with what was true.
type Walked struct {
	Seed   uint64
	Shop   Shop
	World  *World
	Events []jobs.Event
	Ended  string // released, or where and why it was given up
	State  fold.State
	Truths []Truth
}

// began is when each walk begins; a reading takes twenty seconds.
var began = time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)

// tries is how many rounds of a step are read before the walk is given up.
const tries = 4

// longest is more readings than any walk takes.
const longest = 600

// Walk walks one shop in one world. Only what can't be walked at all is an error; a walk that
// is not released says why in Ended.
func Walk(seed uint64, hold string, sizes Sizes) (*Walked, error) {
	k, err := walkIn(seed, NewShop(seed, hold), sizes)
	if err != nil {
		return nil, err
	}
	return &k.Walked, nil
}

// walkIn walks the one setup of a shop to its end.
func walkIn(seed uint64, shop Shop, sizes Sizes) (*walker, error) {
	p, err := shop.Plan()
	if err != nil {
		return nil, fmt.Errorf("seed %d: %w", seed, err)
	}
	w := NewWorld(p.Job, p.Setup, seed, sizes)
	k := &walker{Walked: Walked{Seed: seed, Shop: shop, World: w}, plan: p, log: steps.NewLog(), at: began, rounds: map[fold.StepID]int{}}
	k.put([]jobs.Event{p.Level().At(fold.Begin(p.Setup.Name, jobs.Flatten(p.Job), "keyed"))})
	for range longest {
		k.State = k.log.State(p)
		if done, err := k.step(); err != nil {
			return nil, fmt.Errorf("seed %d: %w", seed, err)
		} else if done {
			k.Truths = w.truths()
			return k, nil
		}
	}
	return nil, fmt.Errorf("seed %d: the walk has no end; it stands at %s", seed, k.State.Cursor.Step)
}

type walker struct {
	Walked
	plan   *fold.Plan
	log    *fold.Log
	at     time.Time
	last   fold.StepID
	rounds map[fold.StepID]int
	own    func(fold.Ask) (string, error) // answers from another world, nil: from World
}

func (k *walker) put(es []jobs.Event) {
	for _, e := range es {
		k.at = k.at.Add(20 * time.Second)
		e.At = k.at
		k.Events = append(k.Events, e)
		k.log.Apply(e)
	}
	if k.World != nil {
		k.World.spent = min(1, float64(len(k.Events))/200)
	}
}

// step does the next thing there is to do.
func (k *walker) step() (done bool, err error) {
	st := &k.State
	if st.Released {
		k.Ended = "released"
		return true, nil
	}
	if st.Ready {
		es, err := st.Release()
		k.put(es)
		return false, err
	}
	c := st.Cursor
	if c.Idle {
		k.Ended = "idle, not released"
		return true, nil
	}
	if c.Step != k.last {
		k.enters(c.Step)
		k.last = c.Step
	}
	if c.Decide {
		return k.decide()
	}
	var typed [][2]string
	for _, f := range c.Form {
		a, ok := st.Ask(f)
		if !ok {
			return false, fmt.Errorf("step %s asks for %s and does not know it", c.Step, f)
		}
		if a.Optional {
			continue
		}
		v, err := k.gives(st, a)
		if err != nil {
			return false, fmt.Errorf("step %s: %w", c.Step, err)
		}
		typed = append(typed, [2]string{f, v})
	}
	es, err := st.Take("keyed", typed...)
	if err != nil {
		return false, fmt.Errorf("step %s, %v: %w", c.Step, typed, err)
	}
	k.put(es)
	return false, nil
}

// gives is what the person gives for a field: what is so, as they see it and type it. What the screen calls unlikely they look at again.
func (k *walker) gives(st *fold.State, a fold.Ask) (string, error) {
	if k.own != nil {
		return k.own(a)
	}
	k.obeys(a)
	v, err := k.World.answer(st, a)
	if err != nil || a.Self != nil {
		return v, err
	}
	if said := k.World.given(a, v); said != v {
		if e, err := st.Understand(a.Field, said); err == nil && !e.Far {
			return said, nil
		}
	}
	return v, nil
}

// enters is what the walk itself does to the world on coming to a step.
func (k *walker) enters(id fold.StepID) {
	w := k.World
	if k.own != nil { // it has its own acts
		return
	}
	switch id {
	case "seat":
		w.moved()
	case "lift", "reference": // the probe was out for a tool or a dial
		w.ball = w.ball.plus(w.flat("refit"))
	case "unstrap":
		w.swap = w.moveOfScrews()
	case "release":
		if k.plan.Setup.HoldDown == "S" {
			w.swap = w.moveOfScrews()
		}
	}
}

// obeys does what stands beside a field before it is read.
func (k *walker) obeys(a fold.Ask) {
	for _, d := range a.Do {
		if k.World.errs("skipped-act") && (d.Do == "key" || d.Do == "tighten") {
			continue
		}
		switch {
		case d.Do == "key":
			v := k.World.round(d.Amount)
			switch d.Dir {
			case "x":
				k.World.keyed.X = v
			case "y":
				k.World.keyed.Y = v
			case "z":
				k.World.keyed.Z = v
			}
		case d.Do == "jog" && d.Dir == "z":
			k.World.jogged = d.Amount
		case d.Do == "fit" && d.Of == "dial" && d.Dir == "rising":
			k.World.gain = math.Abs(k.World.gain)
		case d.Do == "true":
			k.World.nulls(d)
		case d.Do == "fit" && d.Of == "posts":
			k.World.zeroed = k.World.seat.Then(k.World.swap)
		case d.Do == "tighten" && d.Of == "fixture":
			k.World.turnFixture(k.World.even("bolts"))
		}
	}
}

// decide is a step that does not pass as it stands: it is done over as the page says, a few times.
func (k *walker) decide() (done bool, err error) {
	st := &k.State
	id := st.Cursor.Step
	ss, _ := st.Step(id)
	var why []string
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() {
			why = append(why, c.Limit.ID)
		}
	}
	k.rounds[id]++
	if k.rounds[id] >= tries {
		k.Ended = fmt.Sprintf("%s: %s", id, strings.Join(why, " "))
		return true, nil
	}
	for _, a := range ss.Outcome.Next {
		if a.Do == "tap" {
			if err := k.World.tapped(a); err != nil {
				return false, err
			}
		}
	}
	es, err := st.Again()
	if err != nil {
		k.Ended = fmt.Sprintf("%s: %s: %v", id, strings.Join(why, " "), err)
		return true, nil
	}
	k.put(es)
	return false, nil
}

// nulls taps the fixture until the needle, zeroed at one end of the edge, stands there at the other: within half of a graduation.
func (w *World) nulls(a fold.Act) {
	_, at, _ := strings.Cut(a.Of, "@")
	low, high := places(at)
	w.low = low
	left := w.Sizes["dial"] * w.job.Machine.Dial.Graduation / 2 * (2*w.noise.Float64() - 1)
	for range 3 {
		off := (w.edge(high, 0) - w.edge(low, 0) - left) / w.gain
		if s := w.job.Fixture.AsMade.Edge.Side; s == "left" || s == "right" {
			off = -off
		}
		w.turnFixture(-off / (high - low))
	}
}

// tapped moves an end of the fixture the way that the advice says, a little too far or too short.
// What the needle is said to do then is held against what it does.
func (w *World) tapped(a fold.Act) error {
	e := w.job.Fixture.AsMade.Edge
	by := a.Amount * (1 + 0.1*(2*w.noise.Float64()-1))
	to := map[string]Vec{"away": {Y: 1}, "toward you": {Y: -1}, "left": {X: -1}, "right": {X: 1}}[a.Dir]
	// The end that is tapped goes that way, the other is the pivot.
	low := strings.HasSuffix(a.Of, "@left") || strings.HasSuffix(a.Of, "@near")
	angle := math.Atan(by / e.Length)
	far := Vec{X: 1}
	if e.Side == "left" || e.Side == "right" {
		far = Vec{Y: 1}
	}
	if low {
		far = far.times(-1)
	}
	if far.cross(to).Z < 0 {
		angle = -angle
	}
	stylus := e.Length
	if low {
		stylus = 0
	}
	before := w.edge(stylus, 0)
	w.turnFixture(angle)
	m := needle.FindStringSubmatch(a.Words)
	if m == nil {
		return nil
	}
	// It was tapped a tenth too far or too short, and the stylus stands a little off the end.
	moved := w.edge(stylus, 0) - before
	said := number(m[2])
	if m[1] == "FALL" {
		said = -said
	}
	if math.Abs(said) > 0.02 && math.Abs(moved/said-1) > 0.25 {
		return fmt.Errorf("the needle is said to %s by %s and moves %+.3f: %q", m[1], m[2], moved, a.Words)
	}
	return nil
}

var needle = regexp.MustCompile(`needle must (RISE|FALL) by ([0-9.]+)`)
