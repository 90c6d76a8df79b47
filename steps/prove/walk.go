package prove

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Walked is a walk drawn from a seed, as it was walked.
type Walked struct {
	Seed     uint64
	Name     string // shop, setups and instrument: T-side2-probe
	Shop     string
	Programs string // as Programs takes it
	Job      *jobs.Job
	Events   []jobs.Event
	Told     []string // what was drawn, and how it ended

	r     *rand.Rand
	flat  map[string]string
	began time.Duration // of the next setup, from the first event on
}

// Courses are what a walk may be: setups of one record one after the other; "next" is side 2
// once more on a record of its own, with what the first handed over.
var courses = []struct {
	share int
	names []string
}{
	{50, []string{"side2"}}, {18, []string{"side1"}}, {5, []string{"ring"}}, {5, []string{"head"}},
	{8, []string{"side2", "next"}}, {8, []string{"side1", "side2"}}, {6, []string{"head", "ring", "side1", "side2"}},
}

// Draw draws a walk and walks it. Only a job that can't be made is an error; a walk that ends early says why in Told.
func Draw(seed uint64) (*Walked, error) {
	r := rand.New(rand.NewPCG(seed, 0x517e))
	n := r.IntN(100)
	for _, c := range courses {
		if n -= c.share; n < 0 {
			return draw(seed, r, c.names)
		}
	}
	panic("prove: the shares of the courses are less than 100")
}

func draw(seed uint64, r *rand.Rand, course []string) (*Walked, error) {
	w := &Walked{Seed: seed, r: r, Shop: Shops[r.IntN(len(Shops))]}
	j, err := Job(w.Shop)
	if err != nil {
		return nil, err
	}
	w.flat = jobs.Flatten(j)
	by := finders[max(0, r.IntN(2*len(finders))-len(finders))]
	w.change(finder(by))
	if by != "probe" && !slices.Contains(course, "ring") && r.IntN(2) == 0 {
		w.change(edit{"machine.probe": "", "job.setups.ring": ""})
	}
	for _, group := range variants {
		e := group[r.IntN(len(group))]
		if by == "probe" && e["fixture.as-made.bore.kind"] == "square" {
			e = nil // the bench has none to be probed
		}
		w.change(e)
	}
	j, fs := jobs.FromFlat(w.flat)
	if len(fs) > 0 {
		return nil, fs
	}
	w.Job, w.Programs = j, "none"
	if r.IntN(3) == 0 {
		w.Programs = w.Shop
	}
	w.Name = strings.ReplaceAll(fmt.Sprintf("%s-%s-%s", w.Shop, strings.Join(course, "+"), by), " ", "-")
	return w, w.walk(course)
}

func (w *Walked) tell(format string, args ...any) {
	w.Told = append(w.Told, fmt.Sprintf(format, args...))
}

// change edits the job where it then still reads.
func (w *Walked) change(e edit) {
	flat, err := e.apply(w.flat)
	if err != nil {
		w.tell("left as it was: %v", e)
	}
	w.flat = flat
}

// walk walks the setups.
func (w *Walked) walk(course []string) error {
	programs, err := Programs(w.Programs)
	if err != nil {
		return err
	}
	var last *bench.Walk
	for _, name := range course {
		setup, cards := name, map[string]string{}
		if name == "next" {
			setup = "side2"
		}
		p, err := steps.NewPlan(w.Job, setup, programs)
		if err != nil {
			return err
		}
		for k, v := range w.flat {
			cards[k] = v
		}
		for k, v := range checks.ProgramCards(p) {
			cards[k] = v
		}
		world := w.world(p)
		if name == "next" {
			taken, err := last.State().Taken()
			if err != nil {
				w.tell("no next part: %v", err)
				return nil
			}
			for k, v := range taken {
				cards[k] = v
			}
			world, w.Events = last.World, nil
		}
		last = w.setup(p, world, cards)
	}
	return nil
}

// world is a bench, as good as the cards say or without any error, with a mistake or without.
func (w *Walked) world(p *fold.Plan) *bench.World {
	e := bench.Usual(p)
	if w.r.IntN(5) == 0 {
		e = bench.Effects{}
	}
	world := bench.NewWorld(p, w.Seed, e)
	if all := bench.MistakesIn(p); w.r.IntN(2) == 0 {
		name := all[w.r.IntN(len(all))].Name
		w.tell("mistake %s", name)
		if err := world.Make(name, 0); err != nil {
			w.tell("%v", err)
		}
	}
	return world
}

