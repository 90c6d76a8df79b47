package batch

import (
	"fmt"
	"math"
)

// Growth of a spindle as it warms up, Z. E: an estimate, may be wrong by a factor of 2; replace it by the machine's own.
const (
	SpindleGrows = 0.020 // mm, whole
	SpindleTau   = 12.0  // min
)

// StillGrows is how much of it is still to come after minutes at cutting speed, mm.
//
//	0.020 exp(-t/12)
func StillGrows(minutes float64) (float64, error) {
	if !(minutes >= 0) {
		return 0, fmt.Errorf("%g minutes of warming up must be 0 or more; read the clock again", minutes)
	}
	return SpindleGrows * math.Exp(-minutes/SpindleTau), nil
}
