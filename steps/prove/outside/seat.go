package outside

import (
	"math"
	"slices"
)

// side is one wall of the pocket and the face of the part that looks at it: two ends each,
// with the direction from the wall into the pocket.
type side struct {
	name         string
	in           Vec
	wall, face   [2]Vec
	lean, height float64
}

// sides are the four walls with their faces, as they truly are.
func (w *World) sides() []side {
	lo, hi := w.job.Fixture.Pocket.Outline[0], w.job.Fixture.Pocket.Outline[0]
	for _, p := range w.job.Fixture.Pocket.Outline {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	l, b := w.job.Part.Size[0], w.job.Part.Size[1]
	mk := func(name string, in, wa, wb, fa, fb Vec) side {
		off, grown := in.times(w.Sizes["wall"]*w.pure("wall "+name)), in.times(-w.Sizes["size"]*w.pure("size"))
		return side{name, in,
			[2]Vec{w.fixture(wa).plus(off), w.fixture(wb).plus(off)},
			[2]Vec{w.solid(fa).plus(grown), w.solid(fb).plus(grown)},
			w.Sizes["wall-lean"] * w.pure("wall-lean "+name), w.job.Fixture.AsMade.Floor.Depth}
	}
	return []side{
		mk("left", Vec{X: 1}, Vec{X: lo.X, Y: lo.Y}, Vec{X: lo.X, Y: hi.Y}, Vec{}, Vec{Y: b}),
		mk("right", Vec{X: -1}, Vec{X: hi.X, Y: lo.Y}, Vec{X: hi.X, Y: hi.Y}, Vec{X: l}, Vec{X: l, Y: b}),
		mk("toward", Vec{Y: 1}, Vec{X: lo.X, Y: lo.Y}, Vec{X: hi.X, Y: lo.Y}, Vec{}, Vec{X: l}),
		mk("away", Vec{Y: -1}, Vec{X: lo.X, Y: hi.Y}, Vec{X: hi.X, Y: hi.Y}, Vec{Y: b}, Vec{X: l, Y: b}),
	}
}

// away is how far a point stands off the wall, into the pocket; the wall leans about its middle height.
func (s side) away(q Vec) float64 {
	along := s.wall[1].minus(s.wall[0])
	n := Vec{-along.Y, along.X, 0}.unit()
	if n.dot(s.in) < 0 {
		n = n.times(-1)
	}
	return q.minus(s.wall[0]).dot(n) - s.lean*(q.Z-s.height/2)
}

// corners are the four of the face that can touch the wall, on the part.
func (s side) corners() []Vec {
	var out []Vec
	for _, e := range s.face {
		out = append(out, Vec{e.X, e.Y, 0}, Vec{e.X, e.Y, s.height})
	}
	return out
}

// seatPart turns the part along the wall it bears on, leans it as it lies, lets it down to the floor and
// pushes it against its walls till it touches; a floating one stands somewhere in its clearance.
func (w *World) seatPart() {
	all := w.sides()
	byName := func(n string) side { return all[slices.IndexFunc(all, func(s side) bool { return s.name == n })] }
	against := slices.Clone(w.setup.Against)
	if w.setup.Floating || len(against) == 0 {
		against = nil
	}
	turn := w.even("turn")
	if len(against) > 0 {
		slices.SortFunc(against, func(a, b string) int { // the longest first
			return int(1000 * (span(byName(b).face) - span(byName(a).face)))
		})
		if w.Sizes["bearing"] != 0 && w.coin("bearing") {
			slices.Reverse(against)
		}
		s := byName(against[0])
		turn += s.wall[0].towards(s.wall[1]) - s.face[0].towards(s.face[1])
	}
	m := Turn('z', turn).Then(Turn('x', w.Sizes["lean"]*w.pure("lean x"))).Then(Turn('y', w.Sizes["lean"]*w.pure("lean y")))
	m = m.Then(Move(Vec{Z: -lowest(m, w.bottom())}))
	var push Vec
	if against == nil {
		push = w.float(m, all)
	}
	for _, n := range against {
		s := byName(n)
		push = push.plus(s.in.times(-nearest(s, m)))
	}
	for range 3 { // walls that are not quite square: a push along one moves the part along the other
		for _, n := range against {
			s := byName(n)
			push = push.plus(s.in.times(-nearest(s, m.Then(Move(push)))))
		}
	}
	w.seat = m.Then(Move(push))
	w.gaps = map[string]float64{}
	for _, n := range against {
		s := byName(n)
		for _, c := range s.corners() {
			w.gaps["walls"] = max(w.gaps["walls"], s.away(w.seat.Of(c)))
		}
	}
	for _, c := range w.bottom() {
		w.gaps["corners"] = max(w.gaps["corners"], w.seat.Of(c).Z)
	}
}

// float is the push that puts a part into the middle of its pocket, off it by a share of the room.
func (w *World) float(m Mat, all []side) Vec {
	var push Vec
	for i, axis := range []Vec{{X: 1}, {Y: 1}} {
		a, b := nearest(all[2*i], m), nearest(all[2*i+1], m) // room at either side, negative: it overlaps
		room := max((a+b)/2, 0)
		push = push.plus(axis.times((b-a)/2 + min(w.Sizes["float"], 1)*room*w.pure("float"+string(rune('x'+i)))))
	}
	return push
}

func (w *World) bottom() []Vec {
	l, b := w.job.Part.Size[0], w.job.Part.Size[1]
	return []Vec{w.solid(Vec{}), w.solid(Vec{X: l}), w.solid(Vec{X: l, Y: b}), w.solid(Vec{Y: b})}
}

func span(e [2]Vec) float64 { d := e[1].minus(e[0]); return math.Sqrt(d.dot(d)) }

// nearest is the least distance of the face from its wall with the part at m.
func nearest(s side, m Mat) float64 {
	d := math.Inf(1)
	for _, c := range s.corners() {
		d = min(d, s.away(m.Of(c)))
	}
	return d
}

func lowest(m Mat, ps []Vec) float64 {
	z := math.Inf(1)
	for _, p := range ps {
		z = min(z, m.Of(p).Z)
	}
	return z
}

// moveOfScrews is how the part moves when it is screwed down, about its middle.
func (w *World) moveOfScrews() Mat {
	mid := w.seat.Of(w.solid(Vec{w.job.Part.Size[0] / 2, w.job.Part.Size[1] / 2, 0}))
	return TurnAbout(mid, w.even("swap-turn")).Then(Move(w.flat("swap")))
}

// moved turns the fixture about its bore.
func (w *World) moved() { w.turnFixture(w.even("moved")) }

func (w *World) turnFixture(angle float64) {
	w.place = w.place.Then(TurnAbout(w.place.Of(Vec{}), angle))
}
