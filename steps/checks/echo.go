package checks

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Rotates says that the control can turn the program.
func Rotates(p *fold.Plan) bool {
	r := p.Job.Machine.Rotation
	return r != "" && r != "none"
}

// Presets says that this control takes an offset by being told where it stands, as on
// a readout or by G92, rather than as machine coordinates.
func Presets(p *fold.Plan) bool {
	return p.Job.Machine.Delivers == "g92" || p.Job.Machine.Delivers == "readout"
}

// shown is what the control shows once the offset is in: the offset itself on its page,
// or after a preset the work coordinates over the bore and, in Z, of what touched the floor.
func shown(p *fold.Plan, f fold.Known) [3]float64 {
	over := 0.0
	if p.Setup.Z0 == "finished top" && !p.Raw() {
		over = p.Job.Part.Size[2]
	}
	if o, ok := facts.Offset.Read(f); ok {
		over -= float64(o.Block)
	}
	return kit.ReadOffset(f).Shown(Presets(p), over, kit.Keyed(p))
}

// decimals are those it takes to write the readout's step in the control's unit.
func decimals(p *fold.Plan) (n int, scale float64) {
	scale = 1
	if p.Job.Unit == unit.Imperial {
		scale = float64(unit.Inch)
	}
	step := kit.Keyed(p) / scale
	for n < 6 && math.Abs(step-math.Round(step)) > 1e-6 {
		step *= 10
		n++
	}
	return n, scale
}

// originLine is the line of manual entry that puts the offset in, complete: no mode that was left active changes its meaning.
func originLine(p *fold.Plan, v fold.View, w frame.WorkOffset, want [3]float64) (string, error) {
	n, scale := decimals(p)
	var words []frame.Word
	for i, axis := range []byte("XYZ") {
		words = append(words, frame.Word{Axis: axis, Value: want[i] / scale})
	}
	if !v.Walks(3) { // as it was told then
		return frame.G10(w, n, words...)
	}
	return frame.Manual(w, p.Job.Unit == unit.Imperial, max(n, 1), words...)
}

// Delivery says how the offset gets into this control.
func Delivery(p *fold.Plan, v fold.View, f fold.Known) string {
	want := shown(p, f)
	x, y, z := kit.Signed(p, want[0]), kit.Signed(p, want[1]), kit.Signed(p, want[2])
	thing := kit.Locator(p)
	touched := "the floor"
	if p.Raw() {
		touched = "the top at " + StockPlaces[0]
	}
	on := "the probe touching " + touched
	if kit.TouchBy(p) == "tool" {
		on = "the first tool on its block over " + touched
	}
	switch p.Job.Machine.Delivers {
	case "g10":
		w, err := frame.ParseWorkOffset(p.Setup.Offset)
		if line := ""; err == nil {
			if line, err = originLine(p, v, w, want); err == nil {
				return "In manual entry, never in a program, type: " + line
			}
		}
	case "g92":
		return fmt.Sprintf("Over the %s as found, in manual entry: G92 X%s Y%s. With %s: G92 Z%s", thing, p.Num(want[0]), p.Num(want[1]), on,
			p.Num(want[2]))
	case "readout":
		return fmt.Sprintf("Over the %s as found, preset the readout to X %s, Y %s. With %s preset Z %s", thing, x, y, on, z)
	}
	return fmt.Sprintf("Key into %s: X %s  Y %s  Z %s", p.Setup.Offset, x, y, z)
}

// rotationField is the field of the angle on the control's page, and the axis by which What and Act call it.
const rotationField = "rotation"

