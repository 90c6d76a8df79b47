package report

import (
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/steps"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Feature is the predicted mismatch at a feature, along X and Y.
type Feature struct {
	Name    string     `json:"name"`
	Error   [2]float64 `json:"error"`
	Kink    [2]float64 `json:"kink"`  // further known mismatch of unknown sign, by the spindle's lean
	U       [2]float64 `json:"U"`     // half-width of the 95 % interval
	Guard   [2]float64 `json:"guard"` // one-sided 95 %
	Largest [2]string  `json:"largest"`
	Budget  [2]Budget  `json:"budget"`
}

// Budget is what is not known along one axis at a feature, the largest first.
type Budget struct {
	Measured []Share `json:"measured"`
	Assumed  []Share `json:"assumed"` // defaults that neither job nor card gave
}

// Share is one line of a budget.
type Share struct {
	Name   string   `json:"name"`
	U      float64  `json:"u"`     // standard uncertainty of the result by it, mm
	Share  float64  `json:"share"` // of the variance, 0 to 1
	Dof    *float64 `json:"dof"`   // null: taken as known
	Source string   `json:"source"`
}

// Worst is the feature and axis that come nearest to the allowance.
type Worst struct {
	Feature int     `json:"feature"` // its place in register
	Axis    int     `json:"axis"`    // 0 X, 1 Y
	Value   float64 `json:"value"`   // |error| with the kink
	Guard   float64 `json:"guard"`
	Limit   float64 `json:"limit"`
}

// register is what is known of the register, with all the lines of its budget.
func (r *Record) register(st *fold.State) {
	fs := steps.Register(st)
	for _, f := range fs {
		row := Feature{Name: f.Name, Error: f.Error, Kink: f.Kink, U: f.U, Guard: f.Guard, Largest: f.Largest}
		for a, ls := range f.Lines {
			row.Budget[a] = sharesOf(ls)
		}
		r.Register = append(r.Register, row)
	}
	if len(fs) == 0 {
		return
	}
	i, a, value, guard := kit.WorstFeature(fs)
	r.Worst = &Worst{i, a, value, guard, allowed(st.Plan())}
	r.NoLine = NoLine(st)
}

// sharesOf are a budget's lines, measured and assumed apart. One that adds nothing is left in: it was thought of.
func sharesOf(ls []budget.Line) (b Budget) {
	total := 0.0
	for _, l := range ls {
		total += l.Std() * l.Std()
	}
	for _, l := range ls {
		s := Share{Name: l.Name, U: l.Std(), Source: l.Source}
		if l.Dof > 0 {
			s.Dof = number(l.Dof)
		}
		if total > 0 && !math.IsInf(total, 0) {
			s.Share = s.U * s.U / total
		}
		if l.Assumed {
			b.Assumed = append(b.Assumed, s)
		} else {
			b.Measured = append(b.Measured, s)
		}
	}
	for _, list := range [][]Share{b.Measured, b.Assumed} {
		slices.SortStableFunc(list, func(x, y Share) int {
			switch {
			case x.U > y.U:
				return -1
			case x.U < y.U:
				return 1
			}
			return 0
		})
	}
	return b
}

// NoLine is what a budget of this setup has no line for, by what is not known here.
func NoLine(st *fold.State) []string {
	_, tram := facts.Tram.By(st.Fact)
	out := unknown(st.Plan(), tram)
	if _, ok := facts.Shift.By(st.Fact); !ok {
		out = append(out, "motion of the part while it was screwed down: not measured")
	}
	return append(out, whileCut)
}

// NoLineAtDesk is the same before anything is read: what the best walk has no line for.
func NoLineAtDesk(p *fold.Plan) []string {
	return append(unknown(p, p.Job.Machine.Tram != nil), whileCut)
}

const whileCut = "growth, wear and spring while it is cut"

// unknown is what nobody has measured of the machine.
func unknown(p *fold.Plan, tram bool) (out []string) {
	if !tram {
		out = append(out, "lean of the spindle: its tram is not known")
	}
	if !p.Job.Machine.SquareMeasured {
		out = append(out, "squareness of the machine: it counts as 0 until it is measured")
	}
	return out
}
