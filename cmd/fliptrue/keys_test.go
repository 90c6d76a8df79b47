package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
)

// said runs a command line on a memory disk.
func said(disk jobs.Disk, args ...string) (exit, string, string) {
	var out, errs bytes.Buffer
	e := &env{in: strings.NewReader(""), out: &out, err: &errs, disk: disk, ownInterrupts: func() {},
		getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC) }}
	code := run(e, args)
	return code, out.String(), errs.String()
}

// The reference page and the schemas are what the program prints; UPDATE=1 writes them.
func TestKeysAreWritten(t *testing.T) {
	want := map[string][]string{"KEYS.md": {"keys", "--markdown"}}
	for _, f := range schemaFiles {
		want["schema/"+f+".json"] = []string{"keys", "--schema", f}
	}
	for name, args := range want {
		code, out, errs := said(jobs.Mem(nil), args...)
		if code != exitOK || errs != "" {
			t.Errorf("%v: exit %d, %s", args, code, errs)
		}
		path := filepath.Join(examples, filepath.FromSlash(name))
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(path, []byte(out), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != out {
			t.Errorf("testdata/%s is not what fliptrue %s prints; UPDATE=1 writes it anew (%v)", name, strings.Join(args, " "), err)
		}
	}
}

func TestKeysAbout(t *testing.T) {
	for about, want := range map[string]string{
		"screws.length":              "job: setups.NAME.screws.length",
		"setups.side2.screws.at.#2:": "job: setups.NAME.screws.at",
		"jaw-top":                    "+ above the program's Z0",
		"machine.tram.x":             "+ the top of the head leans toward X+ (right)",
		"fixture":                    "fixture: as-made.part-zero",
		"first-side":                 "job: setups.NAME.vise.grip",
		"record":                     "record: begin",
		"torque":                     "counts N·m, in-oz in a file with unit: in",
		"allowance":                  "left out   0.05mm, in inch files 0.002in",
	} {
		code, out, _ := said(jobs.Mem(nil), "keys", about)
		if code != exitOK || !strings.Contains(out, want) {
			t.Errorf("keys %s: exit %d, no %q in\n%s", about, code, want, out)
		}
	}
	if _, out, _ := said(jobs.Mem(nil), "keys", "first-side"); strings.Contains(out, "screws.length") {
		t.Error("a first side has screws")
	}
	if code, _, errs := said(jobs.Mem(nil), "keys", "allowanze"); code != exitUsage || !strings.Contains(errs, "nearest: allowance") {
		t.Errorf("a mistyped key: exit %d, %s", code, errs)
	}
}

// Each signed key is drawn in the topic of signs, by its name or its last part.
func TestSignsAreDrawn(t *testing.T) {
	_, text, _ := said(jobs.Mem(nil), "help", "signs")
	for _, k := range jobs.Keys() {
		name := k.Path[strings.LastIndexByte(k.Path, '.')+1:]
		if up, _, ok := strings.Cut(k.Path, "."); ok && up == "tram" {
			name = k.Path
		}
		if k.Sign == "" || strings.HasPrefix(k.Sign, "X+") || strings.Contains(k.Sign, "as the control shows") || k.Sign == "as on the machine card" {
			continue // places
		}
		if name = strings.TrimPrefix(name, "tram.column"); !strings.Contains(text, name) && !strings.Contains(strings.ToLower(text), name) {
			t.Errorf("%s %s is not in help signs", k.File, k.Path)
		}
	}
}

func TestVersionAndManual(t *testing.T) {
	if code, out, _ := said(jobs.Mem(nil), "--version"); code != exitOK || !strings.Contains(out, "walk ") || strings.Count(out, "\n") != 1 {
		t.Errorf("exit %d, %q", code, out)
	}
	disk := jobs.Mem(nil)
	if code, _, errs := said(disk, "--man", "man1"); code != exitOK {
		t.Fatalf("exit %d, %s", code, errs)
	}
	for page, want := range map[string]string{"fliptrue.1": "replay", "fliptrue-keys.1": "JSON Schema", "fliptrue-calc-strap.1": "strap"} {
		if text := disk.Text("man1/" + page); !strings.HasPrefix(text, ".nh\n.TH") || !strings.Contains(text, want) {
			t.Errorf("%s: %.80q", page, text)
		}
		for _, l := range strings.Split(disk.Text("man1/"+page), "\n") {
			if strings.HasPrefix(l, ".") && !slices.Contains([]string{".nh", ".TH", ".SH", ".B", ".TP", ".nf", ".fi"}, strings.SplitN(l, " ", 2)[0]) {
				t.Errorf("%s: a line of text is taken for a request: %q", page, l)
			}
		}
	}
	if got := roff(".a\n'b -c \\"); got != "\\&.a\n\\&'b \\-c \\e" {
		t.Errorf("%q", got)
	}
}

// Shells are told which words and files may stand where.
func TestCompletion(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		if code, out, _ := said(jobs.Mem(nil), "completion", shell); code != exitOK || !strings.Contains(out, "__complete") {
			t.Errorf("%s: exit %d", shell, code)
		}
	}
	disk := jobs.OS()
	lid := filepath.Join(examples, "lid", "lid.job.yaml")
	for _, c := range []struct {
		line string
		want []string
	}{
		{"practice --hold-down \t", []string{"T", "M", "S"}},
		{"practice --mistake chip\t", []string{"chip-in-bore"}},
		{"open " + lid + " --setup \t", []string{"side2"}},
		{"open \t", []string{"job.yaml", ":8"}},
		{"replay x.job.yaml \t", []string{"record.yaml", ":8"}},
		{"keys f\t", []string{"fixture", "first-side"}},
		{"keys --schema \t", []string{"job", "machine", "fixture"}},
	} {
		args := append([]string{"__complete"}, strings.Split(strings.TrimSuffix(c.line, "\t"), " ")...)
		_, out, _ := said(disk, args...)
		for _, w := range c.want {
			if !strings.Contains("\n"+out, "\n"+w) {
				t.Errorf("%s: no %q in %q", c.line, w, out)
			}
		}
	}
}
