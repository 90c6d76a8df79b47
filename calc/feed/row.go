package feed

import (
	"fmt"
	"sort"
	"strings"

	"fliptrue/calc/given"
	"fliptrue/calc/hold"
)

// Row is what a material takes by a cutter of diameter Dia: chip thickness, mm, and surface
// speed, m/min, least and most each. Above the most of the speed Heat happens.
type Row struct {
	Material string
	Dia      float64
	Chip     [2]float64
	Speed    [2]float64
	Heat     string
	Manner   string
	Source   string
	Flag     hold.Flag
}

// rows are starting points: estimates of sharp cutters of 3 mm, from memory. E: may be wrong by a factor of 2.
var rows = []Row{
	{"acrylic-cast", 3, [2]float64{0.03, 0.10}, [2]float64{100, 300}, "it melts: chips weld to the cutter and the wall",
		"one sharp flute, climb, no dwell; chips, not melt", "starting estimate, from memory; the maker's numbers win", hold.Estimate},
	{"bog-oak", 3, [2]float64{0.02, 0.08}, [2]float64{150, 450}, "it burns: dark edges, a smell of smoke; what glows goes on glowing in the bin",
		"sharp, climb, no dwell; chips, not powder", "starting estimate, from memory; the maker's numbers win", hold.Estimate},
	{"phenolic-paper-xx", 3, [2]float64{0.02, 0.08}, [2]float64{100, 300}, "the resin cooks: brown edges, a sharp smell; it wears the edge fast",
		"carbide, backed at the exit, no dwell; it splits where it is pushed", "starting estimate, from memory; the maker's numbers win",
		hold.Estimate},
	{"aluminium-6061-t6", 3, [2]float64{0.01, 0.03}, [2]float64{80, 300}, "chips weld to the cutter, and it breaks",
		"a drop of spirit or a mist, chips blown out, no dwell", "starting estimate, from memory; the maker's numbers win", hold.Estimate},
	{"walnut-stabilised", 3, [2]float64{0.02, 0.06}, [2]float64{150, 400}, "it burns: brown edges, resin smell",
		"sharp, climb, no dwell; chips, not powder", "starting estimate, from memory; the maker's numbers win", hold.Estimate},
}

// RowOf finds the shipped row of a material; one that is not there is an error that lists them.
func RowOf(material string) (Row, error) {
	var names []string
	for _, r := range rows {
		if r.Material == material {
			return r, nil
		}
		names = append(names, r.Material)
	}
	sort.Strings(names)
	return Row{}, fmt.Errorf("no feeds and speeds for %q: give the maker's chip and surface speed, or test on the offcut (shipped: %s)",
		material, strings.Join(names, ", "))
}

// Valid is an error unless the ranges rise and have a source.
func (r Row) Valid() error {
	if err := given.Above("diameter of the row", r.Dia, "least chip", r.Chip[0], "most chip", r.Chip[1], "least speed", r.Speed[0],
		"most speed", r.Speed[1]); err != nil {
		return err
	}
	if r.Chip[1] < r.Chip[0] || r.Speed[1] < r.Speed[0] {
		return fmt.Errorf("chip %v and speed %v must rise; give the least first", r.Chip, r.Speed)
	}
	if r.Source == "" {
		return fmt.Errorf("feeds and speeds of %q without a source; say whose they are", r.Material)
	}
	return nil
}
