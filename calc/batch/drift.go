package batch

import (
	"math"

	"fliptrue/calc/chart"
)

// Alarm is what a run of a batch asks for.
type Alarm int

const (
	Quiet   Alarm = iota
	LevelUp       // it creeps or has a slope: read more at the next part
	Stop          // a point is outside, or the next part is not proven to keep its limit
)

// Drift is a quantity over the parts of a batch: the height of the skim, or a component of the mismatch.
type Drift struct {
	Alarm Alarm
	Trend chart.Trend
	Creep chart.Creep
	Next  float64 // the 95 % bound of |value| at the next part, with the slope where it is real
}

// ToDrift looks at values of parts 1, 2, 3 ... limit is that of one value, 0: none. The target is
// the value that was set, 0 for a deviation. u is the standard uncertainty of one value: values that differ by less
// than their readings can tell, or not at all on a coarse readout, set no limits narrower than three of it. Fewer than
// chart.Enough parts are a chart.TooFewError.
func ToDrift(values []float64, target, limit, u float64) (Drift, error) {
	n := make([]float64, len(values))
	for i := range n {
		n[i] = float64(i + 1)
	}
	c, err := chart.ToIndividuals(values)
	if err != nil {
		return Drift{}, err
	}
	var d Drift
	if d.Trend, err = chart.ToTrend(n, values); err != nil {
		return Drift{}, err
	}
	d.Creep.Out = -1
	sigma, outside := math.Max(c.Sigma, u), false
	for _, v := range values {
		outside = outside || math.Abs(v-c.Mean) > 3*sigma
	}
	if sigma > 0 {
		if d.Creep, err = chart.ToCreep(values, target, sigma); err != nil {
			return Drift{}, err
		}
	}
	next := float64(len(values) + 1)
	at := c.Mean
	if d.Trend.Real {
		at = d.Trend.At(next)
	}
	d.Next = math.Abs(at-target) + d.Trend.Guard(next)
	switch {
	case outside, limit > 0 && d.Next > limit:
		d.Alarm = Stop
	case d.Creep.Out >= 0, d.Trend.Real:
		d.Alarm = LevelUp
	}
	return d, nil
}
