package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Holding is a part held by screws against one cut. Positions are mm, any common origin.
type Holding struct {
	Screws  [][2]float64
	Forces  [][2]float64 // where the cut may act: the part's corners; the worst counts
	Preload Preload
	Mu      float64 // friction of the one face that counts, under the part
	Cut     Cut
	Factors Factors
}

// Ceiling is the deepest cut that the screws hold by friction: the least of four. An
// infinite depth means that no depth slips (no load).
type Ceiling struct {
	SlipAll, SlipLost, YawAll, YawLost unit.Length // slip alone and turning alone: upper bounds
	All, AllLost                       unit.Length // slip and turning together, with all screws and with one lost; 0 from Ceiling
	Least                              unit.Length
	Governs                            string // "slip", "slip with one screw lost", "yaw", "yaw with one screw lost"; see Together
	Lost                               int    // the screw whose loss is worst, index into Screws
	Upper                              bool   // beyond one tooth along the helix the real ceiling is higher
}

// Register is the safety against slip and yaw at one depth; 0 when the lift alone takes
// the whole clamping force.
type Register struct {
	SlipAll, SlipLost, YawAll, YawLost float64 // slip alone and turning alone: upper bounds
	All, AllLost                       float64 // slip and turning together; 0 from Register
	Lost                               int
	Enough                             bool
}

