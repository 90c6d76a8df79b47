package ncode

import (
	"fmt"
	"math"
	"math/bits"

	"fliptrue/calc/clearance"
)

// lowBit is the index of the lowest bit set.
func lowBit(m uint32) int { return bits.TrailingZeros32(m) }

// use is what one tool does, with one length in force, in the base work offset or away from it.
type use struct {
	ToolUse
	system    int
	away      bool
	length    float64 // that the control has in force
	hasLength bool
	shape     shape                // of the cutter; radius 0 when not known
	drill     bool                 // it makes holes with its point
	body      []clearance.Cylinder // above its cutting edges
	noLength  bool                 // said: it moves with no length in force
	machine   Box                  // W, moves in machine coordinates
	turned    Box                  // X and Y turned by the measured rotation; Z as W
	moves     int
}

// maxUses bounds the memory for tools.
const maxUses = 512

// away reports whether the program has selected another work offset than the base.
func (w *walker) away() bool { return w.st.System != 0 && w.st.System != w.base }

// setUse finds or makes the use that the next moves count in.
func (w *walker) setUse() {
	tool, away := max(w.st.Tool, 0), w.away()
	length, has := w.applied()
	for _, u := range w.uses {
		if u.Number == tool && u.system == w.st.System && u.away == away && u.length == length && u.hasLength == has {
			w.use = u
			return
		}
	}
	if len(w.uses) >= maxUses {
		w.say(NotProven, "tools", fmt.Sprintf("T%d", tool), "too many tools and lengths to keep apart")
		w.use = w.uses[len(w.uses)-1]
		return
	}
	t := w.ex.Tools[tool]
	w.use = &use{system: w.st.System, away: away, length: length, hasLength: has, shape: shape{t.Radius, min(t.Corner, t.Radius)},
		drill: t.Drill, body: t.Body}
	w.use.Number, w.use.Line, w.use.H = tool, w.line, -1
	if w.st.Length {
		w.use.H = w.st.H
	}
	w.use.ToolUse.Spindle = w.st.Spindle
	w.uses = append(w.uses, w.use)
	w.box, w.turn = nil, nil
}

// emit completes a move, counts it and hands it on.
func (w *walker) emit(m *Move) {
	s, u := &w.st, w.use
	m.Line, m.Tool, m.System, m.Comp, m.Away = w.line, max(s.Tool, 0), s.System, s.Comp, u.away
	m.Maybe, m.High = false, w.high
	if !w.know.begun && !m.M {
		w.begin()
	}
	if !w.lengthSaid() {
		w.unmeasured(m)
	}
	w.sum.Moves++
	u.moves++
	box := &u.Feed
	switch {
	case m.M:
		box = &u.machine
	case m.Kind == Rapid, m.Kind == Probe:
		box = &u.Rapid
	}
	if m.Known&m.Ends == 7 && !m.Arc() {
		if w.box != box {
			box.addPoint(&m.From, m.Line)
			w.box = box
		}
		box.addPoint(&m.To, m.Line)
	} else {
		w.box = nil
		lo, hi := m.Bounds()
		for i := range 3 {
			if m.Ends&(1<<i) != 0 {
				box.add(i, lo[i], m.Line)
				box.add(i, hi[i], m.Line)
			}
		}
	}
	if pl := w.ex.Placed; pl != nil && pl.Rotation != 0 {
		if pl.InProgram && !s.Rotation && !w.know.unturned && !m.M && m.Ends&3 != 0 {
			w.know.unturned = true
			w.say(Fail, "rotation-missing", "", fmt.Sprintf("X and Y move without the rotation that was measured: write G68 X0 Y0 R%.4f before",
				pl.Rotation*(180/math.Pi)))
		}
		w.turned(m, u, pl)
	}
	if w.relief != nil && !m.Away {
		w.stock(m)
	}
	if w.sink != nil {
		w.sink.Move(m)
	}
	if w.alt.on {
		w.otherwise(m)
	}
}

// altitude is the height at which another reading of the standard leaves the tool after a
// cycle with G98, until Z is moved.
type altitude struct {
	on bool
	z  float64 // W
}

// otherwise holds a move at the height of the other reading.
func (w *walker) otherwise(m *Move) {
	if m.M || m.Kind != Rapid || m.Known&m.Ends != 7 || m.From[2] != m.To[2] {
		w.alt.on = false
		return
	}
	n := *m
	n.Maybe = true
	n.From[2], n.To[2] = w.alt.z, w.alt.z
	if w.relief != nil && !n.Away {
		w.stock(&n)
	}
	if w.sink != nil {
		w.sink.Move(&n)
	}
}

// turned adds the move to the box in the turned frame.
func (w *walker) turned(m *Move, u *use, pl *Placement) {
	if w.know.turnSin == 0 && w.know.turnCos == 0 {
		w.know.turnSin, w.know.turnCos = math.Sincos(pl.Rotation)
	}
	sin, cos := w.know.turnSin, w.know.turnCos
	turn := func(p [3]float64) [3]float64 {
		return [3]float64{float64(cos*p[0]) - float64(sin*p[1]), float64(sin*p[0]) + float64(cos*p[1]), p[2]}
	}
	b := &u.turned
	if m.Ends&4 != 0 {
		b.add(2, m.To[2], m.Line)
	}
	if m.Ends&3 != 3 {
		return
	}
	if !m.Arc() {
		if m.Known == 7 && w.turn != b {
			b.addPoint(ptr(turn(m.From)), m.Line)
			w.turn = b
		}
		p := turn(m.To)
		b.add(0, p[0], m.Line)
		b.add(1, p[1], m.Line)
		return
	}
	w.turn = nil
	if m.Plane == XY {
		t := *m
		t.From, t.To, t.Centre = turn(m.From), turn(m.To), turn(m.Centre)
		lo, hi := t.Bounds()
		for i := range 2 {
			b.add(i, lo[i], m.Line)
			b.add(i, hi[i], m.Line)
		}
		return
	}
	// An arc in an upright plane: the corners of its box are on the safe side.
	lo, hi := m.Bounds()
	for _, x := range [2]float64{lo[0], hi[0]} {
		for _, y := range [2]float64{lo[1], hi[1]} {
			p := turn([3]float64{x, y, lo[2]})
			b.add(0, p[0], m.Line)
			b.add(1, p[1], m.Line)
		}
	}
	b.add(2, lo[2], m.Line)
	b.add(2, hi[2], m.Line)
}

func ptr[T any](v T) *T { return &v }

// begin judges what must stand before the first motion.
func (w *walker) begin() {
	s := &w.st
	w.know.begun = true
	if s.Units == AnyUnits {
		w.say(Fail, "units-missing", "", "no G20 or G21 before the first motion: the units are whatever the control was left in")
	}
	if !s.ModeSet {
		w.say(Fail, "mode-missing", "", "no G90 before the first motion: the control may stand in G91")
	}
	if !s.PlaneSet {
		w.say(Warn, "plane-missing", "", "no G17 before the first motion")
	}
	if s.System == 0 {
		sev := Warn
		hint := "no work offset is selected: the control uses the one it was left in"
		if w.ex.System != 0 {
			sev, hint = Fail, fmt.Sprintf("%s; write %s on the first line", hint, SystemName(w.ex.System))
		}
		w.say(sev, "offset-missing", "", hint)
		w.know.offsets[0] = w.line
		w.sum.Systems = append(w.sum.Systems, SystemUse{Line: w.line})
	}
}
