package hold

import (
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
