package hold

import (
	"sort"
)

// A range of mixed origin carries the flag of its weakest number.

// Material is what is known about a fixture or part material. Every number carries its
// own range, source and flag; a number nobody has is the zero Range and says so.
type Material struct {
	Name      string
	Tensile   Range   // MPa
	Shear     Range   // of a thread under lasting load, MPa
	Crush     Range   // pressure borne under a screw head, MPa
	Stiffness Range   // E, MPa
	Expansion Range   // per million and kelvin
	Kc11      Range   // specific cutting force at 1 mm chip, MPa
	Mc        float64 // its exponent, 0 where Kc11 is unknown
	Engage    float64 // least engaged thread in diameters; common practice
	Peck      float64 // drilling peck in diameters; common practice

	Kind    Kind
	Density Range  // kg/m³
	Heat    Axes   // expansion of wood and boards by direction, per million and kelvin; Expansion holds all of it
	Moist   Axes   // growth of wood and boards for 1 % of moisture content, as a fraction
	Humid   Range  // growth of plastics and laminates for 1 % of humidity, as a fraction
	Limit   Range  // softens, melts or scorches, °C
	Hazard  string // the caution that stands before cutting it; "" none known
	Usual   bool   // of the shipped rows that begin alike, the one meant by that beginning alone
}

// Kind is what sort of material it is; which cautions and which growth belong to it.
type Kind int

const (
	OtherKind Kind = iota
	Metal
	Plastic
	Laminate
	Wood
	Stabilised // wood filled with resin
	Board      // plywood, fibre board
)

// Axes is a property along the grain, across it along the rays and along the rings. Of a
// board: along its face, across in the plane, through its thickness.
type Axes struct{ Along, Radial, Tangential Range }

// Known tells whether there are numbers.
func (a Axes) Known() bool { return a.Along.Known() && a.Radial.Known() && a.Tangential.Known() }

// Moves says that it takes up water and grows with it, as wood does.
func (m Material) Moves() bool {
	return (m.Kind == Wood || m.Kind == Stabilised || m.Kind == Board) && m.Moist.Known()
}

// InPlane is the property along the grain and across it, low, nominal and high each, in the
// plane in which a part lies. Across wood the rings may run either way: from the least to the most
// of both, the middle between them. A board lies on its face.
func (m Material) InPlane(a Axes) (along, across [3]float64) {
	along = [3]float64{a.Along.Low, a.Along.Nominal, a.Along.High}
	if m.Kind == Board {
		return along, [3]float64{a.Radial.Low, a.Radial.Nominal, a.Radial.High}
	}
	return along, [3]float64{min(a.Radial.Low, a.Tangential.Low), (a.Radial.Nominal + a.Tangential.Nominal) / 2,
		max(a.Radial.High, a.Tangential.High)}
}

func one(v float64, source string, f Flag) Range          { return Range{v, v, v, source, f} }
func span(lo, n, hi float64, source string, f Flag) Range { return Range{lo, n, hi, source, f} }

const (
	pvho    = "acceptance minimums of the acrylic table of ASME PVHO-1, as reprinted by US government criteria"
	aa6061  = "Aluminum Association typical values, 6061-T6"
	fpl     = "USDA Wood Handbook FPL-GTR-190, table 5-3, 12 % moisture"
	course  = "university mechanics appendix"
	vdi     = "VDI 3323 group, tool maker's catalogue"
	sheets  = "sheet makers' data"
	guess   = "starting estimate; measure your own"
	grooved = "ASTM D732 minimum short-term, taken down for lasting load and the notch of a thread"
)