// EchoAsks read the whole offset back from the control's page in one form, blind.
func EchoAsks(p *fold.Plan, v fold.View, f fold.Known) []fold.Ask {
	want := shown(p, f)
	place, back := p.Setup.Offset+" %s on the control's page", "Then read it back from the control."
	if Presets(p) {
		place, back = "%s that is shown there", "Then read it back from the readout."
	}
	var asks []fold.Ask
	for i, ax := range []string{"x", "y", "z"} {
		w := kit.Around(want[i], kit.Keyed(p)/2*1.001, "what was to be keyed in")
		w.Slips = unit.SlipContext{Step: p.Job.Machine.Readout}
		if i < 2 {
			w.Slips.Other = &want[1-i]
		}
		a := fold.Ask{Field: ax, Label: fmt.Sprintf(place, strings.ToUpper(ax)), Kind: fold.Echo, Unit: unit.KLength, Form: "page", Blind: true,
			What: fold.What{By: "control", Of: "offset", Axis: ax}, Window: w}
		a.Do = []fold.Act{{Do: "key", Of: "offset", Dir: ax, Amount: want[i]}}
		asks = append(asks, a)
	}
	asks[0].Do[0].Words = Delivery(p, v, f) + ". " + back
	if Rotates(p) {
		deg := kit.ReadOffset(f).Place.Rotation
		asks = append(asks, fold.Ask{Field: rotationField, Label: p.Job.Machine.Rotation + " angle on the control's page", Kind: fold.Echo,
			Unit: unit.KAngle, Form: "page", Blind: true,
			What: fold.What{By: "control", Of: "offset", Axis: rotationField}, Window: kit.Around(float64(deg), 0.00006*math.Pi/180,
				"what was to be keyed in"),
			Do: []fold.Act{rotationAct(p, f, "Rotation")}})
	}
	if a, ok := LeftAsk(p); ok {
		a.Form = "page"
		asks = append(asks, a)
	}
	side, words, posted := z0Words(p)
	asks = append(asks, fold.Ask{Field: "z0", Label: "Z0 of " + side + " is", Kind: fold.Choice, Options: words, Form: "page",
		What: fold.What{By: "control", Of: "offset", Axis: "z0"}, Want: posted,
		WantWhy: "The program was posted for the other Z0: the difference is the part's thickness.", Hint: "Look into the program's heading."})
	return asks
}

// rotationAct keys the rotation in.
func rotationAct(p *fold.Plan, f fold.Known, say string) fold.Act {
	r := float64(kit.ReadOffset(f).Place.Rotation)
	return fold.Act{Do: "key", Of: "offset", Dir: rotationField, Amount: r, Words: fmt.Sprintf("%s %s %.4f deg about the part zero.", say,
		p.Job.Machine.Rotation, r*180/math.Pi)}
}

// LeftAsk asks for what another job may have left on the control's page: of a rotation and a
// zero shift what this setup does not use. A plain readout has no such page.
func LeftAsk(p *fold.Plan) (fold.Ask, bool) {
	a := fold.Ask{Field: "left", Since: kit.SinceLeft, Kind: fold.Echo, Unit: unit.KAngle, Blind: true,
		What: fold.What{By: "eye", Of: "rotation-page", Dir: "x"}}
	switch preset := Presets(p); {
	case p.Job.Machine.Delivers == "readout", preset && Rotates(p):
		return fold.Ask{}, false
	case preset: // the shift is how the offset gets in
		a.Label = "rotation left active there, by another job"
	case Rotates(p): // the angle is read back by itself
		a.Label, a.Unit, a.What.Of, a.What.Axis = "zero shift left active there (G52, G92), by another job", unit.KLength, "shift-page", "x"
	default:
		a.Label = "rotation or shift left active there"
	}
	return a, true
}

// PageRead says how the control's page is read, and what good looks like where another job may have left something.
func PageRead(p *fold.Plan) string {
	read := "All in one form, from the control's own page. This screen hides the numbers until then."
	if a, ok := LeftAsk(p); ok {
		thing := "a rotation or shift"
		if a.Unit == unit.KLength {
			thing = "a shift"
		}
		read += " Of " + thing + " the largest value that stands there; none active is 0."
	}
	return read
}

