package published

import (
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// coefficients are alpha and beta of a plate by its sides, of what it does under a small load.
func coefficients(ratio float64, clamped bool) (alpha, beta float64) {
	const e, q, t = 1e5, 1e-6, 1
	p := must(hold.Plate{Long: unit.Length(10 * ratio), Short: 10, Thick: t, E: e, Clamped: clamped}.Pressed(q))
	return float64(p.Bow) * e / (q * 1e4), float64(p.Stress) / (q * 1e2)
}

// plates are Roark's plates, and beams.
func plates() (rows []Row) {
	const resting = "Young, Budynas, Roark's Formulas for Stress and Strain, 7th ed., table 11.4 case 1a: plate on resting edges"
	for _, r := range []struct {
		ratio       float64
		beta, alpha string
	}{{1.0, "0.2874", "0.0444"}, {1.2, "0.3762", "0.0616"}, {1.4, "0.4530", "0.0770"}, {1.6, "0.5172", "0.0906"}, {1.8, "0.5688", "0.1017"},
		{2.0, "0.6102", "0.1110"},
		{3.0, "0.7134", "0.1335"}, {4.0, "0.7410", "0.1400"}, {5.0, "0.7476", "0.1417"}} {
		alpha, beta := coefficients(r.ratio, false)
		sides := "sides 1 : " + unit.Format(r.ratio, unit.Scalar, unit.Metric, 0.1)
		for _, x := range []Row{{resting, sides + ", beta", copied, r.beta, beta, "", 0}, {resting, sides + ", alpha", copied, r.alpha,
			alpha, "", 0}} {
			if !x.Agrees() {
				x.Off, x.Within = "ours is the exact series; the table is off it by up to 0.5 %", 0.006*x.Value()
			}
			rows = append(rows, x)
		}
	}
	const clamped = "the same, case 8a: plate on clamped edges"
	for _, r := range []struct {
		ratio       float64
		beta, alpha string
	}{{1.0, "0.3078", "0.0138"}, {1.2, "0.3834", "0.0188"}, {1.4, "0.4356", "0.0226"}, {1.6, "0.4680", "0.0251"}, {1.8, "0.4872", "0.0267"},
		{2.0, "0.4974", "0.0277"}} {
		alpha, beta := coefficients(r.ratio, true)
		sides := "sides 1 : " + unit.Format(r.ratio, unit.Scalar, unit.Metric, 0.1)
		rows = append(rows, Row{clamped, sides + ", beta at the edge", memory, r.beta, beta, "", 0},
			Row{clamped, sides + ", alpha", memory, r.alpha, alpha, "", 0})
	}
	b := hold.Beam{Length: 200, Width: 20, Thick: 10, E: 68900}
	const beams = "Standard beam tables, 6061 bar 20 x 10, 200 long, 100 N, computed a second time, mm"
	return append(rows, Row{beams, "resting ends, load in the middle", copied, "0.145138", float64(b.Centre(hold.Simple, 100)), "", 0},
		Row{beams, "one end fixed, load at the other", copied, "2.322206", float64(b.Centre(hold.Cantilever, 100)), "", 0},
		Row{beams, "both ends fixed, load in the middle", copied, "0.036284", float64(b.Centre(hold.Fixed, 100)), "", 0})
}
