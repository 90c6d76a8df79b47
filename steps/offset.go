package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// rotates says that the control can turn the program.
func (p *Plan) rotates() bool {
	r := p.Job.Machine.Rotation
	return r != "" && r != "none"
}

// round takes a value to the readout's step, which is all that a control holds.
func (p *Plan) round(v float64) float64 {
	step := p.keyed()
	n := math.Round(1 / step)
	if math.Abs(n*step-1) < 1e-9 {
		return math.Round(v*n) / n
	}
	return math.Round(v/step) * step
}

// computeOffset is the offset from the facts that the step stands on.
func (p *Plan) computeOffset(get func(FactID) (Fact, bool)) (Fact, []string, bool) {
	b, ok1 := get("bore")
	fl, ok2 := get("floor")
	if !ok1 || !ok2 {
		return Fact{}, nil, false
	}
	v, note := p.partZero()
	notes := []string{note}
	f := frame.Fixture{Bore: frame.Vec{X: b.Value[0], Y: b.Value[1]}, V: v, Q: 1, Held: p.held()}
	f.Cov[0][0], f.Cov[0][1], f.Cov[1][0], f.Cov[1][1] = b.Cov[0][0], b.Cov[0][1], b.Cov[1][0], b.Cov[1][1]
	two := len(b.Value) >= 5
	if two {
		f.Q, f.Skew = b.Value[3], unit.Angle(b.Value[4])
		for i := range f.Cov {
			for k := range f.Cov[i] {
				f.Cov[i][k] = b.Cov[i][k]
			}
		}
	}
	if s, ok := get("skew"); ok && p.Job.Fixture.AsMade.Edge != nil {
		f.Skew = unit.Angle(s.Value[0])
		for i := range f.Cov { // the edge knows nothing of the bores
			f.Cov[i][2], f.Cov[2][i] = 0, 0
		}
		f.Cov[2][2] = s.Cov[0][0]
	}
	if !two {
		if id, ok := get("identity"); ok && p.warm() {
			f.Q = frame.Growth(p.fixtureAlpha(), machineAlpha, id.Value[0]-float64(*p.Job.Fixture.AsMade.Temperature))
		}
	}
	var at []frame.Vec
	for _, ft := range p.features() {
		at = append(at, vec(ft.At))
	}
	mid := frame.Middle(at)
	pl, about := f.Compromise(mid), mid
	if p.rotates() {
		pl, about = f.Rotated(), frame.Vec{}
	}
	z := fl.Value[0]
	if p.Setup.Z0 == "finished top" {
		z += p.Job.Part.Size[2]
	}
	value := []float64{p.round(pl.Offset.X), p.round(pl.Offset.Y), p.round(z), float64(pl.Rotation), about.X, about.Y, v.X, v.Y, f.Q, float64(f.Skew), f.Bore.X, f.Bore.Y, blockOf(fl)}
	return Fact{ID: "offset", Value: value, Cov: rows4(f.Cov), Dof: b.Dof}, notes, true
}

// presets says that this control takes an offset by being told where it stands, as on
// a readout or by G92, rather than as machine coordinates.
func (p *Plan) presets() bool {
	return p.Job.Machine.Delivers == "g92" || p.Job.Machine.Delivers == "readout"
}

// shown is what the control shows once the offset is in: the offset itself on its page,
// or after a preset the work coordinates over the bore and, in Z, of what touched the floor.
func (p *Plan) shown(f Fact) [3]float64 {
	o := readOffset(f)
	if !p.presets() {
		return [3]float64{o.place.Offset.X, o.place.Offset.Y, o.z}
	}
	b := o.fix.BoreAt(o.place)
	z := 0.0
	if p.Setup.Z0 == "finished top" && p.Setup.Kind != firstSide {
		z = -p.Job.Part.Size[2]
	}
	if len(f.Value) > 12 {
		z += f.Value[12]
	}
	return [3]float64{p.round(b.X), p.round(b.Y), p.round(z)}
}

// decimals are those it takes to write the readout's step in the control's unit.
func (p *Plan) decimals() (n int, scale float64) {
	scale = 1
	if p.Job.Unit == unit.Imperial {
		scale = float64(unit.Inch)
	}
	step := p.keyed() / scale
	for n < 6 && math.Abs(step-math.Round(step)) > 1e-6 {
		step *= 10
		n++
	}
	return n, scale
}

