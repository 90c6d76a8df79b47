package steps

import (
	"fmt"
	"math"
)

// pairBearing is the direction from the fixture's first bore or pin to its second,
// by one pair of readings on each, across the line between them.
type pairBearing struct{ p *Plan }

// axis is the one across the line.
func (b pairBearing) axis() string {
	if b.p.alongY() {
		return "x"
	}
	return "y"
}

// two are the targets under names of their own: e while tapping, f with the bolts tight.
func (b pairBearing) two(letter string) [2]target {
	first, second := b.p.targets()
	out := [2]target{first, *second}
	for i := range out {
		out[i].pre = fmt.Sprintf("%s%d.", letter, i+1)
		out[i].base = letter + "1."
		if i > 0 || letter != "e" {
			out[i].jog = "e1."
		}
	}
	return out
}

// ready asks the size of a gauge pin, whose play is the pair's uncertainty.
func (b pairBearing) ready(v View) []Ask {
	if g, ok := b.p.finder().(pinner); ok && !g.sized(View{Plan: b.p, Earlier: v.Earlier}) {
		first, _ := b.p.targets()
		return []Ask{g.size(first)}
	}
	return nil
}

// faulty is an error of the dial's jog test, where a dial finds.
func (b pairBearing) faulty(v View) error {
	if s, ok := b.p.finder().(sweeper); ok {
		_, _, err := s.scale(v, b.two("e")[0])
		return err
	}
	return nil
}

func (b pairBearing) pairs(v View, letter string) []Ask {
	var asks []Ask
	for _, t := range b.two(letter) {
		asks = append(asks, b.p.finder().pair(v, t, b.axis())...)
	}
	return asks
}

func (b pairBearing) ends(v View) []Ask { return b.pairs(v, "e") }

func (b pairBearing) run(v View) []Ask { return b.pairs(v, "f") }

func (b pairBearing) read(v View, all bool) (heading, bool) {
	letter := "e"
	if all {
		letter = "f"
	}
	ts := b.two(letter)
	x1, u1, ok1 := b.p.finder().across(v, ts[0], b.axis())
	x2, u2, ok2 := b.p.finder().across(v, ts[1], b.axis())
	if !ok1 || !ok2 {
		return heading{}, false
	}
	made := ts[1].from
	l := made.Len()
	h := heading{full: all}
	// Along the line nothing is read: both stand as far apart as made.
	within := func(c float64) float64 { return math.Max(-1, math.Min(1, c/l)) }
	if b.p.alongY() {
		h.lever = made.Y
		h.theta = math.Copysign(1, made.Y) * (math.Acos(within(x2-x1)) - math.Acos(within(made.X)))
	} else {
		h.lever = made.X
		h.theta = math.Copysign(1, made.X) * (math.Asin(within(x2-x1)) - math.Asin(within(made.Y)))
	}
	axis := b.p.Job.Machine.Straightness / math.Sqrt(3)
	h.u = math.Sqrt(u1*u1+u2*u2+axis*axis) / math.Abs(h.lever)
	turned := made.Turned(h.theta).Sub(made)
	h.rise = turned.Y
	if b.p.alongY() {
		h.rise = turned.X
	}
	return h, true
}

// check has nothing to say of itself: two pairs are exact.
func (b pairBearing) check(h heading, _ Limit, o *Outcome) {
	o.Notes = append(o.Notes, "Two pairs have no redundancy: what they say is held against the whole "+b.p.locator()+"s in the next step.")
}

func (b pairBearing) needle(heading, float64) string {
	return ", then read both again: nothing shows it while you tap"
}

func (b pairBearing) says() (act, read, caution string) {
	first, _ := b.p.targets()
	_, read, caution = b.p.finder().says(first)
	return fmt.Sprintf("Find both %ss across the line between them; tap until they agree.", b.p.locator()), read, caution + " Tap only with the part out."
}
