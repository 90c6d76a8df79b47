package fit

import "math"

// ZConvention says from where tool lengths count.
type ZConvention struct {
	// Reference is the length of the tool the others are counted from, mm; Value{} for
	// lengths from the spindle's gauge line (absolute).
	Reference Value
}

// Length returns the length to use for a tool of absolute length l.
//
//	absolute: L   reference tool: L - L_ref
func (z ZConvention) Length(l float64) float64 {
	if z.Reference.Has {
		return l - z.Reference.V
	}
	return l
}

// ZOffset returns the Z work offset from a touch.
//
//	Z_off = M_touch - L - h
//
// touch is the machine Z at trigger, length that of the probe or tool in the convention in
// use (0 for the reference tool itself), block the height of gauge block or paper under
// it, taken off once. mm.
func ZOffset(touch, length, block float64) float64 { return touch - length - block }

// MachineZ returns where the spindle stands with the tool's tip at work height z:
// M = Z_off + L + z. mm.
func MachineZ(offset, length, z float64) float64 { return offset + length + z }

// ZTolerance is how close a readout must come to MachineZ in the air check, mm. Common
// practice.
const ZTolerance = 0.05

// MixedConventions reports whether the difference between the readout and the expected
// machine Z is the reference tool's length (to tol, mm): one number was absolute, the
// other relative.
func MixedConventions(readout, expected, reference, tol float64) bool {
	return reference != 0 && math.Abs(math.Abs(readout-expected)-math.Abs(reference)) <= tol
}
