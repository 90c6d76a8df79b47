package published

import (
	"cmp"
	"fmt"
	"slices"

	"fliptrue/calc/chart"
)

// sorted puts rows of one source in the order of their words.
func sorted(rows []Row) []Row {
	slices.SortStableFunc(rows, func(a, b Row) int {
		if a.Source == b.Source && a.Source[:4] == "Tole" {
			return cmp.Compare(a.What, b.What)
		}
		return 0
	})
	return rows
}

// charts are the control charts of a fixture's history.
func charts() (rows []Row) {
	c := must(chart.ToIndividuals([]float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}))
	const xmr = "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: individuals chart of ten flow rates"
	rows = append(rows, Row{xmr, "mean", copied, "50.81", c.Mean, "", 0}, Row{xmr, "mean moving range", copied, "1.8778", c.Range, "", 0},
		Row{xmr, "upper limit", copied, "55.8041", c.Upper, "", 0}, Row{xmr, "lower limit", copied, "45.8159", c.Lower, "", 0})
	e := must(chart.ToCreep([]float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6,
		52.4, 53.6, 52.1}, 50, 2.0539))
	const ewma = "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4: weighted average of 20 points, target 50"
	for i, p := range []string{"50.60", "49.52", "50.56", "50.18", "50.16", "49.21", "49.75", "49.85", "50.26", "50.33", "50.11", "49.36",
		"49.52", "50.05",
		"49.38", "49.92", "50.73", "51.23", "51.94", "51.99"} {
		rows = append(rows, Row{ewma, fmt.Sprintf("average after point %d", i+1), copied, p, e.Values[i], "", 0})
	}
	return append(rows, Row{ewma, "upper limit", copied, "52.5884", 50 + e.Limit, "", 0},
		Row{ewma, "lower limit", copied, "47.4115", 50 - e.Limit, "printed cut off, not rounded", 1e-4})
}
