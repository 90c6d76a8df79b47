package fold

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/unit"
)

func Plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Capital writes a sentence's first letter large.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// sensible is a fixed limit as its shop would set it: round in the job's own unit, in inches
// to a tenth of a thou, or to a thou from 0.1 mm on.
func (p *Plan) Sensible(mm float64) float64 {
	if p.Job.Unit != unit.Imperial {
		return mm
	}
	step := 1e-4 * float64(unit.Inch)
	if mm >= 0.1 {
		step *= 10
	}
	return math.Max(math.Round(mm/step), 1) * step
}

// len prints a length with its unit, num without; slope with its own.
func (p *Plan) Len(v float64) string { return unit.Show(v, unit.KLength, p.Job.Unit, 0) }

// Apart prints two lengths that were compared, so that each reads other than the other where they differ.
func (p *Plan) Apart(v, limit float64) (string, string) {
	return unit.Apart(v, limit, unit.KLength, p.Job.Unit, 0)
}

func (p *Plan) Num(v float64) string { return unit.Format(v, unit.KLength, p.Job.Unit, 0) }

func (p *Plan) Slope(v float64) string {
	return unit.Show(v, unit.KSlope, p.Job.Unit, 0)
}
