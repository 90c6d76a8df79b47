package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// slice is a small share of a table, always the same.
func slice(n int) options {
	return options{n: n, seed: 1, workers: 2, stdout: io.Discard, stderr: io.Discard}
}

func made(t *testing.T, run func(context.Context, options) (*table, error), o options) *table {
	t.Helper()
	tb, err := run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

// numbers finds a row by its first cells.
func numbers(t *testing.T, tb *table, first ...any) []any {
	t.Helper()
	for _, r := range tb.Rows {
		if slices.Equal(r[:len(first)], first) {
			return r
		}
	}
	t.Fatalf("no row %v", first)
	return nil
}

// 150 setups give some 300 free values: three standard deviations of their share of 0.95 are 0.038.
func TestStrataSlice(t *testing.T) {
	wholeSlice(t)
	tb := made(t, strata, slice(150))
	if got := numbers(t, tb, "all", "both")[4].(float64); got < 91.2 || got > 98.8 {
		t.Errorf("%.2f %% of the intervals hold", got)
	}
}

// wholeSlice leaves a slice to the run without -short: what runs beside each other there is the same in the others.
func wholeSlice(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("the whole slice: without -short")
	}
}

// A higher level asks more, and a sound setup is stopped at none.
func TestLevelsSlice(t *testing.T) {
	wholeSlice(t)
	for _, holdDown := range []string{"T", "S"} {
		before := 0
		for _, l := range fold.Levels {
			k, err := soundWalk(holdDown, l, 2)
			if err != nil {
				t.Fatal(holdDown, l, err)
			}
			n := 0
			for _, c := range countOf(k, slice(1)) {
				n += c.numbers + c.answers
			}
			if n <= before {
				t.Errorf("plan %s: %v asks %d, the level below %d", holdDown, l, n, before)
			}
			before = n
		}
	}
	for _, l := range fold.Levels {
		o := slice(36)
		o.at = l.String()
		tb := made(t, clean, o)
		if n := numbers(t, tb, "any")[3].(int); n > 0 {
			t.Errorf("%v: %d of 36 sound setups FAIL: %v", l, n, tb.Failures)
		}
		if n := numbers(t, tb, "given up")[3].(int); n > 1 {
			t.Errorf("%v: %d of 36 sound setups are given up", l, n)
		}
	}
}

// Of each way in which a mistake shows one is made at the lowest and at the highest level: what is caught, what is named, what comes out
// harmed. At level proven some are asked by nobody, and the part shows it.
func TestCatchSlice(t *testing.T) {
	wholeSlice(t)
	for _, c := range []struct {
		name   string
		size   float64
		asked  bool // at level proven, too
		at, by string
	}{
		{"chip-in-bore", 0.16, true, "bore", "readings"}, {"clamp-left-on", 1, true, "unstrap", "asked"},
		{"offset-slip", 1, true, "offset", "readings"}, {"program-edited", 1, true, "program", "asked"},
		{"collet-runout", 0.2, false, "lengths", "readings"}, {"drill-through", 6, false, "drill", "readings"},
	} {
		o := slice(3)
		o.only = c.name
		for _, l := range []fold.Level{fold.Proven, fold.Irreplaceable} {
			o.at = l.String()
			r := numbers(t, made(t, catch, o), c.name, c.size)
			switch all := "100 100   0"; {
			case c.asked || l == fold.Irreplaceable:
				if r[4] != all || r[6] != c.by || !strings.Contains(r[7].(string), c.at) {
					t.Errorf("%s of %g at level %v: %v, want %s by %s at %s", c.name, c.size, l, r, all, c.by, c.at)
				}
			case strings.HasSuffix(r[4].(string), "  0"):
				t.Errorf("%s of %g at level %v: %v harms no part, and nobody asks for it", c.name, c.size, l, r)
			}
		}
	}
	// A cold fixture of phenolic is reckoned with, one of acrylic on one bore is refused.
	o := slice(3)
	o.only = "cold-fixture"
	tb := made(t, catch, o)
	for _, row := range [][]any{{"cold-fixture", 18.0}, {"cold-fixture, acrylic-cast", 9.0}, {"cold-fixture, acrylic-cast", 15.0}} {
		if r := numbers(t, tb, row...); r[3] != 3 || r[7] != "100 100   0" {
			t.Errorf("a fixture from the cold: %v", r)
		}
	}
}

