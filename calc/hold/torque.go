package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// KRow is one published torque coefficient: T = K F d. The books disagree, so every row
// names its own; take K as known to 30 % at best.
type KRow struct {
	Condition string
	K         float64
	Source    string
	Flag      Flag
}

// KSpread is the scatter of the torque coefficient, plus and minus.
const KSpread = 0.30

// ScrewK is the coefficient used for small dry screws in plastic, wood or aluminium when
// nothing better is known. Common practice, from memory.
const ScrewK = 0.25

const shigley = "Shigley and Mischke, Mechanical Engineering Design, 5th ed., ch. 8"
const bickford = "Bickford and Nassar, Handbook of Bolts and Bolted Joints, ch. 2, table 1"

// KRows returns the published coefficients, with those that contradict each other side by side.
func KRows() []KRow {
	return []KRow{
		{"not plated, black finish", 0.30, shigley, Verified},
		{"bare steel", 0.20, bickford, Verified},
		{"zinc plated", 0.20, shigley, Verified},
		{"zinc plated, dry", 0.295, bickford, Verified},
		{"lubricated", 0.18, shigley, Verified},
		{"cadmium plated", 0.16, shigley, Verified},
		{"cadmium plated, dry", 0.20, bickford, Verified},
		{"anti-seize", 0.12, shigley, Verified},
		{"unknown", 0.20, shigley, Verified},
		{"small dry screw in plastic, wood or aluminium", ScrewK, "shop use", Practice},
	}
}

// TorqueFor is K F d in N·mm.
func TorqueFor(f unit.Force, k float64, d unit.Length) unit.Torque {
	return unit.Torque(k * float64(f) * float64(d))
}

// ForceFrom is T / (K d) in N; it panics if K d is not above zero.
func ForceFrom(t unit.Torque, k float64, d unit.Length) unit.Force {
	if !(k*float64(d) > 0) {
		panic("hold: torque coefficient and diameter must be above zero")
	}
	return unit.Force(float64(t) / (k * float64(d)))
}

// LongTorque is the long form F (P/(2 pi) + mu d2/(2 cos 30°) + muHead Dkm/2), with the
// mean diameter Dkm of the head's bearing ring. Source: VDI 2230, from memory.
func LongTorque(f unit.Force, t Thread, mu, muHead float64, dkm unit.Length) unit.Torque {
	lever := float64(t.P)/(2*math.Pi) + mu*float64(t.D2)/(2*math.Cos(math.Pi/6)) + muHead*float64(dkm)/2
	return unit.Torque(float64(f) * lever)
}