// materials is the first of the shipped tables, sorted by name; woods, plastics and metals stand beside it.
var materials = []Material{
	{Name: "acrylic-cast", Kind: Plastic, Density: ver(1180, 1190, 1200, sheets), Humid: est(0.000023, 0.00004, 0.00015, sheets+" on humidity"), Limit: ver(71, 85, 105, sheets),
		Hazard: "Overheated chips give off methyl methacrylate: keep cutting cool, and keep alcohol, solvents and thread lockers off stressed " +
			"threads (crazing).",
		Tensile: span(61, 62, 75, pvho+"; data sheets", Verified), Shear: span(17.5, 35, 35, grooved, Estimate),
		Crush: one(103, "compressive yield minimum, "+pvho, Verified), Stiffness: span(2760, 3200, 3200, pvho+"; data sheets", Verified),
		Expansion: span(72, 72, 77, pvho, Verified), Kc11: span(55, 120, 160, guess, Estimate), Mc: 0.20, Engage: 2, Peck: 1},
	{Name: "aluminium-6061-t6", Kind: Metal, Usual: true, Density: ver(2700, 2700, 2710, aa6061), Limit: ver(582, 582, 652, aa6061),
		Hazard:  "Fine aluminium dust can explode: do not share one dry extractor with steel sparks.",
		Tensile: span(290, 310, 310, aa6061, Verified), Shear: span(190, 207, 207, aa6061+"; low end scaled by the minimum tensile strength",
			Memory),
		Crush: span(240, 276, 386, aa6061+": yield minimum from memory, yield, bearing yield", Memory), Stiffness: one(68900, aa6061, Verified),
		Expansion: one(23.6, aa6061, Verified), Kc11: span(700, 800, 800, vdi+", wrought aluminium", Verified), Mc: 0.25, Engage: 1.5, Peck: 1.5},
	{Name: "brass-c260", Kind: Metal, Usual: true, Crush: span(105, 360, 435, "yield, soft annealed, half hard, hard: makers' tables of C26000", Memory), Stiffness: span(103000, 110000, 110000, course, Verified), Expansion: one(20, course, Verified),
		Kc11: one(700, vdi+", brass", Verified), Mc: 0.27, Engage: 1.5, Peck: 1.5},
	{Name: "epoxy-cast", Kind: Plastic, Tensile: span(45, 60, 85, "Budinski, Engineering Materials; range from memory", Memory), Stiffness: span(2400, 4000, 4000, "Budinski, Engineering Materials; range from memory", Memory),
		Expansion: span(45, 60, 65, "Budinski, Engineering Materials; range from memory", Memory), Engage: 2, Peck: 1},
	{Name: "grey-iron-25", Kind: Metal, Tensile: one(172, course, Verified), Stiffness: span(66000, 69000, 140000, course+"; range by class from memory", Memory),
		Expansion: one(12.1, course, Verified), Kc11: span(1225, 1350, 1350, vdi+", grey iron", Verified), Mc: 0.28, Engage: 1.5, Peck: 1.5},
	{Name: "maple-hard", Kind: Wood, Moist: Axes{mem(0.00003, 0.00005, 0.00007, srcW6), mem(0.0014, 0.00165, 0.0019, srcW2), mem(0.003, 0.00353, 0.00406, srcW2)},
		Hazard: "Maple dust: hardwood dust as a class is IARC group 1; draw it off, 1 mg/m3.",
		Shear:  one(16.1, fpl+", parallel to the grain", Verified), Crush: span(5, 10.1, 10.1, fpl+", across the grain; low end an estimate",
			Estimate),
		Stiffness: span(800, 1700, 12600, fpl+": tangential, radial, along the grain", Verified), Kc11: span(60, 100, 100, guess, Estimate),
		Mc: 0.20, Engage: 3, Peck: 1},
	{Name: "steel-a36", Kind: Metal, Tensile: one(400, course, Verified), Stiffness: one(200000, course, Verified), Expansion: one(11.7, course, Verified),
		Crush: one(248, course+", yield", Verified), Kc11: one(1350, vdi+", unalloyed steel under 0.25 % C", Verified), Mc: 0.21, Engage: 1,
		Peck: 1},
	{Name: "walnut-stabilised", Kind: Stabilised, Moist: Axes{est(0.00002, 0.00005, 0.0002, srcT2), est(0.0002, 0.00038, 0.0019, srcT2), est(0.0003, 0.00055, 0.00274, srcT2)},
		Hazard: "Wood dust plus cured methacrylate dust; hot cutting gives off monomer (sensitiser): draw it off, and stop if it smells sweet " +
			"or sharp (part not cured through).",
		Crush: span(5, 10, 10, guess+"; of hardwoods as dense the upper figure: USDA Wood Handbook, table 5-3, across the grain", Estimate),
		Kc11:  span(60, 100, 100, guess, Estimate), Mc: 0.20, Engage: 3, Peck: 1},
}

// Library is a table of materials with what a shop has put in its place. The zero
// Library is the shipped table.
type Library struct{ own []Material }

// all are the tables in the order in which a name is looked up.
func (l Library) all() [][]Material { return [][]Material{l.own, materials, woods, plastics, metals} }

// With returns a library in which m stands in place of the shipped row of its name, or
// beside the shipped ones.
func (l Library) With(m Material) Library {
	own := append([]Material{m}, l.own...)
	return Library{own}
}

// Names lists all known names, sorted.
func (l Library) Names() []string { return sortedNames(l.all()...) }

// listed are the names that the error for an unknown one gives: those of the shop and of the first table, as
// earlier records were told them.
func (l Library) listed() []string { return sortedNames(l.own, materials) }

func sortedNames(sets ...[]Material) []string {
	seen := map[string]bool{}
	var out []string
	for _, set := range sets {
		for _, m := range set {
			if !seen[m.Name] {
				seen[m.Name] = true
				out = append(out, m.Name)
			}
		}
	}
	sort.Strings(out)
	return out
}

// Named finds a material; the error lists the known ones, nearest first.
func (l Library) Named(name string) (Material, error) {
	for _, set := range l.all() {
		for _, m := range set {
			if m.Name == name {
				return m, nil
			}
		}
	}
	return Material{}, unknown("material", name, l.listed(), "use one of these or give your own numbers")
}

// HoldingMu is the friction reckoned with under a part, whatever the pair: the design
// value for an oily or unknown face. Clean specimens reach 0.6 and more; never rely on it.
var HoldingMu = span(0.10, 0.15, 0.20, "fixture design value for oily or unknown faces, from memory", Practice)
