package fold

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

// LimitRow derives one limit from the job and its cards.
type LimitRow struct {
	ID    string
	Why   string
	How   string // the rule in words, for the table of derived limits; lengths in mm, slopes or differences of temperature in {}
	Class Class
	Unit  unit.Kind
	Max   func(*Plan) float64 // nil where the step derives it
	Most  func(*Plan) float64 // the loosest that a job may set, nil for the common rule
	Min   bool                // the limit is the least that passes
}

// inUnit are the numbers in a rule's words, lengths in mm or slopes, to be shown in the job's unit.
var inUnit = regexp.MustCompile(`\{[0-9.]+\}`)

// Limit is a limit of this plan by its id. It panics on an id that no row has.
func (p *Plan) Limit(id string) Limit {
	for _, r := range p.house.Limits {
		if r.ID == id {
			l := Limit{ID: r.ID, Why: r.Why, Class: r.Class, Unit: r.Unit, System: p.Job.Unit, Min: r.Min}
			if r.Max != nil {
				l.Max = r.Max(p)
			}
			if g, ok := p.granted(&r); ok {
				l.Max = g.holds
			}
			return l
		}
	}
	panic(fmt.Sprintf("steps: no limit %q", id))
}

// LimitTable lists every derived limit with the rule behind it.
func (p *Plan) LimitTable() []Row {
	var out []Row
	for _, r := range p.house.Limits {
		row := Row{Label: r.ID, Unit: r.Unit, Text: inUnit.ReplaceAllStringFunc(r.How, func(mm string) string {
			v, _ := strconv.ParseFloat(strings.Trim(mm, "{}"), 64)
			switch r.Unit {
			case unit.KSlope:
				return p.Slope(v)
			case unit.KWarmth, unit.KVacuum:
				return unit.Show(v, r.Unit, p.Job.Unit, 0)
			}
			return p.Len(p.Sensible(v))
		})}
		if r.Max != nil {
			row.Value = p.Limit(r.ID).Max
		}
		out = append(out, row)
	}
	return out
}
