package fit

import (
	"math"

	"fliptrue/calc/budget"
)

// Verdict is what a redundant set of readings says about itself.
type Verdict int

const (
	NoStatement Verdict = iota // no redundancy: nothing can be said
	Clean                      // the fit scatters as the instrument does
	Harmless                   // something is off, by too little to matter
	Named                      // one reading is bad and it is known which
	Unnamed                    // one reading is bad and it cannot be said which
)

// Feature is the side of the surface the ball is on.
type Feature int

const (
	Bore Feature = iota
	Boss
)

// ChipSign returns the sign of the deviation a chip under the stylus makes: in a bore
// the radius comes out short (-1), on a boss long (+1).
func (f Feature) ChipSign() float64 {
	if f == Bore {
		return -1
	}
	return 1
}

// Diameter returns the diameter of the feature from the circle through the ball
// centres: 2(R + r) for a bore, 2(R - r) for a boss, r the effective ball radius.
func (f Feature) Diameter(c Circle, r float64) float64 {
	if f == Bore {
		return 2 * (c.Radius + r)
	}
	return 2 * (c.Radius - r)
}

// Limits of naming, in mm where they have a unit. Common practice.
const (
	HarmlessDeviation = 0.010 // below it a chip moves the centre of 6 hits by a third of it
	NamedDeviation    = 0.005 // a smaller deviation is never named
	familyShare       = 0.99  // of good sets called in family
	runnerUp          = 3     // the next best candidate must leave this many times the scatter
)

// Left is the fit without one reading.
type Left struct {
	OK        bool    // false when the remaining readings cannot carry the shape
	S         float64 // their scatter; 0 without redundancy
	Deviation float64 // of the left-out reading from their fit, signed
}

// Naming is the verdict on a set, with the evidence.
type Naming struct {
	Verdict    Verdict
	Index      int   // the bad reading from 0 when it could be told, else -1
	Candidates []int // Unnamed: the readings a chip could be under; nil when any could
	Deviation  float64
	LikeChip   bool    // Deviation has a chip's sign; else a missed trigger, a scratch or a wrong key
	Chi2       float64 // Σe²/s² of all readings against the known scatter, 0 if none is known
	Chi2Limit  float64
	Chi2Left   float64 // the same without the best candidate
	LeftLimit  float64
	Runner     Value  // scatter without the next best candidate over that without the best; not there when the latter is 0
	Left       []Left // one a reading, nil without redundancy
}

// HitNaming is a Naming of circle hits.
type HitNaming struct {
	Naming
	All     Circle
	Without Circle  // the fit without hit Index, when there is one
	Angle   float64 // direction of the bad hit from the centre of Without, rad, 0 at X+
	Shift   float64 // how far the bad hit had moved the centre
}

// NameHit looks for the one bad hit of a bore or boss by leaving each out in turn.
//
//	in family: Σe²/s_probe² <= dof · F(0.99; dof, dof of s_probe), which is the
//	99 % chi-square point when s_probe is known exactly (dof +Inf)
//
// The set is Clean when all hits are in family. Otherwise hit i is named when all hold:
// (1) without it the rest is in family, (2) the next best candidate leaves at least 3
// times its scatter (and, of 5 hits, is itself out of family), (3) its deviation from the rest is at
// least 4·s_probe and 0.005 mm, (4) the sign says of what kind: LikeChip or not. If the
// deviation is below 0.010 mm the verdict is Harmless.
//
// Three hits: NoStatement. Four hits: one bad hit is detected and never named, since an
// error on one leaves residuals of equal size on all, with equal sign on it and on the
// one across: Candidates holds the pair a chip could be under. With an unknown s_probe
// (probe.Dof 0) only the readings themselves speak: hit i is named by (2) and when the
// drop of the sum of squares exceeds F(1 - 0.01/N; 1, N-4) times the mean square left,
// and otherwise the verdict is NoStatement.
//
// Lengths in mm. Errors are those of ToCircle on all hits. Source: leave-one-out as in
// Cook and Weisberg 1982 (from memory), limits common practice.
func NameHit(ps []Point, f Feature, probe budget.Spread) (HitNaming, error) {
	all, err := ToCircle(ps)
	if err != nil {
		return HitNaming{}, err
	}
	out := HitNaming{All: all, Naming: Naming{Verdict: NoStatement, Index: -1}}
	if all.DOF < 1 {
		return out, nil
	}
	fits := make([]Circle, len(ps))
	left := make([]Left, len(ps))
	rest := make([]Point, len(ps)-1)
	for i := range ps {
		copy(rest, ps[:i])
		copy(rest[i:], ps[i+1:])
		c, err := ToCircle(rest)
		if err != nil {
			continue
		}
		fits[i] = c
		left[i] = Left{OK: true, S: c.S.V, Deviation: c.Deviation(ps[i])}
	}
	out.Naming = judge(all.Residuals, all.DOF, left, probe, f.ChipSign())
	if i := out.Index; i >= 0 {
		out.Without = fits[i]
		out.Angle = fits[i].Angle(ps[i])
		out.Shift = all.Center.Sub(fits[i].Center).Len()
	}
	return out, nil
}

