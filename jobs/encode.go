package jobs

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
)

// header heads every record, so that a newer program's record is refused whole.
const header = "--- {format: 1}\n"

// verb is one of the things an event can be, and the field that holds it.
type verb struct {
	key   string
	field func(*Event) *string
	parts int // fewest parts of its address, 0 when it has none

	says, eg string
}

var verbs = []verb{
	{"begin", func(e *Event) *string { return &e.Begin }, 1, "A setup is begun.", "side2"},
	{"round", func(e *Event) *string { return &e.Round }, 3, "A round of a step is opened: setup/step/number.", "side2/bore/2"},
	{"read", func(e *Event) *string { return &e.Read }, 4, "A reading was taken: setup/step/round/field; value is what was read.", "side2/bore/1/hit3.x"},
	{"answer", func(e *Event) *string { return &e.Answer }, 4, "A question, count or read-back was answered: setup/step/round/field; value is the answer.", "side2/mount/1/arrow"},
	{"waive", func(e *Event) *string { return &e.Waive }, 4, "A limit was passed over: setup/step/round/limit; reason says why.", "side2/seat/1/seat.rock"},
	{"mishap", func(e *Event) *string { return &e.Mishap }, 2, "Something happened to the setup: setup/mishap; value says which tool.", "side2/fixture-tapped"},
	{"plan", func(e *Event) *string { return &e.Plan }, 0, "The job was changed: its checksum; changed lists the keys.", "0f3a9c5b12de4471"},
	{"note", func(e *Event) *string { return &e.Note }, 0, "Free text.", "lunch"},
	{"release", func(e *Event) *string { return &e.Release }, 1, "A setup is released.", "side2"},
}

var details = []struct {
	key      string
	field    func(*Event) *string
	says, eg string
}{
	{"value", func(e *Event) *string { return &e.Value }, "What was read or answered, as typed; always in quotes.", "\"-312.4450\""},
	{"reason", func(e *Event) *string { return &e.Reason }, "Why, with waive.", "stylus at its limit"},
	{"by", func(e *Event) *string { return &e.By }, "How it came in: keyed, instrument, pasted, bench or program; with begin who works.", "keyed"},
}

// Verb returns the one verb of an event and what it is about, or "" when there is not
// exactly one.
func (e *Event) Verb() (key, about string) {
	for _, v := range verbs {
		if s := *v.field(e); s != "" {
			if key != "" {
				return "", ""
			}
			key, about = v.key, s
		}
	}
	return key, about
}

// maxNote is the longest text of an event, maxKey the longest key of its values:
// YAML takes no key of more than 1024 characters.
const (
	maxNote = 4000
	maxKey  = 800
)

// Check says what makes an event unfit for a record: no verb or two, an address with
// too few parts, a value missing, a text that is not one line of printing characters.
func (e *Event) Check() error {
	key, about := e.Verb()
	if key == "" {
		var found []string
		for _, v := range verbs {
			if *v.field(e) != "" {
				found = append(found, v.key)
			}
		}
		if found == nil {
			return fmt.Errorf("no verb; an event is one of begin, round, read, answer, waive, mishap, plan, note, release")
		}
		return fmt.Errorf("two verbs, %s; make it two events", strings.Join(found, " and "))
	}
	for _, v := range verbs {
		if v.key == key && v.parts > 0 {
			parts := strings.Split(about, "/")
			if len(parts) < v.parts || slices.Contains(parts, "") {
				return fmt.Errorf("%s %s has not the %d parts of its address; write %s",
					key, quote(about), v.parts, strings.Join([]string{"setup", "step", "round", "field"}[:v.parts], "/"))
			}
		}
	}
	switch {
	case e.At.IsZero():
		return fmt.Errorf("no time; write at: 2026-03-01T10:42:05+01:00")
	case e.At.Year() < 0 || e.At.Year() > 9999:
		return fmt.Errorf("year %d; a record holds years 0 to 9999", e.At.Year())
	case e.Value == "" && (key == "read" || key == "answer"):
		return fmt.Errorf("%s %s has no value; add value: and what was read", key, quote(about))
	case e.Reason == "" && key == "waive":
		return fmt.Errorf("waive %s has no reason; add reason: and why", quote(about))
	case e.By != "" && key != "begin" && !slices.Contains([]string{"keyed", "instrument", "pasted", "bench", "program"}, e.By):
		return fmt.Errorf("by %s is not one of keyed, instrument, pasted, bench, program", quote(e.By))
	case e.Cards != nil && key != "begin" && key != "plan":
		return fmt.Errorf("cards have no place with %s; they go with begin and plan", key)
	case e.Changed != nil && key != "plan":
		return fmt.Errorf("changed has no place with %s; it goes with plan", key)
	}
	for _, s := range []string{about, e.Value, e.Reason, e.By} {
		if err := oneLine(s, maxNote); err != nil {
			return err
		}
	}
	for k, v := range e.Cards {
		if err := cmpErr(oneLine(k, maxKey), oneLine(v, maxNote)); err != nil {
			return err
		}
		if k == "" {
			return fmt.Errorf("a card value has no key")
		}
	}
	for _, k := range e.Changed {
		if err := oneLine(k, maxKey); err != nil {
			return err
		}
	}
	return nil
}

