package published

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/chart"
)

// students are printed two-sided t: dof, 95 %, 95.45 %, 99 %.
var students = [][4]string{{"1", "12.71", "13.97", "63.66"}, {"2", "4.30", "4.53", "9.92"}, {"3", "3.18", "3.31", "5.84"},
	{"4", "2.78", "2.87", "4.60"},
	{"5", "2.57", "2.65", "4.03"}, {"6", "2.45", "2.52", "3.71"}, {"7", "2.36", "2.43", "3.50"}, {"8", "2.31", "2.37", "3.36"}, {"9", "2.26", "2.32", "3.25"},
	{"10", "2.23", "2.28", "3.17"}, {"12", "2.18", "2.23", "3.05"}, {"15", "2.13", "2.18", "2.95"}, {"16", "2.12", "2.17", "2.92"}, {"20", "2.09", "2.13", "2.85"},
	{"25", "2.06", "2.11", "2.79"}, {"30", "2.04", "2.09", "2.75"}, {"50", "2.01", "2.05", "2.68"}, {"100", "1.984", "2.025", "2.626"}}

// statistics are quantiles, combined uncertainty and tolerance factors.
func statistics() (rows []Row) {
	add := func(source, what, flag, printed string, ours float64) {
		rows = append(rows, Row{source, what, flag, printed, ours, "", 0})
	}
	const tn = "NIST Technical Note 1297 (1994), table B.1; JCGM 100:2008, table G.2: two-sided t"
	for _, s := range students {
		var dof float64
		fmt.Sscan(s[0], &dof)
		for i, p := range []float64{0.95, 0.9545, 0.99} {
			add(tn, fmt.Sprintf("%s degrees of freedom, %.4g %%", s[0], 100*p), copied, s[i+1], budget.TQuantile(0.5+p/2, dof))
		}
	}
	for _, q := range [][2]string{{"0.95", "1.960"}, {"0.9545", "2.000"}, {"0.99", "2.576"}} {
		var p float64
		fmt.Sscan(q[0], &p)
		add(tn, "no limit to them, "+fmt.Sprintf("%.4g %%", 100*p), copied, q[1], budget.TQuantile(0.5+p/2, math.Inf(1)))
	}
	r := budget.Combine([]budget.Line{budget.N("x1", 0.25, 9), budget.N("x2", 0.57, 4), budget.N("x3", 0.82, 14)})
	const g41 = "JCGM 100:2008, G.4.1: three uncertainties of a product"
	add(g41, "combined, %", memory, "1.03", r.Std)
	add(g41, "effective degrees of freedom", memory, "19.0", r.Dof)
	add(g41, "expanded, 95 %", memory, "2.2", r.U)
	e := budget.Combine([]budget.Line{budget.N("standard", 25, 18), budget.N("comparison", 9.7, 25.6), budget.N("expansion", 2.9, 50),
		budget.N("temperature", 16.6, 2)})
	const h1 = "JCGM 100:2008, example H.1 (end gauge)"
	rows = append(rows, Row{h1, "combined, nm", memory, "32", e.Std, "", 0},
		Row{h1, "effective degrees of freedom", memory, "16", e.Dof, "cut off, not rounded, as G.4.1 asks", 1},
		Row{h1, "expanded, 99 %, nm", memory, "93", budget.TQuantile(0.995, math.Floor(e.Dof)) * e.Std, "", 0})
	const krish = "Tolerance factors k for a normal lot, one side, 90 % of it with 95 % confidence (non-central t)"
	for n, k := range map[int]string{3: "6.155", 5: "3.407", 10: "2.355"} {
		add(krish, fmt.Sprintf("%02d readings", n), memory, k, must(chart.ToleranceFactor(n, 0.90, 0.95)))
	}
	return sorted(rows)
}
