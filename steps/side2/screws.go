package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// screws puts the screws in, in rounds, with a dial on the part.
func screws(p *fold.Plan) *fold.Spec {
	alone := p.Setup.HoldDown == "S" // no straps: the dial stands for the shift test
	n := len(p.Setup.Screws.At)
	sp := &fold.Spec{
		Title: "screws in", Needs: fold.Needs(fold.Live("seat"), fold.AsRead("holes", "threads")), Makes: []fold.FactID{"screws"}, Keys: []string{"setups." + p.Setup.Name + ".screws"},
		Pause: &fold.Pause{Heading: "A STRIPPED THREAD IS A LOST THREAD", Lost: "Screw length, washer and angle are settled now.",
			Ask: func(fold.View) fold.Ask {
				a := fold.Ask{Label: "length of the screw in your hand, under its head", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "eye", Of: "screws", Dir: "length"}}
				a.Window = kit.Around(p.Setup.Screws.Length, 0.6, "the job")
				return a
			}},
	}
	if alone {
		sp.Makes = append(sp.Makes, "shift")
	} else {
		sp.Needs = fold.Needs(sp.Needs, fold.AsRead("clamps", "baseline"))
	}
	axes := []string{"z"}
	if alone {
		axes = []string{"x", "y"}
	}
	word := map[string]string{"x": "along X", "y": "along Y", "z": "in height"}
	sp.Asks = func(v fold.View) []fold.Ask {
		h := desk.Hold(p, threadsFound(p, v))
		var asks []fold.Ask
		for i := range stages {
			for _, ax := range axes {
				a := fold.Ask{Field: fmt.Sprintf("round%d.%s", i+1, ax), Label: fmt.Sprintf("dial after %.0f %%, %s, from zero", 100*stages[i], word[ax]), Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "dial", Of: "part", Dir: fmt.Sprintf("screw-%d", i+1), Axis: ax}, Window: kit.Around(0, 0.2, "a part that stays")}
				if len(axes) > 1 {
					a.Form = fmt.Sprintf("round%d", i+1)
				}
				if ax == axes[0] {
					a.Do = []fold.Act{{Do: "screw", Of: "screws", Dir: fmt.Sprintf("round-%d", i+1), Amount: stages[i], Words: roundWords(p, v, h, i)}}
				}
				asks = append(asks, a)
			}
			if alone && i == len(stages)-1 {
				asks = append(asks, fold.Ask{Field: fmt.Sprintf("round%d.z", i+1), Since: kit.SinceRise, Form: fmt.Sprintf("round%d", i+1), Label: "dial on the top, in height, from zero", Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "dial", Of: "part", Dir: fmt.Sprintf("screw-%d", i+1), Axis: "z"}, Window: kit.Around(0, 0.2, "a part that stays")})
			}
		}
		how := fold.Ask{Field: "torque", Label: "torque of the screws, one for all (by angle: 0)", Kind: fold.Reading, Unit: unit.KTorque, What: fold.What{By: "driver", Of: "screws", Dir: "torque"}}
		if h.Why == "" {
			t := float64(h.Torque)
			how.Bare, how.Window = desk.TorqueUnit(p, t), kit.Around(t, t, "the working torque; 0 by angle")
		}
		soft := kit.Counted("soft", "screws that went soft", "soft-screws", "", "0", "A screw that turned soft holds nothing: it counts 0.", "Take it out; mend or retire its thread.")
		turn := fold.Ask{Field: "loose", Label: "washers that a finger can turn", Kind: fold.Count, What: fold.What{By: "finger", Of: "washers", Dir: "turn"}, Want: "0",
			WantWhy: "Tight, yet its washer turns: the screw stands on the bottom of its hole.", Hint: "Shorter screw, or one more washer."}
		in := kit.Counted("in", "screws in, paint line drawn across head and part", "screws", "in", fmt.Sprint(n), "The job has "+fmt.Sprint(n)+".", "Fit the missing screw.")
		asks = append(asks, how, soft, turn, in)
		if h, ok := desk.HeadHeight(p); ok {
			asks = append(asks, fold.Ask{Field: "head", Label: "highest head, from its seat in the part up to its top", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "gauge", Of: "screw-head", Dir: "height"}, Window: kit.Around(h, 1, "head and washer by the job")})
		}
		if alone && !p.OnLocator() { // no witness set shows a part that the screws pulled off its walls
			asks = append(asks, fold.Ask{Field: "walls", Label: "strips of 0.02 that pull out at " + walls(p) + " now", Kind: fold.Count, What: fold.What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
				WantWhy: "The part left its walls while it was screwed.", Hint: "Loosen all, push it against its walls, tighten again."})
		}
		return asks
	}
	sp.Judge = func(v fold.View) fold.Outcome {
		var o fold.Outcome
		per, total := p.Limit("screws.round"), p.Limit("screws.total")
		shift := p.Limit("screws.shift")
		dial := creepOf(v, axes)
		last := dial.last
		g := budget.OneSided * p.Job.Machine.Dial.Graduation / math.Sqrt(12) * math.Sqrt2
		checks := dial.checks(func() fold.Check { return judge.Judged(per, dial.step, 0) }, func() fold.Check { return judge.Judged(total, dial.most, 0) })
		if alone && dial.rounds > 0 {
			for k, ax := range axes {
				l := shift
				l.ID += "." + ax
				l.Why += ", " + word[ax]
				checks = append(checks, judge.Judged(l, math.Abs(last[k]), g))
			}
			if v.Walks(3) && v.Has(fmt.Sprintf("round%d.z", len(stages))) {
				checks = append([]fold.Check{judge.Judged(p.Limit("screws.lift"), math.Abs(v.Len(fmt.Sprintf("round%d.z", len(stages)))), 0)}, checks...)
				o.Notes = append(o.Notes, "Lean is not read: the dial tells the height at one place. The witness set after the screws shows it.")
			}
		}
		for i := range checks {
			c := &checks[i]
			if c.Verdict != fold.Pass && c.Words == "" {
				c.Words = "The screws move the part: loosen all, push it against its walls, tighten crosswise in smaller steps."
				if len(o.Next) == 0 {
					o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Words: c.Words}, fold.Act{Do: "round"})
				}
			}
		}
		o.Checks = append(o.Checks, checks...)
		if alone && dial.rounds > 0 && (checks[len(checks)-1].Verdict == fold.Fail || checks[len(checks)-2].Verdict == fold.Fail) {
			o.Named = "shift-at-swap"
		}
		screwSlips(p, v, &o)
		w := threadsFound(p, v)
		if v.Int("walls") > 0 && len(o.Next) == 0 {
			o.Named = "clearance-not-pushed"
			o.Next = append(o.Next, fold.Act{Do: "seat", Of: "part", Words: "Loosen all screws, push the part against " + walls(p) + ", tighten again in order."}, fold.Act{Do: "round"})
		}
		longer := v.Len("pause") - p.Setup.Screws.Length
		used := inUse(p, w.Engaged, longer)
		if t, err := hold.ThreadNamed(p.Setup.Screws.Thread); err == nil {
			c := engagedCheck(p, t, used)
			c.Limit.ID = "screws.engaged"
			if c.Verdict == fold.Fail {
				o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "longer", Words: c.Words + " Take longer screws, or deepen the threads."}, fold.Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
		}
		if d := p.Job.Fixture.Threads.Depth; d > 0 {
			le := Engaged(p) + longer
			c := fold.Check{Limit: fold.Limit{ID: "screws.bottom", Why: "end of the screw above its thread's end", Max: d, Class: fold.Never, Unit: unit.KLength}, Got: le, Verdict: fold.Pass}
			if le > d {
				c.Verdict = fold.Fail
				c.Words = fmt.Sprintf("A %s screw needs %s of thread and finds %s: it stands on the bottom and clamps nothing.", p.Len(v.Len("pause")), p.Len(le), p.Len(d))
				o.Named = "screw-bottomed"
				o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "shorter", Words: c.Words + " Take shorter screws or add a washer."}, fold.Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
		}
		w.Engaged = used
		head := 0.0
		if h, ok := desk.HeadHeight(p); ok {
			head = v.Len("head")
			c := judge.Judged(fold.Limit{ID: "screws.head", Why: "height of the heads, above it", Max: headSlack, Class: fold.Hard, Unit: unit.KLength}, math.Max(0, head-h), 0)
			if c.Verdict == fold.Fail {
				c.Words = fmt.Sprintf("A head stands %s over the part's face, planned are %s: the cutter would meet it.", p.Len(head), p.Len(h))
				o.Named = "screw-head-high"
				o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "lower", Words: c.Words + " Take screws with lower heads, or put the height into the job."}, fold.Act{Do: "round"})
			}
			o.Checks = append(o.Checks, c)
		}
		o.Facts = []fold.Known{{ID: "screws", Value: []float64{float64(v.Int("in")), head, w.Engaged}}}
		if alone {
			u := p.Job.Machine.Dial.Graduation / math.Sqrt(12) * math.Sqrt2
			if dial.rounds == 0 {
				u = screwsShift / math.Sqrt(3)
				o.Notes = append(o.Notes, "No dial on the part at this level: what the screws shift counts with "+p.Len(screwsShift)+" either way.")
			}
			o.Facts = append(o.Facts, fold.Known{ID: "shift", Value: []float64{last[0], last[1], 0}, Cov: [][]float64{{u * u, 0, 0}, {0, u * u, 0}, {0, 0, 0}}})
		}
		screwStrength(p, v, w, &o)
		if o.Learned = fmt.Sprintf("%d screws hold it.", v.Int("in")); dial.rounds > 0 {
			o.Lines = append(o.Lines, fold.Row{Label: "moved in all", Value: dial.most, Unit: unit.KLength, Big: true}, fold.Row{Label: "moved in one round", Value: dial.step, Unit: unit.KLength})
			o.Learned = fmt.Sprintf("%d screws hold it; the part moved by %s at most while they went in.", v.Int("in"), p.Len(dial.most))
		}
		return o
	}
	sp.Page = func(v fold.View) fold.Page {
		var marks []fold.Shape
		for i, q := range p.Setup.Screws.At {
			marks = append(marks, fold.Shape{Role: fold.RoleScrew, Name: fmt.Sprint(i + 1), Points: []fold.XY{kit.FixturePlace(p, q)}})
		}
		pg := fold.Page{Why: "Screws pull a part sideways, most of all the first one.",
			Act:     "Screw the part down in three rounds, dial on it. " + tighteningWords(p),
			Read:    "The dial against its zero after each round; one torque or angle for all.",
			Caution: "Eye protection: plastic threads let go without warning. Do not overtighten: a quarter turn past snug.",
			Scene:   kit.Scene(p, v, marks)}
		if h := desk.Hold(p, threadsFound(p, v)); h.Why == "" {
			pg.Rows = h.PreloadRows(p)
		}
		if alone {
			pg.Read = "Dial zeroed at the end farthest from the first screw: X there and Y there, after each round."
		}
		return pg
	}
	return sp
}

