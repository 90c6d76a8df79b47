package jobs

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// An edit of the record by another program is seen before anything is added, also where the
// length stays; what changes no byte is no edit.
func TestOutsideEdit(t *testing.T) {
	note := func(text string) Event { return Event{At: time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC), Note: text} }
	edit := func(from, to string) func(t *testing.T, path string) {
		return func(t *testing.T, path string) {
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			text := strings.Replace(string(b), from, to, 1)
			if text == string(b) {
				t.Fatal("nothing was edited")
			}
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	quiet := func(t *testing.T, path string, do func(*testing.T, string)) {
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		do(t, path)
		if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil {
			t.Fatal(err)
		}
	}
	long := strings.Repeat("x", 2000)
	for _, c := range []struct {
		name string
		do   func(t *testing.T, path string)
		seen bool
	}{
		{"same length, first event", edit("first", "FIRST"), true},
		{"same length, last event", edit("last", "LAST"), true},
		{"same length and time, last event", func(t *testing.T, p string) { quiet(t, p, edit("last", "LAST")) }, true},
		{"another file of the same length in its place", func(t *testing.T, p string) {
			quiet(t, p, func(t *testing.T, p string) {
				b, _ := os.ReadFile(p)
				os.WriteFile(p+".new", []byte(strings.Replace(string(b), "first", "FIRST", 1)), 0o644)
				if err := os.Rename(p+".new", p); err != nil {
					t.Fatal(err)
				}
			})
		}, true},
		{"touched", func(t *testing.T, p string) {
			if err := os.Chtimes(p, time.Now(), time.Now().Add(time.Hour)); err != nil {
				t.Fatal(err)
			}
		}, false},
		{"a copy put back", func(t *testing.T, p string) {
			b, _ := os.ReadFile(p)
			os.WriteFile(p+".new", b, 0o644)
			if err := os.Rename(p+".new", p); err != nil {
				t.Fatal(err)
			}
		}, false},
	} {
		path := filepath.Join(t.TempDir(), "lid.1.record.yaml")
		r, _, _, err := OpenRecord(OS(), path, "test")
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Append(note("first"), note(long), note(long), note(long), note("last")); err != nil {
			t.Fatal(err)
		}
		c.do(t, path)
		before, _ := os.ReadFile(path)
		err = r.Append(note("after"))
		after, _ := os.ReadFile(path)
		switch {
		case c.seen && (err == nil || !strings.Contains(err.Error(), "another program changed it") || string(before) != string(after)):
			t.Errorf("%s: error %v, %d bytes before, %d after", c.name, err, len(before), len(after))
		case !c.seen && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case !c.seen && r.Append(note("again")) != nil:
			t.Errorf("%s: the next one fails", c.name)
		}
		r.Close()
	}
}
