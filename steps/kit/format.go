package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// Refuse is an outcome whose readings make nothing: all of it again.
func Refuse(o *fold.Outcome, id, why string, err error) {
	o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: id, Why: why, Class: fold.Never}, Count: true, Verdict: fold.Fail,
		Words: err.Error() + "."})
	o.Next = append(o.Next, fold.Act{Do: "round", Words: fmt.Sprintf("Read it again: %v.", err)})
}

// Cannot is an outcome of readings that can't be computed.
func Cannot(p *fold.Plan, id string, err error, o fold.Outcome) fold.Outcome {
	o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: id + ".set", Why: "the witnesses fix a motion", Class: fold.Never},
		Count: true, Verdict: fold.Fail, Words: err.Error() + "."})
	o.Next = append(o.Next, fold.Act{Do: "round", Words: "Read the witness set again: " + err.Error() + "."})
	return o
}

// Round takes a value to the readout's step, which is all that a control holds.
func Round(p *fold.Plan, v float64) float64 {
	step := Keyed(p)
	n := math.Round(1 / step)
	if math.Abs(n*step-1) < 1e-9 {
		return math.Round(v*n) / n
	}
	return math.Round(v/step) * step
}

// Signed prints a length with its sign always shown.
func Signed(p *fold.Plan, v float64) string { return unit.Signed(v, unit.KLength, p.Job.Unit, 0) }

// Keyed is the last digit that a control's page shows.
func Keyed(p *fold.Plan) float64 {
	step := p.Job.Machine.Readout
	if step <= 0 {
		step = 0.001
	}
	if p.Job.Unit == unit.Imperial { // a page in inches shows no more digits than are printed here
		step = math.Max(step, unit.Step(unit.KLength, unit.Imperial))
	}
	return step
}

// OffsetWord is a work offset as the control names it, and whether the word is one.
func OffsetWord(word string) (string, bool) {
	w, err := frame.ParseWorkOffset(word)
	return w.String(), err == nil
}
