package bench

import "math"

// MadeFixture is the truth of a fixture in the making: part zero from the axis of bore 1, a part of the drawn size against its pads;
// by how much that part is turned, the second bore, how much the finisher cut small, and how high the rim stands.
type MadeFixture struct {
	Zero, Bore2 Pair
	Turn        float64
	Small, Rim  float64
}

// MadeFixture is how it came out; ok is false for another setup.
func (w *World) MadeFixture() (f MadeFixture, ok bool) {
	g := w.onTable()
	if g == nil {
		return f, false
	}
	f = MadeFixture{Bore2: Pair{w.bore2.x, w.bore2.y}, Small: g.small, Rim: w.card.AsMade.Floor.Depth + g.rim}
	mid := xy{w.card.AsMade.PartZero.X, w.card.AsMade.PartZero.Y}.add(w.size.times(0.5))
	for wall, line := range g.padLines() {
		d, _ := way(wall)
		if d.x != 0 {
			f.Zero.X = line.at(mid.y)
			if wall == "right" {
				f.Zero.X -= w.size.x
			}
		} else {
			f.Zero.Y = line.at(mid.x)
			if wall == "away" {
				f.Zero.Y -= w.size.y
			}
		}
		if line.slope != 0 { // two pads: the part lies along them
			f.Turn = math.Atan(line.slope)
			if d.x != 0 {
				f.Turn = -f.Turn
			}
		}
	}
	return f, true
}

// padLine is a wall by its pads: where it is at a place along it.
type padLine struct{ a, along, slope float64 }

func (l padLine) at(along float64) float64 { return l.a + l.slope*(along-l.along) }

// padLines are the walls that have pads; the outermost two of a wall carry the part.
func (g *making) padLines() map[string]padLine {
	type pad struct{ along, at float64 }
	seen := map[string][2]pad{}
	for _, m := range g.w.setup.Make.Pads {
		along := m.At.Y
		if m.Wall == "away" || m.Wall == "toward" {
			along = m.At.X
		}
		at, ok := g.face(m.Wall, along, 0)
		if !ok {
			continue
		}
		p := pad{along, at}
		ends, some := seen[m.Wall]
		switch {
		case !some:
			ends = [2]pad{p, p}
		case p.along < ends[0].along:
			ends[0] = p
		case p.along > ends[1].along:
			ends[1] = p
		}
		seen[m.Wall] = ends
	}
	out := map[string]padLine{}
	for wall, e := range seen {
		l := padLine{e[0].at, e[0].along, 0}
		if d := e[1].along - e[0].along; d > 0 {
			l.slope = (e[1].at - e[0].at) / d
		}
		out[wall] = l
	}
	return out
}

// On puts the setup onto the fixture as another world cut it: what its card does not know, or has wrong, arrives here.
func (w *World) On(made *World) {
	f, ok := made.MadeFixture()
	if !ok {
		return
	}
	w.cut = made.onTable()
	w.boreD, w.bore2 = made.boreD, xy{f.Bore2.X, f.Bore2.Y}
	c, _ := w.datum("bore")
	_, _, gap := w.walls()
	said := xy{w.card.AsMade.PartZero.X, w.card.AsMade.PartZero.Y}.add(gap)
	w.off, w.askew = c.add(xy{f.Zero.X, f.Zero.Y}).sub(said), f.Turn
	w.bore2 = w.bore2.add(c) // places of the card count from where it has bore 1
	w.rim, w.edgeZero, w.edgePhase = f.Rim, made.edgeZero, made.edgePhase
	today := w.warm - w.madeAt() // as it was drawn: warmer than on the day it was made
	w.grown(made.warm+w.cut.hot, made.warm+today)
}
