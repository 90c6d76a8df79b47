package bench

import (
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// After makes the part what another world's setup left of it: as thick as it came out of the vise.
func (w *World) After(first *World) {
	if made, ok := first.SideOne(); ok {
		w.part.left = made.Thickness
	}
}

// NextWalk begins a setup in a record that has walked others: what they made is known to it.
func NextWalk(p *fold.Plan, w *World, cards map[string]string, earlier []jobs.Event) *Walk {
	k := NewWalk(p, w, cards)
	k.log = steps.NewLog()
	for _, e := range append(append([]jobs.Event{}, earlier...), k.Events...) {
		k.log.Apply(e)
	}
	return k
}
