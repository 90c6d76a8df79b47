package budget

import (
	"cmp"
	"math"
	"slices"
)

// Share is one contributor to a mismatch: a half-width.
type Share struct {
	Name    string
	Half    float64
	Assumed bool
}

// Ranking shows where an allowance goes. It is no statement of confidence and decides nothing: the root of
// squares treats half-widths of different shapes alike.
type Ranking struct {
	Shares []Share // largest first; equals in the order given
	Worst  float64 // all of them at once, the same way
	RSS    float64 // root of the sum of squares
}

// Rank orders contributors and adds them both ways. The order of the input is kept unchanged.
func Rank(shares []Share) Ranking {
	r := Ranking{Shares: slices.Clone(shares)}
	slices.SortStableFunc(r.Shares, func(a, b Share) int { return cmp.Compare(math.Abs(b.Half), math.Abs(a.Half)) })
	for _, s := range shares {
		r.Worst += math.Abs(s.Half)
		r.RSS += float64(s.Half * s.Half)
	}
	r.RSS = math.Sqrt(r.RSS)
	return r
}
