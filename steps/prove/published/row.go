package published

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// How a printed number was come by.
const (
	copied = "copy read"   // a public copy of the source was read
	memory = "from memory" // recalled; the source was not seen
)

// Row is one printed number.
type Row struct {
	Source  string // with its edition and table
	What    string
	Flag    string
	Printed string  // as printed, without digit grouping
	Ours    float64 // in the unit of what is printed
	Off     string  // why ours is not what is printed in its last digit, "" where it is
	Within  float64 // how far ours may then be off
}

// Value is the printed number.
func (r Row) Value() float64 {
	v, err := strconv.ParseFloat(r.Printed, 64)
	if err != nil {
		panic(fmt.Sprintf("published: %s, %s: printed %q is no number", r.Source, r.What, r.Printed))
	}
	return v
}

// half is half a unit of the last printed digit.
func (r Row) half() float64 {
	digits, power, _ := strings.Cut(strings.ToLower(r.Printed), "e")
	_, decimals, _ := strings.Cut(digits, ".")
	scale := 1.0
	if power != "" {
		p, err := strconv.Atoi(power)
		if err != nil {
			panic("published: " + r.Printed)
		}
		scale = math.Pow10(p)
	}
	return 0.5 * scale * math.Pow10(-len(decimals))
}

// Agrees says that ours rounds to what is printed, or is off by no more than is said.
func (r Row) Agrees() bool {
	d := math.Abs(r.Ours - r.Value())
	if r.Off != "" {
		return d <= r.Within
	}
	return d <= r.half()*(1+1e-9)+1e-12*math.Abs(r.Value())
}

// Digits is how many significant digits agree, at most 15.
func (r Row) Digits() float64 {
	v := r.Value()
	switch {
	case r.Ours == v:
		return 15
	case v == 0:
		return max(0, -math.Log10(math.Abs(r.Ours)))
	}
	return min(15, max(0, -math.Log10(math.Abs((r.Ours-v)/v))))
}

// ours is what we compute, with two digits more than are printed.
func (r Row) ours() string {
	digits, power, _ := strings.Cut(strings.ToLower(r.Printed), "e")
	_, decimals, _ := strings.Cut(digits, ".")
	n := min(len(decimals)+2, 15)
	if power != "" {
		return strconv.FormatFloat(r.Ours, 'e', n, 64)
	}
	return strconv.FormatFloat(r.Ours, 'f', n, 64)
}
