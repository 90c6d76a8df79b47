package reuse

import (
	"errors"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/chart"
)

// Limits of what a fixture may have worn, mm. Common practice.
const (
	BoreMost  = 0.010
	FloorMost = 0.020
	FormMost  = 0.010
)

// Run is one quantity of a fixture over its uses, as a rest against as made.
type Run struct {
	Use   []float64 // number of each use, rising
	Rest  []float64
	Limit float64 // of |rest|; 0: none
}

// Sign is what a run shows.
type Sign int

const (
	PointOut Sign = iota // a point outside the chart of single points
	CreepOut             // the moving average outside
	Forecast             // the 95 % bound of the next two uses beyond the limit
)

// Look looks at a run up to now: its signs, and the last use up to which the bound keeps the
// limit, at most 100 uses ahead (0: not even the next, or no limit). The moving average runs
// from 0, the fixture as made. A forecast is made only along a slope that is real. Too short a run is a chart.TooFewError.
func (r Run) Look() (signs []Sign, last int, err error) {
	c, err := chart.ToIndividuals(r.Rest)
	if err != nil {
		return nil, 0, err
	}
	t, err := chart.ToTrend(r.Use, r.Rest)
	if err != nil {
		return nil, 0, err
	}
	if len(c.Outside) > 0 {
		signs = append(signs, PointOut)
	}
	if c.Sigma > 0 {
		e, err := chart.ToCreep(r.Rest, 0, c.Sigma)
		if err != nil {
			return nil, 0, err
		}
		if e.Out >= 0 {
			signs = append(signs, CreepOut)
		}
	}
	next := int(math.Floor(r.Use[len(r.Use)-1])) + 1
	if r.Limit > 0 && t.Real {
		last, _ = t.Until(next, next+100, r.Limit)
		if last < next+1 {
			signs = append(signs, Forecast)
		}
	}
	return signs, last, nil
}

// Why is a reason to cut all datums anew, in one setup, as a new revision of the card.
type Why int

const (
	BoreRun     Why = iota // chart, average or forecast of the bore's rest
	FloorRun               // of the floor
	LineRun                // of the direction
	Grown                  // scale beyond heat is beyond RestMost and no moisture explains it
	Crazed                 // two bosses crazed
	SameAgain              // a correction in one direction is asked for the third time
	TooFewToSay            // no reason: the runs are too short for a chart
)

// State is what a remount found.
type State struct {
	Bore, Floor, Line Run
	Scale             budget.Verdict // Split.Verdict
	Moisture          bool           // Between: it comes back, do not cut
	Crazed            int            // bosses with crazes through them
	Corrections       []float64      // of one mismatch component, in order, signed
}

// Recut lists what speaks for cutting anew; TooFewToSay stands in for runs too short. An
// error is a run that cannot be read.
func (s State) Recut() ([]Why, error) {
	var out []Why
	short := false
	for i, r := range []Run{s.Bore, s.Floor, s.Line} {
		signs, _, err := r.Look()
		var few *chart.TooFewError
		if errors.As(err, &few) {
			short = true
			continue
		}
		if err != nil {
			return nil, err
		}
		if len(signs) > 0 {
			out = append(out, []Why{BoreRun, FloorRun, LineRun}[i])
		}
	}
	if s.Scale == budget.Fail && !s.Moisture {
		out = append(out, Grown)
	}
	if s.Crazed >= 2 {
		out = append(out, Crazed)
	}
	if n := len(s.Corrections); n >= 3 && s.Corrections[n-1]*s.Corrections[n-2] > 0 && s.Corrections[n-2]*s.Corrections[n-3] > 0 {
		out = append(out, SameAgain)
	}
	if short {
		out = append(out, TooFewToSay)
	}
	return out, nil
}
