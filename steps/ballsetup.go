package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
)

// ballKind is the kind of setup in which the probe's ball is calibrated.
const ballKind = "ball"

// ballLimits are those of a ball's calibration (common practice, from memory).
var ballLimits = []LimitRow{
	{"ball.repeat", "two hits of one direction agree", "as repeat", Soft, unit.KLength, (*Plan).repeatLimit, false},
	{"ball.lobes", "the ball triggers alike along X and Y", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
	{"ball.change", "the radius is what it was", "{0.005}", Soft, unit.KLength, fixed(0.005), false},
}

// mostDof is what a pooled repeat is credited with at most: older hits then count for less.
const mostDof = 200

// markAsk asks how the spindle stands with the probe in: what the ball is off centre by has a direction.
func markAsk() Ask {
	return Ask{Field: "mark", Label: "the mark on the spindle points", Kind: Choice, Options: []string{"toward you", "away", "left", "right"}, What: What{By: "eye", Of: "spindle", Dir: "mark"}, Want: "toward you",
		WantWhy: "The ball's place is known only for one way of the spindle.", Hint: "Turn the spindle, mark to the front."}
}

// markWrong says that the mark was seen elsewhere, and what to do: nothing is probed like this.
func markWrong(v View, o *Outcome) bool {
	a := markAsk()
	if !v.Has(a.Field) || SameAnswer(v.Text(a.Field), a.Want) {
		return false
	}
	o.Named = "spindle-unmarked"
	o.Next = append(o.Next, Act{Do: "mark", Of: "spindle", Dir: "0", Words: "Turn the spindle by hand, mark to the front, and lock it. Then look again."}, Act{Do: "again", Of: a.Field})
	return true
}

// ballSetup is the calibration that a side uses, each hit with the mark to the front taken
// twice: the pairs feed the pooled repeat of a hit.
func ballSetup(p *Plan) *Spec {
	base := calibrate(p)
	if base == nil {
		return nil
	}
	s := *base
	s.At, s.Lifts, s.Makes = "", nil, []FactID{"ball", "ball/done"}
	dirs := []string{"x+", "x-", "y+", "y-"}
	s.Asks = func(v View) []Ask {
		asks := []Ask{{Field: "ring", Label: "number engraved on the ring", Kind: Text, What: What{By: "eye", Of: "ring", Dir: "id"}}, markAsk()}
		for _, a := range p.ringAsks(v) {
			asks = append(asks, a)
			if len(a.Field) > 2 && a.Field[:2] == "a." {
				b := a
				b.Field, b.Label, b.Do = a.Field+".2", "and once more", nil
				if x, ok := v.Num(a.Field, unit.KLength); ok {
					b.Window = around(x, 0.05, "the hit before")
				}
				asks = append(asks, b)
			}
		}
		return asks
	}
	s.Judge = func(v View) Outcome {
		// The calibration judges the means of the pairs.
		var parts []budget.Spread
		worst, at := 0.0, ""
		means := map[string]float64{}
		for _, d := range dirs {
			a, b := v.Len("a."+d), v.Len("a."+d+".2")
			parts = append(parts, budget.SpreadOf([]float64{a, b}))
			if x := math.Abs(a - b); x > worst {
				worst, at = x, "a."+d
			}
			means["a."+d] = (a + b) / 2
		}
		w := v
		w.Round = v.Round.Of(func(t Taken) (Taken, bool) {
			if m, ok := means[t.Field]; ok {
				t.Value = unit.Show(m, unit.KLength, p.Job.Unit, 1e-7)
			}
			return t, true
		})
		o := base.Judge(w)
		c := Judged(p.Limit("ball.repeat"), worst, 0)
		if c.Verdict == Fail {
			c.Words = fmt.Sprintf("Two hits of one direction differ by %s: wipe ball and ring, tighten the stylus.", p.len(worst))
			o.Next = append([]Act{{Do: "wipe", Of: "ring", Words: c.Words}, {Do: "again", Of: at}, {Do: "again", Of: at + ".2"}}, o.Next...)
		}
		o.Checks = append(o.Checks, c)
		if len(o.Facts) == 0 || len(o.Facts[0].Value) < 6 {
			return o
		}
		f := o.Facts[0]
		today := budget.Pool(parts...)
		m := p.Job.Machine.Probe
		pooled := budget.Spread{S: m.Repeat, Dof: m.Dof}
		if budget.Worse(today, pooled, 0.01) {
			pooled = today
			o.Notes = append(o.Notes, fmt.Sprintf("Hits scatter more than they used to: %s with %.0f degrees of freedom counts from here on.", p.len(today.S), today.Dof))
		} else {
			pooled = budget.Pool(pooled, today)
		}
		pooled = pooled.AtLeast(p.Job.Machine.Readout / math.Sqrt(12))
		pooled.Dof = math.Min(pooled.Dof, mostDof)
		f.Value = append([]float64(nil), f.Value...)
		f.Value[4], f.Value[5] = pooled.S, pooled.Dof
		o.Facts = []Fact{f, {ID: "ball/done"}}
		lobes := Judged(p.Limit("ball.lobes"), math.Abs(f.Value[0]-f.Value[1]), 0)
		if lobes.Verdict == Fail {
			lobes.Words = "The probe triggers otherwise along X than along Y: the radii are kept apart."
			if len(o.Next) == 0 {
				o.Next = append(o.Next, Act{Do: "round", Words: lobes.Words + " Read once more; then accept it."})
			}
		}
		old := [4]float64{m.RadiusX, m.RadiusY}
		for i := range 2 {
			if old[i] == 0 {
				old[i] = m.Radius
			}
		}
		change := Judged(p.Limit("ball.change"), math.Max(math.Abs(f.Value[0]-old[0]), math.Abs(f.Value[1]-old[1])), 0)
		if change.Verdict == Fail {
			change.Words = fmt.Sprintf("The radius changed by %s since the card: a loose stylus, another one, or another ring.", p.len(change.Got))
			o.Named = "loose-stylus"
			if len(o.Next) == 0 {
				o.Next = append(o.Next, Act{Do: "round", Words: change.Words + " Tighten it and read again; if it stays, accept it."})
			}
		}
		o.Checks = append(o.Checks, lobes, change)
		o.Lines = append(o.Lines, Row{Label: "scatter of one hit", Value: pooled.S, Unit: unit.KLength}, Row{Label: "degrees of freedom", Text: fmt.Sprintf("%.0f", pooled.Dof)},
			Row{Label: "pre-travel X, Y", Text: fmt.Sprintf("%s, %s", p.num(m.Ball/2-f.Value[0]), p.num(m.Ball/2-f.Value[1]))})
		if r := math.Max(0.003, 3.5*pooled.S); r > 0.1*float64(p.Job.Allowance) {
			o.Notes = append(o.Notes, fmt.Sprintf("This probe can't prove a register of %s; %s it can.", p.len(float64(p.Job.Allowance)), p.len(10*r)))
		}
		return o
	}
	return &s
}
