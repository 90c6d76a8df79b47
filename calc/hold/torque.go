package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// KSpread is the scatter of the torque coefficient, plus and minus. The books themselves disagree: for zinc
// plate 0.20 (Shigley and Mischke, 5th ed., ch. 8) against 0.295 (Bickford and Nassar, ch. 2), both verified copies.
const KSpread = 0.30

// ScrewK is the coefficient used for small dry screws in plastic, wood or aluminium when
// nothing better is known. Common practice, from memory.
const ScrewK = 0.25

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
