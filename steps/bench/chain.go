package bench

import (
	"maps"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Follow makes this world what another setup of the same part has left, true values throughout: what was wrong there and was
// not found arrives here. A second side finds its features where side 1 cut them, not where its program has them; the
// finished part on the bench is as the second side cut it, and fixture, probe and cutter stand as they stood after it.
func (w *World) Follow(before *World) {
	w.After(before)
	switch {
	case before.onTable() != nil && w.onTable() == nil && w.onBench() == nil && w.raw == nil:
		w.On(before)
	case before.raw != nil && w.raw == nil && w.onBench() == nil:
		w.afterVise(before)
	case w.onBench() != nil && before.onBench() == nil && before.raw == nil:
		w.afterCut(before)
	}
}

// afterVise takes the pickup of side 1 as it was, in place of one drawn for it.
func (w *World) afterVise(before *World) {
	made, ok := before.SideOne()
	if _, keyed := before.hand.keyed["x"]; !ok || !keyed {
		return
	}
	o, _ := before.control()
	off := o.sub(xy{made.Zero.X, made.Zero.Y})
	if w.setup.Flip == "x" { // turned about X, what was away is toward
		off.y = -off.y
	} else {
		off.x = -off.x
	}
	w.part.feature = w.part.feature.sub(w.lot.pair("pickup", w.Effects.Pickup)).add(off)
}

// afterCut is the part as the second side cut it.
func (w *World) afterCut(cut *World) {
	g := w.onBench()
	w.fixture, w.growth, w.warm, w.floor, w.tableZ = cut.fixture, cut.growth, cut.warm, cut.floor, cut.tableZ
	w.bore2, w.boreD, w.positioning, w.lean, w.square = cut.bore2, cut.boreD, cut.positioning, cut.lean, cut.square
	w.cut, w.off, w.askew, w.rim, w.edgeZero, w.edgePhase = cut.cut, cut.off, cut.askew, cut.rim, cut.edgeZero, cut.edgePhase
	w.ball, w.finder, w.paper, w.probe, w.probeOut, w.dial = cut.ball, cut.finder, cut.paper, cut.probe, cut.probeOut, cut.dial
	w.part.pulled, w.hand.table, w.hand.seated = cut.part.pulled, cut.hand.table, true
	mid := w.size.times(0.5)
	at := func(p xy) xy { return cut.errorAt(p).times(-1) } // the tool goes there where the part is not
	g.shift = at(mid)
	g.turn = (at(xy{w.size.x, mid.y}).y - at(xy{0, mid.y}).y) / w.size.x
	g.high = cut.stands()
	rise := func(p xy) float64 { return g.high - cut.chipLift(p) }
	g.floor = level{rise(mid), (rise(xy{w.size.x, mid.y}) - rise(xy{0, mid.y})) / w.size.x, (rise(xy{mid.x, w.size.y}) - rise(xy{mid.x, 0})) /
		w.size.y}
	g.onFixture = true
}

// stands is how much too high the finishing cutter stood over the seat in the middle of the part.
func (w *World) stands() float64 {
	c := w.card.AsMade.PartZero
	mid := w.size.times(0.5)
	seat := w.floor.at(xy{c.X, c.Y}.add(mid))
	if w.hand.word == "finished top" {
		seat += w.plan.Job.Part.Size[2]
	}
	return w.driven(w.firstTool(), 0) - seat
}

// Chain is one walk after the other in one record, each world following those before it: an error that was made in one
// setup arrives in the next. It stops at the first that is not released.
func Chain(plans []*fold.Plan, o Options) (out []*Result, err error) {
	var worlds []*World
	var earlier []*Walk
	var card *jobs.Fixture
	for _, p := range plans {
		if p, err = onCard(p, card); err != nil {
			return out, err
		}
		e := Usual(p)
		if o.Effects != nil {
			e = *o.Effects
		}
		w := NewWorld(p, o.Seed, e)
		w.NextPart(o.Part)
		for _, before := range append(o.Before[:len(o.Before):len(o.Before)], worlds...) {
			w.Follow(before)
		}
		if o.Mistake != "" && o.In == p.Setup.Name {
			if err := w.Make(o.Mistake, o.Size); err != nil {
				return out, err
			}
		}
		cards := o.Cards
		if card != nil && cards != nil { // the record carries the card as it is by then
			cards = maps.Clone(cards)
			maps.Copy(cards, jobs.Flatten(p.Job))
		}
		k := after(p, w, cards, earlier)
		if o.Setup != nil {
			o.Setup(k)
		}
		if _, err := k.Until(nil); err != nil {
			return out, err
		}
		out = append(out, k.Result(o.Mistake))
		if !k.State().Released {
			return out, nil
		}
		if f, err := written(k); err != nil {
			return out, err
		} else if f != nil {
			card = f
		}
		worlds, earlier = append(worlds, w), append(earlier, k)
	}
	return out, nil
}

// written is the fixture's card as a released walk leaves it, nil where it writes none.
func written(k *Walk) (*jobs.Fixture, error) {
	j := k.plan.Job
	w, ok, err := fold.Revision(*k.State(), "chain", func() (jobs.Fixture, error) { return j.Fixture, nil })
	if err != nil || !ok {
		return nil, err
	}
	flat := jobs.Flatten(j)
	for key, v := range w.Set {
		flat["fixture."+key] = v
	}
	after, faults := jobs.FromFlat(flat)
	return &after.Fixture, faults.Err()
}

// onCard is the plan with its fixture's card as it was written since, nil: as it is.
func onCard(p *fold.Plan, card *jobs.Fixture) (*fold.Plan, error) {
	if card == nil {
		return p, nil
	}
	j := *p.Job
	j.Fixture = *card
	programs := map[string]fold.ProgramFile{}
	for _, g := range p.Setup.Programs {
		if f, ok := p.Program(g.Role); ok {
			programs[g.Role] = f
		}
	}
	q, err := steps.NewPlan(&j, p.Setup.Name, programs)
	if err != nil {
		return nil, err
	}
	return q.AtLevel(p.Level()), nil
}

// after begins a walk behind others of the same record, its time going on where theirs ended.
func after(p *fold.Plan, w *World, cards map[string]string, earlier []*Walk) *Walk {
	n := 0
	for _, k := range earlier {
		n += len(k.Events)
	}
	k := NewWalk(p, w, cards)
	k.Now = func(i int) time.Time { return ticks(n + i) }
	k.Events[0].At = k.Now(0)
	k.log = steps.NewLog()
	for _, b := range earlier {
		for _, e := range b.Events {
			k.log.Apply(e)
		}
	}
	k.log.Apply(k.Events[0])
	return k
}
