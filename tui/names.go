package tui

import (
	"slices"
	"strings"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Names within the program never reach the screen. What is spoken of has the words of the
// step or field that it belongs to; these are the places where only its name is at hand.

// factWords is a fact as it is spoken of: the step that makes it, as the list of steps
// says it, and the tool or program where the step makes several, else "".
func factWords(st *fold.State, f fold.Known) (words, thing string) {
	words = strings.ReplaceAll(string(f.ID.Column()), "-", " ")
	if ss, ok := st.Step(f.By); ok {
		words = lowerFirst(ss.Title)
	}
	switch t := f.ID.Thing(); {
	case t != "" && strings.Trim(t, "0123456789") == "":
		return words, "tool " + t
	case t == "probe":
		return words, t
	default:
		for _, g := range st.Plan().Setup.Programs {
			if g.Role == t {
				return words, g.File
			}
		}
	}
	return words, ""
}

// factsWords are facts as they are spoken of, those of one step together, in their order.
func factsWords(st *fold.State, fs []fold.Known) []string {
	var order []string
	things := map[string][]string{}
	for _, f := range fs {
		w, t := factWords(st, f)
		if !slices.Contains(order, w) {
			order = append(order, w)
		}
		if t != "" {
			things[w] = append(things[w], t)
		}
	}
	for i, w := range order {
		if ts := things[w]; len(ts) > 0 {
			order[i] += " (" + strings.Join(ts, ", ") + ")"
		}
	}
	return order
}

// lowerFirst is a title within a sentence.
func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// fieldWords is what a field of a step asks. A field that is no longer asked, since what
// it hung on was answered otherwise, has lost its words.
func fieldWords(ss *fold.StepState, field string) string {
	for _, a := range ss.Asks {
		if a.Field == field {
			return a.Label
		}
	}
	if field == "pause" && ss.Pause != nil {
		return "the pause point"
	}
	return "asked before, and no longer"
}

// takenWords is what was taken; what the program reads itself was asked of nobody.
func takenWords(ss *fold.StepState, t fold.Taken) string {
	if t.By == fold.BySelf {
		return "read beside the job"
	}
	return fieldWords(ss, t.Field)
}

// mishapWords is a mishap as the person would say it.
func mishapWords(id fold.MishapID) string {
	for _, h := range facts.Mishaps.Rows {
		if h.ID == id {
			return h.Words
		}
	}
	return strings.ReplaceAll(string(id), "-", " ")
}

// limitWords says what a limit is for. Where several checks share the words, or there are
// none, that of the field it is about.
func (m *Model) limitWords(cs []fold.Check, c fold.Check) string {
	same, nth := 0, 0
	for _, o := range cs {
		if o.Limit.Why == c.Limit.Why {
			if same++; o == c {
				nth = same
			}
		}
	}
	if same > 1 || c.Limit.Why == "" {
		_, field, _ := strings.Cut(c.Limit.ID, ".")
		for _, ss := range m.st.Steps {
			if len(ss.Outcome.Checks) != len(cs) {
				continue
			}
			for _, a := range ss.Asks {
				if a.Field == c.Limit.ID || field != "" && a.Field == field {
					return a.Label
				}
			}
		}
	}
	switch axis := axisOf(c.Words); {
	case c.Limit.Why == "":
		return firstOf(c.Words, "a limit of this step")
	case same > 1 && axis != "":
		return c.Limit.Why + ", " + axis
	case same > 1 && nth > 0:
		return c.Limit.Why + ", " + itoa(nth) + " of " + itoa(same)
	}
	return c.Limit.Why
}

// firstOf is the first sentence of a text, else other words.
func firstOf(text, other string) string {
	if t := strings.TrimSuffix(firstSentence(text), "."); t != "" {
		return t
	}
	return other
}
