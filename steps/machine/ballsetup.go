package machine

import (
	"cmp"
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// BallLimits are those of a ball's calibration (common practice, from memory).
var BallLimits = []fold.LimitRow{
	{ID: "ball.repeat", Why: "difference of two hits of one direction", How: "as repeat", Class: fold.Soft, Unit: unit.KLength, Max: judge.RepeatLimit, Min: false},
	{ID: "ball.lobes", Why: "trigger along X against along Y", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.005), Min: false},
	{ID: "ball.change", Why: "change of the radius", How: "{0.005}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.005), Min: false},
}

// ballSetup is the calibration that a side uses, each hit with the mark to the front taken
// twice: the pairs feed the pooled repeat of a hit.
func ballSetup(p *fold.Plan) *fold.Spec {
	base := checks.Calibrate(p)
	if base == nil {
		return nil
	}
	s := *base
	s.Recheck, s.Makes = nil, []fold.FactID{"ball", "ball/done"}
	s.Asks = func(v fold.View) []fold.Ask {
		asks := []fold.Ask{{Field: "ring", Label: "number engraved on the ring", Kind: fold.Text,
			What: fold.What{By: "eye", Of: "ring", Dir: "id"}}, kit.MarkAsk()}
		for _, a := range checks.RingAsks(p, v) {
			asks = append(asks, a)
			if len(a.Field) > 2 && a.Field[:2] == "a." {
				b := a
				b.Field, b.Label, b.Do = a.Field+".2", kit.SecondTouch(a.Label), nil
				if x, ok := v.Num(a.Field, unit.KLength); ok {
					b.Window = kit.Around(x, 0.05, "the hit before")
				}
				asks = append(asks, b)
			}
		}
		return asks
	}
	s.Judge = func(v fold.View) fold.Outcome {
		hits := pairsOf(v)
		o := base.Judge(hits.means(p, v))
		hits.judge(p, &o)
		if len(o.Facts) == 0 {
			return o
		}
		f, ok := facts.Ball.Read(o.Facts[0])
		if !ok {
			return o
		}
		pooled := hits.pooled(p, &o)
		f.S, f.Freedom = unit.Length(pooled.S), pooled.Dof
		o.Facts = []fold.Known{facts.Ball.Is(f), {ID: "ball/done"}}
		radius := [2]float64{float64(f.RX), float64(f.RY)}
		judgeRadius(p, radius, &o)
		o.Lines = append(o.Lines, fold.Row{Label: "scatter of one hit", Value: pooled.S, Unit: unit.KLength},
			fold.Row{Label: "degrees of freedom", Text: fmt.Sprintf("%.0f", pooled.Dof)},
			fold.Row{Label: "pre-travel X, Y", Text: fmt.Sprintf("%s, %s", p.Num(p.Job.Machine.Probe.Ball/2-radius[0]),
				p.Num(p.Job.Machine.Probe.Ball/2-radius[1]))})
		if r := math.Max(0.003, 3.5*pooled.S); r > 0.1*float64(p.Job.Allowance) {
			o.Notes = append(o.Notes, fmt.Sprintf("This probe can't prove a register of %s; %s it can.",
				p.Len(float64(p.Job.Allowance)), p.Len(10*r)))
		}
		return o
	}
	return &s
}

// hitPairs are the hits that were taken twice, by their fields.
type hitPairs struct {
	mean  map[string]float64
	pairs [][2]float64
	worst float64 // largest difference of a pair
	at    string
}

func pairsOf(v fold.View) hitPairs {
	h := hitPairs{mean: map[string]float64{}}
	ways := []string{"a.x+", "a.x-", "a.y+", "a.y-"}
	for _, at := range ways {
		a, b := v.Len(at), v.Len(at+".2")
		h.pairs, h.mean[at] = append(h.pairs, [2]float64{a, b}), (a+b)/2
	}
	var i int
	if h.worst, i = pickup.WorstPair(h.pairs); i >= 0 {
		h.at = ways[i]
	}
	return h
}

// means is the view in which each pair is one hit, its mean: the calibration judges those.
func (h hitPairs) means(p *fold.Plan, v fold.View) fold.View {
	v.Round = v.Round.Of(func(t fold.Taken) (fold.Taken, bool) {
		if m, ok := h.mean[t.Field]; ok {
			t.Value = unit.Show(m, unit.KLength, p.Job.Unit, 1e-7)
		}
		return t, true
	})
	return v
}

// judge holds the pairs against what a hit repeats within.
func (h hitPairs) judge(p *fold.Plan, o *fold.Outcome) {
	c := judge.Of(p.Limit("ball.repeat"), h.worst, 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("Two hits of one direction differ by %s: wipe ball and ring, tighten the stylus.", p.Len(h.worst))
		o.Next = append([]fold.Act{{Do: "wipe", Of: "ring", Words: c.Words}, {Do: "again", Of: h.at}, {Do: "again", Of: h.at + ".2"}}, o.Next...)
	}
	o.Checks = append(o.Checks, c)
}

// pooled is the repeat of a hit: today's with the card's, or today's alone where it is worse.
func (h hitPairs) pooled(p *fold.Plan, o *fold.Outcome) budget.Spread {
	m := &p.Job.Machine
	pooled, worse := pickup.HitSpread(h.pairs, budget.Spread{S: m.Probe.Repeat, Dof: m.Probe.Dof}, m.Readout)
	if worse {
		o.Notes = append(o.Notes, fmt.Sprintf("Hits scatter more than they used to: %s with %.0f degrees of freedom counts from here on.",
			p.Len(pooled.S), pooled.Dof))
	}
	return pooled
}

// judgeRadius holds the radii along X and Y against each other, and against the card's.
func judgeRadius(p *fold.Plan, radius [2]float64, o *fold.Outcome) {
	m := p.Job.Machine.Probe
	lobes := judge.Of(p.Limit("ball.lobes"), math.Abs(radius[0]-radius[1]), 0)
	if lobes.Verdict == fold.Fail {
		lobes.Words = "The probe triggers otherwise along X than along Y: the radii are kept apart."
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: lobes.Words + " Read once more; then accept it."})
		}
	}
	old := [2]float64{cmp.Or(m.RadiusX, m.Radius), cmp.Or(m.RadiusY, m.Radius)}
	change := judge.Of(p.Limit("ball.change"), math.Max(math.Abs(radius[0]-old[0]), math.Abs(radius[1]-old[1])), 0)
	if change.Verdict == fold.Fail {
		change.Words = fmt.Sprintf("The radius changed by %s since the card: a loose stylus, another one, or another ring.", p.Len(change.Got))
		o.Named = "loose-stylus"
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: change.Words + " Tighten it and read again; if it stays, accept it."})
		}
	}
	o.Checks = append(o.Checks, lobes, change)
}
