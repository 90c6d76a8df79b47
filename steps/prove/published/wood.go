package published

import "fliptrue/calc/growth"

// wood is its moisture by the air.
func wood() (rows []Row) {
	const emc = "USDA Wood Handbook, equilibrium moisture of wood, equation 4-5 and table 4-2, %"
	at := func(f, rh float64) float64 { return must(growth.EMC(growth.Air{C: (f - 32) / 1.8, RH: rh})) }
	return append(rows, Row{emc, "140 F, 55 % of humidity", copied, "8.4", at(140, 55), "", 0},
		Row{emc, "70 F, 30 %", memory, "6.2", at(70, 30), "", 0},
		Row{emc, "70 F, 50 %", memory, "9.2", at(70, 50), "the table is printed from unrounded constants", 0.06},
		Row{emc, "70 F, 65 %", memory, "12.0", at(70, 65), "", 0})
}