// The sizes of a mistake share what happens; the middle of a log-normal one lies where its median does.
func TestWeights(t *testing.T) {
	for _, tr := range trials {
		sum := 0.0
		for _, w := range tr.weights() {
			if w < 0 {
				t.Errorf("%s: a weight of %g", tr.name, w)
			}
			sum += w
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("%s: the weights are %v", tr.name, tr.weights())
		}
	}
	w := odds{median: 0.02, sigma: 0.5}.weights([]float64{0.01, 0.04})
	if math.Abs(w[0]-0.5) > 1e-12 {
		t.Errorf("either side of the median: %v", w)
	}
}

// The part is judged, not the walk: by its place, its thickness, what holds it and what meets the cutter.
func TestHarm(t *testing.T) {
	off := trial{name: "other-offset-number", mere: "crash"}
	head := trial{name: "screw-head-high", mere: "crash", from: 0.5}
	for _, c := range []struct {
		t    trial
		m    bench.Made
		cut  bench.CutPart
		want harm
	}{
		{trial{}, bench.Made{}, bench.CutPart{Register: 0.049, Thick: -0.09, Out: 0.03}, harm{}},
		{trial{}, bench.Made{}, bench.CutPart{Register: 0.051}, harm{"register", reworked}},
		{trial{}, bench.Made{}, bench.CutPart{Register: 0.151}, harm{"register", 1}},
		{trial{}, bench.Made{}, bench.CutPart{Thick: -0.11}, harm{"thickness", reworked}},
		{trial{}, bench.Made{}, bench.CutPart{Thick: 0.41}, harm{"thickness", 1}},
		{trial{}, bench.Made{}, bench.CutPart{Thick: -2.1}, harm{"crash", 1}},
		{trial{}, bench.Made{}, bench.CutPart{Turned: true, Register: 90}, harm{"scrap", 1}},
		{trial{}, bench.Made{}, bench.CutPart{Screws: 1}, harm{"thread", 0}},
		{trial{}, bench.Made{}, bench.CutPart{Out: 0.06}, harm{"size", 0}},
		{off, bench.Made{Begun: true}, bench.CutPart{}, harm{"crash", 1}},
		{off, bench.Made{Begun: true, Over: true}, bench.CutPart{}, harm{}},
		{off, bench.Made{}, bench.CutPart{}, harm{}},
		{head, bench.Made{Begun: true, Size: 0.2}, bench.CutPart{}, harm{}},
		{head, bench.Made{Begun: true, Size: 0.7}, bench.CutPart{}, harm{"crash", 0.5}},
	} {
		if got := harmOf(c.t, c.m, c.cut, 0.05, 0.1); got != c.want {
			t.Errorf("%s %+v %+v: %v, want %v", c.t.name, c.m, c.cut, got, c.want)
		}
	}
}

func TestCleanSlice(t *testing.T) {
	wholeSlice(t)
	tb := made(t, clean, slice(100))
	// 1 % is the mark of the whole table: of 100 one, and three standard deviations more
	if n := numbers(t, tb, "any")[3].(int); n > 4 {
		t.Errorf("%d of 100 sound setups FAIL: %v", n, tb.Failures)
	}
}

func TestSignsSlice(t *testing.T) {
	o := slice(1)
	o.stride = 37 // no facet has a multiple of it: every case of each comes
	tb := made(t, signs, o)
	if len(tb.Missed) > 0 {
		t.Error(tb.Missed, tb.Failures)
	}
	for _, f := range facets {
		for _, c := range f.cases {
			if r := numbers(t, tb, f.name, c); r[2].(int) == 0 {
				t.Errorf("%s %s is not walked", f.name, c)
			}
		}
	}
	if r := numbers(t, tb, "all"); r[4].(int) == 0 || r[6].(int) == 0 {
		t.Errorf("nothing was tapped: %v", r)
	}
}

func TestCutsSlice(t *testing.T) {
	o := slice(0)
	o.stride = 131
	if tb := made(t, cuts, o); len(tb.Missed) > 0 {
		t.Error(tb.Missed, tb.Failures)
	}
}

func TestDiskFaults(t *testing.T) {
	if tb := made(t, diskFaults, slice(0)); len(tb.Missed) > 0 {
		t.Error(tb.Missed, tb.Failures)
	}
}

func TestKills(t *testing.T) {
	if testing.Short() {
		t.Skip("kills a real process, about 10 s")
	}
	o := slice(20)
	dir := t.TempDir()
	binary, err := build(t.Context(), dir)
	if err != nil {
		t.Skip(err)
	}
	o.binary = binary
	if p, err := start(binary, dir, "--help"); err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	} else {
		p.kill()
	}
	tb := made(t, kills, o)
	if len(tb.Missed) > 0 {
		t.Error(tb.Missed, tb.Failures)
	}
}

