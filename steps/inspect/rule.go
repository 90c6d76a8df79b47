package inspect

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/calc/chart"
	"fliptrue/calc/frame"
	calc "fliptrue/calc/inspect"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// component is one part of the mismatch over the parts of a fixture: place along X, along Y, turn. A turn
// is given times the lever of the worst feature, so that all are lengths.
type component struct {
	name   string
	value  float64 // of today's part
	u      float64
	took   func(jobs.Found) float64
	found  func(jobs.Found) float64
	parts  []float64 // since the card was last corrected for it, today's last
	bias   chart.Bias
	chart  chart.Individuals // where there are enough
	creeps bool
	upTo   float64 // how far the mean of the parts may lie off for the prior to hold
	does   calc.Correction
}

// history are the parts that the card knows, oldest first.
func history(f *jobs.Fixture) []jobs.Found {
	rows := slices.Clone(f.Found)
	slices.SortStableFunc(rows, func(a, b jobs.Found) int { return cmp.Compare(a.At, b.At) })
	return rows
}

// grew is what the part's growth since side 1 makes of the mismatch at its middle: side 1 went from the wall that it lay against.
type grew struct {
	frame.Vec
	U [2]float64 // standard uncertainty
}

// grewOf is that by the widths as they were measured again before side 2; none where nobody did.
func grewOf(p *fold.Plan, f facts.SeatFact, read bool) (g grew) {
	for i := range p.Job.Setups {
		s := &p.Job.Setups[i]
		if !s.Second() || !read {
			continue
		}
		d := middle(p).Sub(kit.Held(p.Otherwise(s)))
		return grew{frame.Vec{X: calc.Grew(f.GrownX, d.X), Y: calc.Grew(f.GrownY, d.Y)},
			[2]float64{math.Abs(calc.Grew(f.UX, d.X)), math.Abs(calc.Grew(f.UY, d.Y))}}
	}
	return g
}

// lever is the distance of the worst feature from the part's middle, mm.
func lever(p *fold.Plan) float64 {
	l := 0.0
	for _, q := range features(p) {
		l = math.Max(l, q.Len())
	}
	return math.Max(l, 1)
}

// features are the places whose register matters, from the part's middle: the listed ones, else the corners.
func features(p *fold.Plan) (out []frame.Vec) {
	m := middle(p)
	for _, f := range p.Job.Part.Features {
		out = append(out, kit.Vec(f.At).Sub(m))
	}
	if len(out) == 0 {
		out = []frame.Vec{m.Times(-1), {X: m.X, Y: -m.Y}, m, {X: -m.X, Y: m.Y}}
	}
	return out
}

// weigh decides of each component whether the card is corrected for it: bias told from scatter, chart, climate; by the rule of the
// newest walk also what is far beyond a first use.
func weigh(p *fold.Plan, f facts.MismatchFact, b facts.BenchedFact, g grew, spoiled, newest bool) ([]component, error) {
	m := mismatch(f)
	u, l := m.U(), lever(p)
	cs := []component{
		{name: "X", value: m.DX - g.X, u: math.Hypot(u[0], g.U[0]), found: func(r jobs.Found) float64 { return r.X - r.Grew.X }, took: func(r jobs.Found) float64 { return r.Took.X }},
		{name: "Y", value: m.DY - g.Y, u: math.Hypot(u[1], g.U[1]), found: func(r jobs.Found) float64 { return r.Y - r.Grew.Y }, took: func(r jobs.Found) float64 { return r.Took.Y }},
	}
	if m.Told != calc.NotAsked {
		cs = append(cs, component{name: "turn", value: float64(m.Turn) * l, u: u[2] * l,
			found: func(r jobs.Found) float64 { return float64(r.Turn) * l },
			took:  func(r jobs.Found) float64 { return float64(r.Took.Turn) * l }})
	}
	rows := history(&p.Job.Fixture)
	k := calc.Known{Allowance: float64(p.Job.Allowance), Uncounted: spoiled}
	k.DT, k.DRH = climate(rows, b)
	for i := range cs {
		if err := cs[i].weigh(rows, k, newest); err != nil {
			return nil, fmt.Errorf("%s: %w", cs[i].name, err)
		}
	}
	return cs, nil
}

