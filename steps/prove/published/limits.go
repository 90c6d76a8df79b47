package published

import (
	"fmt"

	"fliptrue/calc/dowel"
	"fliptrue/calc/jaws"
)

// limits are fits of pins and holes, and a ring between jaws.
func limits() (rows []Row) {
	const iso286 = "ISO 286-2:2010, limits, micrometres"
	for _, s := range []struct {
		size                   float64
		h7, g6lo, g6hi, h6, m6 string
		m6lo                   string
	}{{2, "10", "-8", "-2", "-6", "8", "2"}, {4, "12", "-12", "-4", "-8", "12", "4"}, {8, "15", "-14", "-5", "-9", "15", "6"},
		{12, "18", "-17", "-6", "-11", "18", "7"}, {25, "21", "-20", "-7", "-13", "21", "8"}} {
		of := func(class string) (lo, hi float64) {
			lo, hi, err := dowel.Limits(s.size, class)
			if err != nil {
				panic(err)
			}
			return 1000 * (lo - s.size), 1000 * (hi - s.size)
		}
		_, h7 := of("H7")
		glo, ghi := of("g6")
		hlo, _ := of("h6")
		mlo, mhi := of("m6")
		for _, x := range []struct {
			what, printed string
			ours          float64
		}{{"H7, upper", s.h7, h7}, {"g6, lower", s.g6lo, glo}, {"g6, upper", s.g6hi, ghi}, {"h6, lower", s.h6, hlo}, {"m6, lower", s.m6lo, mlo},
			{"m6, upper", s.m6, mhi}} {
			rows = append(rows, Row{iso286, fmt.Sprintf("%g mm, %s", s.size, x.what), copied, x.printed, x.ours, "", 0})
		}
	}
	const roark = "Roark, table 9.2 case 1: ring under two opposite forces, exact pi/4 - 2/pi and 2/pi - 1/2"
	along, across, err := jaws.Shares(0)
	if err != nil {
		panic(err)
	}
	rows = append(rows, Row{roark, "diameter along the forces", memory, "0.1488", -along, "", 0}, Row{roark, "diameter across them", memory,
		"0.1366", across, "", 0})
	const fastener = "ASME Y14.5, fixed fastener, H = F + 2T"
	return append(rows, Row{fastener, "hole over 4 mm, 0.1 each, mm", memory, "4.2", must(dowel.FixedFastener(4, 0.1, 0.1)), "", 0})
}
