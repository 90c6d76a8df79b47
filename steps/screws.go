package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// screws puts the screws in, in rounds, with a dial on the part.
func screws(p *Plan) *Spec {
	alone := p.Setup.HoldDown == "S" // no straps: the dial stands for the shift test
	n := len(p.Setup.Screws.At)
	sp := &Spec{
		Title: "screws in", Live: []FactID{"seat"}, AsRead: []FactID{"holes", "threads"}, Makes: []FactID{"screws"}, Keys: []string{"setups." + p.Setup.Name + ".screws"},
		Pause: &Pause{Heading: "A STRIPPED THREAD IS A LOST THREAD", Lost: "Screw length, washer and angle are settled now.",
			Ask: func(View) Ask {
				a := Ask{Label: "length of the screw in your hand, under its head", Kind: Reading, Unit: unit.KLength, What: What{By: "eye", Of: "screws", Dir: "length"}}
				a.Window = around(p.Setup.Screws.Length, 0.6, "the job")
				return a
			}},
	}
	if alone {
		sp.Makes = append(sp.Makes, "shift")
	} else {
		sp.AsRead = append(sp.AsRead, "clamps", "baseline")
	}
	axes := []string{"z"}
	if alone {
		axes = []string{"x", "y"}
	}
	word := map[string]string{"x": "along X", "y": "along Y", "z": "in height"}
	sp.Asks = func(v View) []Ask {
		h := p.holding(p.threadsFound(v))
		var asks []Ask
		for i := range stages {
			for _, ax := range axes {
				a := Ask{Field: fmt.Sprintf("round%d.%s", i+1, ax), Label: fmt.Sprintf("dial after %.0f %%, %s, from zero", 100*stages[i], word[ax]), Kind: Reading, Unit: unit.KLength,
					What: What{By: "dial", Of: "part", Dir: fmt.Sprintf("screw-%d", i+1), Axis: ax}, Window: around(0, 0.2, "a part that stays")}
				if len(axes) > 1 {
					a.Form = fmt.Sprintf("round%d", i+1)
				}
				if ax == axes[0] {
					a.Do = []Act{{Do: "screw", Of: "screws", Dir: fmt.Sprintf("round-%d", i+1), Amount: stages[i], Words: p.roundWords(h, i)}}
				}
				asks = append(asks, a)
			}
		}
		how := Ask{Field: "torque", Label: "torque of the screws, one for all (by angle: 0)", Kind: Reading, Unit: unit.KTorque, What: What{By: "driver", Of: "screws", Dir: "torque"}}
		if h.why == "" {
			t := float64(h.torque)
			how.Bare, how.Window = p.torqueUnit(t), around(t, t, "the working torque; 0 by angle")
		}
		soft := counted("soft", "screws that went soft", "soft-screws", "", "0", "A screw that turned soft holds nothing: it counts 0.", "Take it out; mend or retire its thread.")
		turn := Ask{Field: "loose", Label: "washers that a finger can turn", Kind: Count, What: What{By: "finger", Of: "washers", Dir: "turn"}, Want: "0",
			WantWhy: "Tight, yet its washer turns: the screw stands on the bottom of its hole.", Hint: "Shorter screw, or one more washer."}
		in := counted("in", "screws in, paint line drawn across head and part", "screws", "in", fmt.Sprint(n), "The job has "+fmt.Sprint(n)+".", "Fit the missing screw.")
		asks = append(asks, how, soft, turn, in)
		if h, ok := p.headHeight(); ok {
			asks = append(asks, Ask{Field: "head", Label: "highest head, from its seat in the part up to its top", Kind: Reading, Unit: unit.KLength, What: What{By: "gauge", Of: "screw-head", Dir: "height"}, Window: around(h, 1, "head and washer by the job")})
		}
		if alone { // no witness set shows a part that the screws pulled off its walls
			asks = append(asks, Ask{Field: "walls", Label: "strips of 0.02 that pull out at " + p.walls() + " now", Kind: Count, What: What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
				WantWhy: "The part left its walls while it was screwed.", Hint: "Loosen all, push it against its walls, tighten again."})
		}
		return asks
	}
	sp.Judge = func(v View) Outcome {
		var o Outcome
		per, total := p.Limit("screws.round"), p.Limit("screws.total")
		shift := p.Limit("screws.shift")
		var last [2]float64
		step, most := 0.0, 0.0
		for k, ax := range axes {
			before := 0.0
			for i := range stages {
				x := v.Len(fmt.Sprintf("round%d.%s", i+1, ax))
				step, most = math.Max(step, math.Abs(x-before)), math.Max(most, math.Abs(x))
				before = x
			}
			last[k] = before
		}
		g := 1.645 * p.Job.Machine.Dial.Graduation / math.Sqrt(12) * math.Sqrt2
		checks := []Check{Judged(per, step, 0), Judged(total, most, 0)}
		if alone {
			for k, ax := range axes {
				l := shift
				l.ID += "." + ax
				l.Why += ", " + word[ax]
				checks = append(checks, Judged(l, math.Abs(last[k]), g))
			}
		}
		for i := range checks {
			c := &checks[i]
			if c.Verdict != Pass && c.Words == "" {
				c.Words = "The screws move the part: loosen all, push it against its walls, tighten crosswise in smaller steps."
				if len(o.Next) == 0 {
					o.Next = append(o.Next, Act{Do: "screw", Of: "screws", Words: c.Words}, Act{Do: "round"})
				}
			}
		}
		o.Checks = append(o.Checks, checks...)
		if alone && (checks[len(checks)-1].Verdict == Fail || checks[len(checks)-2].Verdict == Fail) {
			o.Named = "shift-at-swap"
		}
		p.screwSlips(v, &o)
		w := p.threadsFound(v)
		if v.Int("walls") > 0 && len(o.Next) == 0 {
			o.Named = "clearance-not-pushed"
			o.Next = append(o.Next, Act{Do: "seat", Of: "part", Words: "Loosen all screws, push the part against " + p.walls() + ", tighten again in order."}, Act{Do: "round"})
		}
		longer := v.Len("pause") - p.Setup.Screws.Length
		used := p.inUse(w.engaged, longer)
		if t, err := hold.ThreadNamed(p.Setup.Screws.Thread); err == nil {
			c := p.engagedCheck(t, used)
			c.Limit.ID = "screws.engaged"
			if c.Verdict == Fail {
				o.Next = append(o.Next, Act{Do: "screw", Of: "screws", Dir: "longer", Words: c.Words + " Take longer screws, or deepen the threads."}, Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
		}
		if d := p.Job.Fixture.Threads.Depth; d > 0 {
			le := p.engaged() + longer
			c := Check{Limit: Limit{ID: "screws.bottom", Why: "the screw ends above the end of its thread", Max: d, Class: Never, Unit: unit.KLength}, Got: le, Verdict: Pass}
			if le > d {
				c.Verdict = Fail
				c.Words = fmt.Sprintf("A %s screw needs %s of thread and finds %s: it stands on the bottom and clamps nothing.", p.len(v.Len("pause")), p.len(le), p.len(d))
				o.Named = "screw-bottomed"
				o.Next = append(o.Next, Act{Do: "screw", Of: "screws", Dir: "shorter", Words: c.Words + " Take shorter screws or add a washer."}, Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
		}
		w.engaged = used
		head := 0.0
		if h, ok := p.headHeight(); ok {
			head = v.Len("head")
			c := Judged(Limit{ID: "screws.head", Why: "heads as high as planned, above it", Max: headSlack, Class: Hard, Unit: unit.KLength}, math.Max(0, head-h), 0)
			if c.Verdict == Fail {
				c.Words = fmt.Sprintf("A head stands %s over the part's face, planned are %s: the cutter would meet it.", p.len(head), p.len(h))
				o.Named = "screw-head-high"
				o.Next = append(o.Next, Act{Do: "screw", Of: "screws", Dir: "lower", Words: c.Words + " Take screws with lower heads, or put the height into the job."}, Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
		}
		o.Facts = []Fact{{ID: "screws", Value: []float64{float64(v.Int("in")), head, w.engaged}}}
		if alone {
			u := p.Job.Machine.Dial.Graduation / math.Sqrt(12) * math.Sqrt2
			o.Facts = append(o.Facts, Fact{ID: "shift", Value: []float64{last[0], last[1], 0}, Cov: [][]float64{{u * u, 0, 0}, {0, u * u, 0}, {0, 0, 0}}})
		}
		p.screwStrength(v, w, &o)
		o.Lines = append(o.Lines, Row{Label: "moved in all", Value: most, Unit: unit.KLength, Big: true}, Row{Label: "moved in one round", Value: step, Unit: unit.KLength})
		o.Learned = fmt.Sprintf("%d screws hold it; the part moved by %s at most while they went in.", v.Int("in"), p.len(most))
		return o
	}
	sp.Page = func(v View) Page {
		var marks []Shape
		for i, q := range p.Setup.Screws.At {
			marks = append(marks, Shape{Role: RoleScrew, Name: fmt.Sprint(i + 1), Points: []XY{p.fixturePlace(q)}})
		}
		pg := Page{Why: "Screws pull a part sideways, most of all the first one.",
			Act:     "Screw the part down in three rounds, dial on it. " + p.tighteningWords(),
			Read:    "The dial against its zero after each round; one torque or angle for all.",
			Caution: "Eye protection: plastic threads let go without warning. Do not overtighten: a quarter turn past snug.",
			Scene:   p.scene(v, marks)}
		if h := p.holding(p.threadsFound(v)); h.why == "" {
			pg.Rows = h.preloadRows(p)
		}
		if alone {
			pg.Read = "Dial zeroed at the end farthest from the first screw: X there and Y there, after each round."
		}
		return pg
	}
	return sp
}

func (p *Plan) tighteningWords() string {
	var s []string
	for _, i := range p.tightening() {
		s = append(s, fmt.Sprint(i))
	}
	return "Order " + strings.Join(s, "-") + "."
}

// roundWords is the act of one round of tightening.
func (p *Plan) roundWords(h holding, i int) string {
	switch i {
	case 0:
		w := "Washers on. "
		if p.Setup.Screws.Washer == 0 {
			w = ""
		}
		return w + p.dialStands() + " All screws snug, then to 40 %" + p.stageWords(h, i) + ". " + p.tighteningWords()
	case 1:
		return "All to 70 %" + p.stageWords(h, i) + ", same order."
	}
	return "All to 100 %" + p.stageWords(h, i) + ", then once round again: the early ones have relaxed. Paint a line across head and part."
}

// stageWords are the angle past snug, and the torque for whoever has a driver for it.
func (p *Plan) stageWords(h holding, i int) string {
	if h.why != "" {
		return ""
	}
	return fmt.Sprintf(": %.0f deg past snug, or %s", stages[i]*float64(h.angle)*180/math.Pi, p.torque(float64(hold.Stages(h.torque)[i])))
}

// dialStands says where the dial that watches the screws is set, before the first of them turns.
func (p *Plan) dialStands() string {
	order := p.tightening()
	if len(order) == 0 {
		return "Zero the dial."
	}
	end := p.farEnd(order[0])
	if p.Setup.HoldDown == "S" {
		return fmt.Sprintf("Zero the dial at the part's %s end, farthest from screw %d: against it in X, and in Y.", end, order[0])
	}
	return fmt.Sprintf("Dial down on the part's top at its %s end, farthest from screw %d, clear of the straps: zero it.", end, order[0])
}

// farEnd names the part's end, along its longer side, that is farthest from the n-th screw, from 1.
func (p *Plan) farEnd(n int) string {
	q, size := p.Setup.Screws.At[n-1], p.Job.Part.Size
	switch {
	case size[0] >= size[1] && q.X < size[0]/2:
		return "RIGHT"
	case size[0] >= size[1]:
		return "LEFT"
	case q.Y < size[1]/2:
		return "FAR"
	}
	return "NEAR"
}

// threadsFound is what the walk knows of the threads.
func (p *Plan) threadsFound(v View) (w asFound) {
	if t, ok := v.Fact("threads"); ok && len(t.Value) > 3 {
		w.engaged, w.strip = t.Value[2], unit.Angle(t.Value[3])
	}
	return w
}

// screwStrength holds the torque that was read against the working one, and with soft
// screws, which count 0, computes the hold-down of the others.
func (p *Plan) screwStrength(v View, w asFound, o *Outcome) {
	h := p.holding(w)
	if h.why != "" {
		o.Notes = append(o.Notes, "Hold-down is not computed: "+h.why+". Number and torque of the screws are recorded.")
		o.Lines = append(o.Lines, Row{Label: "thread engaged", Value: w.engaged, Unit: unit.KLength})
		return
	}
	o.Lines = append(o.Lines, h.preloadRows(p)...)
	if t, ok := v.Num("torque", unit.KTorque); ok && t > 0 {
		most := 1.1 * float64(h.torque)
		c := Judged(Limit{ID: "screws.torque", Why: "torque against the working one and a tenth", Max: most, Class: Hard, Unit: unit.KTorque}, t, 0)
		act := Act{Do: "screw", Of: "screws"}
		switch strip := h.strips(); {
		case t >= strip: // nothing that a reason could mend
			c.Limit = Limit{ID: "screws.strip", Why: "torque that may strip a thread", Max: strip, Class: Never, Unit: unit.KTorque}
			c.Words = fmt.Sprintf("%s may have stripped a thread, from %s on: such a screw counts 0, and a part that lets go is thrown.", p.torque(t), p.torque(strip))
			act = Act{Do: "thread", Of: "holes", Words: "Take all screws out. Run one into every thread by fingers; mend or retire what turns soft. Then tighten anew, to " + p.torque(float64(h.torque)) + "."}
			w.soft = 1
		case !c.Verdict.OK():
			c.Words = fmt.Sprintf("%s is too much: the weakest, %s, bears %s. Back off a quarter turn, try each screw for softness, tighten anew.", p.torque(t), h.weakest(), p.torque(float64(h.torque)))
			act.Words = c.Words
		case t < 0.5*float64(h.torque): // as good as loose, or of another unit
			c.Limit.Why, c.Limit.Max, c.Limit.Min, c.Verdict = "half of the working torque at least", 0.5*float64(h.torque), true, Fail
			c.Words = fmt.Sprintf("%s clamps next to nothing: what holds is computed for %s. Was it typed in another unit?", unit.Show(t, unit.KTorque, p.Job.Unit, t/100), p.torque(float64(h.torque)))
			act.Words = "Tighten all, in order, to " + p.torque(float64(h.torque)) + "; type the torque again."
		}
		if !c.Verdict.OK() && len(o.Next) == 0 {
			o.Next = append(o.Next, act, Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
		if low := 0.9 * float64(h.torque); t < low {
			o.Notes = append(o.Notes, fmt.Sprintf("%s is less than the working torque %s: the hold-down is computed for the working one.", p.torque(t), p.torque(float64(h.torque))))
		}
	}
	if w.soft = max(w.soft, v.Int("soft")); w.soft > 0 {
		if l := p.holding(w); l.why != "" {
			o.Notes = append(o.Notes, "With the soft screws counted 0: "+l.why+".")
		} else {
			o.Lines = append(o.Lines, l.ceilingRows(p)...)
			for _, c := range []Check{l.retention(p), l.register(p)} {
				c.Limit.Why += fmt.Sprintf(", %d counted 0", w.soft)
				o.Checks = append(o.Checks, c)
			}
		}
	}
	o.Notes = append(o.Notes, Estimate)
}

// screwSlips names a soft thread and a screw on the bottom of its hole.
func (p *Plan) screwSlips(v View, o *Outcome) {
	if v.Int("soft") > 0 {
		o.Named = "soft-thread"
		o.Next = append(o.Next, Act{Do: "thread", Of: "holes", Words: "That screw counts 0. Take it out, fit an insert or move to a spare thread, put it in again."}, Act{Do: "round"})
	} else if v.Int("loose") > 0 {
		o.Named = "screw-bottomed"
		o.Next = append(o.Next, Act{Do: "screw", Of: "screws", Dir: "shorter", Words: "It stands on the bottom of its hole. Take a shorter screw or one more washer, tighten all again."}, Act{Do: "round"})
	}
}
