package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// haul is what the walks of one mistake and size at one level came to.
type haul struct {
	made, caught, named, asked, harmed int
	loss                               float64 // summed
	at, as                             map[string]int
	claimed                            *haul           // of those that the walk is said to find; nil in itself
	plans, in                          map[string]bool // hold-downs in which it was made, and is claimed
}

func newHaul() *haul {
	return &haul{at: map[string]int{}, as: map[string]int{}, plans: map[string]bool{}, in: map[string]bool{},
		claimed: &haul{at: map[string]int{}, as: map[string]int{}}}
}

// add counts one walk, and by itself what the walk claims.
func (c *haul) add(r outcome) {
	if !r.begun {
		return
	}
	c.count(r)
	c.plans[r.plan] = true
	if r.claimed {
		c.in[r.plan] = true
		c.claimed.count(r)
	}
}

func (c *haul) count(r outcome) {
	c.made++
	if r.caught {
		c.caught++
		c.at[r.first]++
	}
	if r.caught && r.named {
		c.named++
	}
	if r.asked {
		c.asked++
	}
	if r.harm.what != "" {
		c.harmed++
		c.loss += r.harm.loss
		c.as[r.harm.what]++
	}
}

func per(n, of int) float64 { return 100 * float64(n) / float64(max(of, 1)) }

func (c *haul) String() string {
	if c.made == 0 {
		return "-"
	}
	return fmt.Sprintf("%3.0f %3.0f %3.0f", per(c.caught, c.made), per(c.named, c.caught), per(c.harmed, c.made))
}

// by says what shows it.
func (c *haul) by() string {
	switch {
	case c.made == 0:
		return "never made"
	case c.caught == 0:
		return "nothing"
	case 2*c.asked > c.caught:
		return "asked"
	}
	return "readings"
}

// claims says at which of the levels the walk is said to find it, in which plans where not in all in which it was made.
func claims(at []options, hauls []*haul) string {
	var out []string
	for k, h := range hauls {
		words := at[k].level().String()
		if len(h.in) == 0 {
			continue
		}
		if len(h.in) < len(h.plans) {
			words += " " + strings.Join(slices.Sorted(maps.Keys(h.in)), " ")
		}
		out = append(out, words)
	}
	switch {
	case len(out) == 0:
		return "no"
	case len(out) == len(at) && !slices.ContainsFunc(hauls, func(h *haul) bool { return len(h.in) < len(h.plans) }):
		return "at each"
	}
	return strings.Join(out, ", ")
}

// shares lists the largest parts of a sum, in per cent.
func shares(by map[string]float64, sum float64) string {
	names := slices.Collect(maps.Keys(by))
	slices.SortFunc(names, func(a, b string) int {
		if by[a] != by[b] {
			return int(math.Copysign(1, by[b]-by[a]))
		}
		return strings.Compare(a, b)
	})
	var out []string
	for _, n := range names[:min(6, len(names))] {
		if by[n] > 0 {
			out = append(out, fmt.Sprintf("%s %.0f", n, 100*by[n]/sum))
		}
	}
	return strings.Join(out, ", ")
}

// most lists where, the most frequent first, at most three.
func most(at map[string]int) string {
	names := slices.Collect(maps.Keys(at))
	slices.SortFunc(names, func(a, b string) int {
		if at[a] != at[b] {
			return at[b] - at[a]
		}
		return strings.Compare(a, b)
	})
	return strings.Join(names[:min(3, len(names))], ", ")
}
