package tui

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// farAct is what is to be done, for a reader who stands away: which way and how far
// where the act says it, else what it begins with in tall letters, at least the step's
// name, and the sentences apart from each other. After it the page needs so many lines.
func (m *Model) farAct(s *sheet, title string, as []fold.Act, after int) {
	said := sayWords(as)
	if fs := m.moved(as); len(fs) > 0 {
		for _, w := range said {
			s.say(must, Act, w)
		}
		s.gap()
		m.figures(s, big, fs, m.room()-s.musts()-after-1)
		return
	}
	// What is left of the page once the rest of it has its lines; empty lines give way.
	room := m.room() - s.musts() - after
	for _, lead := range leads(said) {
		rest := append([]string{lead.rest}, said[1:]...)
		n := 0
		for _, t := range rest {
			for _, line := range sentences(t) {
				n += len(Wrap(m.t.Say(line), s.w))
			}
		}
		if m.tall(s, must, lead.head, room-n) {
			s.gap()
			m.apart(s, rest)
			return
		}
	}
	if m.tall(s, big, title, 3*m.h/24) {
		s.gap()
	}
	m.apart(s, said)
}

// lead is the beginning of a text, and what follows it.
type lead struct{ head, rest string }

// leads are the beginnings of an act that can stand alone in tall letters, the longest
// first: its first sentence, then that up to a clause's end. It ends at no other place.
func leads(said []string) []lead {
	if len(said) == 0 {
		return nil
	}
	ss := sentences(said[0])
	if len(ss) == 0 {
		return nil
	}
	out := []lead{{ss[0], strings.Join(ss[1:], " ")}}
	for i := len(ss[0]) - 1; i > 0; i-- {
		if end := ss[0][i-1 : i+1]; end == ", " || end == ": " || end == "; " {
			rest := strings.TrimSpace(ss[0][i:])
			out = append(out, lead{ss[0][:i-1], strings.TrimSpace(strings.Join(append([]string{capital(rest)}, ss[1:]...), " "))})
		}
	}
	return out
}

// apart shows sentences in bold, an empty line between each two.
func (m *Model) apart(s *sheet, texts []string) {
	first := true
	for _, t := range texts {
		for _, line := range sentences(t) {
			if !first {
				s.gap()
			}
			first = false
			s.say(must, Figure, line)
		}
	}
}

// sentences takes a text apart at its full stops.
func sentences(t string) []string {
	var out []string
	for t = strings.TrimSpace(t); t != ""; {
		i := strings.Index(t, ". ")
		if i < 0 {
			return append(out, t)
		}
		out, t = append(out, t[:i+1]), strings.TrimSpace(t[i+2:])
	}
	return out
}

// tall puts words in tall letters, on several rows if need be; false where they don't
// fit in w cells and h lines.
func (m *Model) tall(s *sheet, prio int, text string, h int) bool {
	ls := m.letters(text, s.w, h)
	for i := range ls {
		ls[i] = m.t.Paint(Figure, ls[i])
	}
	s.put(prio, ls...)
	return ls != nil
}

// letters are words in the tallest letters in which they fit, nil for none. A letter
// without a figure would stand small among the others: then, too, none.
func (m *Model) letters(text string, w, h int) []string {
	text = strings.TrimSuffix(upper(m.t.Say(strings.TrimSpace(text))), ".")
	for _, r := range text {
		if _, ok := figures[r]; !ok {
			return nil
		}
	}
	for _, tall := range talls {
		if tall == 3 && m.t.Look.ASCII {
			continue // the three-line form is of digits only
		}
		var out []string
		row := ""
		fits := func(t string) bool { return bigWidth(t, tall) <= w }
		put := func() {
			if len(out) > 0 {
				out = append(out, "")
			}
			out = append(out, Big(row, tall, m.t.Look.ASCII)...)
		}
		ok := text != ""
		for _, word := range axed(strings.Fields(text)) {
			switch {
			case row != "" && fits(row+" "+word):
				row += " " + word
			case !fits(word):
				ok = false
			default:
				if row != "" {
					put()
				}
				row = word
			}
		}
		if put(); ok && len(out) <= h {
			return out
		}
	}
	return nil
}

// tallOptions shows what can be chosen in tall letters, all in one size, each on one row; false
// where they don't fit.
func (m *Model) tallOptions(s *sheet, options []string, chosen string) bool {
	const in = 4
	room := m.room() - s.musts() - s.head().height() - 1
	for _, tall := range talls {
		if tall == 3 && m.t.Look.ASCII || (tall+1)*len(options) > room {
			continue
		}
		var ls []string
		for i, o := range options {
			rows := m.letters(itoa(i+1)+" "+o, s.w-in, tall)
			if len(rows) != tall { // smaller, or on no row
				ls = nil
				break
			}
			ls = append(ls, "")
			for k, r := range rows {
				mark, role := "    ", Figure
				if chosen != "" && o != chosen {
					role = Dim
				}
				if o == chosen {
					if k == tall/2 {
						mark = "  > "
					}
				}
				ls = append(ls, m.t.Paint(role, mark+r))
			}
		}
		if ls != nil {
			s.put(must, ls...)
			return true
		}
	}
	return false
}

// axed keeps an axis letter with the number behind it.
func axed(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 && len(out[n-1]) == 1 && strings.Contains("XYZ", out[n-1]) && strings.ContainsAny(w, "0123456789") {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// asEntered prints a value in the unit in which a bare number in its field is read, so
// that field and expectation can be compared digit for digit.
func asEntered(v float64, a fold.Ask, sys unit.System) string {
	k := a.Unit
	if k == unit.Scalar { // whole percents, whole lines: what is typed has no step
		return strconv.FormatFloat(v, 'g', 6, 64)
	}
	shown, entry := unit.UnitName(k, sys), a.EntryUnit(sys)
	one, err := unit.Parse("1", k, sys)
	switch {
	case shown == entry || err != nil || one.Value == 0:
		return unit.Format(v, k, sys, 0)
	case entry == "": // a slope: a bare number is a ratio, which nobody reads off anything
		return unit.Show(v, k, sys, 0)
	}
	places := max(int(math.Round(-math.Log10(unit.Step(k, sys)/one.Value))), 0)
	s := strconv.FormatFloat(v/one.Value, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-") // what rounds to zero has no sign
	}
	return s
}

// apartText is asEntered of a difference: those of temperature have no zero.
func apartText(v float64, a fold.Ask, sys unit.System) string {
	if a.Unit == unit.KTemperature {
		return unit.Format(v, unit.KWarmth, sys, 0)
	}
	return asEntered(v, a, sys)
}

// firstSentence is a text up to its first full stop.
func firstSentence(t string) string {
	if ss := sentences(t); len(ss) > 0 {
		return ss[0]
	}
	return ""
}
