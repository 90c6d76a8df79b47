package kit

import (
	"fmt"

	"fliptrue/calc/pickup"
	"fliptrue/steps/fold"
)

// PairBearing is the direction from the fixture's first bore or pin to its second,
// by one pair of readings on each, across the line between them.
type PairBearing struct{ P *fold.Plan }

// axis is the one across the line.
func (b PairBearing) axis() string {
	if AlongY(b.P) {
		return "x"
	}
	return "y"
}

// two are the targets under names of their own: e while tapping, f with the bolts tight.
func (b PairBearing) two(letter string) [2]Target {
	first, second := Targets(b.P)
	out := [2]Target{first, *second}
	for i := range out {
		out[i].Pre = fmt.Sprintf("%s%d.", letter, i+1)
		out[i].base = letter + "1."
		if i > 0 || letter != "e" {
			out[i].jog = "e1."
		}
	}
	return out
}

// ready asks the size of a gauge pin, whose play is the pair's uncertainty.
func (b PairBearing) Ready(v fold.View) []fold.Ask {
	if g, ok := Finder(b.P).(pinner); ok && !g.sized(fold.View{Plan: b.P, Earlier: v.Earlier}) {
		first, _ := Targets(b.P)
		return []fold.Ask{g.size(first)}
	}
	return nil
}

// faulty is an error of the dial's jog test, where a dial finds.
func (b PairBearing) Faulty(v fold.View) error {
	if s, ok := Finder(b.P).(Sweeper); ok {
		_, _, err := s.scale(v, b.two("e")[0])
		return err
	}
	return nil
}

func (b PairBearing) pairs(v fold.View, letter string) []fold.Ask {
	var asks []fold.Ask
	for _, t := range b.two(letter) {
		asks = append(asks, Finder(b.P).Pair(v, t, b.axis())...)
	}
	return asks
}

func (b PairBearing) Ends(v fold.View) []fold.Ask { return b.pairs(v, "e") }

func (b PairBearing) Run(v fold.View) []fold.Ask { return b.pairs(v, "f") }

func (b PairBearing) Read(v fold.View, all bool) (Heading, bool) {
	letter := "e"
	if all {
		letter = "f"
	}
	ts := b.two(letter)
	x1, u1, ok1 := Finder(b.P).Across(v, ts[0], b.axis())
	x2, u2, ok2 := Finder(b.P).Across(v, ts[1], b.axis())
	if !ok1 || !ok2 {
		return Heading{}, false
	}
	return Heading{Heading: pickup.ByTwo(x2-x1, u1, u2, ts[1].From, AlongY(b.P), b.P.Job.Machine.Straightness), Full: all}, true
}

// check has nothing to say of itself: two pairs are exact.
func (b PairBearing) Check(h Heading, _ fold.Limit, o *fold.Outcome) {
	o.Notes = append(o.Notes, "Two pairs have no redundancy: what they say is held against the whole "+Locator(b.P)+"s in the next step.")
}

// Outlying has nothing to compare: each is read once.
func (b PairBearing) Outlying(fold.View) (field, where string, off float64, ok bool) {
	return "", "", 0, false
}

// Pivot is the first of both, across the line between them.
func (b PairBearing) Pivot(v fold.View) (at float64, fields []string, ok bool) {
	first := b.two("e")[0]
	at, _, ok = Finder(b.P).Across(v, first, b.axis())
	for _, a := range Finder(b.P).Pair(v, first, b.axis()) {
		fields = append(fields, a.Field)
	}
	return at, fields, ok
}

func (b PairBearing) Watch(Heading, float64) Watch {
	return Watch{After: ". Then read both again: nothing shows it while you tap."}
}

func (b PairBearing) Says() (act, read, caution string) {
	first, _ := Targets(b.P)
	_, read, caution = Finder(b.P).Says(first)
	return fmt.Sprintf("Find both %ss across the line between them; tap until they agree.", Locator(b.P)), read,
		caution + " Tap only with the part out."
}
