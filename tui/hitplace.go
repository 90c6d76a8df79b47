package tui

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/steps"
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

// placeOf is where a reading is taken, in the few words of a table.
func placeOf(q *steps.Ask, labels []string, i int) string {
	if deg, err := strconv.ParseFloat(q.What.Dir, 64); err == nil && q.What.By == "probe" && q.What.Dir[0] != '+' {
		return clock(deg)
	}
	head := func(s string) string { s, _, _ = strings.Cut(s, ":"); return s }
	words := strings.Fields(group(head(labels[i])))
	skip := len(words)
	for _, l := range labels { // what all have in common says nothing
		other := strings.Fields(group(head(l)))
		n := 0
		for n < len(words) && n < len(other) && words[n] == other[n] && words[n] != upper(words[n]) {
			n++ // a place of two words, such as FAR LEFT, stays whole
		}
		if l != labels[i] {
			skip = min(skip, n)
		}
	}
	if skip >= len(words) {
		skip = 0
	}
	return strings.TrimLeft(strings.Join(words[skip:], " "), ", ")
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
