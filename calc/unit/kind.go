package unit

import "math"

// Kinds lists every Kind in declaration order.
func Kinds() []Kind {
	ks := make([]Kind, len(kinds))
	for i := range ks {
		ks[i] = Kind(i)
	}
	return ks
}

// String names the quantity with its article, as an error says it: "a torque".
func (k Kind) String() string { return k.row().name }

// String is the word a job file uses for the system: mm or in.
func (s System) String() string {
	if s == Imperial {
		return "in"
	}
	return "mm"
}

// Limit returns the largest magnitude Parse takes for k, in the internal unit,
// and the same in words. Beyond it an entry is a slip, not a reading.
func Limit(k Kind, sys System) (float64, string) {
	return k.row().limit, k.row().limitText[sys.index()]
}

// UnitName is the unit in which Format prints k: "mm", "in", "mN·m", "mm per 100 mm".
// It is empty for a plain number and a count.
func UnitName(k Kind, sys System) string { return k.shown(sys).name }

// EntryUnit is the unit in which Parse reads a bare number of k. It is the unit
// of UnitName with two exceptions: a bare torque in the metric system is in N·m
// (printed in mN·m), and a bare slope is a plain ratio (the name is then empty).
// A field must show it.
func EntryUnit(k Kind, sys System) string { return k.entry(sys).name }

// Step is the step Format assumes for k when given 0, in the internal unit:
// 0.001 mm, 0.0001 in, 0.0001 deg, 1 mN·m, 0.1 in-oz and so on.
func Step(k Kind, sys System) float64 {
	return k.row().step[sys.index()] * k.shown(sys).factor()
}

// kindRow is what reader and printer know of one quantity. Pairs are metric, imperial.
type kindRow struct {
	name      string
	shown     [2]string  // unit printed
	entry     [2]string  // unit of a bare number
	step      [2]float64 // default step, in the unit printed
	limit     float64    // largest magnitude, internal unit
	limitText [2]string
	// bareMax is the largest bare number (as typed) taken without a unit; 0 means no such limit.
	// Metric torque only: screens print mN·m, so a bare 58 is more likely 58 mN·m than 58 N·m.
	bareMax [2]float64
}

var kinds = [...]kindRow{
	Scalar: {name: "a plain number", step: [2]float64{0.001, 0.001}, limit: 1e9, limitText: [2]string{"1000000000", "1000000000"}},
	Count:  {name: "a count", step: [2]float64{1, 1}, limit: 1e6, limitText: [2]string{"1000000", "1000000"}},
	KLength: {name: "a length", shown: [2]string{"mm", "in"}, entry: [2]string{"mm", "in"}, step: [2]float64{0.001, 0.0001}, limit: 10000,
		limitText: [2]string{"10 m", "393 in"}},
	KAngle: {name: "an angle", shown: [2]string{"deg", "deg"}, entry: [2]string{"deg", "deg"}, step: [2]float64{0.0001, 0.0001},
		limit: 2 * math.Pi, limitText: [2]string{"360 deg", "360 deg"}},
	KSlope: {name: "a slope", shown: [2]string{"mm per 100 mm", "thou per in"}, step: [2]float64{0.001, 0.01}, limit: 0.1,
		limitText: [2]string{"10 mm per 100 mm", "100 thou per in"}},
	KForce: {name: "a force", shown: [2]string{"N", "lbf"}, entry: [2]string{"N", "lbf"}, step: [2]float64{0.1, 0.1}, limit: 200e3,
		limitText: [2]string{"200 kN", "44961 lbf"}},
	KTorque: {name: "a torque", shown: [2]string{"mN·m", "in-oz"}, entry: [2]string{"N·m", "in-oz"}, step: [2]float64{1, 0.1},
		limit: 500e3, limitText: [2]string{"500 N·m", "70806 in-oz"}, bareMax: [2]float64{20, 0}},
	KStress: {name: "a stress", shown: [2]string{"MPa", "psi"}, entry: [2]string{"MPa", "psi"}, step: [2]float64{0.1, 1}, limit: 1e6,
		limitText: [2]string{"1000 GPa", "145037 ksi"}},
	KTemperature: {name: "a temperature", shown: [2]string{"°C", "°F"}, entry: [2]string{"°C", "°C"}, step: [2]float64{0.1, 0.1}, limit: 50, limitText: [2]string{"50 °C", "122 °F"}},
	KDuration: {name: "a duration", shown: [2]string{"min", "min"}, entry: [2]string{"min", "min"}, step: [2]float64{1, 1}, limit: 1e5,
		limitText: [2]string{"100000 min", "100000 min"}},
	KWarmth: {name: "a temperature", shown: [2]string{"°C", "°F"}, entry: [2]string{"°C", "°F"}, step: [2]float64{0.1, 0.1}, limit: 200, limitText: [2]string{"200 °C", "360 °F"}},
	KVacuum: {name: "a vacuum", shown: [2]string{"kPa", "inHg"}, entry: [2]string{"kPa", "inHg"}, step: [2]float64{0.1, 0.1}, limit: 0.11, limitText: [2]string{"110 kPa", "32 inHg"}},
}

func (k Kind) row() *kindRow {
	if k < 0 || int(k) >= len(kinds) {
		panic("unit: no such kind")
	}
	return &kinds[k]
}

func (s System) index() int {
	if s == Imperial {
		return 1
	}
	return 0
}

// named is a unit of the kind; a count has that of plain numbers.
func (k Kind) named(name string) *measure {
	if name == "" {
		k = Scalar
	}
	return table().byName[named{k, name}]
}

func (k Kind) shown(sys System) *measure { return k.named(k.row().shown[sys.index()]) }
func (k Kind) entry(sys System) *measure { return k.named(k.row().entry[sys.index()]) }
