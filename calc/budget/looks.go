package budget

import (
	"fmt"
	"math"
	"sync"
)

// Who may look again until a value passes is not wrong in 5 of 100 any more: at its limit a value passes at the first look in 5 %,
// at one of three in 10 %. So a step says beforehand how often it looks, judges the mean of all looks so far each time, and its guards
// are wide enough for all of them together: a group-sequential test. All looks have the same factor, as Pocock has it (Biometrika 64, 1977;
// Jennison and Turnbull, Group Sequential Methods, 2000, chapter 2, both from memory; the factor itself is computed here): of the shapes in
// use it is the one that decides most at the first look.

// LookShare is how many of the values at their limit a go at a step may pass, where so many goes before it looked at
// the same and could not tell: 4 %, and a fifth of it at each further go. Over all goes that is 5 %, however
// many there are and however alike they read (the sum bounds what they do together; computed here).
func LookShare(goes int) float64 { return 0.04 * math.Pow(5, -float64(max(goes, 0))) }

// Looks is the factor from a standard uncertainty to its guard, the same at each look, such that a value at its limit passes at one of
// them in that share of cases. u are the standard uncertainties of the mean of all looks so far; only their
// ratios count, and none is larger than the one before. Normal and well known: see LookGuard for few degrees of freedom.
//
// Exact where the value is the mean itself. Where it is the largest of several, or a sum of magnitudes, less passes.
// That a FAIL ends it is not reckoned with: it can only lower the share.
func Looks(share float64, u ...float64) float64 {
	if !(share > 0 && share < 0.5) || len(u) == 0 {
		panic("budget: looks want a share of 0 to 0.5 and the uncertainty of each")
	}
	info := informed(u)
	key := fmt.Sprintf("%.12g %.9g", share, info)
	if f, ok := looked.Load(key); ok {
		return f.(float64)
	}
	lo := TQuantile(1-share, math.Inf(1))                 // one look
	hi := TQuantile(1-share/float64(len(u)), math.Inf(1)) // all shares added up
	for hi-lo > 1e-7 {
		if mid := (lo + hi) / 2; passes(info, mid) > share {
			lo = mid
		} else {
			hi = mid
		}
	}
	looked.Store(key, hi)
	return hi
}

// LookGuard is the guard of a look by its factor, for a standard uncertainty with so many degrees of freedom:
// Student's quantile of the same share.
func LookGuard(factor, u, dof float64) float64 { return TQuantile(Phi(factor), dof) * u }

var looked sync.Map // what was solved, by its question: a replay asks the same a thousand times

// informed is the information of each look, as shares of the last one's.
func informed(u []float64) []float64 {
	last, info := u[len(u)-1], make([]float64, len(u))
	for k, x := range u {
		if !(x > 0) || math.IsInf(x, 1) || k > 0 && x > u[k-1]*(1+1e-12) {
			panic("budget: the uncertainty of the mean of all looks is above 0 and does not grow")
		}
		info[k] = last / x * (last / x)
	}
	return info
}

// passes is the chance that a value at its limit passes at one of the looks: that a walk of normal steps, which has come as far in variance
// as there is information, is beyond factor·√information at one of them. By Simpson over where the walk stands that did not pass yet.
func passes(info []float64, factor float64) float64 {
	const far = 8 // standard deviations: beyond it lies nothing
	upper := func(x float64) float64 { return Phi(-x) }
	density := func(x, s float64) float64 { return math.Exp(-x*x/(2*s*s)) / (s * math.Sqrt(2*math.Pi)) }
	s := math.Sqrt(info[0])
	total, edge := upper(factor), factor*s
	at := func(x float64) float64 { return density(x, s) } // of the walk at the look before, so long as it has not passed
	from := -far * s
	for k := 1; k < len(info); k++ {
		step := math.Sqrt(math.Max(info[k]-info[k-1], 0))
		if step < 1e-3*math.Sqrt(info[k]) {
			continue // it says what the one before said
		}
		n := 2 * int(math.Ceil((edge-from)/math.Min(0.2*math.Sqrt(info[k-1]), step))+1)
		h := (edge - from) / float64(n)
		xs, ws := make([]float64, n+1), make([]float64, n+1)
		next := factor * math.Sqrt(info[k])
		for i := range xs {
			xs[i] = from + float64(i)*h
			ws[i] = at(xs[i]) * h / 3 * float64(2+2*(i%2))
			if i == 0 || i == n {
				ws[i] /= 2
			}
			total += ws[i] * upper((next-xs[i])/step)
		}
		at = func(y float64) (f float64) {
			for i, x := range xs {
				f += ws[i] * density(y-x, step)
			}
			return f
		}
		edge, from = next, -far*math.Sqrt(info[k])
	}
	return total
}
