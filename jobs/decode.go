package jobs

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"fliptrue/calc/unit"
)

// Limits of a record: a year of parts is some megabytes.
const (
	maxRecord = 64 << 20
	maxEvent  = 1 << 20 // bytes of one line
)

// decodeLine reads a line without its line end. The form that Encode writes for a
// reading is split by hand, since a record of 10,000 has to open at once; everything
// else goes through YAML. Both give the same pairs (tested), and share what follows.
func decodeLine(line []byte) (Event, *Fault) {
	if len(line) > maxEvent {
		return Event{}, &Fault{What: fmt.Sprintf("line of %d bytes", len(line)), Hint: "it is no event; restore the record from a copy"}
	}
	var e Event
	if pairs, ok := split(line, nil); ok {
		if fault := e.fill(pairs); fault != nil {
			return Event{}, fault
		}
		return e, nil
	}
	n, fault := flowTree(line)
	if fault != nil {
		return Event{}, fault
	}
	pairs, fault := e.lists(n)
	if fault == nil {
		fault = e.fill(pairs)
	}
	if fault != nil {
		return Event{}, fault
	}
	return e, nil
}

// pair is a key and a text of one event, and the column of the text.
type pair struct {
	key, text string
	column    int
}

const opening = "--- {"

// split splits a line in the form Encode writes, without lists and card values.
func split(line []byte, pairs []pair) ([]pair, bool) {
	if !bytes.HasPrefix(line, []byte(opening)) || !utf8.Valid(line) {
		return nil, false
	}
	for i := len(opening); ; {
		k := i
		for i < len(line) && letter(line[i]) {
			i++
		}
		if i == k || i+2 >= len(line) || line[i] != ':' || line[i+1] != ' ' {
			return nil, false
		}
		key := string(line[k:i])
		i += 2
		start := i
		var text string
		if line[i] == '"' {
			var b []byte
			for i++; ; i++ {
				if i >= len(line) || line[i] < ' ' {
					return nil, false
				}
				if line[i] == '"' {
					break
				}
				if line[i] == '\\' {
					if i++; i >= len(line) || line[i] != '"' && line[i] != '\\' {
						return nil, false
					}
				}
				b = append(b, line[i])
			}
			i++
			text = string(b)
			if _, bad := badRune(text); bad {
				return nil, false
			}
		} else {
			for i < len(line) && line[i] != ',' && line[i] != '}' {
				i++
			}
			text = string(line[start:i])
			if !isPlain(text) && !(key == "at" && isStamp(text)) {
				return nil, false
			}
		}
		pairs = append(pairs, pair{key, text, start + 1})
		switch {
		case i == len(line)-1 && line[i] == '}':
			return pairs, true
		case i+2 < len(line) && line[i] == ',' && line[i+1] == ' ':
			i += 2
		default:
			return nil, false
		}
	}
}

// isStamp reports whether a text is made as a time is, so that YAML takes it as it stands.
func isStamp(s string) bool {
	return len(s) >= len("2026-03-01T10:42:05Z") && strings.Trim(s, "0123456789-:+.TZ") == "" && '0' <= s[0] && s[0] <= '9' &&
		s[len(s)-1] != ':'
}

// flowTree reads a line as one YAML document holding one mapping.
func flowTree(line []byte) (*yamlNode, *Fault) {
	bad := func(col int, what, hint string) (*yamlNode, *Fault) {
		return nil, &Fault{Column: col, What: what, Hint: hint}
	}
	const form = "an event is one line: --- {at: TIME, read: ADDRESS, value: \"...\"}"
	switch {
	case !utf8.Valid(line) || bytes.IndexByte(line, 0) >= 0:
		return bad(badByte(line)+1, "line is not UTF-8 text",
			"it is damaged; take it out if what it said is known, else restore the record from a copy")
	case !bytes.HasPrefix(line, []byte("--- ")):
		return bad(1, "line "+quote(string(line))+" does not begin with --- {", form)
	case !bytes.HasSuffix(line, []byte("}")):
		return bad(len(line), "line does not end in }", "finish it if what it said is known; "+form)
	}
	for i, r := range string(line) {
		if !printable(r) {
			return bad(i+1, fmt.Sprintf("control character %U", r), "delete it; texts hold printing characters only")
		}
	}
	body := line[4:]
	var doc, next yamlNode
	dec := newDecoder(body)
	if err := decode(dec, &doc); err != nil {
		if errors.Is(err, io.EOF) {
			return bad(1, "line "+quote(string(line))+" is empty", form)
		}
		what, hint := yamlWords(err.Error(), "")
		return bad(0, "line "+quote(string(line))+": "+what, cmp.Or(hint, form))
	}
	if err := decode(dec, &next); !errors.Is(err, io.EOF) {
		return bad(0, "line "+quote(string(line))+" holds more than one event", form)
	}
	if len(doc.Content) != 1 || doc.Content[0].Kind != mappingNode || doc.Content[0].Style&flowStyle == 0 {
		return bad(1, "line "+quote(string(line))+" is not in braces", form)
	}
	if fs := treeFaults("", doc.Content[0], 1, nil); len(fs) > 0 {
		return bad(fs[0].Column+4, fs[0].What, fs[0].Hint)
	}
	return doc.Content[0], nil
}

