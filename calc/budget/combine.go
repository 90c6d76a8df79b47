package budget

import "math"

// Result is a combined budget.
type Result struct {
	Std     float64 // combined standard uncertainty
	U       float64 // half-width of the interval that holds 95 %
	K       float64 // U/Std, 0 when Std is 0
	Guard   float64 // one-sided 95 %: what a claim on one side of a limit must keep clear
	Dof     float64 // effective degrees of freedom of Std (Welch-Satterthwaite), +Inf when none is limited
	Largest Line    // the line with the largest share of the variance; the first of equals; zero without lines
	Share   float64 // its share, 0 to 1
}

// Combine adds independent lines.
//
// Std is the root of the sum of squares (JCGM 100, 5.1.2). If no rectangle's standard uncertainty exceeds
// half of Std, U = t(Dof)*Std with the effective degrees of freedom of Welch-Satterthwaite (JCGM 100, G.4),
// not rounded. Otherwise U is taken from the distribution itself: t(dof of the rest)*u of the rest, convolved with the
// two largest rectangles, which make a trapezoid. Guard is the one-sided quantile of the same distribution. A
// triangle counts as its two rectangles.
//
// Limits worth knowing. U steps where a growing rectangle takes charge: down by less than 1 % when all lines are well known,
// up, by a lot, when the rest has one or two degrees of freedom. And Welch-Satterthwaite lets U fall when
// a well-known line joins one of few degrees of freedom (one of 1 dof alone has k 12.7, with an equal one of many dof k 2.8).
//
// No lines give zeros. A line that is negative or not finite gives Std, U and Guard +Inf and is named as
// the largest: no limit can then be passed or failed. Nothing is allocated.
func Combine(lines []Line) Result {
	var r Result
	total := 0.0      // Σu²
	var one, two rect // the two largest rectangles
	largest, at := 0.0, -1
	for i, l := range lines {
		u := l.Std()
		if math.IsInf(u, 1) {
			return Result{Std: u, U: u, K: 1, Guard: u, Dof: math.Inf(1), Largest: l, Share: 1}
		}
		v := u * u
		if at < 0 || v > largest {
			largest, at = v, i
		}
		total += v
		switch l.Shape {
		case Rectangular:
			one, two = keep(one, two, rect{l.half(), l.dof()})
		case Triangular:
			h := rect{l.half() / 2, l.dof()}
			one, two = keep(one, two, h)
			one, two = keep(one, two, h)
		}
	}
	if at >= 0 {
		r.Largest = lines[at]
	}
	if total == 0 {
		r.Dof = math.Inf(1)
		return r
	}
	r.Std = math.Sqrt(total)
	r.Share = largest / total
	_, r.Dof = without(lines, rect{}, rect{})

	s := sum{un: r.Std, nu: r.Dof}
	if one.std() > r.Std/2 {
		rest, dof := without(lines, one, two)
		s = sum{un: math.Sqrt(rest), nu: dof, a: one.a, b: two.a}
	}
	r.U, r.Guard = s.quantile(0.975), s.quantile(0.95)
	r.K = r.U / r.Std
	return r
}

// rect is a rectangle of half-width a with the degrees of freedom of that width.
type rect struct{ a, dof float64 }

func (q rect) std() float64 { return q.a / math.Sqrt(3) }

func keep(one, two, q rect) (rect, rect) {
	switch {
	case q.a > one.a:
		return q, one
	case q.a > two.a:
		return one, q
	}
	return one, two
}

// without returns the variance and the effective degrees of freedom (Welch-Satterthwaite) of all lines but the two
// rectangles, added again rather than subtracted: the rest may be many digits smaller than what was taken out.
func without(lines []Line, one, two rect) (rest, dof float64) {
	quartic := 0.0 // Σ(u²/rest)²/ν, kept relative so that neither tiny nor huge units underflow
	for pass := range 2 {
		one, two := one, two
		for _, l := range lines {
			parts, n := [2]rect{}, 0
			switch l.Shape {
			case Rectangular:
				parts[0], n = rect{l.half(), l.dof()}, 1
			case Triangular:
				h := rect{l.half() / 2, l.dof()}
				parts[0], parts[1], n = h, h, 2
			}
			v := 0.0
			if n == 0 {
				v = l.Std() * l.Std()
			}
			for _, q := range parts[:n] {
				switch q {
				case one:
					one.a = -1
				case two:
					two.a = -1
				default:
					v += q.a * q.a / 3
				}
			}
			if pass == 0 {
				rest += v
			} else if rest > 0 {
				quartic += (v / rest) * (v / rest) / l.dof()
			}
		}
	}
	return rest, 1 / quartic
}
