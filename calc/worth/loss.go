package worth

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
)

// Of95 is the standard uncertainty behind a one-sided 95 % guard.
func Of95(guard float64) float64 { return guard / budget.OneSided }

// Setting is a walk in which readings earn their time.
type Setting struct {
	Allowance, Thickness float64 // mm
	Worth                float64 // of the part, minutes
	Proven               bool    // fixture and programs have made good parts: some mistakes are rarer
	Strapped             bool    // strapped, drilled, swapped to screws
	U                    float64 // standard uncertainty of the register with all groups read, mm
	Often                float64 // all frequencies times that; 0 as listed
}

// Catch is one mistake that a group finds.
type Catch struct {
	Mistake string
	From    float64 // the size from which on it does, in the unit of the mistake
	// Look is what the person looked at to answer; "" for a number from an instrument. Of several answers about one thing only the
	// best counts: who is wrong about it once is wrong about it again.
	Look string
	Echo bool // read back from the control digit by digit
}

// Group is what is read together or not at all.
type Group struct {
	Name    string
	Minutes float64
	Catches []Catch
	Kept    string  // why it is never traded, "" where it is
	Adds    float64 // to the variance of the register without it, mm²
}

// How sure a look is: a number that is held against a window or a limit, an answer, a value read back. Judgement.
const (
	readSure = 0.99
	saidSure = 0.90
	echoSure = 0.97
)

// catch is the chance that the look finds the mistake of that size: 95 of 100 of what can be found at From, which is what a row of the
// walk's table claims, half at two thirds of it.
func (c Catch) catch(size float64) float64 {
	sure := readSure
	switch {
	case c.Echo:
		sure = echoSure
	case c.Look != "":
		sure = saidSure
	}
	const at, width = 1.6449, 0.2 // of the normal deviate; in sizes From
	return sure * 0.5 * math.Erfc(-(at+(size/c.From-1)/width)/math.Sqrt2)
}

// Loss is what a set of readings costs, minutes.
type Loss struct {
	Reading  float64
	Mistakes float64            // that slip through
	Register float64            // sides that do not meet with nothing wrong
	By       map[string]float64 // Mistakes, by name
}

// Risk is what may still be lost.
func (l Loss) Risk() float64 { return l.Mistakes + l.Register }

// Total is reading and risk.
func (l Loss) Total() float64 { return l.Reading + l.Risk() }

// Model is the loss of any set of groups in a setting.
type Model struct {
	s      Setting
	groups []Group
	made   []made
}

// made is one mistake with its sizes and with what each group's looks at it leave.
type made struct {
	Mistake
	p     float64
	sizes []float64
	looks []look
}

// look is one group's look at one mistake.
type look struct {
	group  int
	called string
	found  []float64 // chance by size
}

// NewModel makes it ready. Errors: what can't be, with its name.
func NewModel(s Setting, groups []Group) (*Model, error) {
	if !(s.Allowance > 0 && s.Thickness > 0 && s.Worth > 0 && s.U > 0) || math.IsInf(s.Allowance+s.Thickness+s.Worth+s.U, 0) {
		return nil, fmt.Errorf("allowance %g mm, thickness %g mm, worth %g min and uncertainty %g mm: each has to be above 0",
			s.Allowance, s.Thickness, s.Worth, s.U)
	}
	m := &Model{s: s, groups: groups}
	known := map[string]bool{}
	for _, k := range Mistakes() {
		known[k.Name] = true
		if k.In == Strapped && !s.Strapped || k.In == Screwed && s.Strapped {
			continue
		}
		x := made{Mistake: k, p: k.P, sizes: k.sizes()}
		if s.Often > 0 {
			x.p *= s.Often
		}
		if k.Rarer && s.Proven {
			x.p /= 3
		}
		for i, g := range groups {
			for _, c := range g.Catches {
				if c.Mistake == k.Name {
					x.looks = append(x.looks, look{i, c.Look, found(c, x.sizes)})
				}
			}
		}
		m.made = append(m.made, x)
	}
	for _, g := range groups {
		for _, c := range g.Catches {
			if !known[c.Mistake] || !(c.From > 0) {
				return nil, fmt.Errorf("%s finds %q from %g on: no such mistake is reckoned with", g.Name, c.Mistake, c.From)
			}
		}
	}
	return m, nil
}

func found(c Catch, sizes []float64) []float64 {
	out := make([]float64, len(sizes))
	for i, s := range sizes {
		out[i] = c.catch(s)
	}
	return out
}

// slips is the chance that the i-th size is found by no look of the set.
func (x *made) slips(in []bool, i int) float64 {
	out := 1.0
	for a, l := range x.looks {
		if !in[l.group] {
			continue
		}
		best := l.found[i]
		if l.called != "" {
			first := true
			for b, o := range x.looks {
				if in[o.group] && o.called == l.called {
					first = first && b >= a
					best = max(best, o.found[i])
				}
			}
			if !first {
				continue
			}
		}
		out *= 1 - best
	}
	return out
}

// Std is the standard uncertainty of the register with that set.
func (m *Model) Std(in []bool) float64 {
	v := m.s.U * m.s.U
	for i, g := range m.groups {
		if !in[i] {
			v += g.Adds
		}
	}
	return math.Sqrt(v)
}

// Loss is that of a set:
//
//	minutes + Σ p E[harm(size) Π(1 - found(size))] + (0.3 P(|e| > T) + 0.7 P(|e| > 3 T)) worth
func (m *Model) Loss(in []bool) Loss {
	l := Loss{By: map[string]float64{}}
	for i, g := range m.groups {
		if in[i] {
			l.Reading += g.Minutes
		}
	}
	u := m.Std(in)
	l.Register = graded(0, u, m.s.Allowance, wayOver) * m.s.Worth
	for k := range m.made {
		x, sum := &m.made[k], 0.0
		for i, size := range x.sizes {
			sum += x.harm(size, m.s, u) * x.slips(in, i)
		}
		sum *= x.p / float64(len(x.sizes))
		l.By[x.Name] += sum
		l.Mistakes += sum
	}
	return l
}

// Best is the set that costs least, found by exchange from both ends; what is kept is in it always.
func (m *Model) Best() ([]bool, Loss) {
	var best []bool
	var least Loss
	for _, all := range []bool{false, true} {
		in := make([]bool, len(m.groups))
		for i, g := range m.groups {
			in[i] = all || g.Kept != ""
		}
		now := m.Loss(in)
		for better := true; better; {
			better = false
			for i, g := range m.groups {
				if g.Kept == "" {
					now, better = m.turn(in, now, better, i)
				}
				for k := range i { // one for another
					if g.Kept == "" && m.groups[k].Kept == "" && in[i] != in[k] {
						now, better = m.turn(in, now, better, i, k)
					}
				}
			}
		}
		if best == nil || now.Total() < least.Total() {
			best, least = slices.Clone(in), now
		}
	}
	return best, least
}

// turn takes groups in or out where that costs less.
func (m *Model) turn(in []bool, now Loss, better bool, groups ...int) (Loss, bool) {
	for _, i := range groups {
		in[i] = !in[i]
	}
	if l := m.Loss(in); l.Total() < now.Total()-1e-9 {
		return l, true
	}
	for _, i := range groups {
		in[i] = !in[i]
	}
	return now, better
}

// Saves is the risk that a group takes away, the rest of the set in place, minutes.
func (m *Model) Saves(in []bool, i int) float64 {
	with, without := slices.Clone(in), slices.Clone(in)
	with[i], without[i] = true, false
	return m.Loss(without).Risk() - m.Loss(with).Risk()
}