// lists takes changed and cards from a tree and returns the other pairs.
func (e *Event) lists(n *yamlNode) ([]pair, *Fault) {
	var pairs []pair
	bad := func(n *yamlNode, what, hint string) ([]pair, *Fault) {
		return nil, &Fault{Column: n.Column + 4, What: what, Hint: hint}
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if k.Kind != scalarNode || isNull(k) {
			return bad(k, "a key must be a single word", "write key: value")
		}
		if seen[k.Value] {
			return bad(k, "key "+quote(k.Value)+" stands twice", "keep one")
		}
		seen[k.Value] = true
		switch {
		case k.Value == "changed" && v.Kind == sequenceNode:
			for _, c := range v.Content {
				if c.Kind != scalarNode || isNull(c) {
					return bad(c, "changed lists keys", "write changed: [job.allowance, ...]")
				}
				e.Changed = append(e.Changed, c.Value)
			}
		case k.Value == "cards" && v.Kind == mappingNode:
			for c := 0; c+1 < len(v.Content); c += 2 {
				ck, cv := v.Content[c], v.Content[c+1]
				if ck.Kind != scalarNode || cv.Kind != scalarNode || isNull(ck) || isNull(cv) {
					return bad(ck, "cards holds keys with one value each", "write cards: {machine.readout: \"0.001\", ...}")
				}
				if _, again := e.Cards[ck.Value]; again {
					return bad(ck, "key "+quote(ck.Value)+" stands twice", "keep one")
				}
				if e.Cards == nil {
					e.Cards = map[string]string{}
				}
				e.Cards[ck.Value] = cv.Value
			}
		case v.Kind != scalarNode || isNull(v):
			return bad(v, "key "+quote(k.Value)+" has no single value", "write key: value")
		default:
			pairs = append(pairs, pair{k.Value, v.Value, v.Column + 4})
		}
	}
	return pairs, nil
}

// isNull reports whether YAML takes a node for nothing: empty, ~ or null without quotes.
func isNull(n *yamlNode) bool { return n.ShortTag() == "!!null" }

// fill puts pairs into an event and checks it.
func (e *Event) fill(pairs []pair) *Fault {
	for i, p := range pairs {
		for _, q := range pairs[:i] {
			if q.key == p.key {
				return &Fault{Column: p.column, What: "key " + quote(p.key) + " stands twice", Hint: "keep one"}
			}
		}
		if p.text == "" {
			return &Fault{Column: p.column, What: "key " + quote(p.key) + " is empty", Hint: "give its value, or take it out"}
		}
		if p.key == "at" {
			t, err := time.Parse(time.RFC3339Nano, p.text)
			if err != nil {
				return &Fault{Column: p.column, What: "time " + quote(p.text) + " is not understood", Hint: "write 2026-03-01T10:42:05+01:00"}
			}
			e.At = inZone(t)
			continue
		}
		f := e.text(p.key)
		if f == nil {
			hint := "known: " + strings.Join(eventKeys(), ", ")
			if k := nearest(p.key, eventKeys()); k != "" {
				hint = "did you mean " + quote(k) + "?"
			}
			return &Fault{Column: p.column, What: "key " + quote(p.key) + " is not known", Hint: hint}
		}
		*f = p.text
	}
	if err := e.Check(); err != nil {
		what, hint, _ := strings.Cut(err.Error(), "; ")
		return &Fault{Column: 1, What: what, Hint: hint}
	}
	return nil
}

