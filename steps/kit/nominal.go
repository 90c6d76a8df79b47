package kit

import (
	"math"
	"slices"

	"fliptrue/calc/growth"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// nominalU are the standard uncertainties with which place and direction can be found at best.
func nominalU(p *fold.Plan) (u, theta, dof float64) {
	_, dof = judge.ProbeS(p)
	u, theta = datumOf(p).nominal()
	if Indicated(p) {
		m, st := &p.Job.Machine, Stations(p)
		l := math.Max(st[len(st)-1]-st[0], 1)
		theta = pickup.RunU(m.Straightness, m.Dial.Graduation, len(st), l)
	}
	return u, theta, dof
}

// NominalSeat is a part that has not grown by its widths measured again, with what a micrometer leaves.
func NominalSeat(p *fold.Plan) fold.Known {
	v := fold.Outside(p, nil)
	var u [2]float64
	asked := WidthAsks(p, v)
	for i, w := range widths {
		if slices.ContainsFunc(asked, func(a fold.Ask) bool { return a.Field == w.field }) {
			then, ut, _ := widthThen(p, v, i)
			u[i] = math.Hypot(ut, growth.MicrometerU) / then
		}
	}
	return facts.Seat.Is(facts.SeatFact{UX: u[0], UY: u[1]})
}

// NominalBaseline is a part touched at its witnesses that lies as its pocket does.
func NominalBaseline(p *fold.Plan) fold.Known {
	s, dof := judge.ProbeS(p)
	n := len(Spots(p))
	return facts.Baseline.Is(facts.BaselineFact{N: float64(n), S: unit.Length(s), Freedom: dof, D: make([]float64, n)})
}