// weigh takes the parts since the last correction, whose doubt then was the bias's, and decides.
func (c *component) weigh(rows []jobs.Found, k calc.Known, newest bool) (err error) {
	prior := calc.FirstUse
	for i, r := range rows {
		if r.LeftOut == "" && !byTakenBack(rows[:i], r) {
			c.parts = append(c.parts, c.found(r))
		}
		if c.took(r) != 0 && r.Back == "" {
			if b, err := chart.ToBias(c.parts, prior, calc.PartsU, c.u); err == nil {
				prior = math.Hypot(b.U, calc.RemountU)
			}
			c.parts = nil // the chart begins anew
		}
	}
	c.parts = append(c.parts, c.value)
	between := calc.PartsU
	if len(c.parts) >= chart.Enough {
		if c.chart, err = chart.ToIndividuals(c.parts); err != nil {
			return err
		}
		between = math.Sqrt(math.Max(0, c.chart.Sigma*c.chart.Sigma-c.u*c.u))
		k.Outside = len(c.chart.Outside) > 0
		if e, err := chart.ToCreep(c.parts, c.chart.Mean, c.chart.Sigma); err == nil {
			c.creeps = e.Out >= 0
		}
	}
	if c.bias, err = chart.ToBias(c.parts, prior, between, c.u); err != nil {
		return err
	}
	if k.Bias = c.bias; newest {
		k.Prior = prior
	}
	c.upTo = k.Believed()
	c.does, err = k.Decide()
	return err
}

// byTakenBack says that a part was made by a card whose correction was taken back since: it shows another fixture.
func byTakenBack(before []jobs.Found, r jobs.Found) bool {
	return slices.ContainsFunc(before, func(b jobs.Found) bool { return b.Back != "" && r.At <= b.Back })
}

// climate is how far today is from the mean of the parts that count, K and percent; 0 of what was not read.
func climate(rows []jobs.Found, b facts.BenchedFact) (dT, dRH float64) {
	var t, rh, n, m float64
	for _, r := range rows {
		if r.LeftOut == "" && r.T != nil {
			t, n = t+float64(*r.T), n+1
		}
		if r.LeftOut == "" && r.RH > 0 {
			rh, m = rh+r.RH, m+1
		}
	}
	if n > 0 {
		dT = b.C - t/n
	}
	if m > 0 && b.RH > 0 {
		dRH = b.RH - rh/m
	}
	return dT, dRH
}

// says is the decision in words.
func (c *component) says(p *fold.Plan) string {
	b, doubt := kit.Signed(p, c.bias.B), p.Len(budget.OneSided*c.bias.U)
	switch c.does.Reason {
	case calc.NotProven:
		return fmt.Sprintf("%s: leave it. The fixture's share by %s, %s, is within its doubt of %s.", c.name, count(c.bias.N), b, doubt)
	case calc.NotWorth:
		return fmt.Sprintf("%s: leave it. The fixture's share of %s is under a tenth of the allowance.", c.name, b)
	case calc.HasCause:
		return fmt.Sprintf("%s: leave it. A part lies outside its chart: find the cause, do not correct it away.", c.name)
	case calc.NotCounted:
		return fmt.Sprintf("%s: leave it. A mishap or a waiver stands in this record; the part does not count.", c.name)
	case calc.Climate:
		return fmt.Sprintf("%s: leave it. Today is warmer, colder, damper or drier than the parts before.", c.name)
	case calc.Unlikely:
		return fmt.Sprintf("%s: look for the cause first. The mean of %s is %s, and %s is what chance gives. The card stays.", c.name,
			count(c.bias.N), kit.Signed(p, c.bias.Mean), p.Len(c.upTo))
	case calc.TooMuch:
		return fmt.Sprintf("%s: correct by %s at most, half the allowance. Look for the cause of %s.", c.name, kit.Signed(p, -c.does.By), b)
	}
	return fmt.Sprintf("%s: correct by %s, the fixture's share by %s; its doubt is %s.", c.name, kit.Signed(p, -c.does.By), count(c.bias.N),
		doubt)
}

func count(n int) string {
	if n == 1 {
		return "one part"
	}
	return fmt.Sprintf("%d parts", n)
}
