package main

import (
	"fmt"
	"math"
)

// sized is a mistake in one size.
type sized struct {
	t    trial
	size float64
}

// mistakes are those that are asked for, in each size.
func (o options) mistakes() (out []sized) {
	for _, tr := range trials {
		if o.only == "" || o.only == tr.name {
			for _, s := range tr.sizes {
				out = append(out, sized{tr, s})
			}
		}
	}
	return out
}

// caughtSum is what became of one mistake in one size.
type caughtSum struct {
	made, caught, named, asked int
	slip                       float64
	at                         map[string]int // how often where
}

func (s *caughtSum) add(r outcome) {
	switch {
	case !r.begun:
		return
	case !r.caught:
		s.made++
		s.slip = max(s.slip, r.slip)
		return
	}
	s.made++
	s.caught++
	if s.at == nil {
		s.at = map[string]int{}
	}
	s.at[r.first]++
	if r.named {
		s.named++
	}
	if r.asked {
		s.asked++
	}
}

// by is what it was caught by.
func (s *caughtSum) by() string {
	switch {
	case s.made == 0:
		return "never made"
	case s.caught == 0:
		return "nothing"
	case 2*s.asked > s.caught:
		return "asked"
	}
	return "readings"
}

// put writes the row, and what is missed where the mistake does harm.
func (s *caughtSum) put(t *table, c sized) {
	harm, allowance := c.t.harm(c.size), 0.05
	if c.t.limit > 0 {
		allowance = c.t.limit
	}
	hm := "any"
	if !math.IsInf(harm, 1) {
		hm = fmt.Sprintf("%.3f", harm)
	}
	cs, ns := 100*float64(s.caught)/float64(max(s.made, 1)), 100*float64(s.named)/float64(max(s.caught, 1))
	t.row(c.t.label(), c.size, mistakeOf(c.t.name).Unit, c.t.spoil, hm, s.made, cs, ns, s.by(), most(s.at), s.slip)
	if harm <= allowance || s.made == 0 {
		return
	}
	if cs < 99 {
		t.miss("%s of %g: %.1f %% caught, mark 99", c.t.label(), c.size, cs)
	} else if ns < 95 {
		t.miss("%s of %g: %.1f %% named, mark 95", c.t.label(), c.size, ns)
	}
}
