package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/stick"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// ByFace is the hold-down plan in which the face under the part holds it.
const ByFace = "V"

// FaceHeld is a part held by the face under it against the planned cut, at the adverse end of what is known. With
// Why set it is not computed, and Why says what to give.
type FaceHeld struct {
	Why         string
	Ceiling     unit.Length
	Slip, Up    float64 // how many times it is held sideways and up
	ask         [2]float64
	Press, Side unit.Force
	Turning     float64
	rests       string
	vacuum      bool
}

// HoldFace computes it. A vacuum counts with what its gate lets through, tape with its test on scrap at the warmest
// that the film becomes. With nothing tested nothing holds.
func HoldFace(p *fold.Plan) (h FaceHeld) {
	s, f := p.Setup, p.Setup.Hold
	give := func(format string, a ...any) FaceHeld { h.Why = fmt.Sprintf(format, a...); return h }
	cut, why := heaviest(p)
	if why != "" {
		return give("%s", why)
	}
	face := stick.Face{Long: f.Area[0], Short: f.Area[1]}
	whole := stick.Face{Long: p.Job.Part.Size[0], Short: p.Job.Part.Size[1]}
	if f.Kind == "vacuum" {
		height := s.Cut.Height
		if height == 0 {
			height = p.Job.Part.Size[2]
		}
		mu := friction(p)
		v, err := stick.Vacuum{Sealed: face, Part: whole, Gauge: stick.GateMPa, Mu: mu.Low}.Against(cut, unit.Length(height))
		if err != nil {
			return give("%v", err)
		}
		h.Ceiling, h.Slip, h.Up, h.Press, h.Turning, h.vacuum = v.Ceiling, v.Slip, v.Peel, v.Press, v.Turning, true
		h.ask = [2]float64{stick.SlipSF, stick.PeelSF}
		h.rests = fmt.Sprintf("Friction under the part: %g, %s (%s).", mu.Low, mu.Flag, mu.Source)
		return h
	}
	t := f.Tested
	if f.Hot == nil || t.At == nil {
		return give("the job has no test of the tape on scrap; give hold.tested and hold.hot")
	}
	n, err := stick.Test{Kind: "tape", Load: t.Load, Area: t.Area[0] * t.Area[1], Minutes: t.Minutes, At: *t.At, Source: t.Source}.Capacity(face, whole, *f.Hot)
	if err != nil {
		return give("%v", err)
	}
	held, err := n.Against(cut)
	if err != nil {
		return give("%v", err)
	}
	h.Ceiling, h.Slip, h.Up, h.Side, h.Press = held.Ceiling, held.Slip, held.Up, n.Side, n.Up
	h.ask = [2]float64{stick.SideSF, stick.EdgeSF}
	h.rests = "Tape by its test on scrap: " + t.Source + "."
	return h
}

// heaviest is the job's cut at the high end of the material's specific force, or why it is not computed.
func heaviest(p *fold.Plan) (cut hold.Cut, why string) {
	s := p.Setup
	tool, ok := p.Job.Tools[s.Cut.Tool]
	if s.Cut.Tool == 0 || !ok || tool.Teeth == 0 {
		return cut, "the job states no cut; give cut: {tool, ae, ap, fz} and the tool's teeth"
	}
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil {
		return cut, err.Error()
	}
	if !part.Kc11.Known() {
		return cut, fmt.Sprintf("no specific cutting force of %s is known; give materials.%s.kc with its source", part.Name, part.Name)
	}
	cut = plannedCut(p, tool, part.Mc)
	cut.Kc11 = part.Kc11.High
	return cut, ""
}

// Check is retention. What can't be computed, or was not tested, holds nothing.
func (h FaceHeld) Check(p *fold.Plan) fold.Check {
	c := fold.Check{Limit: fold.Limit{ID: "hold.retention", Why: "depth of cut against slipping and leaving the seat", Max: math.Min(float64(h.Ceiling), 100), Class: fold.Never, Unit: unit.KLength},
		Got: p.Setup.Cut.Ap, Verdict: fold.Pass}
	if h.Why != "" {
		c.Verdict, c.Words = fold.Fail, "It counts as held by nothing: "+h.Why+"."
		return c
	}
	if p.Setup.Cut.Ap > float64(h.Ceiling) {
		c.Verdict = fold.Fail
		c.Words = fmt.Sprintf("A part that leaves its seat is thrown. Sideways it is held %.2f times (%g), up %.2f (%g).", h.Slip, h.ask[0], h.Up, h.ask[1])
	}
	return c
}

// Rows show what holds.
func (h FaceHeld) Rows(p *fold.Plan) []fold.Row {
	if h.Why != "" {
		return nil
	}
	rows := []fold.Row{{Label: DeepestCut, Value: math.Min(float64(h.Ceiling), 100), Unit: unit.KLength, Big: true, Verdict: h.Check(p).Verdict},
		{Label: "planned", Value: p.Setup.Cut.Ap, Unit: unit.KLength},
		{Label: "held sideways", Text: fmt.Sprintf("%.2f times (%g)", h.Slip, h.ask[0])}, {Label: "held up", Text: fmt.Sprintf("%.2f times (%g)", h.Up, h.ask[1])}}
	if h.vacuum {
		return append(rows, fold.Row{Label: "pressed on its seat", Text: newtons(p, float64(h.Press))})
	}
	return append(rows, fold.Row{Label: "tape bears sideways, before its factor", Text: newtons(p, float64(h.Side))})
}

// faceDown puts it into an outcome.
func faceDown(p *fold.Plan, o *fold.Outcome) {
	h := HoldFace(p)
	c := h.Check(p)
	o.Checks = append(o.Checks, c)
	if c.Verdict != fold.Pass && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "round", Words: c.Words + " A shallower cut, a larger face, or screws."})
	}
	o.Lines = append(o.Lines, h.Rows(p)...)
	o.Notes = append(o.Notes, h.notes()...)
}

func (h FaceHeld) notes() []string {
	if h.Why != "" {
		return nil
	}
	return []string{Estimate, h.rests, "One pump or one film holds it: when that goes nothing is left. Stand out of its way."}
}

// deskFace judges it as planned.
func deskFace(p *fold.Plan, d *Desk) {
	h := HoldFace(p)
	c := h.Check(p)
	d.HoldDown, d.Sources = h.Rows(p), h.notes()
	d.judged(c)
}
