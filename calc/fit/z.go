package fit

// ZOffset returns the Z work offset from a touch.
//
//	Z_off = M_touch - L - h
//
// touch is the machine Z at trigger, length that of the probe or tool in the convention in
// use (0 for the reference tool itself), block the height of gauge block or paper under
// it, taken off once. mm.
func ZOffset(touch, length, block float64) float64 { return touch - length - block }
