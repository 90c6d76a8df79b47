package ncode

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// finish judges the program as a whole and completes the summary.
func (w *walker) finish(how outcome, err error) {
	s := &w.sum
	s.End = w.st
	w.endRow()
	w.gather()
	if err == nil {
		if how == ranOut {
			w.noEnd()
		}
		if w.sum.Moves == 0 {
			w.at(0, NotProven, "nothing-read", "", "no move was read; see that it is the right file, and whole")
		}
		w.endState()
		w.height()
		w.lengths()
		w.travel()
		w.inches()
		w.steps()
	}
	s.Findings = w.list.sorted()
}

// whole adds a finding about the program as a whole, or at a line.
func (w *walker) at(line int, sev Severity, id, words, hint string) {
	w.list.add(Finding{Line: line, Severity: sev, ID: id, Words: words, Hint: hint})
}

// gather makes the tools and boxes of the summary from the uses.
func (w *walker) gather() {
	s := &w.sum
	for _, u := range w.uses {
		if u.moves == 0 && u.Number == 0 {
			continue
		}
		i := slices.IndexFunc(s.Tools, func(t ToolUse) bool { return t.Number == u.Number })
		if i < 0 {
			i = len(s.Tools)
			s.Tools = append(s.Tools, ToolUse{Number: u.Number, Line: u.Line, H: -1})
		}
		t := &s.Tools[i]
		if u.H >= 0 {
			t.H = u.H
		}
		if u.ToolUse.Spindle != 0 {
			t.Spindle = u.ToolUse.Spindle
		}
		if k := slices.IndexFunc(s.Systems, func(y SystemUse) bool { return y.System == u.system }); k >= 0 {
			s.Systems[k].Moves += u.moves
		}
		if u.away {
			continue
		}
		t.Rapid.join(&u.Rapid)
		t.Feed.join(&u.Feed)
		if h := u.Heaviest; h.Load > t.Heaviest.Load {
			t.Heaviest = h
		}
		if u.Step > t.Step {
			t.Step, t.StepLine = u.Step, u.StepLine
		}
		s.Rapid.join(&u.Rapid)
		s.Feed.join(&u.Feed)
	}
}

// noEnd judges a program that just stops (3.1).
func (w *walker) noEnd() {
	switch {
	case w.know.percent:
		w.list.add(Finding{Line: w.line, Severity: Refused, ID: "no-end", Clause: "3.1", Words: "no closing %",
			Hint: "a program that begins with % ends with one: is the file whole?"})
	default:
		w.list.add(Finding{Line: w.line, Severity: Refused, ID: "no-end", Clause: "3.1", Words: "no M2, M30 or %",
			Hint: "the program just stops: is the file whole?"})
	}
}

// endState judges what the program leaves switched on.
func (w *walker) endState() {
	s := &w.st
	var left []string
	if s.Comp != 0 {
		left = append(left, "G40")
	}
	if s.Length {
		left = append(left, "G49")
	}
	if s.Motion > 800 || s.Motion == 730 {
		left = append(left, "G80")
	}
	if len(left) > 0 {
		sev := Note
		if s.Comp != 0 {
			sev = Warn
		}
		w.at(w.line, sev, "end-state", strings.Join(left, " "), "not given before the end: the next program begins in that state")
	}
	if s.Rotation {
		w.at(w.line, Fail, "rotation-left", "G69", "the rotation is still on at the end: the next program is turned too")
	}
	if w.f.g92 != [3]float64{} || w.f.g52 != [3]float64{} || w.f.unknown != 0 {
		w.at(w.line, Fail, "shift-left", "G92 or G52", "the zero is still moved at the end")
	}
}

