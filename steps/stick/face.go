package stick

import (
	"fmt"

	calc "fliptrue/calc/stick"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// ByFace is the hold-down plan in which the face under the part holds it.
const ByFace = "V"

// Face is what vacuum or tape holds. A vacuum counts with what its gate lets through, tape with its test on scrap at
// the warmest that the film becomes. With nothing tested nothing holds.
func Face(p *fold.Plan) desk.OneHold {
	return fold.Once(p, faceOf{}, func() desk.OneHold { return face(p) })
}

type faceOf struct{}

func face(p *fold.Plan) desk.OneHold {
	f := p.Setup.Hold
	cut, why := desk.Heaviest(p)
	if why != "" {
		return desk.NotHeld("%s", why)
	}
	face := calc.Face{Long: f.Area[0], Short: f.Area[1]}
	whole := calc.Face{Long: p.Job.Part.Size[0], Short: p.Job.Part.Size[1]}
	h := desk.OneHold{UpName: "held up", Advice: "A shallower cut, a larger face, or screws."}
	const gone = "One pump or one film holds it: when that goes nothing is left. Stand out of its way."
	if vacuum(p) {
		mu, words := desk.Friction(p)
		v, err := calc.Vacuum{Sealed: face, Part: whole, Gauge: calc.GateMPa, Mu: mu.Low}.Against(cut, unit.Length(desk.CutHeight(p)))
		if err != nil {
			return desk.NotHeld("%v", err)
		}
		h.Ceiling, h.Slip, h.Up, h.Ask = v.Ceiling, v.Slip, v.Peel, [2]float64{calc.SlipSF, calc.PeelSF}
		h.More = []fold.Row{{Label: "pressed on its seat", Text: desk.Newtons(p, v.Press)}}
		h.Rests = []string{"Friction under the part: " + words, gone}
		return h
	}
	t := f.Tested
	if f.Hot == nil || t.At == nil {
		return desk.NotHeld("the job has no test of the tape on scrap; give hold.tested and hold.hot")
	}
	n, err := calc.Test{Kind: "tape", Load: t.Load, Area: t.Area[0] * t.Area[1], Minutes: t.Minutes, At: *t.At, Source: t.Source}.Capacity(
		face, whole, *f.Hot)
	if err != nil {
		return desk.NotHeld("%v", err)
	}
	held, err := n.Against(cut)
	if err != nil {
		return desk.NotHeld("%v", err)
	}
	h.Ceiling, h.Slip, h.Up, h.Ask = held.Ceiling, held.Slip, held.Up, [2]float64{calc.SideSF, calc.EdgeSF}
	h.More = []fold.Row{{Label: "tape bears sideways, before its factor", Text: desk.Newtons(p, n.Side)}}
	h.Rests = []string{fmt.Sprintf("Tape by its test on scrap: %s.", t.Source), gone}
	return h
}
