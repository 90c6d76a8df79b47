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
	short := shortPlace(labels, i)
	for j := range labels { // of two that read alike each is told whole
		if j != i && labels[j] != labels[i] && shortPlace(labels, j) == short {
			return strings.Join(placeWords(labels[i]), " ")
		}
	}
	return short
}

// shortPlace is a label without what it has in common with its neighbours.
func shortPlace(labels []string, i int) string {
	words := placeWords(labels[i])
	skip, drop := 0, 0
	for _, j := range []int{i - 1, i + 1} { // what it has in common with its neighbours says nothing
		if j < 0 || j >= len(labels) || labels[j] == labels[i] {
			continue
		}
		other := placeWords(labels[j])
		n, k := 0, 0
		for n < len(words) && n < len(other) && words[n] == other[n] && words[n] != upper(words[n]) {
			n++ // a place of two words, such as FAR LEFT, stays whole
		}
		for k < len(words)-n && k < len(other)-n && words[len(words)-1-k] == other[len(other)-1-k] {
			k++
		}
		for k > 0 && words[len(words)-k] != "from" { // from where is said above the table
			k--
		}
		skip, drop = max(skip, n), max(drop, k)
	}
	if skip+drop >= len(words) {
		skip, drop = 0, 0
	}
	return strings.TrimLeft(strings.Join(words[skip:len(words)-drop], " "), ", ")
}

// placeWords are the words of a label up to its place in coordinates and its axis.
func placeWords(label string) []string {
	label, _, _ = strings.Cut(label, ":")
	return strings.Fields(group(label))
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