// height holds the lowest Z against the floor and the Z0 that was meant.
func (w *walker) height() {
	e, b := w.ex, &w.sum.Feed
	if !b.Seen(2) {
		return
	}
	low, line := b.Min[2], b.MinLine[2]
	high := b.Max[2]
	if w.sum.Rapid.Seen(2) {
		high = max(high, w.sum.Rapid.Max[2])
	}
	// A program fits a Z0 when it stays above the floor, cuts no higher than the top, and
	// has been over the part. Part and floor are in the job's W; the shift undoes the other Z0.
	floored := false
	fits := func(shift float64) bool {
		ok := true
		for _, t := range w.sum.Tools {
			if f, has := e.floor(t.Number); has && t.Feed.Seen(2) {
				floored = true
				ok = ok && t.Feed.Min[2]+shift >= f-rounding
			}
		}
		if e.Part != nil {
			top := e.Part.Max[2]
			ok = ok && low+shift <= top+e.Stock+rounding && high+shift >= top-rounding
		}
		return ok
	}
	// Of two that might fit it is the one whose cuts begin nearer to the top of the part.
	nearer := func(shift float64) bool {
		return e.Part == nil || math.Abs(b.Max[2]+shift-e.Part.Max[2]) < math.Abs(b.Max[2]-e.Part.Max[2])
	}
	named := false
	if other, shift := e.Z0.other(); other != Z0Unknown && shift != 0 {
		if !fits(0) && fits(shift) && nearer(shift) && (floored || e.Part != nil) {
			named = true
			w.at(line, Fail, "other-z0", fmt.Sprintf("lowest Z%s, highest Z%s", w.num(low), w.num(high)),
				fmt.Sprintf("it was posted for Z0 = %v, the offset was set for Z0 = %v: everything would go %s too %s; post it again", other, e.Z0.Kind,
					w.num(math.Abs(shift)), lower(shift)))
		}
	}
	for _, t := range w.sum.Tools {
		f, has := e.floor(t.Number)
		if !has || !t.Feed.Seen(2) || t.Feed.Min[2] >= f-rounding {
			continue
		}
		hint := fmt.Sprintf("%s below the lowest Z allowed, %s", w.num(f-t.Feed.Min[2]), w.num(f))
		if named {
			hint += ": see the Z0"
		}
		w.at(t.Feed.MinLine[2], Fail, "floor", "Z"+w.num(t.Feed.Min[2]), hint)
	}
}

func lower(shift float64) string {
	if shift > 0 {
		return "low"
	}
	return "high"
}

// lengths judges how the tools are used.
func (w *walker) lengths() {
	for _, t := range w.sum.Tools {
		if t.Number == 0 && (t.Feed.Seen(2) || t.Rapid.Seen(2)) {
			w.at(firstLine(&t.Feed, &t.Rapid), Warn, "tool-missing", "", "it moves before any tool was called: which one is in the spindle?")
		}
	}
	if w.ex.Lengths != LengthsTouched || w.ex.Tools == nil {
		return
	}
	first := 0
	for _, t := range w.sum.Tools {
		if !t.Feed.Seen(2) && !t.Rapid.Seen(2) {
			continue
		}
		if first != 0 {
			w.at(t.Line, NotProven, "lengths", fmt.Sprintf("T%d after T%d", t.Number, first),
				"each tool is touched off on this machine, and a program knows one touch: one tool a program")
			return
		}
		first = t.Number
	}
}

// lengthSaid reports whether nothing is to be said of the tool's length.
func (w *walker) lengthSaid() bool {
	return w.st.Length || w.use.noLength || w.ex.Tools == nil || w.ex.Lengths == LengthsTouched
}

// unmeasured says, once a tool, that it moves with no length in force.
func (w *walker) unmeasured(m *Move) {
	if m.M || m.Kind == Rapid && m.Known&4 == m.Ends&4 && m.From[2] == m.To[2] {
		return // machine coordinates, or across at a height that no length has to do with
	}
	w.use.noLength = true
	t := max(w.st.Tool, 0)
	words := fmt.Sprintf("T%d", t)
	if w.ex.Tools[t].Length != 0 {
		w.say(Fail, "length-missing", words, fmt.Sprintf("no length is in force: the tip goes %s too low; write G43 H%d first",
			w.num(w.ex.Tools[t].Length), t))
		return
	}
	w.say(NotProven, "length-missing", words, "no length is in force: the tip may go too low by all of it; write G43 first")
}

// firstLine is the first line that the boxes know of.
func firstLine(bs ...*Box) int {
	n := 0
	for _, b := range bs {
		for i := range 3 {
			for _, l := range [2]int{b.MinLine[i], b.MaxLine[i]} {
				if l != 0 && (n == 0 || l < n) {
					n = l
				}
			}
		}
	}
	return n
}

// travel holds the box in M against the travel of the machine.
func (w *walker) travel() {
	e := w.ex
	if e.Placed != nil {
		m := w.machineBox()
		w.sum.Machine = &m
		w.within(&m, "")
		return
	}
	w.within(&w.know.machineBox, "G53 or G28, ")
}

// machineBox is the box in M of all moves in the base system. Where a tool's length is
// not known its Z is left out, and said; where it lies within known bounds it counts where both fit the travel.
func (w *walker) machineBox() (m Box) {
	o := w.ex.Placed.Offset
	for _, u := range w.uses {
		if u.away || u.moves == 0 {
			continue
		}
		b := u.turned
		if w.ex.Placed.Rotation == 0 {
			b = Box{}
			b.join(&u.Feed)
			b.join(&u.Rapid)
			b.join(&u.machine)
		}
		for i := range 3 {
			if !b.Seen(i) {
				continue
			}
			add := o[i]
			if i == 2 {
				if t := w.ex.Tools[max(u.H, 0)].Within; !u.hasLength && u.H > 0 && t[1] > 0 {
					lo, hi := b.Min[i]+add+t[0], b.Max[i]+add+t[1]
					if tr := w.ex.Travel; tr != nil && lo >= tr.Min[i] && hi <= tr.Max[i] {
						m.add(i, lo, b.MinLine[i])
						m.add(i, hi, b.MaxLine[i])
					}
					continue
				}
				if !u.hasLength {
					if w.ex.Travel != nil {
						w.at(u.Line, NotProven, "travel", fmt.Sprintf("T%d H%d", u.Number, u.H), "its length is not known: the travel in Z is not proven")
					}
					continue
				}
				add += u.length
			}
			m.add(i, b.Min[i]+add, b.MinLine[i])
			m.add(i, b.Max[i]+add, b.MaxLine[i])
		}
	}
	return m
}

