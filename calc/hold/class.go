package hold

import "fliptrue/calc/unit"

// Class is the strength class of a screw. Use is the share of Stress that a working
// screw may carry.
type Class struct {
	Name   string
	Stress unit.Stress // proof stress, or 0.2 % yield where the standard gives no proof load
	Use    float64
	Source string
	Flag   Flag
	proof  map[string]unit.Force // printed proof loads
}

var classes = []Class{
	{Name: "A2-70", Stress: 450, Use: 0.70, Source: "ISO 3506-1 yield, share in shop use", Flag: Memory},
	{Name: "8.8", Stress: 580, Use: 0.75, Source: "ISO 898-1 proof loads, M3 and larger", Flag: Verified,
		proof: map[string]unit.Force{"M3": 2920, "M4": 5100, "M5": 8230, "M6": 11600, "M8": 21200}},
	{Name: "10.9", Stress: 830, Use: 0.75, Source: "ISO 898-1 proof loads, M3 and larger", Flag: Verified,
		proof: map[string]unit.Force{"M3": 4180, "M4": 7290, "M5": 11800, "M6": 16700, "M8": 30400}},
	{Name: "12.9", Stress: 970, Use: 0.75, Source: "ISO 898-1 proof loads, M3 and larger", Flag: Verified,
		proof: map[string]unit.Force{"M3": 4880, "M4": 8520, "M5": 13800, "M6": 19500, "M8": 35500}},
	{Name: "A574", Stress: 965, Use: 0.75, Source: "ASTM A574 proof stress 140 ksi up to 1/2 in", Flag: Memory},
}

// ClassNamed finds a class; the error lists the known ones, nearest first.
func ClassNamed(name string) (Class, error) {
	known := make([]string, len(classes))
	for i, c := range classes {
		if c.Name == name {
			return c, nil
		}
		known[i] = c.Name
	}
	return Class{}, unknown("screw class", name, known, "write the class stamped on the head")
}

// Proof is the proof load and whether it is the printed one. ISO 898-1 starts at M3: below
// it, and for classes without a table, the load is stress times stress area.
func (c Class) Proof(t Thread) (load unit.Force, printed bool) {
	if f, ok := c.proof[t.Name]; ok {
		return f, true
	}
	return unit.Force(float64(c.Stress) * t.StressArea()), false
}

// Load is the largest load a working screw may carry: Use times Proof.
func (c Class) Load(t Thread) unit.Force {
	f, _ := c.Proof(t)
	return unit.Force(c.Use * float64(f))
}