func cmpErr(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func oneLine(s string, most int) error {
	if r, bad := badRune(s); bad {
		return fmt.Errorf("control character %U in %s; a text is one line of printing characters", r, quote(s))
	}
	if len(s) > most {
		return fmt.Errorf("text %s of %d bytes; keep it under %d", quote(s), len(s), most)
	}
	return nil
}

// stamp is RFC 3339 with as many decimals of a second as the time has.
const stamp = "2006-01-02T15:04:05.999999999Z07:00"

// Encode writes an event as one line of a record, ending in } and a newline:
//
//	--- {at: 2026-03-01T10:42:05+01:00, read: side2/bore/1/hit3.x, value: "-312.4450"}
//
// Decode gives the same event back, its time in a zone of the same offset. An event
// that Check refuses is an error.
func Encode(e Event) ([]byte, error) {
	if err := e.Check(); err != nil {
		return nil, err
	}
	at := e.At.Round(0)
	if _, off := at.Zone(); off%60 != 0 {
		at = at.UTC() // RFC 3339 has no seconds in a zone
	}
	b := []byte("--- {at: ")
	b = at.AppendFormat(b, stamp)
	for _, v := range verbs {
		if s := *v.field(&e); s != "" {
			b = append(append(b, ", "...), v.key...)
			b = appendText(append(b, ": "...), s)
		}
	}
	for _, d := range details {
		if s := *d.field(&e); s != "" {
			b = append(append(b, ", "...), d.key...)
			b = append(b, ": "...)
			if d.key == "by" {
				b = appendText(b, s)
			} else {
				b = appendQuoted(b, s)
			}
		}
	}
	if len(e.Changed) > 0 {
		b = append(b, ", changed: ["...)
		for i, k := range e.Changed {
			if i > 0 {
				b = append(b, ", "...)
			}
			b = appendText(b, k)
		}
		b = append(b, ']')
	}
	if len(e.Cards) > 0 {
		b = append(b, ", cards: {"...)
		for i, k := range slices.Sorted(maps.Keys(e.Cards)) {
			if i > 0 {
				b = append(b, ", "...)
			}
			b = appendText(b, k)
			b = appendQuoted(append(b, ": "...), e.Cards[k])
		}
		b = append(b, '}')
	}
	return append(b, "}\n"...), nil
}

// isPlain reports whether a text may stand without quotes in flow form and be taken
// by any YAML reader for the text it is: a letter, then letters, digits and / . _ - @.
func isPlain(s string) bool {
	if s == "" || !letter(s[0]) || strings.HasSuffix(s, "-") {
		return false
	}
	for i := range len(s) {
		if c := s[i]; !letter(c) && !('0' <= c && c <= '9') && strings.IndexByte("/._-@", c) < 0 {
			return false
		}
	}
	return !isWord(s)
}

// isWord reports whether a text is one that YAML readers take for something else.
func isWord(s string) bool {
	switch strings.ToLower(s) {
	case "null", "true", "false", "yes", "no", "on", "off", "y", "n":
		return true
	}
	return false
}

func letter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }

func appendText(b []byte, s string) []byte {
	if isPlain(s) {
		return append(b, s...)
	}
	return appendQuoted(b, s)
}

// appendQuoted writes a checked text in double quotes; only \ and " need escaping.
func appendQuoted(b []byte, s string) []byte {
	b = append(b, '"')
	for i := range len(s) {
		if s[i] == '"' || s[i] == '\\' {
			b = append(b, '\\')
		}
		b = append(b, s[i])
	}
	return append(b, '"')
}

// inZone puts a time read from a record into a zone of its offset, whatever the zone
// of the machine that reads it.
func inZone(t time.Time) time.Time {
	if _, off := t.Zone(); off != 0 {
		return t.In(time.FixedZone("", off))
	}
	return t.UTC()
}