func tighteningWords(p *fold.Plan) string {
	var s []string
	for _, i := range tightening(p) {
		s = append(s, fmt.Sprint(i))
	}
	return "Order " + strings.Join(s, "-") + "."
}

// roundWords is the act of one round of tightening.
func roundWords(p *fold.Plan, v fold.View, h desk.Holding, i int) string {
	switch i {
	case 0:
		w := "Washers on. "
		if p.Setup.Screws.Washer == 0 {
			w = ""
		}
		return w + dialStands(p, v.Walks(3)) + " All screws snug, then to 40 %" + stageWords(p, h, i) + ". " + tighteningWords(p)
	case 1:
		return "All to 70 %" + stageWords(p, h, i) + ", same order."
	}
	return "All to 100 %" + stageWords(p, h, i) + ", then once round again: the early ones have relaxed. Paint a line across head and part."
}

// stageWords are the angle past snug, and the torque for whoever has a driver for it.
func stageWords(p *fold.Plan, h desk.Holding, i int) string {
	if h.Why != "" {
		return ""
	}
	return fmt.Sprintf(": %.0f deg past snug, or %s", stages[i]*float64(h.Angle)*180/math.Pi, desk.Torque(p, float64(hold.Stages(h.Torque)[i])))
}

// dialStands says where the dial that watches the screws is set, before the first of them turns.
func dialStands(p *fold.Plan, height bool) string {
	order := tightening(p)
	if len(order) == 0 {
		return "Zero the dial."
	}
	end := farEnd(p, order[0])
	if p.Setup.HoldDown == "S" {
		s := fmt.Sprintf("Zero the dial at the part's %s end, farthest from screw %d: against it in X, and in Y.", end, order[0])
		if height {
			s += " Then down on its top; note each zero."
		}
		return s
	}
	return fmt.Sprintf("Dial down on the part's top at its %s end, farthest from screw %d, clear of the straps: zero it.", end, order[0])
}

