package vise

import (
	"fmt"
	"math"

	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// foreseen is what the desk can judge of a first side by the job alone: whether the jaws hold enough, stand where
// that grip puts them, keep clear of the lowest cut, and whether the tool reaches down to it.
func foreseen(p *fold.Plan) []fold.Check {
	w := p.Setup.Vise
	if w.Jaw == "" {
		return nil
	}
	out := []fold.Check{gripPlanned(p), jawTopPlanned(p)}
	if low := p.Setup.Cut.Lowest; p.Setup.Cut.Tool > 0 && !math.IsNaN(low) {
		k := judge.Least(p.Limit("jaws.room"), low-w.JawTop, 0)
		if room := low - w.JawTop; room < 0 {
			k.Words = fmt.Sprintf("The lowest cut, Z %s, goes %s INTO the jaw at Z %s.", p.Num(low), p.Len(-room), p.Num(w.JawTop))
		} else if k.Verdict == fold.Fail {
			k.Words = fmt.Sprintf("The lowest cut, Z %s, passes %s over the jaw.", p.Num(low), p.Len(room))
		}
		out = append(out, k)
		if c, ok, why := reachesDown(p, low, true); ok {
			out = append(out, c)
		} else if why != "" {
			out = append(out, judge.Unknown(c.Limit, why))
		}
	}
	return out
}

// underZ0 is how far the stock goes below Z0, the finished top of side 1, with no more of it than is wanted.
func underZ0(p *fold.Plan) float64 { return p.Job.Part.Size[2] + p.Job.Part.Skin[1] }

// gripPlanned holds the grip as planned against what stands above it.
func gripPlanned(p *fold.Plan) fold.Check {
	g := p.Setup.Vise.Grip
	above := underZ0(p) + p.Job.Part.Skin[0] - g
	need := math.Max(leastGrip, shareGrip*above)
	c := judge.Least(judge.At(p.Limit("grip.height"), need), g, 0)
	if c.Verdict == fold.Fail {
		has, wants := p.Apart(g, need)
		c.Words = fmt.Sprintf("The jaws hold %s; %s above them want %s.", has, p.Len(above), wants)
	}
	return c
}

// jawTopPlanned holds the jaw top of the job against its grip. Thicker stock puts the jaws lower, never higher.
func jawTopPlanned(p *fold.Plan) fold.Check {
	w := p.Setup.Vise
	at := w.Grip - underZ0(p)
	c := judge.Off(p.Limit("jaws.top"), w.JawTop, at, 0)
	if c.Verdict != fold.Fail {
		return c
	}
	c.Words = fmt.Sprintf("A grip of %s puts the jaw top at Z %s at the highest. The job has it at %s.", p.Len(w.Grip), p.Num(at),
		p.Num(w.JawTop))
	if w.JawTop < at {
		c.Verdict = fold.NotProven
		c.Words = fmt.Sprintf("The jaw top of the job wants stock %s thicker than part and skins. Else the grip is less.", p.Len(at-w.JawTop))
	}
	return c
}
