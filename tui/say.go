package tui

import (
	"fmt"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// verdictKey is the word by which Verdict knows a verdict.
func verdictKey(v fold.Verdict) string {
	switch v {
	case fold.Pass:
		return "pass"
	case fold.Fail:
		return "fail"
	case fold.NotProven:
		return "not_proven"
	case fold.Void:
		return "void"
	case fold.Waived:
		return "waived"
	case fold.Waiting:
		return "waiting"
	case fold.Current:
		return "current"
	case fold.NotApplicable:
		return "not_applicable"
	}
	return ""
}

// number is a value as this page prints it, without its unit.
func number(r fold.Row, sys unit.System) string {
	switch {
	case r.Text != "":
		return r.Text
	case r.Signed:
		return unit.Signed(r.Value, r.Unit, sys, 0)
	}
	return unit.Format(r.Value, r.Unit, sys, 0)
}

// shown is a row's value with guard and unit.
func shown(r fold.Row, sys unit.System) string {
	if r.Text != "" {
		return r.Text
	}
	s := number(r, sys)
	if r.Guard > 0 {
		s += guarded(r.Guard, r.Unit, sys)
	}
	if u := unit.UnitName(r.Unit, sys); u != "" {
		s += " " + u
	}
	return s
}

// guarded is what a value may be off by, one-sided 95 %, and says that it is that: beside an
// expected reading a ± is a window, on the record it may be U.
func guarded(g float64, k unit.Kind, sys unit.System) string {
	return " ± guard " + unit.Format(g, k, sys, 0)
}

// measured is what a check found, and what it may be at most; both empty for an answer.
func measured(c fold.Check, sys unit.System) (got, limit string) {
	switch {
	case c.Count && c.Got == 0 && c.Limit.Max == 0:
		return "", ""
	case c.Count:
		return c.Shown(), unit.Format(c.Limit.Max, unit.Count, sys, 0)
	}
	c.Limit.System = sys
	got, limit = c.Against()
	if c.Guard > 0 {
		got += guarded(c.Guard, c.Limit.Unit, sys)
	}
	return got, limit
}

// ago is a span of time in words, to the minute.
func ago(d time.Duration) string {
	switch m := int(d / time.Minute); {
	case m < 1:
		return "less than a minute ago"
	case m < 60:
		return plural(m, "minute") + " ago"
	case m < 48*60:
		return plural(m/60, "hour") + " ago"
	default:
		return plural(m/60/24, "day") + " ago"
	}
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// clockTime is a time of day as it is told on the screen.
func clockTime(t time.Time) string { return t.Format("15:04") }

// causeWords says why a fact is void, and when.
func causeWords(c *fold.Cause, st *fold.State) string {
	if c == nil {
		return ""
	}
	w := c.Words
	for _, h := range st.Mishaps {
		if h.Seq == c.Seq && !h.At.IsZero() {
			return w + " " + clockTime(h.At)
		}
	}
	return w
}

// capital begins a sentence.
func capital(s string) string { return upper(s[:min(len(s), 1)]) + s[min(len(s), 1):] }

func upper(s string) string { return strings.ToUpper(s) }

// sentence ends a text with a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".:?") {
		return s
	}
	return s + "."
}
