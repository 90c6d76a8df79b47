package unit

import (
	"fmt"
	"math"
	"strings"
)

// Window is where a reading is expected: Want ± Half, both in its internal unit.
type Window struct{ Want, Half float64 }

// Has reports whether x lies in the window, its ends included. NaN never does.
func (w Window) Has(x float64) bool { return math.Abs(x-w.Want) <= w.Half }

// SlipContext is what is known around a reading. Fields left zero switch their
// tests off. Lengths are in the internal unit of Kind.
type SlipContext struct {
	Kind      Kind
	System    System
	Step      float64   // for the words; 0 for Step(Kind, System)
	Text      string    // as typed; without it the digit tests look at the number as printed
	TipRadius float64   // of the probe ball
	RefLength float64   // a length that may have been added or left out: tool, block, pin
	Other     *float64  // what the other axis is expected to read
	Offset    float64   // active work offset: work = machine - offset
	DialTurn  float64   // one turn of the dial
	Earlier   []float64 // readings of other items
}

// Slip is one known slip that would explain a reading.
type Slip struct {
	ID    string
	Words string  // "looks like ...", for the person to judge; never holds Would, since a read-back must stay blind
	Would float64 // what the reading would be without the slip, internal unit
}

// Slips names the known slips that would bring x into its window, the likeliest
// first. It corrects nothing. Inside the window there are none, with one
// exception: a reading exactly equal to an earlier one of another item is named
// wherever it lies, and its Would is x.
//
// The order: decimal point, inch for millimetre, sign, ball diameter, ball radius,
// reference length, axes exchanged, machine for work, two digits exchanged, a digit
// doubled, one dial turn, radius for diameter, an earlier value. Common practice.
func Slips(x float64, w Window, ctx SlipContext) []Slip {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	var found []Slip
	if !w.Has(x) {
		for _, t := range ctx.candidates(x, w) {
			if w.Has(t.Would) && !(w.Has(0) && t.shrinks(x)) {
				t.Words = "looks like " + t.Words
				found = append(found, t)
			}
		}
	}
	for _, e := range ctx.Earlier {
		if e == x {
			found = append(found, Slip{"earlier", "same as an earlier reading to the last digit: " + ctx.typed(x), x})
			break
		}
	}
	return found
}

// shrinks says that the cure of a slip divides. Around zero that explains nothing: any number is within once it is
// made small enough, and a runout of 0.030 would be offered as 0.003.
func (s Slip) shrinks(x float64) bool {
	switch s.ID {
	case "point-right", "too-big-25.4", "mm-as-inch", "diameter-for-radius":
		return true
	case "digits-swapped": // a digit that changed places with a nought
		return math.Abs(s.Would) < math.Abs(x)/5
	}
	return false
}

// candidates are all readings that x could have been, in the order of Slips.
func (c SlipContext) candidates(x float64, w Window) []Slip {
	var all []Slip
	add := func(id string, would float64, format string, args ...any) {
		if would != x {
			all = append(all, Slip{id, fmt.Sprintf(format, args...), would})
		}
	}
	in, num := c.typed(x), c.num
	add("point-left", x*10, "the decimal point one place too far left: %s x 10", in)
	add("point-right", x/10, "the decimal point one place too far right: %s / 10", in)
	if c.Kind == KLength || c.Kind == Scalar {
		// x * 25.4 and x / 25.4 are the same two slips in either system; only the words swap sides.
		const inch = float64(Inch)
		if c.System == Imperial {
			add("too-small-25.4", x*inch, "a number too small by 25.4 (mm and inches mixed): %s x 25.4", in)
			add("mm-as-inch", x/inch, "mm typed as inches: %s/25.4", in)
		} else {
			add("inch-as-mm", x*inch, "inches typed as mm: %s x 25.4", in)
			add("too-big-25.4", x/inch, "a number too big by 25.4 (mm and inches mixed): %s/25.4", in)
		}
	}
	add("sign", -x, "the wrong sign: %s", in)
	pair := func(id, what string, d float64) {
		if d == 0 {
			return
		}
		d = math.Abs(d)
		add(id, x+d, "%s left out: %s + %s", what, in, num(d))
		add(id, x-d, "%s counted in: %s - %s", what, in, num(d))
	}
	pair("ball-diameter", "the ball diameter", 2*c.TipRadius)
	pair("ball-radius", "the ball radius", c.TipRadius)
	pair("reference", "the reference length", c.RefLength)
	if c.Other != nil && (Window{*c.Other, w.Half}).Has(x) {
		// What this axis would have read is not known then; the prediction stands for it.
		add("axes", w.Want, "the number of the other axis: %s", in)
	}
	if c.Offset != 0 {
		add("machine-as-work", x-c.Offset, "the machine value where the work value is asked: %s - (%s)", in, num(c.Offset))
		add("work-as-machine", x+c.Offset, "the work value where the machine value is asked: %s + (%s)", in, num(c.Offset))
	}
	text := c.Text
	if text == "" {
		text = c.num(x)
	}
	for _, t := range swaps(text) {
		if n, err := Parse(t, c.Kind, c.System); err == nil {
			add("digits-swapped", n.Value, "two digits swapped: %s", in)
		}
	}
	for _, t := range doubles(text) {
		if n, err := Parse(t, c.Kind, c.System); err == nil {
			add("digit-doubled", n.Value, "a digit doubled: %s", in)
		}
	}
	pair("dial-turn", "one turn of the dial", c.DialTurn)
	add("radius-for-diameter", 2*x, "the radius where the diameter is asked: %s x 2", in)
	add("diameter-for-radius", x/2, "the diameter where the radius is asked: %s / 2", in)
	return all
}

// num prints a number of the context.
func (c SlipContext) num(v float64) string { return Format(v, c.Kind, c.System, c.Step) }

// typed is x as it was typed, or as printed when that is not known.
func (c SlipContext) typed(x float64) string {
	if t := strings.TrimSpace(c.Text); t != "" {
		return t
	}
	return c.num(x)
}

// span is where the digits of the number proper lie in an entry, its decimal mark
// included: digits of a unit or of the lower line of a fraction are not typed twice.
func span(text string) (from, to int) {
	from = strings.IndexAny(text, "0123456789")
	if from < 0 {
		return 0, 0
	}
	to = from
	for to < len(text) && (digit(text[to]) || text[to] == '.' || text[to] == ',') {
		to++
	}
	return from, to
}

// neighbours calls f with the places of every two digits that stand side by side, a
// decimal mark between them or not.
func neighbours(text string, f func(i, j int)) {
	from, to := span(text)
	last := -1
	for i := from; i < to; i++ {
		if !digit(text[i]) {
			continue
		}
		if last >= 0 {
			f(last, i)
		}
		last = i
	}
}

// swaps are the texts with two neighbouring digits exchanged.
func swaps(text string) (ts []string) {
	neighbours(text, func(i, j int) {
		if text[i] != text[j] {
			b := []byte(text)
			b[i], b[j] = b[j], b[i]
			ts = append(ts, string(b))
		}
	})
	return ts
}

// doubles are the texts with one of two equal neighbouring digits taken out, once for each run.
func doubles(text string) (ts []string) {
	run := false
	neighbours(text, func(i, j int) {
		equal := text[i] == text[j]
		if equal && !run {
			ts = append(ts, text[:j]+text[j+1:])
		}
		run = equal
	})
	return ts
}
