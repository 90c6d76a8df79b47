package kit

import (
	"math"

	"fliptrue/steps/fold"
)

// jawed is raw stock in a vise: its fixed jaw gives the direction, the stock's own faces the place. All else is as on the card.
type jawed struct {
	Datum
	p *fold.Plan
}

func (d jawed) Name() string {
	if d.p.Setup.Zero == "centre" {
		return "middle"
	}
	return "corner"
}

// AtEnds: a jaw is read at as many stations as the job sets, whatever the fixture of the other side is found by. Earlier walks
// read it as that fixture's card has it.
func (d jawed) AtEnds() bool { return !d.p.Walks(4) && d.Datum.AtEnds() }

// Edge is the face of the fixed jaw, which the moving jaw pushes the stock to.
func (d jawed) Edge() (Edge, bool) {
	e := Edge{Side: "front", From: fold.XY{Y: d.p.Job.Part.Size[1]}, Length: math.Max(math.Round(d.p.Job.Part.Size[0]), 60),
		Wander: sharedAxis} // a jaw at the back faces the person
	if d.p.Setup.Vise.Jaw == "toward" {
		e.Side, e.From.Y = "rear", 0
	}
	return e, true
}