// delivery says how the offset gets into this control.
func (p *Plan) delivery(f Fact) string {
	want := p.shown(f)
	x, y, z := p.signed(want[0]), p.signed(want[1]), p.signed(want[2])
	thing := p.locator()
	touched := "the floor"
	if p.Setup.Kind == firstSide {
		touched = "the top at " + stockPlaces[0]
	}
	on := "the probe touching " + touched
	if p.touchBy() == "tool" {
		on = "the first tool on its block over " + touched
	}
	switch p.Job.Machine.Delivers {
	case "g10":
		w, err := frame.ParseWorkOffset(p.Setup.Offset)
		n, scale := p.decimals()
		line := ""
		if err == nil {
			line, err = frame.G10(w, n, frame.Word{Axis: 'X', Value: want[0] / scale}, frame.Word{Axis: 'Y', Value: want[1] / scale}, frame.Word{Axis: 'Z', Value: want[2] / scale})
		}
		if err == nil {
			return "In manual entry, never in a program, type: " + line
		}
	case "g92":
		return fmt.Sprintf("Over the %s as found, in manual entry: G92 X%s Y%s. With %s: G92 Z%s", thing, p.num(want[0]), p.num(want[1]), on, p.num(want[2]))
	case "readout":
		return fmt.Sprintf("Over the %s as found, preset the readout to X %s, Y %s. With %s preset Z %s", thing, x, y, on, z)
	}
	return fmt.Sprintf("Key into %s: X %s  Y %s  Z %s", p.Setup.Offset, x, y, z)
}

// signed prints a length with its sign always shown.
func (p *Plan) signed(v float64) string { return unit.Signed(v, unit.KLength, p.Job.Unit, 0) }

// echoAsks read the whole offset back from the control's page in one form, blind.
func (p *Plan) echoAsks(f Fact) []Ask {
	want := p.shown(f)
	place, back := p.Setup.Offset+" %s on the control's page", "Then read it back from the control's page."
	if p.presets() {
		place, back = "%s that is shown there", "Then read it back from the readout."
	}
	var asks []Ask
	for i, ax := range []string{"x", "y", "z"} {
		w := around(want[i], p.keyed()/2*1.001, "what was to be keyed in")
		w.Slips = unit.SlipContext{Step: p.Job.Machine.Readout}
		if i < 2 {
			w.Slips.Other = &want[1-i]
		}
		a := Ask{Field: ax, Label: fmt.Sprintf(place, strings.ToUpper(ax)), Kind: Echo, Unit: unit.KLength, Form: "page", Blind: true,
			What: What{By: "control", Of: "offset", Axis: ax}, Window: w}
		a.Do = []Act{{Do: "key", Of: "offset", Dir: ax, Amount: want[i]}}
		asks = append(asks, a)
	}
	asks[0].Do[0].Words = p.delivery(f) + ". " + back
	if p.rotates() {
		deg := readOffset(f).place.Rotation
		asks = append(asks, Ask{Field: "rotation", Label: p.Job.Machine.Rotation + " angle on the control's page", Kind: Echo, Unit: unit.KAngle, Form: "page", Blind: true,
			What: What{By: "control", Of: "offset", Axis: "rotation"}, Window: around(float64(deg), 0.00006*math.Pi/180, "what was to be keyed in"),
			Do: []Act{{Do: "key", Of: "offset", Dir: "rotation", Amount: float64(deg), Words: fmt.Sprintf("Rotation %s %.4f deg about the part zero.", p.Job.Machine.Rotation, float64(deg)*180/math.Pi)}}})
	}
	if a, ok := p.leftAsk(); ok {
		a.Form = "page"
		asks = append(asks, a)
	}
	side, words, posted := p.z0Words()
	asks = append(asks, Ask{Field: "z0", Label: "Z0 of " + side + " is", Kind: Choice, Options: words, Form: "page",
		What: What{By: "control", Of: "offset", Axis: "z0"}, Want: posted, WantWhy: "The program was posted for the other Z0: the difference is the part's thickness.", Hint: "Look into the program's heading."})
	return asks
}

