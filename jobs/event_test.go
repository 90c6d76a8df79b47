package jobs

import (
	"bytes"
	"fmt"
	"math/rand"
	"reflect"
	"strings"
	"testing"
	"time"
)

var noon = time.Date(2026, 3, 1, 10, 42, 5, 0, time.FixedZone("", 3600))

func TestEncodeForm(t *testing.T) {
	for _, c := range []struct {
		e    Event
		want string
	}{
		{Event{At: noon, Read: "side2/bore/1/hit3.x", Value: "-312.4450"},
			`--- {at: 2026-03-01T10:42:05+01:00, read: side2/bore/1/hit3.x, value: "-312.4450"}`},
		{Event{At: noon.UTC(), Note: `said "fine", \ then left`},
			`--- {at: 2026-03-01T09:42:05Z, note: "said \"fine\", \\ then left"}`},
		{Event{At: noon.Add(250 * time.Millisecond), Waive: "side2/shift/1/slip", Value: "0.014", Reason: "3", By: "keyed"},
			`--- {at: 2026-03-01T10:42:05.25+01:00, waive: side2/shift/1/slip, value: "0.014", reason: "3", by: keyed}`},
		{Event{At: noon, Plan: "00ff00ff00ff00ff", Changed: []string{"job.allowance", "job.part.features.hinge bore.0"}, Cards: map[string]string{"job.allowance": "0.06", "a": ""}},
			`--- {at: 2026-03-01T10:42:05+01:00, plan: "00ff00ff00ff00ff", changed: [job.allowance, "job.part.features.hinge bore.0"], cards: {a: "", job.allowance: "0.06"}}`},
	} {
		b, err := Encode(c.e)
		if err != nil || string(b) != c.want+"\n" {
			t.Errorf("Encode = %s%v, want %s", b, err, c.want)
		}
		e, err := Decode(b)
		if err != nil || !reflect.DeepEqual(e, c.e) {
			t.Errorf("Decode(%s) = %+v, %v", b, e, err)
		}
	}
}

// A line written by a person need not be in our own form.
func TestDecodeByHand(t *testing.T) {
	want := Event{At: noon, Read: "side2/bore/1/hit3.x", Value: "-312.4450"}
	for _, line := range []string{
		`--- {at: 2026-03-01T10:42:05+01:00, read: side2/bore/1/hit3.x, value: -312.4450}`,
		`--- {value: '-312.4450', read: side2/bore/1/hit3.x, at: "2026-03-01T10:42:05+01:00"}`,
		`---   { at: 2026-03-01T10:42:05+01:00 ,read: 'side2/bore/1/hit3.x' ,value: "-312.4450" }`,
	} {
		e, err := Decode([]byte(line))
		if err != nil || !reflect.DeepEqual(e, want) {
			t.Errorf("Decode(%s) = %+v, %v", line, e, err)
		}
	}
}

func TestDecodeFaults(t *testing.T) {
	const at = "at: 2026-03-01T10:42:05+01:00, "
	for _, c := range []struct{ line, want string }{
		{`--- {` + at + `read: side2/bore/1/hit3.x}`, "has no value"},
		{`--- {` + at + `read: side2/bore, value: "1"}`, "has not the 4 parts"},
		{`--- {` + at + `read: side2//1/x, value: "1"}`, "has not the 4 parts"},
		{`--- {` + at + `read: a/b/1/x, answer: a/b/1/x, value: "1"}`, "two verbs, read and answer"},
		{`--- {` + at + `value: "1"}`, "no verb"},
		{`--- {` + at + `raed: a/b/1/x, value: "1"}`, `did you mean "read"?`},
		{`--- {` + at + `read: a/b/1/x, value: "1", value: "2"}`, "stands twice"},
		{`--- {` + at + `read: a/b/1/x, value: }`, "no single value"},
		{`--- {` + at + `read: a/b/1/x, value: ~}`, "no single value"},
		{`--- {` + at + `read: a/b/1/x, value: [1]}`, "no single value"},
		{`--- {` + at + `read: a/b/1/x, value: &a "1"}`, "anchor"},
		{`--- {` + at + `read: a/b/1/x, value: !!str "1"}`, "tag"},
		{`--- {` + at + `note: "\e[2J"}`, "control character U+001B"},
		{"--- {" + at + "note: \"\x1b[2J\"}", "control character U+001B"},
		{"--- {" + at + "note: \"\u202eabc\"}", "control character U+202E"},
		{`--- {` + at + `waive: a/b/1/x, value: "1"}`, "has no reason"},
		{`--- {` + at + `read: a/b/1/x, value: "1", by: magic}`, "is not one of keyed"},
		{`--- {` + at + `read: a/b/1/x, value: "1", cards: {a: "1"}}`, "cards have no place"},
		{`--- {` + at + `plan: h, changed: [a, [b]]}`, "changed lists keys"},
		{`--- {at: yesterday, note: x}`, `time "yesterday"`},
		{`--- {note: x}`, "no time"},
		{`{at: 2026-03-01T10:42:05+01:00, note: x}`, "does not begin with --- {"},
		{`--- [a, b}`, "not closed"},
		{`--- a: {b: c}`, "not in braces"},
		{`--- {` + at + `note: x`, "does not end in }"},
		{"--- {" + at + "note: \"\xff\"}", "not UTF-8"},
		{"--- {" + at + "note: \"" + strings.Repeat("x", 5000) + "\"}", "keep it under"},
		{"--- {" + strings.Repeat("[", 5000) + "}", "cannot be read"},
		{"--- {a: " + strings.Repeat("[", 50) + strings.Repeat("]", 50) + "}", "nested deeper"},
	} {
		_, err := Decode([]byte(c.line))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Decode(%.80s) = %v, want %q", c.line, err, c.want)
		}
		if err != nil && strings.ContainsAny(err.Error(), "\x1b\n\r") {
			t.Errorf("Decode(%.80q): error holds control characters: %q", c.line, err)
		}
	}
}

