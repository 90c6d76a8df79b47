package desk

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Holding is the hold-down of the setup's screws against its planned cut, at both ends of
// what is known of the materials. With why set it is not computed, and why says what to give.
type Holding struct {
	Why     string
	C       hold.Case
	Ends    hold.Ends
	Engage  hold.Engagement
	Set     hold.Setting // how a screw is set to its working preload
	Strip   unit.Angle   // at which a sacrificial thread stripped; 0 when none was
	earlier bool         // of a record of the first two walks: slip and turning each by itself
	rows    []hold.Range // what it rests on, in the order of names
	names   []string     // shear strength ..., friction ...
	notes   []string     // what is assumed
	flute   unit.Length  // no depth beyond it is shown
	lost    int          // screws that count 0
}

// AsFound is what the walk has measured of the hold-down so far; 0 is not measured.
type AsFound struct {
	Engaged unit.Length // thread that is there
	Strip   unit.Angle  // a sacrificial thread: from snug to strip
	Soft    int         // screws that count 0
	Set     unit.Force  // preload that they were set to, where it is less than the working one
	Earlier bool        // a record of the first two walks, which judged slip and turning each by itself
}

// Found is what a step may know of the threads and the screws in them.
func Found(v fold.View) AsFound {
	w := AsFound{Earlier: !v.Walks(3)}
	if t, ok := facts.Threads.Perhaps(v); ok {
		w.Engaged, w.Strip = t.Engaged, t.Strip
	}
	return w
}

// ScrewsFound is what the walk knows of the screws in place.
func ScrewsFound(p *fold.Plan, v fold.View) AsFound {
	w := AsFound{Earlier: !v.Walks(3)}
	if s, ok := facts.Screws.Perhaps(v); ok {
		w.Engaged, w.Set = s.Engaged, s.Set
		if n := len(p.Setup.Screws.At); s.N > 0 && int(s.N) < n && p.Setup.From != "" {
			w.Soft = n - int(s.N)
		}
	}
	return w
}

// Hold computes the hold-down with what was found on the way.
func Hold(p *fold.Plan, w AsFound) Holding {
	return fold.Once(p, w, func() Holding {
		h := holdCase(p, w)
		if h.Why != "" {
			return h
		}
		if err := h.compute(p, w); err != nil {
			h.Why = err.Error()
		}
		h.rows, h.names, h.notes = slices.Clip(h.rows), slices.Clip(h.names), slices.Clip(h.notes)
		return h
	})
}

func (h *Holding) compute(p *fold.Plan, w AsFound) (err error) {
	strip := p.Job.Fixture.Threads.StripTorque
	if h.Set, err = h.C.Setting(hold.Stripped{Torque: strip, Angle: h.Strip}); err != nil {
		return err
	}
	if h.C.Set = w.Set; w.Set == 0 && !w.Earlier {
		h.C.Set = h.Set.F
	}
	for range min(w.Soft, len(h.C.Holding.Screws)) {
		if err = h.dropWorst(); err != nil {
			return err
		}
	}
	if h.Ends, err = h.ends(); err != nil {
		return err
	}
	if strip > 0 && h.Set.Torque == hold.StripShare*strip {
		h.notes = append(h.notes, "The torque is a quarter of what stripped the sacrificial thread.")
	}
	return nil
}

// ends are both ends of what is known, by the walk's way of taking slip and turning.
func (h *Holding) ends() (hold.Ends, error) {
	if h.earlier {
		return h.C.Ends()
	}
	return h.C.Together()
}

// dropWorst takes out the screw whose loss leaves least: a soft one counts 0, and which it
// will be is not known at the desk.
func (h *Holding) dropWorst() error {
	all := h.C.Holding.Screws
	if len(all) < 2 {
		return fmt.Errorf("no screw is left that holds; mend the threads")
	}
	worst, at := math.Inf(1), -1
	var left [][2]float64
	for k := range all {
		h.C.Holding.Screws = append(append([][2]float64{}, all[:k]...), all[k+1:]...)
		e, err := h.ends()
		if err != nil {
			return err
		}
		if d := float64(e.Deepest()); d < worst {
			worst, at, left = d, k, h.C.Holding.Screws
		}
	}
	if at < 0 {
		return fmt.Errorf("the depth that %d screws hold is not a number; look at the job's screws and cut", len(all)-1)
	}
	h.C.Holding.Screws = left
	h.lost++
	return nil
}
