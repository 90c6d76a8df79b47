package ncode

import (
	"context"
	"io"
	"math"
)

// A pass is what lies between two restart lines: all its lines are run again from the same one. A stop is told well enough
// when its pass is: from the restart line of an earlier pass air is cut, from that of a later one something stays uncut.

// Near is how near a place has to be to a motion to be on it, mm: along X and Y, and along Z.
type Near struct{ XY, Z float64 }

// Pass is one pass, by a line of it.
type Pass struct {
	Line   int     // the first that holds the place
	Begins int     // its restart line
	Over   float64 // how far the place stands over what is cut there, mm; below 0 under it
}

// Stood is a place held against the pass of a stop, and against all others.
type Stood struct {
	Stop   int     // its line
	Begins int     // its restart line
	Off    float64 // how far the place lies from its pass across X and Y, mm
	Over   float64 // how far over or, below 0, under what its pass does there, mm; where Off is within Near
	Blind  bool    // a motion of the stopped line ends nobody knows where: nothing is said
	Held   []Pass  // that cut where the place is, in their order
	Under  []Pass  // that cut below or above it: X and Y fit alone
}

// Fits says that the place lies on the stop's own pass.
func (s Stood) Fits(n Near) bool { return s.Blind || s.Off <= n.XY && math.Abs(s.Over) <= n.Z }

// FindStood finds the passes of a program that a place (W, mm) can be of. A line that does not run is ErrNoStop.
func FindStood(ctx context.Context, r io.Reader, opts Options, clear float64, stop Stop, at [3]float64, near Near) (Stood, error) {
	s := &stander{finder: finder{clear: clear, best: Restart{Line: 1, Top: true}}, at: at, near: near, tools: opts.Expect.Tools}
	s.every = func(line int, r Restart) { s.line(line, r.Line, line == stop.Line) }
	s.all, s.cut, s.pass, s.cuts = far, far, far, far
	opts.PathOnly, opts.Before, opts.Progress = true, s.before, nil
	if _, err := Walk(ctx, r, opts, s); err != nil {
		return Stood{}, err
	}
	s.close()
	if s.out.Stop == 0 {
		return Stood{}, s.none(stop)
	}
	return s.out, nil
}

// stander looks for the passes.
type stander struct {
	finder
	at    [3]float64
	near  Near
	tools map[int]Tool

	all, cut    meets // of the line in hand: by any motion, and by those that feed
	pass, cuts  meets // of the pass in hand: the same, but of rapids those of the stopped line alone; others cut nothing
	blind       bool  // of the line in hand
	held, under Pass  // the first lines of the pass that hold the place, and that do by X and Y; Line 0: none
	begins      int
	stop        int // the stopped line, where it is in the pass in hand
	out         Stood
}

// meets is how near motions come to the place: of those that come near across X and Y the nearest in height, else the nearest.
type meets struct{ off, over float64 }

func (a *meets) meet(b meets, n Near) {
	if b.off <= n.XY && (a.off > n.XY || math.Abs(b.over) < math.Abs(a.over)) || b.off > n.XY && b.off < a.off {
		*a = b
	}
}

// Move takes a motion of the line in hand.
func (s *stander) Move(m *Move) {
	s.finder.Move(m)
	if m.Maybe {
		return
	}
	if m.M || m.Away || m.High || m.Ends != 7 || m.Known != 7 {
		s.blind = true
		return
	}
	lo, hi := m.Bounds()
	grow := s.beside(m)
	aside, away := out(s.at[0], lo[0]-grow, hi[0]+grow), out(s.at[1], lo[1]-grow, hi[1]+grow)
	b := meets{math.Max(math.Abs(aside), math.Abs(away)), out(s.at[2], lo[2], hi[2])}
	s.all.meet(b, s.near)
	if m.Kind != Rapid {
		s.cut.meet(b, s.near)
	}
}

// beside is how far the axis may stand from the path as programmed: the cutter's radius where it is compensated.
func (s *stander) beside(m *Move) (r float64) {
	if m.Comp == 0 {
		return 0
	}
	if r = s.tools[m.Tool].Radius; r > 0 {
		return r
	}
	for _, t := range s.tools {
		r = math.Max(r, t.Radius)
	}
	return r
}

// out is how far a value lies over an interval, below 0 under it.
func out(x, lo, hi float64) float64 { return x - math.Min(math.Max(x, lo), hi) }

// line closes the line in hand, which is of the pass that begins at a line.
func (s *stander) line(line, begins int, stopped bool) {
	if begins != s.begins {
		s.close()
		s.begins = begins
	}
	if stopped {
		s.stop, s.out.Blind = line, s.blind
		s.pass.meet(s.all, s.near)
	}
	s.pass.meet(s.cut, s.near)
	s.cuts.meet(s.cut, s.near)
	if s.cut.off <= s.near.XY {
		if s.under.Line == 0 {
			s.under = Pass{Line: line, Begins: begins}
		}
		if s.held.Line == 0 && math.Abs(s.cut.over) <= s.near.Z {
			s.held = Pass{Line: line, Begins: begins, Over: s.cut.over}
		}
	}
	s.all, s.cut, s.blind = far, far, false
}

var far = meets{math.Inf(1), math.Inf(1)}

// close closes the pass in hand.
func (s *stander) close() {
	if s.stop > 0 {
		s.out.Stop, s.out.Begins, s.out.Off, s.out.Over = s.stop, s.begins, s.pass.off, s.pass.over
	}
	if s.held.Line > 0 {
		s.out.Held = append(s.out.Held, s.held)
	}
	if s.under.Line > 0 {
		s.under.Over = s.cuts.over
		s.out.Under = append(s.out.Under, s.under)
	}
	s.pass, s.cuts, s.held, s.under, s.stop = far, far, Pass{}, Pass{}, 0
}
