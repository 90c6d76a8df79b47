package frame

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// WorkOffset is one of the nine program coordinate systems of NISTIR 6556, 3.5.13: 1 is G54, 9 is G59.3.
type WorkOffset int

var offsetWords = [...]string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}

// ParseWorkOffset reads G54 to G59.3. Words some controls add beyond these (such as G54.1 P1) are refused.
func ParseWorkOffset(s string) (WorkOffset, error) {
	w := strings.ToUpper(strings.TrimSpace(s))
	for i, o := range offsetWords {
		if w == o {
			return WorkOffset(i + 1), nil
		}
	}
	return 0, fmt.Errorf("unknown work offset %q: use G54 to G59, G59.1, G59.2 or G59.3", s)
}

func (w WorkOffset) String() string {
	if !w.ok() {
		return fmt.Sprintf("work offset %d", int(w))
	}
	return offsetWords[w-1]
}

func (w WorkOffset) ok() bool { return w >= 1 && int(w) <= len(offsetWords) }

// Word is one axis word: a letter and a value in the control's own unit.
type Word struct {
	Axis  byte // X, Y or Z
	Value float64
}

// G10 returns the line that sets the origin of the system in absolute machine coordinates: G10 L2 Pn, NISTIR 6556, 3.5.5.
// It is meant for manual entry. An axis not given keeps its value. Values are in the unit active at the control,
// rounded to the given number of decimals without trailing zeros; there is no exponent form.
//
// A value that is not finite is refused. A system outside 1 to 9, an axis that is not X, Y or Z or stands twice, no axis at
// all, or decimals outside 0 to 6 are a mistake of the caller and panic.
func G10(w WorkOffset, decimals int, axes ...Word) (string, error) {
	if !w.ok() || decimals < 0 || decimals > 6 || len(axes) == 0 {
		panic("frame: G10 wants a system 1 to 9, 0 to 6 decimals and at least one axis")
	}
	var b strings.Builder
	fmt.Fprintf(&b, "G10 L2 P%d", int(w))
	seen := ""
	for _, a := range axes {
		if !strings.ContainsRune("XYZ", rune(a.Axis)) || strings.ContainsRune(seen, rune(a.Axis)) {
			panic("frame: G10 wants each of X, Y, Z at most once")
		}
		seen += string(rune(a.Axis))
		if math.IsNaN(a.Value) || math.IsInf(a.Value, 0) {
			return "", fmt.Errorf("offset %c is %v: take the readings it stands on again", a.Axis, a.Value)
		}
		fmt.Fprintf(&b, " %c%s", a.Axis, plain(a.Value, decimals))
	}
	return b.String(), nil
}

// plain prints a number as a control reads it: no exponent, no trailing zeros, no minus zero.
func plain(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
