package ncode

import "math"

// Kind is what a move is.
type Kind uint8

const (
	Rapid  Kind = iota // G0 and the rapid parts of cycles; not a straight line on many controls
	Feed               // straight, at the feed rate
	ArcCW              // G2, seen from the positive end of the axis normal to the plane
	ArcCCW             // G3
	Probe              // G38.2: straight, until the trip or the end point
)

func (k Kind) String() string {
	return [...]string{"rapid", "feed", "arc cw", "arc ccw", "probe"}[k]
}

// Plane is the selected plane.
type Plane uint8

const (
	XY Plane = iota // G17
	XZ              // G18
	YZ              // G19
)

func (p Plane) String() string { return [...]string{"G17", "G18", "G19"}[p] }

// Axes returns the two axes of the plane and its normal, 0 for X. A turn from a to
// b is counter-clockwise seen from the positive end of the normal.
func (p Plane) Axes() (a, b, normal int) {
	switch p {
	case XZ:
		return 2, 0, 1
	case YZ:
		return 1, 2, 0
	}
	return 0, 1, 2
}

// Move is one motion of the tool tip.
type Move struct {
	Kind   Kind
	Plane  Plane // of an arc
	Cycle  bool  // made by a canned cycle
	Peck   bool  // a rapid within a hole that the same cycle has drilled
	Maybe  bool  // not what is followed, but what another reading of the same words does: at its height something may stand in the way
	High   bool  // Z is at the upper end of the travel, whatever that is in W
	M      bool  // asked for in machine coordinates (G53, G28, G30)
	Comp   int8  // cutter radius compensation: -1 left (G41), 1 right (G42); the path is as programmed
	Known  uint8 // bits of the axes whose From is known: 1 X, 2 Y, 4 Z; a From that is not known is 0
	Ends   uint8 // the same for To: an axis that was never moved has none
	Away   bool  // in another work offset than the base: W is from another origin
	Line   int   // of the program
	Tool   int   // in the spindle; 0 when none was called
	System int   // work offset: 1 for G54 to 9 for G59.3, 100+n for G54.1 Pn, 0 when the program selected none

	From, To [3]float64 // W, mm, in the system above with the program's own shifts and rotation applied
	Centre   [3]float64 // of an arc; its normal coordinate is that of From
	Sweep    float64    // of an arc: rad, positive counter-clockwise, within ±2π
	Radius   float64    // of an arc at From, mm; at To it may differ by the standard's tolerance
	Feed     float64    // mm/min; in inverse time (G93) moves per minute; 0 for a rapid
}

// Arc reports whether the move is an arc or a helix.
func (m *Move) Arc() bool { return m.Kind == ArcCW || m.Kind == ArcCCW }

// At returns the place at t from 0 (From) to 1 (To). Along an arc the angle, the
// normal coordinate and any small difference of the end radii grow evenly.
func (m *Move) At(t float64) [3]float64 {
	if !m.Arc() {
		var p [3]float64
		for i := range p {
			p[i] = m.From[i] + float64(t*(m.To[i]-m.From[i]))
		}
		return p
	}
	if t >= 1 {
		return m.To
	}
	a, b, n := m.Plane.Axes()
	r1 := math.Hypot(m.To[a]-m.Centre[a], m.To[b]-m.Centre[b])
	r := m.Radius + float64(t*(r1-m.Radius))
	sin, cos := math.Sincos(math.Atan2(m.From[b]-m.Centre[b], m.From[a]-m.Centre[a]) + float64(t*m.Sweep))
	var p [3]float64
	p[a] = m.Centre[a] + float64(r*cos)
	p[b] = m.Centre[b] + float64(r*sin)
	p[n] = m.From[n] + float64(t*(m.To[n]-m.From[n]))
	return p
}

// Bounds returns the box of the move, axis by axis. For a move from an unknown place it is that of the end.
func (m *Move) Bounds() (lo, hi [3]float64) {
	lo, hi = m.To, m.To
	for i := range 3 {
		if m.Known&(1<<i) != 0 {
			lo[i], hi[i] = min(lo[i], m.From[i]), max(hi[i], m.From[i])
		}
	}
	if !m.Arc() {
		return lo, hi
	}
	a, b, _ := m.Plane.Axes()
	sa, sb, ea, eb := m.From[a]-m.Centre[a], m.From[b]-m.Centre[b], m.To[a]-m.Centre[a], m.To[b]-m.Centre[b]
	r := max(m.Radius, math.Sqrt(ea*ea+eb*eb))
	if m.Sweep < 0 {
		sa, sb, ea, eb = ea, eb, sa, sb
	}
	long := math.Abs(m.Sweep) > math.Pi
	if within(sa, sb, ea, eb, 1, 0, long) {
		hi[a] = max(hi[a], m.Centre[a]+r)
	}
	if within(sa, sb, ea, eb, 0, 1, long) {
		hi[b] = max(hi[b], m.Centre[b]+r)
	}
	if within(sa, sb, ea, eb, -1, 0, long) {
		lo[a] = min(lo[a], m.Centre[a]-r)
	}
	if within(sa, sb, ea, eb, 0, -1, long) {
		lo[b] = min(lo[b], m.Centre[b]-r)
	}
	return lo, hi
}

// within reports whether a direction lies in the sector that turns counter-clockwise from
// s to e, by more than half a turn where it is long.
func within(sx, sy, ex, ey, x, y float64, long bool) bool {
	past, before := sx*y-sy*x >= 0, x*ey-y*ex >= 0
	if long {
		return past || before
	}
	return past && before
}

// Sink takes the motion, in order. The move is good until Move returns; it is changed after.
type Sink interface{ Move(m *Move) }

// Box is an axis-aligned box that knows which line reached each side.
type Box struct {
	Min, Max         [3]float64 // 0 where the axis was never moved
	MinLine, MaxLine [3]int     // 0 where the axis was never moved
}

// Seen reports whether the axis (0 X, 1 Y, 2 Z) was moved at all.
func (b *Box) Seen(axis int) bool { return b.MinLine[axis] != 0 }

func (b *Box) add(axis int, v float64, line int) {
	if v < b.Min[axis] || b.MinLine[axis] == 0 {
		b.Min[axis], b.MinLine[axis] = v, line
	}
	if v > b.Max[axis] || b.MaxLine[axis] == 0 {
		b.Max[axis], b.MaxLine[axis] = v, line
	}
}

func (b *Box) addPoint(p *[3]float64, line int) {
	b.add(0, p[0], line)
	b.add(1, p[1], line)
	b.add(2, p[2], line)
}

// join adds what o holds.
func (b *Box) join(o *Box) {
	for i := range 3 {
		if o.Seen(i) {
			b.add(i, o.Min[i], o.MinLine[i])
			b.add(i, o.Max[i], o.MaxLine[i])
		}
	}
}
