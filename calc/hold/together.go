package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// What Ceiling.Governs says after Together.
const (
	GovernsAll  = "slip and turning together"
	GovernsLost = "slip and turning together, one screw lost"
)

// Grip is what the friction of the screws bears when the part slips and turns at once, in
// the unit of the friction of one screw: for four screws 4 is slip alone.
type Grip struct {
	All, AllLost float64
	Lost         int // the screw whose loss is worst, index into Screws
}

// Grip is the least of Slides over the places where the cut may act, with all screws and
// with any one lost. A single screw turns about itself: 0 unless the force acts on it.
func (h Holding) Grip() Grip {
	g := Grip{All: h.slides(-1), AllLost: math.Inf(1)}
	for k := range h.Screws {
		if s := h.slides(k); s < g.AllLost {
			g.AllLost, g.Lost = s, k
		}
	}
	return g
}

// slides is the least force over all places, without screw lost (-1: none).
func (h Holding) slides(lost int) float64 {
	each := make([]float64, len(h.Screws))
	for i := range each {
		if i != lost {
			each[i] = 1
		}
	}
	least := math.Inf(1)
	for _, at := range h.Forces {
		least = math.Min(least, Slides(h.Screws, each, at).Force)
	}
	return least
}

// together returns the deepest cut held and the safeties at the depth of h.Cut, slip and
// turning taken together; G is the grip with all screws, or with one lost and n one less:
//
//	ap = mu G F / (cf (SF fh + mu G fa/n)),   safety = mu G (F - cf Fa/n) / (cf Fh)
//
// F, fh, fa and cf as in Ceiling. The lift is shared evenly by the screws that are left.
func (h Holding) together(g Grip) (Ceiling, Register, error) {
	c, err := h.Ceiling()
	if err != nil {
		return Ceiling{}, Register{}, err
	}
	r, err := h.Register()
	if err != nil {
		return Ceiling{}, Register{}, err
	}
	fh, fa, err := h.perMM()
	if err != nil {
		return Ceiling{}, Register{}, err
	}
	n, f, cf := float64(len(h.Screws)), float64(h.Preload.Low), h.Cut.Corner
	both := func(grip, n, sf float64) (unit.Length, float64) {
		if n == 0 {
			return 0, 0
		}
		mg, ap := h.Mu*grip, float64(h.Cut.Ap)
		if mg == 0 {
			return 0, 0
		}
		return depth(mg*f, cf*(sf*fh+mg*fa/n)), safety(mg*(f-cf*fa*ap/n), cf*fh*ap)
	}
	c.All, r.All = both(g.All, n, h.Factors.SlipAll)
	c.AllLost, r.AllLost = both(g.AllLost, n-1, h.Factors.SlipLost)
	c.Least, c.Governs = c.All, GovernsAll
	if c.AllLost < c.Least {
		c.Least, c.Governs = c.AllLost, GovernsLost
	}
	c.Lost, r.Lost = g.Lost, g.Lost
	c.Upper = c.Least > h.Cut.ApLinear()
	r.Enough = r.All >= h.Factors.SlipAll && r.AllLost >= h.Factors.SlipLost
	return c, r, nil
}