// leftAsk asks for what another job may have left on the control's page: of a rotation and a
// zero shift what this setup does not use. A plain readout has no such page.
func (p *Plan) leftAsk() (Ask, bool) {
	a := Ask{Field: "left", Since: sinceLeft, Kind: Echo, Unit: unit.KAngle, Blind: true, What: What{By: "eye", Of: "rotation-page", Dir: "x"}}
	switch preset := p.presets(); {
	case p.Job.Machine.Delivers == "readout", preset && p.rotates():
		return Ask{}, false
	case preset: // the shift is how the offset gets in
		a.Label = "rotation left active there, by another job"
	case p.rotates(): // the angle is read back by itself
		a.Label, a.Unit, a.What.Of, a.What.Axis = "zero shift left active there (G52, G92), by another job", unit.KLength, "shift-page", "x"
	default:
		a.Label = "rotation or shift left active there"
	}
	return a, true
}

// oldAsks take down what stands in the only work offset before it is overwritten.
func (p *Plan) oldAsks() []Ask {
	if p.Job.Machine.Offsets != 1 {
		return nil
	}
	var asks []Ask
	for _, ax := range []string{"x", "y", "z"} {
		asks = append(asks, Ask{Field: "old." + ax, Label: "side 1's " + strings.ToUpper(ax) + ", which will be overwritten", Kind: Reading, Unit: unit.KLength, Form: "old",
			What: What{By: "control", Of: "offset", Dir: "old", Axis: ax}, Window: p.travelWindow(ax)})
	}
	asks[0].Do = []Act{{Do: "look", Of: "offset", Words: "This control has one work offset. Read what stands in it now: the record keeps it."}}
	return asks
}

// pageRead says how the control's page is read, and what good looks like where another job may have left something.
func (p *Plan) pageRead() string {
	read := "All in one form, from the control's own page. This screen hides the numbers until then."
	if a, ok := p.leftAsk(); ok {
		thing := "a rotation or shift"
		if a.Unit == unit.KLength {
			thing = "a shift"
		}
		read += " Of " + thing + " the largest value that stands there; none active is 0."
	}
	return read
}

// keyed is the last digit that a control's page shows.
func (p *Plan) keyed() float64 {
	step := p.Job.Machine.Readout
	if step <= 0 {
		step = 0.001
	}
	if p.Job.Unit == unit.Imperial { // a page in inches shows no more digits than are printed here
		step = math.Max(step, unit.Step(unit.KLength, unit.Imperial))
	}
	return step
}

// echoChecks hold what was read back against what was to be keyed in.
func (p *Plan) echoChecks(v View, f Fact, o *Outcome) {
	for _, a := range p.echoAsks(f) {
		if a.Kind != Echo || a.Window == nil {
			continue
		}
		got, ok := v.Num(a.Field, a.Unit)
		if !ok {
			continue
		}
		c := Check{Limit: Limit{ID: "echo." + a.Field, Why: "the control must hold what was computed", Class: Never, Unit: a.Unit, System: p.Job.Unit, Max: a.Window.Half}, Got: math.Abs(got - a.Window.Want), Verdict: Pass}
		if c.Got > a.Window.Half {
			c.Verdict = Fail
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
			act.Words = "Key it in again and read the page once more. " + p.delivery(f) + "."
			o.Next = append(o.Next, act, Act{Do: "again", Of: a.Field})
		}
		o.Checks = append(o.Checks, c)
	}
	if a, ok := p.leftAsk(); ok {
		p.pageZero(v, o, a.Field, map[unit.Kind]string{unit.KAngle: "rotation", unit.KLength: "shift"}[a.Unit], a.Unit)
	}
}

// offsetPause stands before any offset is keyed in.
func offsetPause(p *Plan) *Pause {
	return &Pause{Heading: "WHAT THE CONTROL WILL BELIEVE", Lost: "Nothing is cut yet, but every later move follows these numbers.",
		Ask: func(View) Ask {
			return Ask{Label: "work offset selected on the control", Kind: Text, What: What{By: "control", Of: "offset-word"}, Want: p.Setup.Offset,
				WantWhy: "The numbers would go into another offset.", Hint: "Select " + p.Setup.Offset + " and say so."}
		}}
}

// z0Words are the side's words for its Z0, and the one that the program was posted for.
func (p *Plan) z0Words() (side string, words []string, want string) {
	if p.Setup.Kind != firstSide {
		return "side 2", []string{"floor", "finished top"}, p.Setup.Z0
	}
	words = []string{"top skin", "finished top"}
	if p.Setup.Z0 == "" {
		return "side 1", words, words[0]
	}
	return "side 1", words, p.Setup.Z0
}

