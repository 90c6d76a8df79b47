package fold

import (
	"fmt"
	"strings"
	"unicode"

	"fliptrue/calc/unit"
)

// meant is a word as it was said: a keypad without letters gives 54 for G54, 59.1 for G59.1 and
// 3 for FX-3. What has a letter, and figures that stand for nothing here, stay as typed.
func (h *House) meant(a Ask, value string) string {
	v := strings.TrimSpace(value)
	if a.Kind != Text || a.Want == "" || strings.ContainsFunc(v, unicode.IsLetter) {
		return v
	}
	if a.What.Of == "offset-word" || a.What.Dir == "offset-word" {
		if w, ok := h.OffsetWord("G" + v); ok {
			return w
		}
	} else if f := figures(v); f != "" && f == figures(a.Want) {
		return a.Want
	}
	return v
}

// echoed is what a word was taken for: of a number on a thing the letters that were not typed are asked about.
func echoed(a Ask, typed, value string) string {
	if strings.EqualFold(strings.TrimSpace(typed), value) || a.What.Of == "offset-word" || a.What.Dir == "offset-word" {
		return value
	}
	return "that is " + value + ": letters as engraved?"
}

// EntryUnit is the unit in which a bare number of the field is read, as it is shown.
func (a Ask) EntryUnit(sys unit.System) string {
	if a.Bare != "" {
		if n, err := unit.Parse("1"+a.Bare, a.Unit, sys); err == nil {
			return n.Unit
		}
	}
	return unit.EntryUnit(a.Unit, sys)
}

// whole is a number with its unit: the record must not depend on what the field showed.
func (a Ask) whole(text string, sys unit.System) string {
	if a.Bare == "" {
		return text
	}
	if _, err := unit.Parse(text, unit.Scalar, sys); err != nil {
		return text
	}
	return strings.TrimSpace(text) + a.Bare
}

// ended is a text of last digits, ..12, as the reading that it means here: the nearest to the
// prediction that ends so. A record holds it in full.
func (p *Plan) ended(a Ask, text string) (string, error) {
	if !strings.HasPrefix(strings.TrimSpace(text), unit.Ends) || a.Kind != Reading && a.Kind != Echo {
		return text, nil
	}
	w := a.Window
	if w == nil || a.Blind || w.Least > 0 || a.Kind == Echo {
		return "", fmt.Errorf("%q wants a prediction, and there is none here; type the whole number", strings.TrimSpace(text))
	}
	step := 0.0
	if len(a.What.Axis) == 1 && a.What.By != "dial" {
		step = p.Job.Machine.Readout
	}
	return unit.Ending(text, w.Want, w.Half, a.Unit, p.Job.Unit, step)
}

// figures are the numbers in a word, in their order and without leading zeros: "3 12" of FX-03/12.
func figures(s string) string {
	ns := strings.FieldsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	for i, n := range ns {
		if ns[i] = strings.TrimLeft(n, "0"); ns[i] == "" {
			ns[i] = "0"
		}
	}
	return strings.Join(ns, " ")
}

// Named asks for the name on a thing. One without a figure can't be typed without letters: it is chosen.
func Named(a Ask) Ask {
	if figures(a.Want) == "" && a.Want != "" {
		a.Kind, a.Options = Choice, []string{a.Want, "another name, or none"}
	}
	return a
}