// farEnd names the part's end, along its longer side, that is farthest from the n-th screw, from 1.
func farEnd(p *fold.Plan, n int) string {
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
func threadsFound(p *fold.Plan, v fold.View) (w desk.AsFound) {
	if t, ok := v.Fact("threads"); ok && len(t.Value) > 3 {
		w.Engaged, w.Strip = t.Value[2], unit.Angle(t.Value[3])
	}
	return w
}

// screwStrength holds the torque that was read against the working one, and with soft
// screws, which count 0, computes the hold-down of the others.
func screwStrength(p *fold.Plan, v fold.View, w desk.AsFound, o *fold.Outcome) {
	h := desk.Hold(p, w)
	if h.Why != "" {
		o.Notes = append(o.Notes, "Hold-down is not computed: "+h.Why+". Number and torque of the screws are recorded.")
		o.Lines = append(o.Lines, fold.Row{Label: "thread engaged", Value: w.Engaged, Unit: unit.KLength})
		return
	}
	o.Lines = append(o.Lines, h.PreloadRows(p)...)
	if t, ok := v.Num("torque", unit.KTorque); ok && t > 0 {
		most := 1.1 * float64(h.Torque)
		c := judge.Judged(fold.Limit{ID: "screws.torque", Why: "torque against the working one and a tenth", Max: most, Class: fold.Hard, Unit: unit.KTorque}, t, 0)
		act := fold.Act{Do: "screw", Of: "screws"}
		switch strip := h.Strips(); {
		case t >= strip: // nothing that a reason could mend
			c.Limit = fold.Limit{ID: "screws.strip", Why: "torque that may strip a thread", Max: strip, Class: fold.Never, Unit: unit.KTorque}
			c.Words = fmt.Sprintf("%s may have stripped a thread, from %s on: such a screw counts 0, and a part that lets go is thrown.", desk.Torque(p, t), desk.Torque(p, strip))
			act = fold.Act{Do: "thread", Of: "holes", Words: "Take all screws out. Run one into every thread by fingers; mend or retire what turns soft. Then tighten anew, to " + desk.Torque(p, float64(h.Torque)) + "."}
			w.Soft = 1
		case !c.Verdict.OK():
			c.Words = fmt.Sprintf("%s is too much: the weakest, %s, bears %s. Back off a quarter turn, try each screw for softness, tighten anew.", desk.Torque(p, t), h.Weakest(), desk.Torque(p, float64(h.Torque)))
			act.Words = c.Words
		case t < 0.5*float64(h.Torque): // as good as loose, or of another unit
			c.Limit.Why, c.Limit.Max, c.Limit.Min, c.Verdict = "half of the working torque at least", 0.5*float64(h.Torque), true, fold.Fail
			c.Words = fmt.Sprintf("%s clamps next to nothing: what holds is computed for %s. Was it typed in another unit?", unit.Show(t, unit.KTorque, p.Job.Unit, t/100), desk.Torque(p, float64(h.Torque)))
			act.Words = "Tighten all, in order, to " + desk.Torque(p, float64(h.Torque)) + "; type the torque again."
		}
		if !c.Verdict.OK() && len(o.Next) == 0 {
			o.Next = append(o.Next, act, fold.Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
		if low := 0.9 * float64(h.Torque); t < low {
			o.Notes = append(o.Notes, fmt.Sprintf("%s is less than the working torque %s: the hold-down is computed for the working one.", desk.Torque(p, t), desk.Torque(p, float64(h.Torque))))
		}
	}
	if w.Soft = max(w.Soft, v.Int("soft")); w.Soft > 0 {
		if l := desk.Hold(p, w); l.Why != "" {
			o.Notes = append(o.Notes, "With the soft screws counted 0: "+l.Why+".")
		} else {
			o.Lines = append(o.Lines, l.CeilingRows(p)...)
			for _, c := range []fold.Check{l.Retention(p), l.Register(p)} {
				c.Limit.Why += fmt.Sprintf(", %d counted 0", w.Soft)
				o.Checks = append(o.Checks, c)
			}
		}
	}
	o.Notes = append(o.Notes, desk.Estimate)
}

// screwSlips names a soft thread and a screw on the bottom of its hole.
func screwSlips(p *fold.Plan, v fold.View, o *fold.Outcome) {
	if v.Int("soft") > 0 {
		o.Named = "soft-thread"
		o.Next = append(o.Next, fold.Act{Do: "thread", Of: "holes", Words: "That screw counts 0. Take it out, fit an insert or move to a spare thread, put it in again."}, fold.Act{Do: "round"})
	} else if v.Int("loose") > 0 {
		o.Named = "screw-bottomed"
		o.Next = append(o.Next, fold.Act{Do: "screw", Of: "screws", Dir: "shorter", Words: "It stands on the bottom of its hole. Take a shorter screw or one more washer, tighten all again."}, fold.Act{Do: "round"})
	}
}
