package published

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
)

// shop are cosines of a lever dial and the sweep of a spindle.
func shop() (rows []Row) {
	const lever = "Lever indicators, two published correction tables: factor by the angle of the lever"
	for i, p := range []string{"0.98", "0.94", "0.87", "0.77", "0.64", "0.50"} {
		deg := float64(10 * (i + 1))
		ours := fit.NeedleScale(fit.YPlus, true, deg*math.Pi/180, 0).V
		rows = append(rows, Row{lever, fmt.Sprintf("%.0f degrees", deg), copied, p, ours, "", 0})
	}
	const tram = "Spindle swept over a diameter of 200 mm, 0.02 between opposite sides, computed a second time"
	s := must(fit.ToSweep([]float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}, []float64{0.01, 0, -0.01, 0}, 100))
	tilt, _ := s.Total()
	return append(rows, Row{tram, "tilt, degrees", copied, "0.005730", math.Atan(tilt) * 180 / math.Pi, "", 0},
		Row{tram, "dish of a cutter of 50 at full width, mm", copied, "0.0025", fit.Dish(tilt, 25, 50), "", 0},
		Row{tram, "dish of it 40 wide, mm", copied, "0.0010", fit.Dish(tilt, 25, 40), "", 0},
		Row{tram, "step at a stepover of 40, mm", copied, "0.0040", fit.StepOver(tilt, 40), "", 0})
}