// offset computes the work offset, has it keyed in and read back blind.
func offset(p *Plan) *Spec {
	live := []FactID{"bore", "floor"}
	if p.Job.Fixture.AsMade.Edge != nil {
		live = append([]FactID{"skew"}, live...)
	}
	return &Spec{
		Title: "work offset", Live: live, AsRead: []FactID{"identity"}, Makes: []FactID{"offset", "echo"},
		Keys:  []string{"part.features", "allowance", "setups." + p.Setup.Name + ".against", "setups." + p.Setup.Name + ".z0", "setups." + p.Setup.Name + ".offset"},
		Pause: offsetPause(p),
		Asks: func(v View) []Ask {
			f, _, ok := p.computeOffset(v.Fact)
			if !ok {
				return nil
			}
			return append(p.oldAsks(), p.echoAsks(f)...)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			f, notes, ok := p.computeOffset(v.Fact)
			if !ok {
				return o
			}
			o.Notes = notes
			get := func(id FactID) (Fact, bool) {
				if id == "offset" {
					return f, true
				}
				return v.Fact(id)
			}
			if err := readOffset(f).fix.CheckSkew(); err != nil {
				o.Checks = append(o.Checks, Check{Limit: Limit{ID: "offset.skew", Why: "a fixture this far out of square is squared first", Class: Never}, Count: true, Verdict: Fail, Words: err.Error() + "."})
				o.Next = append(o.Next, Act{Do: "declare", Of: "fixture-tapped", Words: "Tap the fixture square first; part out. Then bore and floor anew."})
			}
			fs := p.register(get, false)
			i, ax, val, g := worstFeature(fs)
			c := Judged(p.Limit("offset.register"), val, g)
			if len(fs) > 0 {
				c.Largest = fs[i].Largest[ax]
				c.Words = fmt.Sprintf("Worst at %s along %s; the largest line is %s with %.0f %% of the variance.", fs[i].Name, strings.ToUpper([]string{"x", "y"}[ax]), c.Largest, 100*fs[i].Share[ax])
			}
			if c.Verdict == Fail {
				o.Next = append(o.Next, Act{Do: "declare", Of: "fixture-tapped", Words: "Tap the fixture squarer: the skew is what costs most here. Then bore and floor anew."})
			} else if c.Verdict == NotProven {
				o.Next = append(o.Next, Act{Do: "look", Of: "offset", Words: c.Words + " More hits or a second " + p.locator() + " would prove more; or waive it with the number."})
			}
			p.echoChecks(v, f, &o)
			o.Checks = append(o.Checks, c)
			op := readOffset(f)
			o.Lines = append(o.Lines,
				Row{Label: p.Setup.Offset + " X", Value: op.place.Offset.X, Unit: unit.KLength, Signed: true, Big: true},
				Row{Label: p.Setup.Offset + " Y", Value: op.place.Offset.Y, Unit: unit.KLength, Signed: true, Big: true},
				Row{Label: p.Setup.Offset + " Z", Value: op.z, Unit: unit.KLength, Signed: true, Big: true})
			for _, a := range p.oldAsks() {
				o.Lines = append(o.Lines, Row{Label: a.Label, Value: v.Len(a.Field), Unit: unit.KLength, Signed: true})
			}
			for _, fe := range fs {
				for a, name := range []string{"X", "Y"} {
					o.Lines = append(o.Lines, Row{Label: fe.Name + " " + name, Value: fe.Error[a], Guard: fe.Guard[a], Unit: unit.KLength, Signed: true})
				}
			}
			o.Facts = []Fact{f, {ID: "echo"}}
			o.Learned = fmt.Sprintf("The control holds the offset. At the worst feature side 2 stands off by %s, within %s.", p.len(val), p.len(val+g))
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "Here the measured fixture becomes numbers in the control; a slip of a key is a crash.",
				Act:   "Key the offset into the control, then read it back from the control's page.",
				Read:  p.pageRead(),
				After: p.jogOver(v.Standing, "part zero")}
			if p.presets() {
				pg.Act = "Preset what is shown over the " + p.locator() + " and on the floor, then read it back."
				pg.Read = "All in one form, as it is shown. This screen hides the numbers until then."
			}
			pg.Scene = p.scene(v, nil)
			return pg
		},
	}
}