// The same seed is the same table, however many cases are walked at a time.
func TestSameSeedSameTable(t *testing.T) {
	say := func(workers int) string {
		o := slice(12)
		o.workers = workers
		b, err := json.Marshal(made(t, strata, o))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if a, b := say(1), say(3); a != b {
		t.Errorf("one at a time\n%s\nthree\n%s", a, b)
	}
}

func TestCommand(t *testing.T) {
	dir := t.TempDir()
	run := func(args ...string) (string, error) {
		var out bytes.Buffer
		c := command(&out, io.Discard)
		c.SetArgs(args)
		err := c.ExecuteContext(t.Context())
		return out.String(), err
	}
	out, err := run("effects", "--json", "--out", dir)
	if err != nil {
		t.Fatal(err)
	}
	var tb table
	if err := json.Unmarshal([]byte(out), &tb); err != nil || tb.Name != "effects" || len(tb.Rows) < 30 {
		t.Errorf("effects: %v, %+v", err, tb)
	}
	for _, name := range []string{"effects.txt", "effects.json"} {
		if b, err := os.ReadFile(filepath.Join(dir, name)); err != nil || len(b) == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, c := range []struct{ args, says string }{
		{"coverage --n 1 --seed 3", "seed 3: "}, {"catch --n 1 --seed 3 --only chip-in-bore", "chip-in-bore of 0.16, seed 3: made true"}, {"clean --n 1 --seed 3", "named"},
	} {
		if out, err := run(strings.Fields(c.args)...); err != nil || !strings.Contains(out, c.says) {
			t.Errorf("%s: %v\n%.300s", c.args, err, out)
		}
	}
	for _, args := range []string{"elephants", "catch --only elephants", "coverage --off Ghosts", "coverage --n -1"} {
		if out, err := run(strings.Fields(args)...); err == nil {
			t.Errorf("%s is taken: %.100s", args, out)
		}
	}
}

func TestText(t *testing.T) {
	tb := table{Name: "x", Title: "a title", Head: []string{"what", "n", "share"}, Seed: 4}
	tb.row("one", 3, 0.5)
	tb.row("longer", 12, 10.25)
	tb.miss("%d is too few", 3)
	for i := range maxFaults + 2 {
		tb.Failures = append(tb.Failures, fault{uint64(i), "one", "bad"})
	}
	var b bytes.Buffer
	tb.text(&b)
	for _, want := range []string{"  what     n   share\n", "  one      3   0.500\n", "  longer  12  10.250\n", "MISSED: 3 is too few", "seed 19  one  bad", fmt.Sprintf("and %d more", 2)} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

// What the walk's table claims is that of today's walk: at the least level nobody tries the strips at the walls any more.
func TestClaimed(t *testing.T) {
	for _, c := range []struct {
		plan  string
		name  string
		size  float64
		level fold.Level
		want  bool
	}{
		{"T", "chip-in-bore", 0.06, fold.Proven, true}, {"T", "chip-in-bore", 0.001, fold.Irreplaceable, false},
		{"T", "collet-runout", 0.1, fold.Proven, false}, {"T", "collet-runout", 0.1, fold.FirstUse, true},
		{"T", "bumped-part", 0.06, fold.FirstUse, true}, {"S", "bumped-part", 0.06, fold.FirstUse, false},
		{"S", "bumped-part", 0.06, fold.Irreplaceable, true}, {"T", "no-such", 9, fold.Full, false},
	} {
		p, err := setting{c.plan, c.level, ""}.plan(0)
		if err != nil {
			t.Fatal(err)
		}
		if from, ok := p.Claims()[c.name]; (ok && c.size >= from) != c.want {
			t.Errorf("%s of %g in plan %s at level %v: claimed from %g, %v", c.name, c.size, c.plan, c.level, from, ok)
		}
	}
}

// One case tells its story, and draws no table.
func TestOneCaseIsTold(t *testing.T) {
	for name, want := range map[string]string{"cuts": "it opens with", "clean": "plan M", "coverage": "said", "curves": "is true", "strata": "released"} {
		var out strings.Builder
		if err := runAll(t.Context(), options{n: 1, seed: 1, workers: 1, stdout: &out, stderr: io.Discard}, []string{name}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if got := out.String(); !strings.Contains(got, "seed 1") || !strings.Contains(got, want) || strings.Contains(got, "cases from seed") {
			t.Errorf("one case of %s tells %q", name, got[:min(len(got), 300)])
		}
	}
}
