package main

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
	"fliptrue/steps/kit"
)

// budgetLines are all lines of the budget at the worst feature with their standard uncertainties, measured and
// assumed apart, the largest first; nothing without features.
func budgetLines(fs []kit.FeatureError, sys unit.System) string {
	if len(fs) == 0 {
		return ""
	}
	i, axis, _, _ := kit.WorstFeature(fs)
	ls := slices.Clone(fs[i].Lines[axis])
	slices.SortStableFunc(ls, func(a, b budget.Line) int {
		switch {
		case a.Std() > b.Std():
			return -1
		case a.Std() < b.Std():
			return 1
		}
		return 0
	})
	var said [2][]string
	for _, l := range ls {
		k := 0
		if l.Assumed {
			k = 1
		}
		said[k] = append(said[k], l.Name+" "+unit.Format(l.Std(), unit.KLength, sys, 0))
	}
	out := fmt.Sprintf("  all lines at %s %s, u in %s, measured: %s\n", fs[i].Name, [2]string{"X", "Y"}[axis],
		unit.UnitName(unit.KLength, sys), strings.Join(said[0], ", "))
	if len(said[1]) > 0 {
		out += "  assumed: " + strings.Join(said[1], ", ") + "\n"
	}
	return out
}
