package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Seat is what the part stands on while the cut tries to pry it off.
type Seat struct {
	Corners [][2]float64 // convex outline of the seat, in order, in the screws' coordinates
	Height  unit.Length  // of the cutting force above the seat
}

// Retention is the safety against the part leaving its seat. It may never be waived.
type Retention struct {
	PryAll, PryLost float64    // moment of the screws about the worst seat edge against that of the cut
	Edge, Lost      int        // the edge (from corner Edge to the next) and the screw lost that give PryLost
	Extra           unit.Force // largest tension added to the screw that stands alone after one is lost, corner factor included
	StripLost       float64    // that screw: strip load against High + Extra
	Enough          bool
	Ceiling         unit.Length // deepest cut with which all three still have their factors
}

// Valid returns an error unless the seat is a convex outline of at least three corners
// with every screw inside or on it.
func (s Seat) Valid(screws [][2]float64) error {
	if len(s.Corners) < 3 {
		return fmt.Errorf("seat has %d corners: it needs at least 3; give its outline", len(s.Corners))
	}
	if err := positive("height of the cut over the seat", float64(s.Height)); err != nil {
		return err
	}
	turn := s.orientation()
	if turn == 0 {
		return fmt.Errorf("seat outline has no area; give its corners in order")
	}
	for e := range s.Corners {
		for i, q := range s.Corners {
			if s.lever(e, turn, q) < -1e-9 {
				return fmt.Errorf("seat outline is not convex at its edge %d: corner %d (%g, %g) lies outside; give the convex outline of the supports",
					e+1, i+1, q[0], q[1])
			}
		}
		for i, q := range screws {
			if s.lever(e, turn, q) < -1e-9 {
				return fmt.Errorf("screw %d (%g, %g) stands outside the seat; it would tip the part itself: correct its place or the seat", i+1, q[0],
					q[1])
			}
		}
	}
	return nil
}

func (s Seat) orientation() float64 {
	var a float64
	for i, p := range s.Corners {
		q := s.Corners[(i+1)%len(s.Corners)]
		a += p[0]*q[1] - p[1]*q[0]
	}
	switch {
	case a > 0:
		return 1
	case a < 0:
		return -1
	}
	return 0
}

// lever is the distance of q from edge e, positive toward the inside.
func (s Seat) lever(e int, turn float64, q [2]float64) float64 {
	a, b := s.Corners[e], s.Corners[(e+1)%len(s.Corners)]
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	if l == 0 {
		return 0
	}
	return turn * (dx*(q[1]-a[1]) - dy*(q[0]-a[0])) / l
}

// Retention judges prying about each edge of the seat: the low preloads times their
// levers against cf (Fh height + Fa far), far being the farthest corner of the seat or
// force point. With one screw lost, the screw left alone in the far row takes
// cf (Fa/n + Fh height/span) on top of the high preload; span is the distance of the rows,
// or the lever from the edge when only one row is left.
func (h Holding) Retention(s Seat) (Retention, error) {
	if err := h.Valid(); err != nil {
		return Retention{}, err
	}
	if err := s.Valid(h.Screws); err != nil {
		return Retention{}, err
	}
	l, err := h.Cut.Load()
	if err != nil {
		return Retention{}, err
	}
	cf := h.Cut.Corner
	fh, fa := cf*float64(l.Fh), cf*float64(l.Fa)
	up := math.Max(fa, 0) // a lift that presses down is not counted on
	turn, height, low := s.orientation(), float64(s.Height), float64(h.Preload.Low)
	r := Retention{PryAll: math.Inf(1), PryLost: math.Inf(1)}
	var extra float64
	for e := range s.Corners {
		var sum, far float64
		levers := make([]float64, len(h.Screws))
		for i, p := range h.Screws {
			levers[i] = s.lever(e, turn, p)
			sum += levers[i]
		}
		for _, p := range s.Corners {
			far = math.Max(far, s.lever(e, turn, p))
		}
		for _, p := range h.Forces {
			far = math.Max(far, s.lever(e, turn, p))
		}
		demand := fh*height + up*far
		r.PryAll = math.Min(r.PryAll, safety(low*sum, demand))
		for k := range h.Screws {
			if pry := safety(low*(sum-levers[k]), demand); pry < r.PryLost {
				r.PryLost, r.Edge, r.Lost = pry, e, k
			}
			extra = math.Max(extra, alone(levers, k, fh*height, up))
		}
	}
	r.Extra = unit.Force(extra)
	r.StripLost = safety(float64(h.Preload.Strip), float64(h.Preload.High)+extra)
	r.Enough = r.PryAll >= h.Factors.PryAll && r.PryLost >= h.Factors.PryLost && r.StripLost >= h.Factors.StripLost
	// Demand and extra tension are linear in the depth.
	ap := float64(h.Cut.Ap)
	room := float64(h.Preload.Strip)/h.Factors.StripLost - float64(h.Preload.High)
	strip := safety(room, extra)
	r.Ceiling = unit.Length(ap * math.Min(math.Min(r.PryAll/h.Factors.PryAll, r.PryLost/h.Factors.PryLost), strip))
	return r, nil
}

// alone is the tension added to each screw of the far row after screw k is lost.
func alone(levers []float64, k int, moment, up float64) float64 {
	n, near, far := 0.0, math.Inf(1), math.Inf(-1)
	for i, y := range levers {
		if i != k {
			n, near, far = n+1, math.Min(near, y), math.Max(far, y)
		}
	}
	if n == 0 {
		return math.Inf(1)
	}
	span := far - near
	if span <= 1e-9 {
		span = far
	}
	row := 0.0
	for i, y := range levers {
		if i != k && y >= far-1e-9 {
			row++
		}
	}
	if span <= 0 {
		return math.Inf(1)
	}
	return up/n + moment/(span*row)
}
