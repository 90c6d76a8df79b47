package tui

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// heads is the check whose words head a page that does not pass: of those that fail, else
// of those not proven, the first that has words, else the first.
func heads(cs []fold.Check) *fold.Check {
	var best *fold.Check
	for _, want := range []fold.Verdict{fold.Fail, fold.NotProven} {
		for i := range cs {
			if c := &cs[i]; c.Verdict == want && (best == nil || best.Verdict == want && best.Words == "" && c.Words != "") {
				best = c
			}
		}
	}
	return best
}

// worstOf is the verdict of checks together, as the steps weigh them.
func worstOf(cs []fold.Check) fold.Verdict {
	out := fold.Pass
	for _, want := range []fold.Verdict{fold.Waived, fold.NotProven, fold.Fail} {
		for _, c := range cs {
			if c.Verdict == want {
				out = want
			}
		}
	}
	return out
}

// bar is the verdict across the page, the one area of colour: shape and word, then the value,
// its limit, and how many limits that is, as far as there is room.
func (m *Model) bar(s *sheet, title string, v fold.Verdict, told *fold.Check) {
	word, role := Verdict(verdictKey(v))
	switch v {
	case fold.Pass:
		role = PassBar
	case fold.NotProven:
		role = NotProvenBar
	case fold.Waived:
		role = WaivedBar
	case fold.Void:
		role = VoidBar
	}
	title, word = m.t.Say(title), m.t.Say(word)
	best := word
	if told != nil && v != fold.Void {
		for _, w := range m.against(*told) {
			if t := word + "  " + m.t.Say(w); Width(title)+Width(t)+4 <= s.w && Width(t) > Width(best) {
				best = t
			}
		}
	}
	if Width(title)+Width(best)+4 > s.w {
		s.put(must, m.t.Paint(role, Pad(" "+title, s.w)))
		title = ""
	}
	s.put(must, m.t.Paint(role, Pad(" "+title+strings.Repeat(" ", max(s.w-Width(title)-Width(best)-2, 1))+best, s.w)))
}

// against is what was found held against its limit, in fewer and fewer words.
func (m *Model) against(c fold.Check) []string {
	got, limit := measured(c, m.o.Plan.System())
	if got == "" || c.Count {
		return nil
	}
	short := strings.ReplaceAll(got, "± guard", "±")
	of := " of "
	if strings.HasPrefix(limit, "at least ") {
		of = ", "
	}
	if strings.Trim(strings.SplitN(limit, " ", 2)[0], "0.") == "" {
		return []string{short + ", must be 0"}
	}
	return []string{short + of + limit + times(c), short + of + limit, short + of + strings.SplitN(
		strings.TrimPrefix(limit, "at least "), " ", 2)[0]}
}

// times is how many limits were found, where it is more than one.
func times(c fold.Check) string {
	r := 0.0
	if !c.Limit.Min && c.Limit.Max > 0 {
		r = c.Got / c.Limit.Max
	}
	switch {
	case r >= 9.95:
		return ", " + strconv.Itoa(int(math.Round(r))) + " times the limit"
	case r > 1.05:
		return ", " + strconv.FormatFloat(r, 'f', 1, 64) + " times the limit"
	}
	return ""
}
