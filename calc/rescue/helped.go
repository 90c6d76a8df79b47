package rescue

import (
	"slices"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Strap is a strap on the part: where its tip presses, and with how much at least (hold.StrapForce.TipLow).
type Strap struct {
	At  [2]float64
	Low unit.Force
}

// With is what is left of a hold-down with straps on it. A strap holds as a screw does, by pressing: it stands as one more screw at
// its tip, all of them pressing with the least force among those that are counted, and one more of them may be lost. Friction and the
// moment against prying only grow with each force: that is never more than what holds (derived). Straps that press too little to help
// are left out.
func With(c hold.Case, straps []Strap, lost ...int) (best Holds, err error) {
	best, err = Without(c, lost...)
	by := slices.Clone(straps)
	slices.SortStableFunc(by, func(a, b Strap) int {
		if a.Low > b.Low {
			return -1
		}
		return 1
	})
	for n := 1; n <= len(by); n++ {
		if !(by[n-1].Low > 0) {
			break
		}
		d, wrong := without(c, lost)
		if wrong != nil {
			return Holds{}, wrong
		}
		screws := len(d.Holding.Screws)
		for _, s := range by[:n] {
			d.Holding.Screws = append(d.Holding.Screws, s.At)
		}
		// A screw is reckoned at a share of what it is set to; a strap is given at its least.
		if f := by[n-1].Low / unit.Force(d.Holding.Factors.Low); d.Set == 0 || f < d.Set {
			d.Set = f
		}
		e, failed := d.Together()
		if failed != nil {
			continue // a tip beside the seat, or one that presses nothing
		}
		h := holdsOf(e, screws)
		h.Straps = n
		if err != nil || h.Throws > best.Throws || h.Throws == best.Throws && h.Slips > best.Slips {
			best, err = h, nil
		}
	}
	return best, err
}
