package machine

import (
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
)

// stations are where the table is swept: 4, or as many as the setup says; 7 is the default of an edge run.
func stations(p *fold.Plan) int {
	if n := p.Setup.Stations; n >= 3 && n != 7 {
		return n
	}
	return checks.FourPlaces
}

// tramSetup is the same sweep as on a side, always read.
func tramSetup(p *fold.Plan) *fold.Spec {
	s := checks.Tram(p)
	n := stations(p)
	s.Makes = []fold.FactID{"tram", "tram/swept"}
	s.Recheck = nil
	s.Asks = func(v fold.View) []fold.Ask { return checks.SweepAsks(p, v, n) }
	s.Judge = func(v fold.View) fold.Outcome {
		o := checks.JudgeSweep(p, v, n)
		if len(o.Facts) > 0 {
			o.Facts = append(o.Facts, fold.Known{ID: "tram/swept"})
		}
		return o
	}
	s.Page = func(v fold.View) fold.Page { return checks.TramPage(p, v, n) }
	return s
}