// setup walks one setup, and adds its events.
func (w *Walked) setup(p *fold.Plan, world *bench.World, cards map[string]string) *bench.Walk {
	k := bench.NewWalk(p, world, cards)
	start := w.began
	k.Now = func(n int) time.Time {
		return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).Add(start + time.Duration(n)*20*time.Second)
	}
	k.Events[0].At = k.Now(0)
	turns := 0
	walkTo := func(turn int) bool {
		going, err := k.Until(func(*fold.State) bool { turns++; return turn > 0 && turns >= turn })
		if err != nil {
			w.tell("%s: %v", p.Setup.Name, err)
			return false
		}
		return going
	}
	going := true
	for i := w.r.IntN(4); i > 0 && going; i-- {
		if going = walkTo(turns + 1 + w.r.IntN(60)); going {
			w.meddle(k)
		}
	}
	for tries := 0; tries < 4; tries++ {
		walkTo(0)
		if k.HeldAt == nil || !w.waive(k) {
			break
		}
	}
	if st := k.State(); st.Released && w.r.IntN(3) == 0 { // and something happens to what was released
		w.meddle(k)
		k.HeldAt = nil
		walkTo(turns + 40)
	}
	if st := k.State(); st.Released {
		w.tell("%s: released after %d events", p.Setup.Name, len(k.Events))
	} else {
		w.tell("%s: at %s after %d events", p.Setup.Name, st.Cursor.Step, len(k.Events))
	}
	w.Events = append(w.Events, k.Events...)
	w.began += time.Duration(len(k.Events)+3) * 20 * time.Second
	if w.r.IntN(4) == 0 {
		w.began += 24 * time.Hour * time.Duration(1+w.r.IntN(60))
	}
	return k
}

// meddle is something that comes between: a mishap, a step done again by choice, an edit of the job, a note.
func (w *Walked) meddle(k *bench.Walk) {
	st := k.State()
	switch n := w.r.IntN(20); {
	case n < 12:
		ms := facts.Offered()
		m := ms[w.r.IntN(len(ms))]
		tool := ""
		if m.PerTool {
			tool = []string{"", "3", "T5"}[w.r.IntN(3)]
		}
		w.tell("event %d: mishap %s %s", len(k.Events)+1, m.ID, tool)
		w.note(k.Declare(m.ID, tool))
	case n < 16:
		var done []fold.StepID
		for _, s := range st.Steps {
			if s.Round != nil {
				done = append(done, s.ID)
			}
		}
		if len(done) == 0 {
			return
		}
		id := done[w.r.IntN(len(done))]
		w.tell("event %d: %s again", len(k.Events)+1, id)
		if es, err := st.Reopen(id); err == nil {
			w.note(k.Add(es...))
		}
	case n < 19:
		now, err := []edit{{"job.allowance": "0.08mm"}, {"machine.probe.radius": "0.98mm"}, {"machine.readout": "0.005mm"},
			{"job.setups.side2.hits": "7"},
			{"fixture.as-made.part-zero.0": "45.3mm"}, {"machine.tram.x": "0.02/300"}, {"job.part.size.2": "15.5mm"}}[w.r.IntN(7)].apply(w.flat)
		if err != nil {
			w.tell("%v", err)
			return
		}
		now["job.hash"] = "edited"
		if e, changed := jobs.Replan(w.flat, now); changed {
			w.tell("event %d: edited %v", len(k.Events)+1, e.Changed)
			w.note(k.Add(e))
			w.flat = now
		}
	default:
		w.note(k.Add(jobs.Event{Note: "somebody came to the door"}))
	}
}

func (w *Walked) note(err error) {
	if err != nil {
		w.tell("%v", err)
	}
}

// waive passes over what holds the person, where that may be; the walk can then go on.
func (w *Walked) waive(k *bench.Walk) bool {
	st := k.State()
	ss, ok := st.Step(st.Cursor.Step)
	if !ok || !st.Cursor.Decide || w.r.IntN(4) == 0 {
		return false
	}
	waived := false
	for _, c := range ss.Outcome.Checks {
		if c.Verdict.OK() {
			continue
		}
		es, err := st.Waive(c.Limit.ID, c.Shown(), "seen and accepted")
		if err != nil {
			return false
		}
		w.note(k.Add(es...))
		waived = true
	}
	k.HeldAt = nil
	return waived
}
