package kit

import (
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// stops are a datum that the part lies against as well: one of its sides at two of them, the side square to it at the third.
type stops struct{ p *fold.Plan }

func (d stops) Name() string   { return "corner" }
func (d stops) Bed() BedWords  { return BedWords{"plate", "plate", "on plate and stops", "stop"} }
func (d stops) Finder() finder { return Stopper(d) }

// AtEnds: each stop is one place.
func (d stops) AtEnds() bool { return true }

func (d stops) Bearing() Bearing { return StopsBearing(d) }

// Edge is the line of the two stops on one side, from one to the other, as a dial reads it where no probe touches them.
func (d stops) Edge() (Edge, bool) {
	if ByProbe(d.p) {
		return Edge{}, false
	}
	p, s := d.p, d.p.Job.Fixture.AsMade.Stops
	e := Edge{Side: map[string]string{"away": "front", "toward": "rear", "left": "right", "right": "left"}[s.Long], Length: s.At[1] - s.At[0],
		Wander: wander(p)}
	e.From, _ = faceOfStop("stop-"+s.Long, s.At[0])
	return e, true
}

func (d stops) nominal() (u, theta float64) {
	p, s := d.p, Stopper(d)
	c, r := s.contact(fold.View{Plan: p})
	k := c.Contact
	k.S /= math.Sqrt2
	f, err := s.stops().Find(0, 0, 0, k, r)
	if err != nil {
		return c.S, c.S
	}
	return math.Sqrt(math.Max(f.Cov[0][0], f.Cov[1][1])), math.Hypot(math.Sqrt(f.Cov[2][2]),
		pickup.HalfU(p.Job.Machine.Straightness)/s.stops().Apart())
}

// HoldsPart: two stops hold its direction, and it is open on its other sides.
func (d stops) HoldsPart() bool { return true }

func (d stops) lies(part *register.Part) {
	s, zero := d.p.Job.Fixture.AsMade.Stops, d.p.Job.Fixture.AsMade.PartZero
	part.Stops = &register.Stopped{From: s.EndAt - zero.Y, Apart: s.At[1] - s.At[0]}
	if AlongY(d.p) {
		part.Stops.Along, part.Stops.From = 1, s.EndAt-zero.X
	}
}

// Turn is how the long side lies by the touches that find the corner.
func (d stops) Turn() Turn {
	return func(v fold.View) (turn unit.Angle, apart float64, ok bool) {
		s := Stopper(d)
		f, ok, _ := s.find(v, "")
		return f.Turn, s.stops().Apart(), ok
	}
}

func (d stops) place(thing string, n float64) (fold.XY, bool) { return faceOfStop(thing, n) }

// draw are the lines that the stops make.
func (d stops) draw(on *drawing) {
	s := d.p.Job.Fixture.AsMade.Stops
	line := func(side string, a, b float64) {
		p, _ := faceOfStop("stop-"+side, a)
		q, _ := faceOfStop("stop-"+side, b)
		on.add(fold.RoleEdge, "", false, p, q)
	}
	const half = 4 // of a stop's face
	line(s.Long, s.At[0]-half, s.At[0]+half)
	line(s.Long, s.At[1]-half, s.At[1]+half)
	line(s.End, s.EndAt-half, s.EndAt+half)
}

// faceOfStop is where a stop's touch is drawn.
func faceOfStop(thing string, n float64) (at fold.XY, ok bool) {
	side, is := strings.CutPrefix(thing, "stop-")
	w, err := frame.ParseWall(side)
	if !is || err != nil {
		return at, false
	}
	if w.Dir().X != 0 {
		return fold.XY{Y: n}, true
	}
	return fold.XY{X: n}, true
}

// StopsBearing is the direction of two stops on one side.
type StopsBearing struct{ p *fold.Plan }

func (b StopsBearing) Ready(fold.View) []fold.Ask { return nil }
func (b StopsBearing) Faulty(fold.View) error     { return nil }

func (b StopsBearing) touches(v fold.View, letter string) []fold.Ask {
	s := Stopper(b)
	three := s.three()
	return []fold.Ask{s.ask(v, letter+".", three[0], false), s.ask(v, letter+".", three[1], false)}
}

func (b StopsBearing) Ends(v fold.View) []fold.Ask { return b.touches(v, "e") }
func (b StopsBearing) Run(v fold.View) []fold.Ask  { return b.touches(v, "f") }

func (b StopsBearing) Read(v fold.View, all bool) (Heading, bool) {
	pre := "e."
	if all {
		pre = "f."
	}
	s := Stopper(b)
	x, ok1 := v.Num(pre+"long1", unit.KLength)
	y, ok2 := v.Num(pre+"long2", unit.KLength)
	if !ok1 || !ok2 {
		return Heading{}, false
	}
	c, _ := s.contact(v)
	st := s.stops()
	theta, u := st.Direction(x, y, c.Contact)
	axis := pickup.HalfU(b.p.Job.Machine.Straightness) / st.Apart()
	return Heading{Heading: pickup.Heading{Theta: float64(theta), U: math.Hypot(u, axis), Lever: st.Apart(), Rise: y - x}, Full: all}, true
}

func (b StopsBearing) Check(_ Heading, _ fold.Limit, o *fold.Outcome) {
	o.Notes = append(o.Notes, "Two touches have no redundancy: the next step touches both stops again.")
}

// Outlying has nothing to compare: each is touched once.
func (b StopsBearing) Outlying(fold.View) (field, where string, off float64, ok bool) {
	return "", "", 0, false
}

func (b StopsBearing) Pivot(v fold.View) (at float64, fields []string, ok bool) {
	at, ok = v.Num("e.long1", unit.KLength)
	return at, []string{"e.long1"}, ok
}

func (b StopsBearing) Watch(Heading, float64) Watch {
	return Watch{After: ". Then touch both again: nothing shows it while you tap."}
}

func (b StopsBearing) Says() (act, read, caution string) {
	s := Stopper(b)
	_, read, caution = s.instrument().Says(Target{Name: "stops"})
	return "Touch both " + sideWord(s.stops().Long) + " stops; tap until they agree.", read, caution + " Tap only with the part out."
}