// EchoChecks hold what was read back against what was to be keyed in.
func EchoChecks(p *fold.Plan, v fold.View, f fold.Known, o *fold.Outcome) {
	for _, a := range EchoAsks(p, v, f) {
		if a.Kind != fold.Echo || a.Window == nil {
			continue
		}
		got, ok := v.Num(a.Field, a.Unit)
		if !ok {
			continue
		}
		c := fold.Check{Limit: fold.Limit{ID: "echo." + a.Field, Why: "the control must hold what was computed", Class: fold.Never, Unit: a.Unit,
			System: p.Job.Unit, Max: a.Window.Half}, Got: math.Abs(got - a.Window.Want), Verdict: fold.Pass}
		if c.Got > a.Window.Half {
			c.Verdict = fold.Fail
			c.Words = a.Label + " is not what was computed."
			ctx := a.Window.Slips
			ctx.Text, ctx.Kind, ctx.System = v.Text(a.Field), a.Unit, p.Job.Unit
			for _, s := range unit.Slips(got, unit.Window{Want: a.Window.Want, Half: a.Window.Half}, ctx) {
				c.Words += " It " + s.Words + "."
				o.Named = "offset-slip"
				break
			}
			if o.Named == "" {
				o.Named = "offset-slip"
			}
			act := a.Do[0]
			if act.Dir == rotationField && v.Walks(3) {
				act.Words = "Key the rotation in again, then read all of it back. " + act.Words
			} else {
				act.Words = "Key it in again and read the page once more. " + Delivery(p, v, f) + "."
			}
			o.Next = append(o.Next, act, fold.Act{Do: "again", Of: a.Field})
		}
		o.Checks = append(o.Checks, c)
	}
	if a, ok := LeftAsk(p); ok {
		PageZero(p, v, o, a.Field, map[unit.Kind]string{unit.KAngle: "rotation", unit.KLength: "shift"}[a.Unit], a.Unit)
	}
}

// OffsetPause stands before any offset is keyed in.
func OffsetPause(p *fold.Plan) *fold.Pause {
	return &fold.Pause{Heading: "WHAT THE CONTROL WILL BELIEVE", Lost: "Nothing is cut yet, but every later move follows these numbers.",
		Ask: func(fold.View) fold.Ask {
			return fold.Ask{Label: "work offset selected on the control", Kind: fold.Text, What: fold.What{By: "control", Of: "offset-word"},
				Want:    p.Setup.Offset,
				WantWhy: "The numbers would go into another offset.", Hint: "Select " + p.Setup.Offset + " and say so."}
		}}
}

// z0Words are the side's words for its Z0, and the one that the program was posted for.
func z0Words(p *fold.Plan) (side string, words []string, want string) {
	side, words = p.Side()
	if want = p.Setup.Z0; want == "" && p.Raw() {
		want = words[0]
	}
	return side, words, want
}

// StockPlaces name where the stock's thickness is measured.
var StockPlaces = [...]string{kit.CornerName[0], kit.CornerName[1], kit.CornerName[2], kit.CornerName[3], "the MIDDLE"}

// OffsetWrong says that the wrong work offset is selected: the numbers would go into it, so that
// nothing else is asked before that is put right.
func OffsetWrong(p *fold.Plan, v fold.View) bool {
	return v.Walks(3) && v.Has("pause") && !fold.SameAnswer(v.Text("pause"), p.Setup.Offset)
}

// PageZero holds the value read on a page of the control against zero.
func PageZero(p *fold.Plan, v fold.View, o *fold.Outcome, field, of string, k unit.Kind) {
	x, ok := v.Num(field, k)
	if !ok {
		return
	}
	c := fold.Check{Limit: fold.Limit{ID: field + ".zero", Why: "the control's " + of + " page reads zero", Class: fold.Never, Unit: k},
		Got: math.Abs(x), Verdict: fold.Pass}
	if x != 0 {
		c.Verdict = fold.Fail
		c.Words = "A " + of + " is still active: everything would be cut turned or shifted."
		o.Named = "rotation-left-active"
		o.Next = append(o.Next, fold.Act{Do: "cancel", Of: of, Words: "Cancel the " + of + " at the control, then read its page again."},
			fold.Act{Do: "again", Of: field})
	}
	o.Checks = append(o.Checks, c)
}
