package stick

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// What a vacuum must show. Common practice.
const (
	GateMPa     = 0.06               // gauge under the atmosphere before each start; the hold is reckoned with it
	LeakMost    = 0.10               // share lost in LeakSeconds with the valve shut
	LeakSeconds = 30.0               //
	AirMPa      = 0.101325           // standard atmosphere
	SlipSF      = 1.5                // required sideways
	PeelSF      = 2.0                // required against lifting an edge
	FlatSag     = unit.Length(0.002) // of a thin floor between supports
)

// Vacuum is a part on a sealed face.
type Vacuum struct {
	Sealed Face // inside the seal line
	Part   Face
	Gauge  float64 // MPa under the atmosphere as shown at the part; only GateMPa of it is reckoned with
	Mu     float64 // friction under the part, low end
}

// Held is what a vacuum does against a cut. There is no case with one lost: the pump is one.
type Held struct {
	Press   unit.Force // on the seat
	Turning float64
	Slip    float64 // safety sideways, turning with it
	Peel    float64 // safety about the far edge of the seal
	Gate    bool    // the gauge shows at least GateMPa
	Enough  bool
	Ceiling unit.Length // deepest cut with both factors
}

// Against judges by the load of a cut and its corner factor; height is that of the cut over the
// seat.
//
//	N = gate · sealed area          slip = e mu (N - cf Fa)/(cf Fh) >= 1.5
//	peel = N half width/(cf Fh height + cf Fa (half part + half seal)) >= 2
//
// Width is the shorter side. Below the gate nothing holds.
func (v Vacuum) Against(c hold.Cut, height unit.Length) (Held, error) {
	if err := given.Above("friction", v.Mu, "height of the cut", float64(height)); err != nil {
		return Held{}, err
	}
	if math.IsNaN(v.Gauge) {
		return Held{}, fmt.Errorf("the gauge must be a number; read it again, as MPa under the atmosphere")
	}
	e, err := v.Sealed.Turning(v.Part)
	if err != nil {
		return Held{}, err
	}
	l, err := c.Load()
	if err != nil {
		return Held{}, err
	}
	n := GateMPa * v.Sealed.Area()
	fh, fa := c.Corner*float64(l.Fh), c.Corner*math.Max(float64(l.Fa), 0)
	half, part := math.Min(v.Sealed.Long, v.Sealed.Short)/2, math.Min(v.Part.Long, v.Part.Short)/2
	h := Held{Press: unit.Force(n), Turning: e, Gate: v.Gauge >= GateMPa,
		Slip: math.Max(0, e*v.Mu*(n-fa)/fh), Peel: n * half / (fh*float64(height) + fa*(part+half))}
	h.Enough = h.Gate && h.Slip >= SlipSF && h.Peel >= PeelSF
	if h.Gate { // loads are linear in the depth
		perMM := 1 / float64(c.Ap)
		slip := e * v.Mu * n / (SlipSF*fh*perMM + e*v.Mu*fa*perMM)
		h.Ceiling = unit.Length(math.Min(slip, float64(c.Ap)*h.Peel/PeelSF))
	}
	return h, nil
}

// Leak is the share of a vacuum lost in LeakSeconds, from two readings of the gauge seconds
// apart, and whether that is little enough. MPa under the atmosphere.
func Leak(first, last, seconds float64) (share float64, tight bool, err error) {
	if err := given.Above("first reading", first, "seconds", seconds); err != nil {
		return 0, false, err
	}
	if !(last >= 0) || last > first {
		return 0, false, fmt.Errorf("the gauge read %g and then %g: with the valve shut it can only fall to 0; read both again", first, last)
	}
	share = (first - last) / first * LeakSeconds / seconds
	return share, share <= LeakMost*(1+1e-9), nil
}
