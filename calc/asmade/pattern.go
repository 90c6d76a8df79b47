package asmade

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/given"
	"fliptrue/calc/unit"
)

// PatternSpare is what the play of a screw in its hole must keep over the error of the
// holes' places, mm. Common practice.
const PatternSpare = 0.05

// Pattern is how a pattern of holes lies against its program.
type Pattern struct {
	Motion   frame.Motion // program to holes
	Off      []float64    // distance of each hole from its place after the motion
	Worst    int
	MostOff  float64
	Residual []frame.Vec
}

// ToPattern fits a rigid motion by least squares, exact for any turn.
//
//	turn = atan2(Σ p×q, Σ p·q) about the means, shift = mean q - R mean p
//
// Two or more holes, of which not all are in one place; the same number of each. Of two holes
// half the error of their spacing is left at each. Derived (plane Procrustes).
func ToPattern(programmed, found []frame.Vec) (Pattern, error) {
	if len(programmed) != len(found) || len(found) < 2 {
		return Pattern{}, fmt.Errorf("%d holes programmed and %d found give no pattern; probe two or more", len(programmed), len(found))
	}
	var mp, mq frame.Vec
	n := float64(len(found))
	for i := range found {
		if err := given.Finite("hole", programmed[i].X+programmed[i].Y, "hole", found[i].X+found[i].Y); err != nil {
			return Pattern{}, err
		}
		mp, mq = mp.Add(programmed[i].Times(1/n)), mq.Add(found[i].Times(1/n))
	}
	var dot, cross float64
	for i := range found {
		a, b := programmed[i].Sub(mp), found[i].Sub(mq)
		dot, cross = dot+a.Dot(b), cross+a.Cross(b)
	}
	if math.Hypot(dot, cross) < 1e-6 {
		return Pattern{}, fmt.Errorf("the holes all lie in one place; probe holes far apart")
	}
	turn := math.Atan2(cross, dot)
	p := Pattern{Motion: frame.Motion{Turn: unit.Angle(turn), Shift: mq.Sub(mp.Turned(turn))}}
	for i := range found {
		r := found[i].Sub(p.Motion.Apply(programmed[i]))
		p.Residual, p.Off = append(p.Residual, r), append(p.Off, r.Len())
		if r.Len() > p.MostOff {
			p.Worst, p.MostOff = i, r.Len()
		}
	}
	return p, nil
}

// Allowed is the most that a hole may be off its place: half the play of the screw in the
// part's hole, less PatternSpare. Negative: the hole is too small for the screw.
func Allowed(hole, screw float64) float64 { return (hole-screw)/2 - PatternSpare }
