package outside

import (
	"math"

	"fliptrue/jobs"
)

// round is a reading as the readout shows it.
func (w *World) round(x float64) float64 {
	step := w.Sizes["readout"] * w.job.Machine.Readout
	if step == 0 {
		return x
	}
	return math.Round(x/step) * step
}

// shows is the readout when the tip that was driven in a direction stands at a place. Screws that
// come from below show so much more than coming from above.
func (w *World) shows(tip, driven Vec) Vec {
	driven = driven.unit()
	spindle := tip.minus(w.ball).minus(w.drift.times(w.spent)).plus(driven.times(w.Sizes["repeat"] * w.noise.NormFloat64()))
	r := w.now.reads(spindle)
	half := w.lash() / 2
	sign := func(x float64) float64 {
		if math.Abs(x) < 1e-9 {
			return 0
		}
		return math.Copysign(half, x)
	}
	return Vec{w.round(r.X + sign(driven.X)), w.round(r.Y + sign(driven.Y)), w.round(r.Z)}
}

func (w *World) lash() float64 { return math.Abs(w.even("backlash")) }

// reach is the distance of the ball's middle from a surface when the probe triggers; from is the
// direction from the surface to the ball.
func (w *World) reach(toward float64) float64 {
	p := w.job.Machine.Probe
	r := p.Ball/2 - 0.009
	if p.Radius > 0 {
		r = p.Radius
	}
	return r + w.even("radius") + w.even("lobes")*math.Cos(3*toward+math.Pi*w.pure("lobes at"))
}

// bore is a hit in a bore of the fixture, coming from near its middle in a direction: the readout.
func (w *World) bore(at jobs.Point, dia, angle float64) Vec {
	depth := w.job.Fixture.AsMade.Floor.Depth - 3
	mid := w.place.Of(w.fixture(Vec{at.X, at.Y, depth}))
	rim := w.place.Of(w.fixture(Vec{at.X + dia/2, at.Y, depth}))
	big := rim.minus(mid)
	radius := math.Hypot(big.X, big.Y)
	u := Vec{math.Cos(angle), math.Sin(angle), 0}
	from := mid.plus(Vec{0.2 * w.aim(), 0.2 * w.aim(), 0})
	at1 := from
	for range 20 { // where the ball's middle comes to: the wall is a circle, the ball stops short of it by its reach
		to := at1.minus(mid)
		r := radius - w.reach(math.Atan2(to.Y, to.X))
		d := from.minus(mid)
		b := d.dot(u)
		at1 = from.plus(u.times(-b + math.Sqrt(b*b-d.dot(d)+r*r)))
	}
	return w.shows(at1, u)
}

func (w *World) aim() float64 { return w.Sizes["aim"] * (2*w.noise.Float64() - 1) }

// face is a touch on an outer face of the part at a height over the floor: side is left, right, toward or
// away, along where on it by the program.
func (w *World) face(name string, along float64) Vec {
	l, b := w.job.Part.Size[0], w.job.Part.Size[1]
	z := w.job.Fixture.AsMade.Floor.Depth + 2
	var p, q Vec // two points of the face
	var out Vec
	switch name {
	case "left":
		p, q, out = Vec{0, 0, z}, Vec{0, b, z}, Vec{X: -1}
	case "right":
		p, q, out = Vec{l, 0, z}, Vec{l, b, z}, Vec{X: 1}
	case "toward":
		p, q, out = Vec{0, 0, z}, Vec{l, 0, z}, Vec{Y: -1}
	default:
		p, q, out = Vec{0, b, z}, Vec{l, b, z}, Vec{Y: 1}
	}
	grown := out.times(w.Sizes["size"] * w.pure("size"))
	on := func(v Vec) Vec { return w.onTable(w.solid(v).plus(grown)) }
	low := p
	low.Z = 0
	f := through(on(p), on(q), on(low), out)
	aimed := p
	if out.X != 0 {
		aimed.Y = along + w.aim()
	} else {
		aimed.X = along + w.aim()
	}
	start := w.onTable(aimed).plus(out.times(1))
	r := w.reach(math.Atan2(-out.Y, -out.X))
	u := out.times(-1)
	t := (r - f.over(start)) / f.out.dot(u)
	return w.shows(start.plus(u.times(t)), u)
}

// width is the part's outer width by a micrometer, near the middle of its faces.
func (w *World) width(axis string) float64 {
	l := w.job.Part.Size
	a, b := Vec{0, l[1] / 2, l[2] / 2}, Vec{l[0], l[1] / 2, l[2] / 2}
	if axis == "y" {
		a, b = Vec{l[0] / 2, 0, l[2] / 2}, Vec{l[0] / 2, l[1], l[2] / 2}
	}
	d := w.solid(b).minus(w.solid(a))
	return math.Sqrt(d.dot(d)) + 2*w.Sizes["size"]*w.pure("size") + w.Sizes["width"]*w.pure("width "+axis)
}

// humidity is the air's now: side 1 was at 45 percent, and wood takes up about 0.17 percent of moisture for each.
func (w *World) humidity() float64 { return 45 + w.even("moist")/0.17 }

// top is the readout's Z when the tip of a length comes down on a place of the fixture or the part.
func (w *World) down(surface Vec, length float64) float64 {
	ball := w.ball
	w.ball = Vec{} // sideways, the ball's place makes no height
	r := w.shows(surface.plus(Vec{Z: length}), Vec{Z: -1})
	w.ball = ball
	return r.Z
}

func (w *World) floorAt(x, y float64) Vec {
	return w.place.Of(w.fixture(Vec{x + w.aim(), y + w.aim(), 0}))
}

func (w *World) rimAt(x, y float64) Vec {
	return w.place.Of(w.fixture(Vec{x + w.aim(), y + w.aim(), w.job.Fixture.AsMade.Floor.Depth}))
}

func (w *World) topAt(x, y float64) Vec {
	return w.onTable(w.solid(Vec{x + w.aim(), y + w.aim(), w.thick}))
}

// edge is what the dial shows with its stylus at a place along the indicated edge, the mill jogged across by so much.
func (w *World) edge(along, jog float64) float64 {
	e := w.job.Fixture.AsMade.Edge
	dir, across := Vec{X: 1}, Vec{Y: 1}
	if e.Side == "left" || e.Side == "right" {
		dir, across = Vec{Y: 1}, Vec{X: 1}
	}
	from := Vec{e.From.X, e.From.Y, w.job.Fixture.AsMade.Floor.Depth}
	slope := float64(e.Zero) + w.even("edge") // counter-clockwise against its axis
	if dir.Y == 1 {
		slope = -slope
	}
	on := func(d float64) Vec {
		return w.place.Of(w.fixture(from.plus(dir.times(d)).plus(across.times(slope * d))))
	}
	a, b := on(0), on(e.Length)
	// The mill travels along its own axis, where its readout across stands still.
	rail := w.now.reads(on(6))
	at := rail.plus(dir.times(along - 6)).plus(across.times(jog))
	s := w.now.stands(at)
	t := s.minus(a).dot(dir) / b.minus(a).dot(dir)
	surface := a.plus(b.minus(a).times(t))
	return w.gain * surface.minus(s).dot(across)
}

// dial is a dial reading, rounded to its graduation.
func (w *World) dial(x float64) float64 {
	g := w.job.Machine.Dial.Graduation * w.Sizes["dial"]
	x += w.noise.NormFloat64() * w.Sizes["dial-drift"]
	if g == 0 {
		return x
	}
	return math.Round(x/g) * g
}