// Valid returns an error for a holding that can't be computed.
func (h Holding) Valid() error {
	if len(h.Screws) == 0 {
		return fmt.Errorf("no screws: give at least one position, or enter the tested capacity of another hold-down")
	}
	for _, set := range [][][2]float64{h.Screws, h.Forces} {
		for i, p := range set {
			if bad(p[0]) || bad(p[1]) {
				return fmt.Errorf("position %d (%g, %g) is not finite; enter it again", i+1, p[0], p[1])
			}
		}
	}
	for i, p := range h.Screws {
		for k, q := range h.Screws[:i] {
			if p == q {
				return fmt.Errorf("screws %d and %d stand at the same place (%g, %g); correct one", k+1, i+1, p[0], p[1])
			}
		}
	}
	if len(h.Forces) == 0 {
		return fmt.Errorf("no point where the cut acts; give the corners of the part")
	}
	if err := positive("friction", h.Mu, "low preload", float64(h.Preload.Low), "high preload", float64(h.Preload.High)); err != nil {
		return err
	}
	if err := h.Factors.valid(); err != nil {
		return err
	}
	return h.Cut.Valid()
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// perMM is the load in the plane and upward for 1 mm of axial depth; linear by Cut.Load.
func (h Holding) perMM() (fh, fa float64, err error) {
	c := h.Cut
	c.Ap = 1
	l, err := c.Load()
	return float64(l.Fh), float64(l.Fa), err
}

// Ceiling returns the deepest cut held against slip and yaw, with all screws and with any
// one lost:
//
//	slip: ap = mu n F / (cf (SF fh + mu fa))
//	yaw:  ap = mu F sum(r) / (cf (SF fh d + mu fa sum(r)/n))
//
// F is the low preload, fh and fa the load per mm of depth, r the screws' distances from
// their centroid and d that of the worst force point; a lost screw moves the centroid.
// With one screw left nothing resists yaw and the ceiling is 0.
//
// Slip and yaw happen together: see Together, which is what to judge by.
func (h Holding) Ceiling() (Ceiling, error) {
	if err := h.Valid(); err != nil {
		return Ceiling{}, err
	}
	fh, fa, err := h.perMM()
	if err != nil {
		return Ceiling{}, err
	}
	n, f, cf := float64(len(h.Screws)), float64(h.Preload.Low), h.Cut.Corner
	slip := func(n, sf float64) unit.Length {
		return depth(h.Mu*n*f, cf*(sf*fh+h.Mu*fa))
	}
	yaw := func(n, sum, d, sf float64) unit.Length {
		if n == 0 {
			return 0
		}
		return depth(h.Mu*f*sum, cf*(sf*fh*d+h.Mu*fa*sum/n))
	}
	c := Ceiling{SlipAll: slip(n, h.Factors.SlipAll), SlipLost: slip(n-1, h.Factors.SlipLost)}
	sum, d := h.levers(-1)
	c.YawAll = yaw(n, sum, d, h.Factors.SlipAll)
	c.YawLost = unit.Length(math.Inf(1))
	for k := range h.Screws {
		sum, d := h.levers(k)
		if y := yaw(n-1, sum, d, h.Factors.SlipLost); y < c.YawLost {
			c.YawLost, c.Lost = y, k
		}
	}
	c.Least, c.Governs = c.SlipAll, "slip"
	for _, o := range []struct {
		ap   unit.Length
		name string
	}{{c.SlipLost, "slip with one screw lost"}, {c.YawAll, "yaw"}, {c.YawLost, "yaw with one screw lost"}} {
		if o.ap < c.Least {
			c.Least, c.Governs = o.ap, o.name
		}
	}
	c.Upper = c.Least > h.Cut.ApLinear()
	return c, nil
}

// depth is capacity / demand per mm; no demand left means that no depth is too deep.
func depth(capacity, demand float64) unit.Length {
	if demand <= 0 {
		return unit.Length(math.Inf(1))
	}
	return unit.Length(capacity / demand)
}

// levers returns the sum of the screws' distances from their centroid without screw
// lost (-1: none), and the largest distance of a force point from it.
func (h Holding) levers(lost int) (sum, d float64) {
	var cx, cy, n float64
	for i, p := range h.Screws {
		if i != lost {
			cx, cy, n = cx+p[0], cy+p[1], n+1
		}
	}
	if n == 0 {
		return 0, math.Inf(1)
	}
	cx, cy = cx/n, cy/n
	for i, p := range h.Screws {
		if i != lost {
			sum += math.Hypot(p[0]-cx, p[1]-cy)
		}
	}
	for _, p := range h.Forces {
		d = math.Max(d, math.Hypot(p[0]-cx, p[1]-cy))
	}
	return sum, d
}

// Register returns the safeties at the depth of h.Cut. The load is the cut's times its
// corner factor; only one friction face is counted, for the head's face helps only after
// the shank has bent. A part that slips fails even where the slip would be harmless: a
// small screw that moves sideways unwinds.
func (h Holding) Register() (Register, error) {
	if err := h.Valid(); err != nil {
		return Register{}, err
	}
	l, err := h.Cut.Load()
	if err != nil {
		return Register{}, err
	}
	n, f := float64(len(h.Screws)), float64(h.Preload.Low)
	fh, fa := h.Cut.Corner*float64(l.Fh), h.Cut.Corner*float64(l.Fa)
	yaw := func(n float64, lost int) float64 {
		if n == 0 {
			return 0
		}
		sum, d := h.levers(lost)
		return safety(h.Mu*(f-fa/n)*sum, fh*d)
	}
	r := Register{SlipAll: safety(h.Mu*(n*f-fa), fh), SlipLost: safety(h.Mu*((n-1)*f-fa), fh), YawAll: yaw(n, -1), YawLost: math.Inf(1)}
	for k := range h.Screws {
		if y := yaw(n-1, k); y < r.YawLost {
			r.YawLost, r.Lost = y, k
		}
	}
	r.Enough = r.SlipAll >= h.Factors.SlipAll && r.YawAll >= h.Factors.SlipAll &&
		r.SlipLost >= h.Factors.SlipLost && r.YawLost >= h.Factors.SlipLost
	return r, nil
}

// safety is capacity / demand, never below 0.
func safety(capacity, demand float64) float64 {
	if capacity <= 0 {
		return 0
	}
	if demand <= 0 {
		return math.Inf(1)
	}
	return capacity / demand
}
