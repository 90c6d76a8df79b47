package frame

import (
	"fmt"
	"math"
)

// BoreSize is a bore's diameter now against what it should be.
type BoreSize struct {
	Want float64 // q times the diameter as made, mm
	Off  float64 // now minus Want
	U    float64 // standard uncertainty of Off
}

// BoreGrown compares a bore with the size as made times the scale q of the fixture: a damp
// month or a warm day grows a sound bore by as much as everything else. uq is that of q, uNow and uMade those of the
// diameters, mm.
func BoreGrown(now, made, q, uNow, uMade, uq float64) (BoreSize, error) {
	if !(now > 0) || !(made > 0) || !(math.Abs(q-1) < 0.02) || !(uNow >= 0) || !(uMade >= 0) || !(uq >= 0) {
		return BoreSize{}, fmt.Errorf("bore of %g now and %g as made, scale %g, can't be compared; give diameters above 0 and a scale near 1",
			now, made, q)
	}
	b := BoreSize{Want: q * made}
	b.Off = now - b.Want
	b.U = math.Sqrt(uNow*uNow + q*q*uMade*uMade + made*made*uq*uq)
	return b, nil
}