// text is the field of a key with a single text.
func (e *Event) text(key string) *string {
	for _, v := range verbs {
		if v.key == key {
			return v.field(e)
		}
	}
	for _, d := range details {
		if d.key == key {
			return d.field(e)
		}
	}
	return nil
}

func eventKeys() []string {
	keys := []string{"at"}
	for _, v := range verbs {
		keys = append(keys, v.key)
	}
	for _, d := range details {
		keys = append(keys, d.key)
	}
	return append(keys, "changed", "cards")
}

// scan is what the bytes of a record hold.
type scan struct {
	events []Event
	good   int  // bytes up to the end of the last whole line
	torn   int  // bytes after it
	line   int  // number of the line that is torn
	headed bool // the header is there
	faults Faults
}

// scanRecord reads a whole record. Blank lines and lines that begin with # are skipped.
func scanRecord(file string, data []byte) scan {
	s := scan{line: 1}
	rest := bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	s.good = len(data) - len(rest)
	if n := bytes.Count(rest, []byte("\n")); n > 1 {
		s.events = make([]Event, 0, n)
	}
	for ; len(rest) > 0; s.line++ {
		end := bytes.IndexByte(rest, '\n')
		if end < 0 {
			break
		}
		line := bytes.TrimSuffix(rest[:end], []byte("\r"))
		last := end == len(rest)-1
		text := bytes.TrimSpace(line)
		switch {
		case len(text) == 0 || text[0] == '#':
		case !s.headed:
			if f := readHeader(line); f != nil {
				f.File, f.Line = file, s.line
				s.faults = Faults{*f}
				return s
			}
			s.headed = true
		case last && line[len(line)-1] != '}':
			// Not an event, and nothing stands on it: set aside as if its end were missing.
			s.torn = len(rest)
			return s
		default:
			e, f := decodeLine(line)
			if f != nil && len(s.faults) < maxFaults {
				f.File, f.Line = file, s.line
				s.faults = append(s.faults, *f)
			}
			if f == nil {
				s.events = append(s.events, e)
			}
		}
		s.good += end + 1
		rest = rest[end+1:]
	}
	s.torn = len(rest)
	switch {
	case bytes.IndexByte(bytes.TrimSuffix(rest, []byte("\r")), '\r') >= 0 && bytes.Contains(rest, []byte("---")):
		s.faults = append(s.faults, Fault{file, s.line, 0, "lines end in CR alone", "save the record with LF line ends"})
	case !s.headed && len(s.faults) == 0 && s.torn > 0 && !couldBeHeader(rest):
		s.faults = append(s.faults, Fault{file, s.line, 1, "file is not a record: it begins with " + quote(string(rest[:min(len(rest), 60)])),
			"name a file that begins with " + strings.TrimSpace(header)})
	}
	return s
}

// couldBeHeader reports whether a record without a whole line may be one that broke off
// while its header was written; a disk may leave zeros where the text should be.
func couldBeHeader(rest []byte) bool {
	return strings.HasPrefix(header, string(rest)) || strings.HasPrefix("format: 1\n", string(rest)) || len(bytes.Trim(rest, "\x00")) == 0
}

// readHeader checks the first line of a record.
func readHeader(line []byte) *Fault {
	const hint = "begin the record with --- {format: 1}"
	if bytes.HasPrefix(line, []byte("format:")) {
		// As in the other files, where it needs no braces.
		text, _, _ := bytes.Cut(line, []byte("#"))
		line = slices.Concat([]byte(opening), bytes.TrimSpace(text), []byte("}"))
	}
	n, fault := flowTree(line)
	if fault != nil {
		fault.Hint = hint
		return fault
	}
	if len(n.Content) < 2 || n.Content[0].Value != "format" {
		return &Fault{Column: 1, What: "format is missing", Hint: hint}
	}
	got, err := unit.Parse(n.Content[1].Value, unit.Count, unit.Metric)
	switch {
	case err != nil || got.Value < 1:
		return &Fault{Column: n.Content[1].Column + 4, What: "format " + quote(n.Content[1].Value) + " is not known", Hint: hint}
	case got.Value > format:
		return &Fault{Column: n.Content[1].Column + 4, What: "format " + quote(n.Content[1].Value) + " is newer than this program",
			Hint: "read it with a newer fliptrue; this one reads format 1"}
	case len(n.Content) > 2:
		return &Fault{Column: n.Content[2].Column + 4, What: "key " + quote(n.Content[2].Value) + " is not known beside format", Hint: hint}
	}
	return nil
}
