package inspect

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/chart"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
	"fliptrue/calc/unit"
)

// Rule of correcting: what a shop may change. Common practice.
const (
	WorthShare = 0.1   // of the allowance: a smaller bias is not worth a revision
	OnceShare  = 0.5   // of the allowance: the most in one go; more means look for the cause
	RemountU   = 0.003 // what a correction adds to the doubt of a bias, mm
	BelievedTo = 3.0   // standard deviations of what a bias and its parts may scatter: a mean farther out has another cause
	WarmWithin = 2.0   // K between part and fixture, and from their mean over the parts
	DampWithin = 10.0  // percent of humidity
)

// Prior scatters of a bias and of parts about it, mm, before a shop has its own: E, may be wrong by a factor of 2.
const (
	FirstUse = 0.008
	PartsU   = 0.006
)

// Reason is why a fixture is left alone.
type Reason int

const (
	Correct    Reason = iota // it is not: correct by Correction.By
	NotProven                // the bias does not stand out of its doubt
	NotWorth                 // it is smaller than WorthShare of the allowance
	HasCause                 // a point of the chart lies outside: find the cause, do not correct it away
	NotCounted               // a part had a mishap, a waiver or a rescue
	Climate                  // too warm or too damp against the mean of the parts
	TooMuch                  // more than OnceShare: by that much in one go, and look for the cause
	Unlikely                 // the mean lies beyond what the prior allows: a cause is looked for first
)

// Known is what the rule needs of one component of a mismatch, mm. A turn is given times the lever
// of the worst feature, so that allowance and RemountU are lengths; Correction.By is then over it.
type Known struct {
	Bias      chart.Bias
	Allowance float64
	Prior     float64 // standard deviation of biases by which Bias was weighed; 0: not held against it
	Outside   bool    // a point lies outside its chart
	Uncounted bool    // a mishap, a waiver or a rescue in the newest part
	DT, DRH   float64 // of the newest part against the mean, K and percent
}

// Correction is what to do about one component.
type Correction struct {
	Reason Reason
	By     float64 // the bias to take out, signed as the mismatch; 0: leave it alone
	U      float64 // standard uncertainty of the bias afterwards
}

// Decide corrects only if all hold: |b| > 1.645 u, |b| >= WorthShare of the allowance, no
// point outside, the part counts, climate within limits, the mean of the parts within Believed. At most OnceShare of the allowance in one
// go. Afterwards the doubt of the bias is √(u² + RemountU²) and the chart begins anew.
func (k Known) Decide() (Correction, error) {
	if err := given.Finite("bias", k.Bias.B, "its standard uncertainty", k.Bias.U, "temperature", k.DT, "humidity", k.DRH); err != nil {
		return Correction{}, err
	}
	if !(k.Allowance > 0) || !(k.Bias.U > 0) {
		return Correction{}, fmt.Errorf("allowance %g and uncertainty %g must be above 0; give both", k.Allowance, k.Bias.U)
	}
	c := Correction{U: k.Bias.U}
	b := math.Abs(k.Bias.B)
	switch {
	case k.Uncounted:
		c.Reason = NotCounted
	case k.Outside:
		c.Reason = HasCause
	case math.Abs(k.DT) > WarmWithin || math.Abs(k.DRH) > DampWithin:
		c.Reason = Climate
	case k.Prior > 0 && math.Abs(k.Bias.Mean) > k.Believed():
		c.Reason = Unlikely
	case b <= budget.OneSided*k.Bias.U:
		c.Reason = NotProven
	case b < WorthShare*k.Allowance:
		c.Reason = NotWorth
	default:
		c.By, c.U = k.Bias.B, math.Hypot(k.Bias.U, RemountU)
		if most := OnceShare * k.Allowance; b > most {
			c.Reason, c.By = TooMuch, math.Copysign(most, k.Bias.B)
		}
	}
	return c, nil
}

// Believed is how far the mean of the parts may lie from nought, mm, for the prior to hold of it: a bias of standard deviation τ,
// n parts about it of σ each. The bias is weighed by the prior; a mean that the prior gives no chance must not be.
//
//	BelievedTo √(τ² + σ²/n) = BelievedTo τ/√gain
func (k Known) Believed() float64 { return BelievedTo * k.Prior / math.Sqrt(k.Bias.Gain) }

// AsMade are the numbers of a fixture that a correction changes.
type AsMade struct {
	V        frame.Vec  // from the bore to the part zero, along the edge, mm
	EdgeZero unit.Angle // what the edge reads where the part lies straight
	BoreLine unit.Angle // direction from bore 1 to bore 2, where it has two
	Z        float64    // to add to the Z offset
}

// Corrected takes place, turn and height of a mismatch out of a fixture: place is where side 2
// landed at the part zero (Mismatch.Move there), turn its turn, thick how much too thick the
// floor came out (DOWN by it). Turn 0 takes the place alone, and place is then that at the middle.
//
//	v_new = R(turn) (v - place)    edge zero, bore line + turn    Z offset - thick
//
// Side 2 landed at +place: the tool went too far by it. The cut came out turned by +turn: the part
// lies at -turn when the edge reads its old zero, and v turns with its frame.
func (a AsMade) Corrected(place frame.Vec, turn unit.Angle, thick float64) AsMade {
	a.V = a.V.Sub(place).Turned(float64(turn))
	a.EdgeZero += turn
	a.BoreLine += turn
	a.Z -= thick
	return a
}

// Grew is how far side 2 lies beside side 1, along one axis, at a place that far from where the part was held, by the part's growth
// since side 1 was cut: what side 1 made there has gone g·along away from it, side 2 was cut where the drawing has it. Derived.
func Grew(g, along float64) float64 { return -g * along }