// NamePoint looks for the one bad point of a plane in the same way; a chip lies under
// the stylus and makes the point high. Without each point in turn by the exact
// identities of linear least squares, h the leverage:
//
//	deviation_i = e_i/(1 - h_i)   SSE_i = SSE - e_i²/(1 - h_i)
//
// Three points: NoStatement. Four: detected, not named.
func (p Plane) NamePoint(probe budget.Spread) Naming {
	if p.DOF < 1 {
		return Naming{Verdict: NoStatement, Index: -1}
	}
	return judge(p.Residuals, p.DOF, leaveEach(p.Residuals, p.leverage, p.DOF), probe, 1)
}

// leaveEach returns the fits without each reading for a linear model.
func leaveEach(res, leverage []float64, dof int) []Left {
	sse := sumSquares(res)
	left := make([]Left, len(res))
	for i, e := range res {
		free := 1 - leverage[i]
		if free < 1e-9 { // the fit rests on this reading alone
			continue
		}
		left[i] = Left{OK: true, Deviation: e / free}
		if dof > 1 {
			left[i].S = math.Sqrt(math.Max(0, sse-e*e/free) / float64(dof-1))
		}
	}
	return left
}

// judge applies the rules of NameHit to any least squares fit.
func judge(res []float64, dof int, left []Left, probe budget.Spread, chip float64) Naming {
	out := Naming{Verdict: Clean, Index: -1, Left: left}
	sse := sumSquares(res)
	known := probe.S > 0 && probe.Dof > 0
	if known {
		out.Chi2 = sse / sq(probe.S)
		out.Chi2Limit = float64(dof) * budget.FQuantile(familyShare, float64(dof), probe.Dof)
		if out.Chi2 <= out.Chi2Limit {
			return out
		}
	}
	if dof == 1 {
		out.pair(res, known, chip)
		return out
	}
	best, next := leastTwo(left)
	if best < 0 || next < 0 {
		out.Verdict = Unnamed
		return out
	}
	b := left[best]
	if b.S > 0 {
		out.Runner = Known(left[next].S / b.S)
	}
	told := left[next].S > 0 && left[next].S >= runnerUp*b.S
	if known {
		told = out.inFamilyWithout(b, left[next], dof, probe) && told
	} else {
		d1 := float64(dof - 1)
		told = told && sse-d1*sq(b.S) > sq(b.S)*budget.FQuantile(1-0.01/float64(len(res)), 1, d1)
	}
	switch {
	case !told && !known:
		out.Verdict = NoStatement
		return out
	case !told:
		out.Verdict = unnamed(left, nil)
		return out
	}
	out.Index, out.Deviation = best, b.Deviation
	out.LikeChip = b.Deviation*chip > 0
	out.Verdict = Named
	if known && math.Abs(b.Deviation) < HarmlessDeviation {
		out.Verdict = Harmless
	}
	return out
}

// pair is what one redundant reading tells: which could be bad, never which is.
func (n *Naming) pair(res []float64, known bool, chip float64) {
	if !known {
		n.Verdict = NoStatement
		return
	}
	for i, e := range res {
		if n.Left[i].OK && e*chip > 0 {
			n.Candidates = append(n.Candidates, i)
		}
	}
	n.Verdict = unnamed(n.Left, n.Candidates)
}

// leastTwo are the readings without which the scatter is least, and next to least; -1 where there is none.
func leastTwo(left []Left) (best, next int) {
	best, next = -1, -1
	for i, l := range left {
		switch {
		case !l.OK:
		case best < 0 || l.S < left[best].S:
			best, next = i, best
		case next < 0 || l.S < left[next].S:
			next = i
		}
	}
	return best, next
}

// inFamilyWithout says that without the best candidate the rest is in family, and that it stands far enough from them.
func (n *Naming) inFamilyWithout(b, next Left, dof int, probe budget.Spread) bool {
	d1 := float64(dof - 1)
	n.Chi2Left = d1 * sq(b.S/probe.S)
	n.LeftLimit = d1 * budget.FQuantile(familyShare, d1, probe.Dof)
	is := n.Chi2Left <= n.LeftLimit && math.Abs(b.Deviation) >= math.Max(4*probe.S, NamedDeviation)
	if dof == 2 {
		// one degree of freedom left: a small scatter may be luck, and two in family is a tie
		return is && sq(next.S/probe.S) > n.LeftLimit
	}
	return is
}

// unnamed decides between Unnamed and Harmless by the worst the bad reading could be.
func unnamed(left []Left, among []int) Verdict {
	worst := 0.0
	for i, l := range left {
		if !l.OK {
			return Unnamed
		}
		if among == nil || contains(among, i) {
			worst = math.Max(worst, math.Abs(l.Deviation))
		}
	}
	if worst < HarmlessDeviation {
		return Harmless
	}
	return Unnamed
}

func contains(is []int, i int) bool {
	for _, k := range is {
		if k == i {
			return true
		}
	}
	return false
}
