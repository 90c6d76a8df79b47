package bench

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// words answers a choice or a text by what is there. Where the ask names the only
// good answer, that is what a world without a mistake shows.
func (w *World) words(a fold.Ask) (string, error) {
	q := a.What
	s := ""
	switch {
	case q.By == "eye" && q.Of == "fixture" && q.Dir == "id":
		s = w.card.ID
	case q.Of == "posts":
		if err := w.zeroPosts(q.Dir); err != nil {
			return "", err
		}
		s = a.Want
	case q.Of == "screws" && q.Dir == "set":
		s = w.setScrews(a)
	case q.By == "eye" && q.Of == "ring":
		s = "R-25"
	case q.By == "eye" && q.Of == "air":
		s = a.Options[len(a.Options)-1]
		if w.Effects.Damp > 0 {
			s = a.Options[0]
		}
	case q.By == "hand" && q.Of == "part" && math.Abs(w.part.hot) >= felt:
		s = a.Options[1]
		if w.part.hot < 0 {
			s = a.Options[2]
		}
	case q.By == "eye" && q.Of == "pocket" && w.hand.seated:
		s = other(a)
	case q.By == "control" && q.Of == "offset-word":
		s = w.setup.Offset
	case q.By == "control" && q.Axis == "z0":
		s = w.hand.word
	case a.Want != "":
		s = a.Want
	case len(a.Options) > 0:
		s = a.Options[0]
	default:
		return "", fmt.Errorf("bench: words for %q of %q (%q) are not known", q.By, q.Of, q.Dir)
	}
	if len(a.Options) == 0 {
		return s, nil
	}
	for _, o := range a.Options {
		if strings.EqualFold(o, s) {
			return o, nil
		}
	}
	return "", fmt.Errorf("bench: %q is none of %q", s, a.Options)
}

// felt is the difference of temperature that a hand tells, K.
const felt = 3

// other is an answer that is not the good one.
func other(a fold.Ask) string {
	good := a.Want
	if len(a.Options) == 0 {
		return good + "?"
	}
	for _, o := range a.Options {
		if !strings.EqualFold(o, good) {
			return o
		}
	}
	return a.Options[0]
}

// fixtureBolts hold the fixture on the table.
const fixtureBolts = 4

// count counts what is there.
func (w *World) count(a fold.Ask) (int, error) {
	q := a.What
	n := 0
	switch {
	case w.raw != nil && q.Of == "stock" && q.Dir == "days":
		return 30, nil
	case q.Of == "spindle" && a.Want == "":
		return toolNumber(w.firstTool()), nil
	case w.raw != nil && q.Of == "holes":
		_, err := fmt.Sscan(a.Want, &n)
		return n, err
	case q.By == "feeler" && q.Of == "part" && q.Dir == "corners":
		return w.loose(), nil
	case q.By == "feeler" && q.Of == "part" && q.Dir == "walls":
		return w.ajar(), nil
	case q.By == "pin":
		return 0, nil
	}
	if slices.Contains([]string{"count", "eye", "finger", "driver"}, q.By) {
		if n, ok := w.countOf(q); ok {
			return n, nil
		}
	}
	if q.By == "tap" || q.Dir == "turns" {
		return int(w.card.Threads.Depth/pitch(w.setup.Screws.Thread) + 0.5), nil
	}
	if a.Want != "" {
		if _, err := fmt.Sscan(a.Want, &n); err == nil {
			return n, nil
		}
	}
	if a.Window != nil {
		return int(a.Window.Want + 0.5), nil
	}
	return 0, fmt.Errorf("bench: count of %q by %q (%q) is not known", q.Of, q.By, q.Dir)
}

// countOf is how many of a thing are on table and part.
func (w *World) countOf(q fold.What) (n int, ok bool) {
	switch q.Of {
	case "clamps":
		if q.Dir != "turned" { // what is on is tight
			n = w.hand.straps
		}
	case "fixture-bolts":
		if q.Dir != "loose" {
			n = fixtureBolts
		}
	case "screws":
		if n = w.hand.screws; q.Dir == "firm" {
			n -= w.hand.soft
		}
	case "paint-lines":
		n, ok = w.hand.screws-w.hand.soft, q.Dir == "firm"
		return n, ok
	case "soft-screws":
		n = w.hand.soft
	case "holes":
		if w.hand.drilled || w.setup.HolesHere || w.setup.HoldDown == "S" {
			n = len(w.setup.Screws.At)
		}
	case "loose-bolts", "wrenches", "dials", "feelers":
	case "tools":
		n = len(w.plan.Job.Tools)
	default:
		return 0, false
	}
	return n, true
}

// strip is the thickness of the strips under the corners, mm.
const strip = 0.02

// loose are the corners whose strip pulls out.
func (w *World) loose() int {
	n := 0
	for i, c := range []xy{{0, 0}, {w.size.x, 0}, w.size, {0, w.size.y}} {
		if i != w.part.corner && w.chipLift(c) > strip {
			n++
		}
	}
	return n
}

// ajar are the datum walls that the part stands off from, so that a strip pulls out.
func (w *World) ajar() int {
	n := 0
	for _, a := range w.setup.Against {
		if toward, ok := way(a); ok && (w.part.free || -w.part.shift.dot(toward) > strip) {
			n++
		}
	}
	return n
}

// pitch is a thread's, mm: coarse metric by its size, unified by its threads per inch.
func pitch(thread string) float64 {
	if p, ok := map[string]float64{"M1.6": 0.35, "M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1}[thread]; ok {
		return p
	}
	if _, n, ok := strings.Cut(thread, "-"); ok {
		if t, err := strconv.ParseFloat(n, 64); err == nil && t > 0 {
			return 25.4 / t
		}
	}
	return 0.5
}
