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

// Manual returns a line of manual entry that means the same whatever the control was left in: the unit (G20, or G21) and
// absolute distances (G90) stand in it, and each value has all its decimals and a decimal point, of which some controls read a
// number without as thousandths. NISTIR 6556, 3.5.6, 3.5.16 and 3.5.5. It panics as G10 does, and on no decimals.
func Manual(w WorkOffset, inch bool, decimals int, axes ...Word) (string, error) {
	if decimals < 1 {
		panic("frame: a word wants a decimal point")
	}
	if _, err := G10(w, decimals, axes...); err != nil {
		return "", err
	}
	b := []byte("G21 G90 G10 L2 P")
	if inch {
		b[2] = '0'
	}
	b = strconv.AppendInt(b, int64(w), 10)
	for _, a := range axes {
		b = append(b, ' ', a.Axis)
		at := len(b)
		if b = strconv.AppendFloat(b, a.Value, 'f', decimals, 64); b[at] == '-' && strings.Trim(string(b[at:]), "-0.") == "" {
			b = append(b[:at], b[at+1:]...) // no minus zero
		}
	}
	return string(b), nil
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
