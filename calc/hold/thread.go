package hold

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

// Thread is a coarse screw thread: basic dimensions and the limits that decide how much
// material is sheared. 6g/6H for metric, 2A/2B for unified. All in mm.
type Thread struct {
	Name                      string
	D, P                      unit.Length // basic major diameter, pitch
	D2, D1, D3                unit.Length // basic pitch diameter, minor of the nut, minor of the screw (root)
	DMin, D2Min, D1Max, D2Max unit.Length // screw: least major, least pitch; nut: largest minor, largest pitch
	Unified                   bool
	Basic, Limits             Flag
	Source                    string
}

const metricSource = "ISO 724 basic dimensions, ISO 965 limits 6g/6H"
const unifiedSource = "basic dimensions and 2A/2B limits computed by the formulas of ASME B1.1, formulas from memory"

// threads holds the metric rows as printed (to 0.001) and the computed unified rows.
// ISO 724 diameters and the 6g columns: verified copies; largest minor diameter 6H and
// the whole row of M1.6: from memory.
var threads = append([]Thread{
	metric("M1.6", 1.6, 0.35, 1.373, 1.221, 1.171, 1.496, 1.291, 1.321, 1.458),
	metric("M2", 2, 0.40, 1.740, 1.567, 1.509, 1.886, 1.654, 1.679, 1.830),
	metric("M2.5", 2.5, 0.45, 2.208, 2.013, 1.948, 2.380, 2.117, 2.138, 2.303),
	metric("M3", 3, 0.50, 2.675, 2.459, 2.387, 2.874, 2.580, 2.599, 2.775),
	metric("M4", 4, 0.70, 3.545, 3.242, 3.141, 3.838, 3.433, 3.422, 3.663),
	metric("M5", 5, 0.80, 4.480, 4.134, 4.019, 4.826, 4.361, 4.334, 4.605),
	metric("M6", 6, 1.00, 5.350, 4.917, 4.773, 5.794, 5.212, 5.153, 5.500),
	metric("M8", 8, 1.25, 7.188, 6.647, 6.466, 7.760, 7.042, 6.912, 7.348),
}, unified("2-56", 0.086, 56), unified("4-40", 0.112, 40), unified("6-32", 0.138, 32),
	unified("8-32", 0.164, 32), unified("10-24", 0.190, 24), unified("1/4-20", 0.250, 20))

func metric(name string, d, p, d2, d1, d3, dMin, d2Min, d1Max, d2Max unit.Length) Thread {
	return Thread{Name: name, D: d, P: p, D2: d2, D1: d1, D3: d3, DMin: dMin, D2Min: d2Min, D1Max: d1Max, D2Max: d2Max,
		Basic: Verified, Limits: Memory, Source: metricSource}
}

// unified computes a UNC row from the diameter in inches and the threads per inch:
//
//	Td2(2A) = 0.0015 D^(1/3) + 0.0015 sqrt(Le) + 0.015 P^(2/3), Le = D;  allowance 0.3 Td2
//	Td(2A)  = 0.06 P^(2/3);  TD2(2B) = 1.3 Td2
//	TD1(2B) = 0.05 P^(2/3) + 0.03 P/D - 0.002 within 0.25P-0.4P² and 0.394P, below 1/4 in; 0.25P-0.4P² from 1/4 in
//
// Source: ASME B1.1, from memory.
func unified(name string, d, n float64) Thread {
	p := 1 / n
	p23 := math.Pow(p, 2.0/3)
	td2 := 0.0015*math.Cbrt(d) + 0.0015*math.Sqrt(d) + 0.015*p23
	es := 0.3 * td2
	least := 0.25*p - 0.4*p*p
	td1 := least
	if d < 0.25 {
		td1 = math.Min(math.Max(0.05*p23+0.03*p/d-0.002, least), 0.394*p)
	}
	mm := func(inch float64) unit.Length { return unit.Length(inch) * unit.Inch }
	d2, d1 := d-0.649519*p, d-1.082532*p
	return Thread{Name: name, D: mm(d), P: mm(p), D2: mm(d2), D1: mm(d1), D3: mm(d - 1.226869*p),
		DMin: mm(d - es - 0.06*p23), D2Min: mm(d2 - es - td2), D1Max: mm(d1 + td1), D2Max: mm(d2 + 1.3*td2),
		Unified: true, Basic: Computed, Limits: Memory, Source: unifiedSource}
}

// ThreadNamed finds a thread: M2, m2, M2x0.4, 2-56, #2-56. The error lists the known
// names, nearest first.
func ThreadNamed(name string) (Thread, error) {
	key := strings.ToUpper(strings.TrimPrefix(strings.TrimSpace(name), "#"))
	for _, t := range threads {
		if key == strings.ToUpper(t.Name) || (!t.Unified && key == strings.ToUpper(t.Name+"x"+strconv.FormatFloat(float64(t.P), 'f', -1, 64))) {
			return t, nil
		}
	}
	known := make([]string, len(threads))
	for i, t := range threads {
		known[i] = t.Name
	}
	return Thread{}, unknown("thread", name, known, "write a coarse thread of the list")
}

// Next is the next larger thread of the same family; false for the largest.
func Next(t Thread) (next Thread, ok bool) {
	for _, n := range threads {
		if n.Unified == t.Unified && n.D > t.D && (!ok || n.D < next.D) {
			next, ok = n, true
		}
	}
	return next, ok
}

// StressArea is the tensile stress area in mm²: pi/4 ((d2+d3)/2)² for metric (ISO 898-1),
// pi/4 (d - 0.9743 P)² for unified (ASME B1.1, from memory).
func (t Thread) StressArea() float64 {
	d := float64(t.D2+t.D3) / 2
	if t.Unified {
		d = float64(t.D) - 0.9743*float64(t.P)
	}
	return math.Pi / 4 * d * d
}

// NutShear is the area in mm² sheared when a tapped hole strips, per mm of engagement:
//
//	pi/P dmin (P/2 + (dmin - D2max)/sqrt(3))
//
// Source: FED-STD-H28/2B, from memory; reproduces the areas printed by Bickford.
func (t Thread) NutShear() float64 {
	p, d := float64(t.P), float64(t.DMin)
	return math.Pi / p * d * (p/2 + 0.57735*(d-float64(t.D2Max)))
}

// ScrewShear is the area in mm² sheared when the screw's own thread strips, per mm of
// engagement: pi/P D1max (P/2 + (d2min - D1max)/sqrt(3)). Source as NutShear.
func (t Thread) ScrewShear() float64 {
	p, d := float64(t.P), float64(t.D1Max)
	return math.Pi / p * d * (p/2 + 0.57735*(float64(t.D2Min)-d))
}