// viaYAML decodes as decodeLine does, without its fast path.
func viaYAML(line []byte) (Event, *Fault) {
	var e Event
	n, f := flowTree(line)
	if f != nil {
		return Event{}, f
	}
	pairs, f := e.lists(n)
	if f == nil {
		f = e.fill(pairs)
	}
	return e, f
}

// The form split by hand means what YAML takes it to mean, and what is decoded
// encodes to a line of the same meaning.
func FuzzEventLine(f *testing.F) {
	f.Add([]byte(`--- {at: 2026-03-01T10:42:05+01:00, read: side2/bore/1/hit3.x, value: "-312.4450"}`))
	f.Add([]byte(`--- {at: 2026-03-01T10:42:05.5Z, note: "a \"b\" \\ c", by: keyed}`))
	f.Add([]byte(`--- {at: 2026-03-01T10:42:05Z, begin: side2, cards: {job.a: "1", "b c": '2'}}`))
	f.Add([]byte(`--- {at: 2026-03-01T10:42:05Z, plan: abc, changed: [a.b, "c d"]}`))
	f.Add([]byte(`--- {at: 2026-03-01T10:42:05Z, mishap: side2/tool-broke, value: T3}`))
	f.Fuzz(func(t *testing.T, line []byte) {
		e, fault := decodeLine(line)
		if _, fast := split(line, nil); fast {
			y, yFault := viaYAML(line)
			if (fault == nil) != (yFault == nil) || !reflect.DeepEqual(e, y) && fault == nil {
				t.Fatalf("%q: by hand %+v, %v; by YAML %+v, %v", line, e, fault, y, yFault)
			}
		}
		if fault != nil {
			if strings.ContainsFunc(fault.Error(), func(r rune) bool { return r < ' ' || r == 0x7f }) {
				t.Fatalf("fault holds control characters: %q", fault.Error())
			}
			return
		}
		b, err := Encode(e)
		if err != nil {
			t.Fatalf("%q decodes to %+v, which does not encode: %v", line, e, err)
		}
		again, fault := decodeLine(b[:len(b)-1])
		if fault != nil || !reflect.DeepEqual(again, e) {
			t.Fatalf("%q: %+v became %q, %+v, %v", line, e, b, again, fault)
		}
	})
}

// Every event that Check passes comes back exactly.
func TestEncodeDecodeExact(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	alphabet := []rune("abcXYZ019 ./-_\\\"'{}[]:,#&*!|>%@`~?\u00e4\u00a0\u3000\u20ac\U0001F529")
	text := func(least int) string {
		r := make([]rune, least+rng.Intn(12))
		for i := range r {
			r[i] = alphabet[rng.Intn(len(alphabet))]
		}
		return string(r)
	}
	for i := range 3000 {
		e := Event{At: time.Unix(rng.Int63n(4e9), rng.Int63n(1e9)).In(time.FixedZone("", 60*(1+rng.Intn(700)))), By: "keyed"}
		switch i % 4 {
		case 0:
			e.Read, e.Value = fmt.Sprintf("s%d/b/1/%s", i, strings.ReplaceAll(text(1), "/", "")), text(1)
		case 1:
			e.Note = text(1)
		case 2:
			e.Begin, e.Cards = "s", map[string]string{text(1): text(0), text(1): text(0)}
		case 3:
			e.Plan, e.Changed, e.Reason = text(1), []string{text(1), text(0)}, text(0)
		}
		if e.Read != "" && strings.HasSuffix(e.Read, "/") {
			continue
		}
		b, err := Encode(e)
		if err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		got, err := Decode(b)
		if err != nil || !reflect.DeepEqual(got, e) {
			t.Fatalf("%s gives %+v, %v; want %+v", b, got, err, e)
		}
	}
}

func BenchmarkDecodeRecord10000(b *testing.B) {
	var data []byte
	data = append(data, header...)
	for i := range 10000 {
		line, err := Encode(Event{At: noon.Add(time.Duration(i) * time.Second), Read: fmt.Sprintf("side2/bore/%d/hit3.x", i), Value: "-312.4450", By: "keyed"})
		if err != nil {
			b.Fatal(err)
		}
		data = append(data, line...)
	}
	b.ResetTimer()
	for b.Loop() {
		if s := scanRecord("r", data); len(s.events) != 10000 || len(s.faults) > 0 {
			b.Fatal(s.faults)
		}
	}
}

// Decode reads one line of a record, with or without its newline. The error is a Fault:
// what is wrong on which value, in which column.
func Decode(line []byte) (Event, error) {
	e, f := decodeLine(bytes.TrimSuffix(bytes.TrimSuffix(line, []byte("\n")), []byte("\r")))
	if f != nil {
		return Event{}, *f
	}
	return e, nil
}
