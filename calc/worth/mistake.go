package worth

import "math"

// Of says what a mistake does to the part.
type Of int

// A part off its place, too thick or thin, or harmed by a share of its worth at once.
const (
	Register Of = iota
	Thickness
	Outright
)

// In says in which walks a mistake can be made.
type In int

// Always, or only where a part is strapped and swapped to screws, or only where it goes straight under its screws.
const (
	Always In = iota
	Strapped
	Screwed
)

// Mistake is one thing that goes wrong in a setup, how often and how large, and what it costs where nobody finds it.
type Mistake struct {
	Name string
	P    float64 // chance in a setup where neither fixture nor programs are proven
	// Median and Sigma are of its size, log-normal; Sigma 0: the one size Median. A size is in the unit of the mistake: mm, but K of
	// cold-fixture and part-hot, mrad of fixture-turned, deg of part-rotated, flipped-wrong-axis and rotation-left-active, times the
	// tap of tapped-wrong-way; 1 is one of what is or is not.
	Median, Sigma float64
	Of            Of
	Lever         float64 // Register, Thickness: mm at the part for 1 of its size
	Share         float64 // Outright: of the part's worth
	From          float64 // Outright: the size from which on, 0 at once
	Crash         float64 // minutes for the machine beside the part, from a harm of a fiftieth on
	In            In
	Rarer         bool   // a third as often where fixture and programs are proven
	Source        string // of its frequency and size
}

// Where frequencies and sizes come from. No shop's records are behind any of them.
const (
	judged = "judgement, may be wrong by three"
	bench  = "judgement for how often, the bench for what comes of it"
)

// Mistakes are all that are reckoned with. Of each fixture-, program- and screw-length mistake it is known that a shop makes it
// less often the fourth time; of the others it is not.
//
// Left out: what a reading reckons with at any size (tilt of the floor, a fixture that twists as its bolts go tight).
func Mistakes() []Mistake {
	return []Mistake{
		{Name: "tapped-after-bore", P: 0.03, Median: 0.04, Sigma: 0.8, Lever: 1, Source: bench},
		{Name: "fixture-turned", P: 0.01, Median: 0.3, Sigma: 0.7, Lever: 0.12, Source: bench},
		{Name: "bolts-snug", P: 0.02, Median: 0.06, Sigma: 0.6, Lever: 1, Rarer: true, Source: bench},
		{Name: "tapped-wrong-way", P: 0.01, Median: 1, Sigma: 0.6, Lever: 0.04, Source: judged},
		{Name: "chip-in-bore", P: 0.04, Median: 0.03, Sigma: 0.8, Lever: 1. / 3, Source: bench},
		{Name: "coolant-drop", P: 0.02, Median: 0.03, Sigma: 0.8, Lever: 0.5, Source: bench},
		{Name: "wrong-stylus", P: 0.01, Median: 0.1, Sigma: 1, Lever: 0.5, Source: bench},
		{Name: "spindle-unmarked", P: 0.03, Median: 0.01, Sigma: 0.7, Lever: 2, Source: bench},
		{Name: "cold-fixture", P: 0.05, Median: 3, Sigma: 0.7, Lever: 0.0005, Source: bench},
		{Name: "wrong-fixture", P: 0.002, Median: 1, Of: Outright, Share: 1, Crash: 60, Rarer: true, Source: judged},
		{Name: "fixture-end-for-end", P: 0.002, Median: 1, Of: Outright, Share: 1, Crash: 60, Rarer: true, Source: judged},

		{Name: "clearance-not-pushed", P: 0.06, Median: 0.025, Sigma: 0.6, Lever: 1, Source: bench},
		{Name: "turned-at-walls", P: 0.10, Median: 0.12, Sigma: 0.7, Lever: 0.08, Source: judged},
		{Name: "bumped-part", P: 0.02, Median: 0.03, Sigma: 0.8, Lever: 1, Source: bench},
		{Name: "part-hot", P: 0.05, Median: 4, Sigma: 0.7, Lever: 0.001, Source: bench},
		{Name: "part-grown", P: 0.30, Median: 0.02, Sigma: 0.9, Lever: 1, Source: judged},
		{Name: "screws-shift", P: 0.15, Median: 0.008, Sigma: 0.8, Lever: 1, In: Screwed, Source: judged},
		{Name: "shift-at-swap", P: 0.15, Median: 0.010, Sigma: 0.8, Lever: 1, In: Strapped, Source: bench},
		{Name: "offset-slip", P: 0.02, Median: 0.7, Sigma: 2.5, Lever: 1, Crash: 10, Source: bench},
		{Name: "rotation-left-active", P: 0.01, Median: 0.3, Sigma: 2, Lever: 2, Crash: 10, Source: bench},

		{Name: "length-convention", P: 0.036, Median: 0.12, Sigma: 1.2, Of: Thickness, Lever: 1, Source: bench},
		{Name: "length-convention", P: 0.006, Median: 60, Of: Outright, Share: 1, Crash: 90, Source: judged},
		{Name: "tool-pulled", P: 0.01, Median: 0.12, Sigma: 1.2, Of: Thickness, Lever: 1, Source: bench},
		{Name: "probe-length", P: 0.03, Median: 0.03, Sigma: 0.9, Of: Thickness, Lever: 1, Source: judged},
		{Name: "seated-on-chip", P: 0.06, Median: 0.05, Sigma: 0.8, Of: Thickness, Lever: 1, Source: bench},
		{Name: "chip-on-floor", P: 0.03, Median: 0.03, Sigma: 0.8, Of: Thickness, Lever: 1, Source: judged},
		{Name: "strap-over-hollow", P: 0.03, Median: 0.05, Sigma: 0.7, Of: Thickness, Lever: 1, In: Strapped, Source: bench},
		{Name: "lifted-at-swap", P: 0.04, Median: 0.03, Sigma: 0.9, Of: Thickness, Lever: 1, In: Strapped, Source: bench},

		{Name: "part-rotated", P: 0.004, Median: 180, Of: Outright, Share: 1, Source: bench},
		{Name: "flipped-wrong-axis", P: 0.004, Median: 180, Of: Outright, Share: 1, Source: bench},
		{Name: "wrong-side-up", P: 0.004, Median: 1, Of: Outright, Share: 1, Source: bench},
		{Name: "other-offset-number", P: 0.01, Median: 1, Of: Outright, Share: 1, Crash: 60, Rarer: true, Source: bench},
		// The program reads the file; what is left is a control that loads another one.
		{Name: "z0-other", P: 0.002, Median: 1, Of: Outright, Share: 1, Crash: 60, Rarer: true, Source: bench},
		{Name: "program-edited", P: 0.015, Median: 1, Of: Outright, Share: 0.6, Crash: 20, Rarer: true, Source: bench},
		{Name: "collet-runout", P: 0.05, Median: 0.02, Sigma: 0.7, Of: Outright, Share: 0.5, From: 0.05, Crash: 15, Source: bench},
		{Name: "drill-through", P: 0.02, Median: 0.4, Sigma: 0.8, Of: Outright, Share: 0.05, From: 0.43, Crash: 10, In: Strapped, Source: bench},
		{Name: "soft-thread", P: 0.08, Median: 1, Of: Outright, Share: 0.08, Crash: 5, Source: bench},
		{Name: "screw-bottomed", P: 0.03, Median: 1, Of: Outright, Share: 0.12, Crash: 5, Rarer: true, Source: bench},
		{Name: "screw-head-high", P: 0.008, Median: 0.7, Of: Outright, Share: 0.5, From: 0.5, Crash: 25, Rarer: true, Source: bench},
		{Name: "loose-strap", P: 0.01, Median: 1, Of: Outright, Share: 0.5, Crash: 30, In: Strapped, Source: judged},
		{Name: "clamp-left-on", P: 0.02, Median: 1, Of: Outright, Share: 0.6, Crash: 60, In: Strapped, Source: bench},
		{Name: "left-on-table", P: 0.02, Median: 1, Of: Outright, Share: 0.3, Crash: 30, Source: judged},
		{Name: "probe-in-spindle", P: 0.006, Median: 1, Of: Outright, Crash: 240, Source: judged},
		{Name: "raise-left-in", P: 0.02, Median: 0.3, Of: Thickness, Lever: 1, Crash: 10, Source: judged},
	}
}

