package published

import (
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// screws are holes, heads and torques.
func screws() (rows []Row) {
	const iso273 = "ISO 273, clearance holes, mm"
	const iso4762 = "ISO 4762, socket heads, mm"
	for _, s := range [][7]string{{"M1.6", "1.7", "1.8", "2.0", "3.00", "1.60", "2.72"}, {"M2", "2.2", "2.4", "2.6", "3.80", "2.00", "3.48"},
		{"M2.5", "2.7", "2.9", "3.1", "4.50", "2.50", "4.18"},
		{"M3", "3.2", "3.4", "3.6", "5.50", "3.00", "5.07"}, {"M4", "4.3", "4.5", "4.8", "7.00", "4.00", "6.53"}, {"M5", "5.3", "5.5", "5.8", "8.50", "5.00", "8.03"},
		{"M6", "6.4", "6.6", "7.0", "10.00", "6.00", "9.38"}, {"M8", "8.4", "9.0", "10.0", "13.00", "8.00", "12.33"}} {
		h := must(hold.HolesOf(threadOf(s[0])))
		rows = append(rows, Row{iso273, s[0] + ", fine", copied, s[1], float64(h.Fine), "", 0}, Row{iso273, s[0] + ", medium", copied, s[2],
			float64(h.Medium), "", 0},
			Row{iso273, s[0] + ", coarse", copied, s[3], float64(h.Coarse), "", 0})
	}
	for _, s := range [][4]string{{"M1.6", "3.00", "1.60", "2.72"}, {"M2", "3.80", "2.00", "3.48"}, {"M2.5", "4.50", "2.50", "4.18"},
		{"M3", "5.50", "3.00", "5.07"},
		{"M4", "7.00", "4.00", "6.53"}, {"M5", "8.50", "5.00", "8.03"}, {"M6", "10.00", "6.00", "9.38"}, {"M8", "13.00", "8.00", "12.33"}} {
		h := must(hold.HeadOf(threadOf(s[0])))
		rows = append(rows, Row{iso4762, s[0] + ", largest head", copied, s[1], float64(h.DMax), "", 0},
			Row{iso4762, s[0] + ", highest head", copied, s[2], float64(h.KMax), "", 0},
			Row{iso4762, s[0] + ", least bearing face", copied, s[3], float64(h.Bearing), "", 0})
	}
	const drills = "Drill points: two published worked values"
	const at118 = unit.Angle(118 * math.Pi / 180)
	rows = append(rows, Row{drills, "7/8 in at 118 degrees, in", copied, "0.2629", float64(hold.PointLength(7*25.4/8, at118)) / 25.4, "", 0},
		Row{drills, "number 37 at 118 degrees, in", copied, "0.031", float64(hold.PointLength(0.104*25.4, at118)) / 25.4, "", 0})
	const kienzle = "Kienzle, kc = kc1.1 h^-mc with kc1.1 and mc of a tool maker's table by VDI 3323, computed a second time, N/mm2"
	for _, k := range []struct {
		h       unit.Length
		printed string
	}{{0.02, "1861.4"}, {0.05, "1480.3"}, {0.1, "1244.8"}, {0.2, "1046.7"}, {0.5, "832.4"}} {
		rows = append(rows, Row{kienzle, "wrought aluminium 700, 0.25 at " + unit.Show(float64(k.h), unit.KLength, unit.Metric, 0), copied,
			k.printed, float64(hold.Kienzle(700, 0.25, k.h)), "", 0})
	}
	return rows
}
