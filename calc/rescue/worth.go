package rescue

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/given"
)

// StockSpare is what must stay over a gouge when the stock there is taken off, mm. Common practice.
const StockSpare = 0.1

// CleansUp says whether a mark goes away with the stock that is still to come off there.
//
//	depth + StockSpare <= stock
func CleansUp(depth, stock float64) bool {
	return budget.Decide(depth+StockSpare, 0, budget.AtMost, stock) == budget.Pass
}

// Stop is why a part is not to be saved as it stands.
type Stop int

const (
	NoHold   Stop = iota // it cannot be held: scrap, or finish by hand; never waived
	Gouged               // a finished face is out of tolerance and the mark does not clean up
	NotFound             // it cannot be found again well enough
	NotWorth             // it costs more than it is worth
)

// Case is what the decision rests on. Whether the person is fit for it is asked, not reckoned.
type Case struct {
	Retention     budget.Verdict // of what is left of the hold-down
	Gouge, Stock  float64        // deepest mark and what is still to come off there, mm
	Outside       bool           // a finished face is out of its tolerance
	Value, Guard  float64        // foreseen at the worst feature, mm
	Allowance     float64        // mm
	Minutes       float64        // of the rescue
	Worth         float64        // of the part, min
	Irreplaceable bool           // always tried if it can be held
}

// Stops lists what stands against it, in the order in which it is asked; none: save it.
func (c Case) Stops() ([]Stop, error) {
	if err := given.Finite("gouge", c.Gouge, "stock", c.Stock, "minutes", c.Minutes, "worth", c.Worth); err != nil {
		return nil, err
	}
	if c.Gouge < 0 || !(c.Allowance > 0) || c.Minutes < 0 || c.Worth < 0 {
		return nil, fmt.Errorf("gouge %g, allowance %g, minutes %g and worth %g must be 0 or more, the allowance above; enter them again",
			c.Gouge, c.Allowance, c.Minutes, c.Worth)
	}
	var out []Stop
	if c.Retention != budget.Pass {
		out = append(out, NoHold)
	}
	if c.Outside || c.Gouge > 0 && !CleansUp(c.Gouge, c.Stock) {
		out = append(out, Gouged)
	}
	if budget.Decide(math.Abs(c.Value), c.Guard, budget.AtMost, c.Allowance) != budget.Pass {
		out = append(out, NotFound)
	}
	if !c.Irreplaceable && c.Minutes > c.Worth {
		out = append(out, NotWorth)
	}
	return out, nil
}
