package ncode

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
)

// Stop is where a program was stopped: a line of the program itself, and of a line that calls a
// subprogram which of its runs was in hand, from 1; 0 for the first.
type Stop struct{ Line, Repeat int }

// Restart is the line from which a stopped program is run again, and what has to be set by hand before it.
//
// It is the first line of the last stretch before the stop in which the tool stood at or above the clear
// height: outside subprograms, increments, cycles, cutter compensation and zero shifts, never the stopped
// line itself. Such a line either begins there, or goes straight up to there by a Z of its own.
type Restart struct {
	Line    int
	Top     bool     // there is none: the program is run from its first line
	Before  Standing // how the program stands before it
	Rises   bool     // the line itself brings Z to the clear height
	Minutes float64  // that feeding takes from there to the stop: cut already, in air
	At      Standing // how the program stands before the stopped line
}

// ErrNoStop is a stop at a line that is not run.
var ErrNoStop = errors.New("no such line is run")

// FindRestart reads the program and finds where to begin again after a stop; clear is the clear height, W in
// mm. What is wrong with the program is not said here: see Walk. A line that does not run is ErrNoStop.
func FindRestart(ctx context.Context, r io.Reader, opts Options, clear float64, stop Stop) (Restart, error) {
	f := &finder{clear: clear, stop: stop, best: Restart{Line: 1, Top: true}}
	opts.PathOnly, opts.Before, opts.Progress = true, f.before, nil
	if _, err := Walk(ctx, r, opts, f); err != nil {
		return Restart{}, err
	}
	if !f.met {
		return Restart{}, f.none(stop)
	}
	return f.best, nil
}

func (f *finder) none(stop Stop) error {
	return fmt.Errorf("line %d: %w; the last is %d", stop.Line, ErrNoStop, f.was.Line-1)
}

// finder looks for the restart line.
type finder struct {
	clear float64
	stop  Stop
	best  Restart

	was     Standing // before the line in hand
	begun   bool
	low     bool    // the line in hand went below the clear height
	fell    bool    // it went down, or ran a cycle
	minutes float64 // of the line in hand
	stretch bool    // in a stretch at the clear height
	chosen  bool    // whose first line that serves is chosen
	met     bool
	every   func(stop int, r Restart) // in place of stop: shown the restart of each line
}

const thousandth = 1e-3 // mm: heights that are one

func (f *finder) up(s *Standing) bool {
	return s.High || s.Known&4 != 0 && s.At[2] >= f.clear-thousandth
}

// Move takes a motion of the line in hand.
func (f *finder) Move(m *Move) {
	if m.Maybe {
		return
	}
	if !m.M && !m.High && (m.Known&4 == 0 || m.From[2] < f.clear-thousandth || m.Ends&4 == 0 || m.To[2] < f.clear-thousandth) {
		f.low = true
	}
	f.fell = f.fell || m.Cycle || m.Known&m.Ends&4 != 0 && m.To[2] < m.From[2]
	if m.Kind != Rapid && m.Feed > 0 {
		f.minutes += m.long() / m.Feed
	}
}

// long is how long a move is, mm.
func (m *Move) long() float64 {
	var d [3]float64
	for i := range d {
		if m.Known&m.Ends&(1<<i) != 0 {
			d[i] = m.To[i] - m.From[i]
		}
	}
	if !m.Arc() {
		return math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
	}
	_, _, n := m.Plane.Axes()
	return math.Hypot(m.Radius*m.Sweep, d[n])
}

// before closes the line in hand.
func (f *finder) before(s *Standing) {
	if f.begun {
		f.line(s)
	}
	f.was, f.begun, f.low, f.fell, f.minutes = *s, true, false, false, 0
}

