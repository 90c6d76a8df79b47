package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Strap is a strap clamp: heel block, bolt, tip on the part.
type Strap struct {
	Bolt   unit.Length // thread diameter
	Torque unit.Torque
	K      float64
	Heel   unit.Length // heel to bolt
	Tip    unit.Length // bolt to tip
	Mu     float64     // under the part
}

// StrapForce is what a strap does. Low is what to reckon with: the torque coefficient is
// known to 30 % only.
type StrapForce struct {
	Bolt, Tip, Heel unit.Force
	TipLow          unit.Force // 0.7 of Tip
	Side            unit.Force // friction of one face at Tip; the face under the strap helps only after the bolt has bent
	SideLow         unit.Force
	Reversed        bool       // the bolt stands nearer the heel than the part
	HeelShare       float64    // of the bolt's force that goes into the heel block
	Swapped         unit.Force // tip force if the bolt stood as far from the tip as now from the heel
}

// Force computes a strap: tip = bolt · heel/(heel + tip).
func (s Strap) Force() (StrapForce, error) {
	if err := positive("bolt diameter", float64(s.Bolt), "torque", float64(s.Torque), "torque coefficient", s.K,
		"heel to bolt", float64(s.Heel), "bolt to tip", float64(s.Tip), "friction", s.Mu); err != nil {
		return StrapForce{}, err
	}
	bolt := float64(ForceFrom(s.Torque, s.K, s.Bolt))
	span := float64(s.Heel + s.Tip)
	tip := bolt * float64(s.Heel) / span
	low := 1 - KSpread
	return StrapForce{
		Bolt: unit.Force(bolt), Tip: unit.Force(tip), Heel: unit.Force(bolt - tip), TipLow: unit.Force(low * tip),
		Side: unit.Force(s.Mu * tip), SideLow: unit.Force(low * s.Mu * tip),
		Reversed: s.Heel < s.Tip, HeelShare: float64(s.Tip) / span, Swapped: unit.Force(bolt * float64(s.Tip) / span),
	}, nil
}

// Name says in words that a lever is the wrong way round; empty if it is not.
func (f StrapForce) Name() string {
	if !f.Reversed {
		return ""
	}
	return fmt.Sprintf("bolt stands nearer the heel: %.0f %% of its force goes into the heel block; move the bolt toward the part (%.0f N "+
		"instead of %.0f N at the tip)",
		100*f.HeelShare, float64(f.Swapped), float64(f.Tip))
}

// StrapFactor is the safety wanted of straps against a drill. Common practice, from memory.
const StrapFactor = 2.0

// StrapHold is the safety of a set of straps against one drill.
type StrapHold struct {
	Lift, Turn float64 // against the pull at breakthrough, and against the torque
	Enough     bool
}

// HoldDrill judges straps, tips at the given places (mm), against a drill at a place. The
// low tip forces count. Torque is resisted by friction about the tips' own centroid; the
// thrust presses the part down and is not counted either way. One strap resists no turning
// but by its pad: Turn is then 0 and says that a stop or a second strap is needed.
func HoldDrill(straps []Strap, tips [][2]float64, d DrillLoad) (StrapHold, error) {
	if len(straps) == 0 || len(straps) != len(tips) {
		return StrapHold{}, fmt.Errorf("%d straps with %d tips: give one tip for each, at least one strap", len(straps), len(tips))
	}
	var cx, cy, up, turn float64
	for _, p := range tips {
		cx, cy = cx+p[0]/float64(len(tips)), cy+p[1]/float64(len(tips))
	}
	for i, s := range straps {
		f, err := s.Force()
		if err != nil {
			return StrapHold{}, fmt.Errorf("strap %d: %w", i+1, err)
		}
		up += float64(f.TipLow)
		turn += float64(f.SideLow) * math.Hypot(tips[i][0]-cx, tips[i][1]-cy)
	}
	h := StrapHold{Lift: safety(up, float64(d.Lift)), Turn: safety(turn, float64(d.Torque))}
	h.Enough = h.Lift >= StrapFactor && h.Turn >= StrapFactor
	return h, nil
}

// DrillHeld is HoldDrill with the torque held about the pole where friction bears least
// (Spins): less with three straps and more, or with two that press differently.
func DrillHeld(straps []Strap, tips [][2]float64, d DrillLoad) (StrapHold, error) {
	h, err := HoldDrill(straps, tips, d)
	if err != nil {
		return StrapHold{}, err
	}
	grip := make([]float64, len(straps))
	for i, s := range straps {
		f, err := s.Force()
		if err != nil {
			return StrapHold{}, fmt.Errorf("strap %d: %w", i+1, err)
		}
		grip[i] = float64(f.SideLow)
	}
	h.Turn = safety(Spins(tips, grip), float64(d.Torque))
	h.Enough = h.Lift >= StrapFactor && h.Turn >= StrapFactor
	return h, nil
}
