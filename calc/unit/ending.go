package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Ends marks a text of last digits: no number begins so.
const Ends = ".."

const (
	clearlyNearer = 1.5 // the other candidate is at least so many times as far, or both are refused
	mostPeriods   = 25  // a prediction that may be off by more than so many candidates chooses none
)

// Ending is the number, as it would be typed, that ends in the digits behind ".." and is nearest to
// want: "..12" near -152.809 mm with a step of 0.001 mm is "-152.812". The step (internal unit, 0
// for Step(k, sys)) says how many decimals are read; a point in the digits says so itself. Half is
// how far from want the reading may be. Errors: no digits, a prediction too rough to choose, and
// two numbers that are about equally near.
func Ending(text string, want, half float64, k Kind, sys System, step float64) (string, error) {
	digits := strings.Replace(strings.TrimPrefix(strings.TrimSpace(text), Ends), ",", ".", 1)
	whole, part, point := strings.Cut(digits, ".")
	if whole+part == "" || len(whole+part) > 9 || strings.Trim(whole+part, "0123456789") != "" || point && part == "" {
		return "", fmt.Errorf("%q has no last digits; type them behind the two points, as ..12", text)
	}
	f := k.entry(sys).factor()
	if !(step > 0) || math.IsInf(step, 0) {
		step = Step(k, sys)
	}
	dec := places(step / f)
	if point {
		dec = len(part)
	}
	n, _ := strconv.Atoi(whole + part)
	scale := math.Pow10(dec)
	period := math.Pow10(len(whole+part)) / scale
	end, w := float64(n)/scale, want/f
	if math.IsNaN(w) || math.IsInf(w, 0) || !(half/f <= mostPeriods*period) {
		return "", fmt.Errorf("what is expected is too rough for the last %d digits; type the whole number", len(whole+part))
	}
	best, next := math.Inf(1), math.Inf(1)
	value := 0.0
	for _, sign := range []float64{1, -1} {
		from := math.Floor((sign*w - end) / period)
		for _, turns := range []float64{from, from + 1} {
			v := sign * (end + max(turns, 0)*period)
			switch d := math.Abs(v - w); {
			case v == value && !math.IsInf(best, 1): // the same one again, zero or the lowest
			case d < best:
				best, next, value = d, best, v
			case d < next:
				next = d
			}
		}
	}
	out := strconv.FormatFloat(value, 'f', dec, 64)
	if next < clearlyNearer*best {
		return "", fmt.Errorf("two numbers that end in %s are about equally near to what is expected; type one digit more", digits)
	}
	if strings.Trim(out, "-0.") == "" {
		out = strings.TrimPrefix(out, "-")
	}
	return out, nil
}