// line looks at a line that has run, of which s is the end.
func (f *finder) line(s *Standing) {
	b := &f.was
	switch {
	case f.every != nil:
		r := f.best
		r.At = *b
		f.every(b.Line, r)
	case f.met:
		return
	case b.Line == f.stop.Line:
		f.met, f.best.At = true, *b
		if runs := s.Calls - b.Calls; runs > 0 {
			f.best.Minutes += f.minutes * float64(min(max(f.stop.Repeat-1, 0), runs)) / float64(runs)
		}
		return
	}
	rises := !f.up(b) && f.up(s) && !f.fell && b.Known&s.Known&3 == 3 && b.At[0] == s.At[0] && b.At[1] == s.At[1] && s.Calls == b.Calls
	clear := f.up(s) && (rises || f.up(b) && !f.low)
	if clear && !f.stretch {
		f.chosen = false
	}
	f.stretch = clear
	f.best.Minutes += f.minutes
	if clear && !f.chosen && serves(b) {
		f.chosen = true
		f.best = Restart{Line: b.Line, Before: *b, Rises: rises, Minutes: f.minutes}
	}
}

// serves says whether all that is in force before a line can be set by hand.
func serves(b *Standing) bool {
	s := &b.State
	return b.Plain && b.Known&3 == 3 && !s.Incremental && !s.InverseTime && s.Comp == 0 && s.cycleSet == 0 &&
		(s.Motion == 0 || s.Motion == 10 || s.Motion == 800)
}

// Typed are the lines to type before the restart line, in the program's units, Z being all up by machine
// coordinates already. None where the program is run from its top. turn is the rotation to be in force, as a
// line of its own, "" for none.
func (r *Restart) Typed(turn string) []string {
	if r.Top {
		return nil
	}
	s, b := &r.Before.State, &r.Before
	unit := 1.0
	if s.Units == Inch {
		unit = 25.4
	}
	at := func(i int) string { return string(byte('X'+i)) + shortest(b.At[i]/unit, 7) }
	out := []string{safeLine(s)}
	add := func(on bool, line string) {
		if on {
			out = append(out, line)
		}
	}
	add(s.Tool >= 0, fmt.Sprintf("T%d M6", s.Tool))
	add(s.Next >= 0 && s.Next != s.Tool, fmt.Sprintf("T%d", s.Next))
	add(s.System > 0, SystemName(s.System))
	add(s.Rotation && turn != "", turn)
	add(true, "G0 "+at(0)+" "+at(1))
	add(s.Length, fmt.Sprintf("G43 H%d", s.H))
	spin := ""
	if s.Speed > 0 || s.still {
		spin = "S" + shortest(s.Speed, 6) + " "
	}
	if s.Spindle != 0 {
		spin += fmt.Sprintf("M%d", s.Spindle)
	}
	add(spin != "", trimRight(spin))
	add(s.Coolant&1 != 0, "M7")
	add(s.Coolant&2 != 0, "M8")
	add(s.Feed > 0, "F"+shortest(s.Feed/unit, 6))
	if !r.Rises && b.Known&4 != 0 {
		add(true, "G0 "+at(2))
	}
	add(s.Motion == 10, "G1 "+at(0)+" "+at(1))
	add(s.Motion == 800, "G80")
	return out
}

// safeLine sets the modes.
func safeLine(s *State) string {
	out := s.Plane.String()
	if s.Units != AnyUnits {
		out += " " + s.Units.String()
	}
	out += " G90 G40 G49 G80 G94"
	if s.RetractR {
		out += " G99"
	}
	if s.Path != 0 {
		out += " " + gName(s.Path)
	}
	if s.places {
		out += " G90.1"
	}
	return out
}

func trimRight(s string) string {
	for len(s) > 0 && s[len(s)-1] == ' ' {
		s = s[:len(s)-1]
	}
	return s
}

// shortest is a number with no more digits behind the point than it needs.
func shortest(v float64, most int) string {
	p := math.Pow(10, float64(most))
	return strconv.FormatFloat(math.Round(v*p)/p, 'f', -1, 64)
}