// Over the allowance a part is reworked, over three times the allowance (four for thickness) it is scrap: what each costs of its
// worth (judgement).
const (
	reworked = 0.3
	scrapped = 0.7
	wayOver  = 3
	tooThick = 4
	// uThick is how well the thickness comes out that nothing is wrong with, mm; too deep by crashes, the cutter meets the fixture, mm.
	uThick  = 0.01
	tooDeep = 2
)

// graded is the share of the part's worth that is lost to a mismatch of e with standard uncertainty u:
//
//	0.3 P(|x| > T) + 0.7 P(|x| > n T),  x normal about e
func graded(e, u, limit, n float64) float64 {
	return reworked*beyond(e, u, limit) + scrapped*beyond(e, u, n*limit)
}

// beyond is P(|x| > limit), x normal about e with u.
func beyond(e, u, limit float64) float64 {
	return (math.Erfc((limit-e)/u/math.Sqrt2) + math.Erfc((limit+e)/u/math.Sqrt2)) / 2
}

// harm is the minutes that the mistake of a size costs where it stands, beyond what is lost without any.
func (m Mistake) harm(size float64, s Setting, u float64) float64 {
	share := 0.0
	switch m.Of {
	case Register:
		share = graded(m.Lever*size, u, s.Allowance, wayOver) - graded(0, u, s.Allowance, wayOver)
	case Thickness:
		e := m.Lever * size
		if share = graded(e, uThick, s.Thickness, tooThick) - graded(0, uThick, s.Thickness, tooThick); e > tooDeep {
			share = 1
		}
	case Outright:
		if size >= m.From {
			share = m.Share
		}
	}
	loss := share * s.Worth
	if share > 0.02 || m.Of == Outright && size >= m.From {
		loss += m.Crash
	}
	return loss
}

// sizes are those at even quantiles: no chance in the sum.
func (m Mistake) sizes() []float64 {
	if m.Sigma == 0 {
		return []float64{m.Median}
	}
	out := make([]float64, quantiles)
	for i := range out {
		q := (float64(i) + 0.5) / quantiles
		out[i] = m.Median * math.Exp(m.Sigma*math.Sqrt2*math.Erfinv(2*q-1))
	}
	return out
}

const quantiles = 200