func (w *walker) within(m *Box, what string) {
	tr := w.ex.Travel
	if tr == nil {
		return
	}
	for i := range 3 {
		if !m.Seen(i) {
			continue
		}
		axis := 'X' + rune(i)
		if m.Min[i] < tr.Min[i]-rounding {
			w.at(m.MinLine[i], Fail, "travel", fmt.Sprintf("%sM %c%s", what, axis, w.num(m.Min[i])),
				fmt.Sprintf("%s past the travel, which ends at %s", w.num(tr.Min[i]-m.Min[i]), w.num(tr.Min[i])))
		}
		if m.Max[i] > tr.Max[i]+rounding {
			w.at(m.MaxLine[i], Fail, "travel", fmt.Sprintf("%sM %c%s", what, axis, w.num(m.Max[i])),
				fmt.Sprintf("%s past the travel, which ends at %s", w.num(m.Max[i]-tr.Max[i]), w.num(tr.Max[i])))
		}
	}
}

// Margin returns the least distance of the program to the ends of the travel, axis by
// axis, negative where it goes past; ok is false where either is not known.
func (s *Summary) Margin(travel *Cuboid, axis int) (margin float64, ok bool) {
	if s.Machine == nil || travel == nil || !s.Machine.Seen(axis) {
		return 0, false
	}
	return min(s.Machine.Min[axis]-travel.Min[axis], travel.Max[axis]-s.Machine.Max[axis]), true
}

// inches names a program that seems to be in the wrong units: the box of all that it cuts,
// read in the other units, is as large as the part and lies on it, and as it stands it is not.
func (w *walker) inches() {
	b := &w.sum.Feed
	if w.ex.Part == nil || !b.Seen(0) || !b.Seen(1) {
		return
	}
	const slack = 1.5  // how far one size may be off the other
	const beside = 0.5 // how far beside the part, by its size, it may lie
	p := w.ex.Part
	for _, k := range [2]float64{25.4, 1 / 25.4} {
		fits := true
		for i := range 2 {
			size := p.Max[i] - p.Min[i]
			r := (b.Max[i] - b.Min[i]) * k / size
			fits = fits && r > 1/slack && r < slack && b.Min[i]*k > p.Min[i]-beside*size && b.Max[i]*k < p.Max[i]+beside*size
		}
		if !fits {
			continue
		}
		words := fmt.Sprintf("%s by %s, the part %s by %s", w.num(b.Max[0]-b.Min[0]), w.num(b.Max[1]-b.Min[1]), w.num(p.Max[0]-p.Min[0]),
			w.num(p.Max[1]-p.Min[1]))
		w.at(b.MaxLine[0], Warn, "inch-ratio", words, "inches and millimetres may be mixed")
	}
}

// steps holds the largest step in Z of each tool against what the hold-down carries.
func (w *walker) steps() {
	if w.ex.Part == nil {
		return
	}
	tools := slices.Clone(w.sum.Tools)
	slices.SortStableFunc(tools, func(a, b ToolUse) int { return cmp.Compare(a.StepLine, b.StepLine) })
	for _, t := range tools {
		if h := t.Heaviest; w.ex.Carries != nil {
			if h.Line == 0 || h.Depth <= h.Holds+rounding {
				continue
			}
			way := fmt.Sprintf("%s wide", w.num(h.Width))
			if h.Down {
				way = "straight down"
			}
			w.at(h.Line, Fail, "z-step", fmt.Sprintf("T%d step %s (upper bound), %s", t.Number, w.num(h.Depth), way),
				fmt.Sprintf("the hold-down carries %s of that: take smaller steps", w.num(h.Holds)))
			continue
		}
		c := w.ex.Ceiling
		if v, ok := w.ex.Ceilings[t.Number]; ok {
			c = v
		}
		if c > 0 && t.Step > c+rounding {
			w.at(t.StepLine, Fail, "z-step", fmt.Sprintf("T%d step %s (upper bound)", t.Number, w.num(t.Step)),
				fmt.Sprintf("the hold-down carries a cut of %s: take smaller steps", w.num(c)))
		}
	}
}
