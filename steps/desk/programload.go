package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/ncode"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// carried is the depth that the screws carry of any cut of any cutter, at the adverse and at
// the favourable end of what is known.
type carried struct {
	p    *fold.Plan
	h    Holding
	memo map[cutKind][2]float64
}

// cutKind is what the depth depends on, rounded to the bad side: a program changes its feed by the line.
type cutKind struct {
	tool, width, chip int
	down              bool
}

// carriedBy is what the screws carry with what was found; nil where that is not computed.
func carriedBy(p *fold.Plan, found AsFound) *carried {
	if !p.Setup.Second() {
		return nil
	}
	h := Hold(p, found)
	if h.Why != "" {
		return nil
	}
	return &carried{p, h, map[cutKind][2]float64{}}
}

// Widths and chips are rounded up to steps of these.
const (
	widthStep = 0.05 // mm
	chipStep  = 1.01 // ratio
)

// depths are the deepest cut of that kind at both ends, -1 where it can't be told.
func (c *carried) depths(cut ncode.Cut) (low, high float64) {
	t, ok := c.p.Job.Tools[cut.Tool]
	if !ok || t.Dia <= 0 {
		return -1, -1
	}
	planned := c.p.Setup.Cut
	width := cut.Width
	if cut.Tool == planned.Tool && !cut.Down && planned.Ae > 0 && planned.Ae < width && planned.Ae >= width-cut.Over {
		width = planned.Ae // the map can't tell the two apart
	}
	teeth := t.Teeth
	if teeth < 1 {
		teeth = max(c.h.C.Holding.Cut.Teeth, 1)
	}
	chip := planned.Fz
	if cut.Feed > 0 && cut.Speed > 0 {
		chip = cut.Feed / (cut.Speed * float64(teeth))
	}
	k := cutKind{cut.Tool, int(math.Ceil(width/widthStep - 1e-6)), int(math.Ceil(math.Log(max(chip, 1e-6))/math.Log(chipStep) - 1e-6)),
		cut.Down}
	if v, ok := c.memo[k]; ok {
		return v[0], v[1]
	}
	up := math.Pow(chipStep, float64(k.chip))
	if planned.Fz <= up && planned.Fz > up/chipStep && chip < planned.Fz*(1+1e-6) {
		up = planned.Fz
	}
	v := c.compute(&t, teeth, math.Min(float64(k.width)*widthStep, t.Dia), up, cut.Down)
	c.memo[k] = v
	return v[0], v[1]
}

func (c *carried) compute(t *jobs.Tool, teeth int, width, chip float64, down bool) [2]float64 {
	h := c.h
	k := &h.C.Holding.Cut
	k.Dia, k.Teeth, k.Ae, k.Fz = unit.Length(t.Dia), teeth, unit.Length(width), unit.Length(chip)
	k.Helix, k.Down = unit.Angle(math.Pi/6), t.Spiral == "down-cut"
	if t.Spiral == "straight" {
		k.Helix = 0
	}
	if down {
		k.Corner = hold.InCorner
	}
	h.flute = unit.Length(t.Flute)
	var err error
	if h.Ends, err = h.ends(); err != nil {
		return [2]float64{-1, -1}
	}
	return [2]float64{h.ceiling(h.Ends.Low), h.ceiling(h.Ends.High)}
}

// low is what a walk asks.
func (c *carried) low(cut ncode.Cut) float64 {
	d, _ := c.depths(cut)
	return d
}

// ceiling is the deepest cut that an end of what is known holds.
func (h *Holding) ceiling(e hold.End) float64 {
	return h.depth(min(e.Ceiling.Least, e.Retention.Ceiling))
}

// key names what it depends on besides the job.
func (c *carried) key() string {
	return fmt.Sprint(c.h.C, c.h.Ends.Low, c.h.Ends.High)
}

// stepChecks hold the heaviest cut of each cutter against what the hold-down carries of such a
// cut: of its diameter, its width there, its feed and speed.
func stepChecks(p *fold.Plan, id string, a *heldAgainst, s *ncode.Summary, r *ProgramReport) {
	for _, t := range s.Tools {
		if j, ok := p.Job.Tools[t.Number]; ok && j.Point > 0 || t.Step <= 0 {
			continue
		}
		r.Steps = append(r.Steps, ToolStep{t.Number, t.StepLine, t.Step})
		row := fold.Row{Label: fmt.Sprintf("deepest step of T%d, upper bound", t.Number),
			Text: fmt.Sprintf("%s in line %d", p.Len(t.Step), t.StepLine)}
		w := t.Heaviest
		if a.carried == nil || w.Line == 0 {
			r.Rows = append(r.Rows, row)
			continue
		}
		low := w.Holds
		_, high := a.carried.depths(ncode.Cut{Tool: t.Number, Width: w.Width, Down: w.Down, Feed: w.Feed, Speed: w.Speed})
		c := fold.Check{Limit: fold.Limit{ID: fmt.Sprintf("%s.step.%d", id, t.Number),
			Why: fmt.Sprintf("deepest step of T%d, which the screws hold", t.Number), Max: low, Class: fold.Hard, Unit: unit.KLength,
			System: p.Job.Unit}, Got: w.Depth, Verdict: fold.Pass}
		switch {
		case w.Depth > max(high, low)+1e-6:
			c.Verdict = fold.Fail
		case w.Depth > low+1e-6:
			c.Verdict = fold.NotProven
		}
		way := p.Len(w.Width) + " wide"
		switch {
		case w.Down:
			way = "straight down"
		case w.Width >= p.Job.Tools[t.Number].Dia:
			way = "full width"
		}
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("Line %d: T%d cuts %s deep, %s; held %s, at best %s. Take smaller steps.", w.Line, t.Number, p.Len(w.Depth), way,
				p.Len(low), p.Len(max(high, low)))
		}
		row.Verdict = c.Verdict
		row.Text += fmt.Sprintf("; line %d: %s deep, %s, held %s", w.Line, p.Len(w.Depth), way, p.Len(low))
		r.Rows, r.Checks = append(r.Rows, row), append(r.Checks, c)
	}
}
