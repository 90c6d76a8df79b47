package hold

import (
	"fmt"
	"math"
)

// Flag says how well a number is founded.
type Flag int

const (
	Unknown  Flag = iota // no number
	Verified             // verified copy of a published table
	Memory               // published, recalled from memory
	Computed             // computed here
	Practice             // common practice, from memory
	Estimate             // starting estimate, may be wrong by a factor of 2
	Given                // given by the shop
)

// String returns the flag as it is printed beside a number.
func (f Flag) String() string {
	return [...]string{"no number", "verified copy", "from memory", "computed here", "common practice",
		"estimate, may be wrong by a factor of 2", "given by the shop"}[f]
}

// Range is one number with its spread. Low <= Nominal <= High. The zero Range means
// that no number is known: Known is false.
type Range struct {
	Low, Nominal, High float64
	Source             string
	Flag               Flag
}

// Known tells whether there is a number at all.
func (r Range) Known() bool { return r.Flag != Unknown }

// Exactly returns the range of one measured or stated number: it replaces a range that
// was an estimate, for example after a thread was stripped on test.
func Exactly(v float64, source string) Range { return Range{v, v, v, source, Given} }

// Valid returns an error unless the range is known, finite, ordered and above zero.
func (r Range) Valid(name string) error {
	switch {
	case !r.Known():
		return fmt.Errorf("%s: no number is known; give your own measurement with its source", name)
	case !(r.Low > 0) || math.IsInf(r.High, 0) || !(r.Low <= r.Nominal) || !(r.Nominal <= r.High):
		return fmt.Errorf("%s: range %g, %g, %g must be finite, above 0 and in rising order; correct the range", name, r.Low, r.Nominal, r.High)
	case r.Flag == Given && r.Source == "":
		return fmt.Errorf("%s: %g has no source; say where it comes from, for example \"stripped on scrap\"", name, r.Nominal)
	}
	return nil
}

// positive returns an error unless every value is finite and above zero. Pairs of name and value.
func positive(pairs ...any) error { return bounded(pairs, false) }

// notNegative returns an error unless every value is finite and not below zero.
func notNegative(pairs ...any) error { return bounded(pairs, true) }

func bounded(pairs []any, zero bool) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		v := pairs[i+1].(float64)
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return fmt.Errorf("%s is %g: it must be a finite number; enter it again", pairs[i], v)
		case zero && v < 0:
			return fmt.Errorf("%s is %g: it must not be below 0; check the sign", pairs[i], v)
		case !zero && v <= 0:
			return fmt.Errorf("%s is %g: it must be greater than 0; measure it and enter it again", pairs[i], v)
		}
	}
	return nil
}
