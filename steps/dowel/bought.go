package dowel

import (
	"fmt"

	calc "fliptrue/calc/dowel"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// fits are what a reamed hole is bought with.
var fits = [][2]string{{"H7", "h6"}, {"H7", "g6"}}

// bought says, beside what is measured, what reamer and pin of the shelf leave by ISO 286, and how wide holes have to be that go over
// round pins unmeasured: the fixed-fastener rule of Y14.5 with the play as the position tolerance of either part.
func bought(p *fold.Plan) (rows []fold.Row) {
	d, _ := drawn(p)
	size := d[0]
	for _, f := range fits {
		least, most, err := calc.FitPlay(size, f[0], f[1])
		if err != nil {
			return nil
		}
		rows = append(rows, fold.Row{Label: fmt.Sprintf("play of %s/%s by ISO 286", f[0], f[1]), Text: p.Len(least) + " to " + p.Len(most)})
	}
	if h, err := calc.FixedFastener(size, play(p), play(p)); err == nil {
		rows = append(rows, fold.Row{Label: "two round pins go on unmeasured from holes of", Value: h, Unit: unit.KLength})
	}
	return rows
}
