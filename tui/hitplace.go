package tui

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// column is the place of a name in a list, put at its end when it is new.
func column(names *[]string, name string) int {
	for i, n := range *names {
		if n == name {
			return i
		}
	}
	*names = append(*names, name)
	return len(*names) - 1
}

// placesOf are where readings are taken, in the few words of a table: labels without what they have in common
// with their neighbours. Where what is left of one is said of another place too, without what all have in common.
func placesOf(asks []*fold.Ask) []string {
	rows := make([][]string, len(asks))
	for i, q := range asks {
		rows[i] = placeWords(q.Label)
		for _, r := range asks {
			if r.Label != q.Label && strings.Contains(r.Label, ":") && strings.Contains(q.Label, ":") &&
				slices.Equal(placeWords(r.Label), rows[i]) { // the place stands behind the colon
				rows[i] = strings.Fields(group(q.Label))
			}
		}
	}
	out := make([]string, len(rows))
	for i := range rows {
		out[i] = lessCommon(rows[i], rows[max(i-1, 0):min(i+2, len(rows))], (*span).most)
	}
	if alike(out, rows) {
		for i := range rows {
			out[i] = lessCommon(rows[i], rows, (*span).least)
		}
	}
	for i, q := range asks {
		if i > 0 && q.Label == kit.SecondTouch(asks[i-1].Label) { // under its first
			out[i] = "second touch"
		}
		if onClock(q) {
			deg, _ := strconv.ParseFloat(q.What.Dir, 64)
			out[i] = clock(deg)
		}
	}
	return out
}

// alike says that a name of a row that was made shorter is said of another as well.
func alike(short []string, rows [][]string) bool {
	for i, s := range short {
		whole := s == strings.Join(rows[i], " ")
		for _, r := range rows {
			if !whole && !slices.Equal(r, rows[i]) && strings.Contains(" "+strings.Join(r, " ")+" ", " "+s+" ") {
				return true
			}
		}
	}
	return false
}

// span are how many words at the front and at the end of a label say nothing.
type span struct{ front, end int }

func (s *span) most(front, end int)  { s.front, s.end = max(s.front, front), max(s.end, end) }
func (s *span) least(front, end int) { s.front, s.end = min(s.front, front), min(s.end, end) }

// lessCommon is a label without the words that it has in common with others.
func lessCommon(words []string, others [][]string, take func(*span, int, int)) string {
	var cut *span
	for _, other := range others {
		if slices.Equal(other, words) {
			continue
		}
		n, k := common(words, other)
		if cut == nil {
			cut = &span{n, k}
		}
		take(cut, n, k)
	}
	if cut == nil || cut.front+cut.end >= len(words) {
		cut = &span{}
	}
	return strings.Trim(strings.Join(words[cut.front:len(words)-cut.end], " "), ", ")
}

// common are the words that two labels share at their fronts and at their ends, there those alone that tell
// from where, which is said above the table. A place of two words, such as FAR LEFT, stays whole.
func common(a, b []string) (front, end int) {
	for front < len(a) && front < len(b) && a[front] == b[front] && a[front] != upper(a[front]) {
		front++
	}
	for end < len(a)-front && end < len(b)-front && a[len(a)-1-end] == b[len(b)-1-end] {
		end++
	}
	for end > 0 && a[len(a)-end] != "from" {
		end--
	}
	return front, end
}

// placeWords are the words of a label up to its place in coordinates and its axis.
func placeWords(label string) []string {
	label, _, _ = strings.Cut(label, ":")
	if i := strings.LastIndex(label, " ("); i > 0 && strings.HasSuffix(label, ")") { // the label above the table has it
		label = label[:i]
	}
	return strings.Fields(group(label))
}

// onClock says that a reading is a hit at an angle of something round.
func onClock(q *fold.Ask) bool {
	_, err := strconv.ParseFloat(q.What.Dir, 64)
	return err == nil && q.What.By == "probe" && q.What.Dir[0] != '+'
}

// clock is a direction on the clock, 3 o'clock RIGHT: where a hit is taken.
func clock(deg float64) string {
	deg = math.Mod(math.Mod(deg, 360)+360, 360)
	hour := math.Mod(15-deg/30, 12)
	if hour < 0.5 {
		hour += 12
	}
	out := strconv.FormatFloat(hour, 'f', -1, 64) + " o'clock"
	if hour != math.Round(hour) {
		out = strconv.FormatFloat(deg, 'f', -1, 64) + "°"
	}
	switch deg {
	case 0:
		out += " RIGHT"
	case 90:
		out += " AWAY"
	case 180:
		out += " LEFT"
	case 270:
		out += " TOWARD YOU"
	}
	return out
}
