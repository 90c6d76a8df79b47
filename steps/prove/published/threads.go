package published

import "fliptrue/calc/hold"

func threadOf(name string) hold.Thread { return must(hold.ThreadNamed(name)) }

// threads are dimensions, areas and loads of metric threads.
func threads() (rows []Row) {
	const iso724 = "ISO 724, coarse threads, mm"
	for _, t := range [][4]string{{"M1.6", "1.373", "1.221", "1.171"}, {"M2", "1.740", "1.567", "1.509"}, {"M2.5", "2.208", "2.013", "1.948"},
		{"M3", "2.675", "2.459", "2.387"},
		{"M4", "3.545", "3.242", "3.141"}, {"M5", "4.480", "4.134", "4.019"}, {"M6", "5.350", "4.917", "4.773"}, {"M8", "7.188", "6.647", "6.466"}} {
		th := threadOf(t[0])
		rows = append(rows, Row{iso724, t[0] + ", pitch diameter", copied, t[1], float64(th.D2), "", 0},
			Row{iso724, t[0] + ", minor diameter of the nut", copied, t[2], float64(th.D1), "", 0},
			Row{iso724, t[0] + ", minor diameter of the screw", copied, t[3], float64(th.D3), "", 0})
	}
	const iso898 = "ISO 898-1, stress areas, mm2"
	for _, a := range [][3]string{{"M1.6", "1.27", memory}, {"M2", "2.07", memory}, {"M2.5", "3.39", memory}, {"M3", "5.03", copied},
		{"M4", "8.78", copied},
		{"M5", "14.2", copied}, {"M6", "20.1", copied}, {"M8", "36.6", copied}} {
		rows = append(rows, Row{iso898, a[0], a[2], a[1], threadOf(a[0]).StressArea(), "", 0})
	}
	const loads = "ISO 898-1, proof loads of coarse threads, N: stress times area"
	for _, l := range []struct {
		class, thread, printed string
		stress                 float64
	}{{"8.8", "M3", "2920", 580}, {"8.8", "M4", "5100", 580}, {"8.8", "M5", "8230", 580}, {"8.8", "M6", "11600", 580},
		{"8.8", "M8", "21200", 580},
		{"10.9", "M3", "4180", 830}, {"10.9", "M6", "16700", 830}, {"12.9", "M3", "4880", 970}, {"12.9", "M6", "19500", 970}, {"12.9", "M8", "35500", 970}} {
		r := Row{loads, l.class + " " + l.thread, copied, l.printed, l.stress * threadOf(l.thread).StressArea(),
			"the standard rounds to three figures, unevenly", 0}
		r.Within = 0.01 * r.Value()
		rows = append(rows, r)
	}
	const bickford = "Bickford, Introduction to the Design and Behavior of Bolted Joints, 4th ed., metric areas, one diameter engaged, mm2"
	for _, b := range [][3]string{{"M5", "35.366", "49.994"}, {"M6", "51.875", "73.145"}, {"M8", "97.290", "134.63"}} {
		th := threadOf(b[0])
		rows = append(rows, Row{bickford, b[0] + ", the screw's thread strips", copied, b[1], th.ScrewShear() * float64(th.D), "", 0},
			Row{bickford, b[0] + ", the hole's thread strips", copied, b[2], th.NutShear() * float64(th.D), "", 0})
	}
	const b11 = "ASME B1.1, stress areas, in2"
	for _, a := range [][2]string{{"2-56", "0.00370"}, {"4-40", "0.00604"}, {"6-32", "0.00909"}, {"8-32", "0.0140"}, {"10-24", "0.0175"},
		{"1/4-20", "0.0318"}} {
		r := Row{b11, a[0], memory, a[1], threadOf(a[0]).StressArea() / 25.4 / 25.4, "", 0}
		if !r.Agrees() {
			r.Off, r.Within = "ours is from diameters rounded to 0.001 mm", 0.002*r.Value()
		}
		rows = append(rows, r)
	}
	return rows
}
