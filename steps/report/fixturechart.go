package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/chart"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// half is how many columns a chart has to either side of its middle.
const half = 20

// FixtureChart draws what inspections found of the parts of a fixture, along X and along Y: a line a part, in order of time, what its
// growth made taken off, with the limits once there are parts enough. Where the card was corrected a new chart begins.
func FixtureChart(f *jobs.Fixture, sys unit.System) []string {
	rows := slices.Clone(f.Found)
	slices.SortStableFunc(rows, func(a, b jobs.Found) int { return cmp.Compare(a.At, b.At) })
	if len(rows) == 0 {
		return nil
	}
	var out []string
	for _, c := range []struct {
		name        string
		found, took func(jobs.Found) float64
	}{
		{"X", func(r jobs.Found) float64 { return r.X - r.Grew.X }, func(r jobs.Found) float64 { return r.Took.X }},
		{"Y", func(r jobs.Found) float64 { return r.Y - r.Grew.Y }, func(r jobs.Found) float64 { return r.Took.Y }},
	} {
		out = append(out, "the fixture's share along "+c.name+", "+unit.UnitName(unit.KLength, sys))
		since := 0
		for i, r := range rows {
			if i == len(rows)-1 || c.took(r) != 0 && r.Back == "" {
				out = append(out, chartOf(rows[since:i+1], c.found, sys)...)
				since = i + 1
			}
			if c.took(r) != 0 && r.Back == "" {
				out = append(out, "  -- the card corrected by "+unit.Signed(-c.took(r), unit.KLength, sys, 0))
			}
		}
	}
	return append(out, "* part  o not counted  | zero  : limits, from "+fmt.Sprint(chart.Enough)+" parts on")
}

// chartOf is one chart: parts made by one state of the card.
func chartOf(rows []jobs.Found, found func(jobs.Found) float64, sys unit.System) (out []string) {
	var counted []float64
	far := 0.0
	for _, r := range rows {
		if far = math.Max(far, math.Abs(found(r))); r.LeftOut == "" {
			counted = append(counted, found(r))
		}
	}
	var limits []float64
	if in, err := chart.ToIndividuals(counted); err == nil && len(counted) >= chart.Enough {
		limits = []float64{in.Lower, in.Upper}
		far = math.Max(far, math.Max(math.Abs(in.Lower), math.Abs(in.Upper)))
	}
	width := 0
	for _, r := range rows {
		width = max(width, len([]rune(r.Record)))
	}
	end := math.Max(chart.Scale(0, far), 1e-6)
	at := func(v float64) int { return half + int(math.Round(half*v/end)) }
	for _, r := range rows {
		line := []byte(strings.Repeat(" ", 2*half+1))
		line[half] = '|'
		for _, l := range limits {
			line[at(l)] = ':'
		}
		mark := byte('*')
		if r.LeftOut != "" {
			mark = 'o'
		}
		line[at(found(r))] = mark
		out = append(out, fmt.Sprintf("  %-*s  %s  %s", width, r.Record, line, unit.Signed(found(r), unit.KLength, sys, 0)))
	}
	return out
}
