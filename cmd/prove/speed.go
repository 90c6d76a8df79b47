package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fliptrue/steps/bench/builtin"

	"github.com/creack/pty"
)

// timed are benchmarks of the project that stand in the table, each beside another one where there is one.
var timed = []struct{ what, pkg, bench, beside string }{
	{"circle through 1,000 hits, beside a general minimiser", "./calc/fit", "BenchmarkCircle1000", "BenchmarkCircle1000Gonum"},
	{"fold 10,000 events", "./steps/fold", "BenchmarkFold10000", ""},
	{"State after one more event", "./steps/fold", "BenchmarkStateAfterOneMore", ""},
	{"read a record of 10,000 events", "./jobs", "BenchmarkDecodeRecord10000", ""},
	{"open a record with 20,000 empty rounds", "./cmd/fliptrue", "BenchmarkEmptyRounds/open", ""},
	{"print its sheet", "./cmd/fliptrue", "BenchmarkSheet", ""},
	{"one frame, drawn", "./tui", "BenchmarkView", ""},
}

// speed times what a person waits for. Ratios are of one run, so that they mean the same on any machine.
func speed(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "how long things take, and how many times as long as what stands beside them",
		Head: []string{"what", "ms", "beside it, ms", "times", "mark"}}
	dir, done, err := o.workplace(ctx, "prove-speed-")
	if err != nil {
		return nil, err
	}
	defer done()
	n := o.n
	if n == 0 {
		n = 20
	}
	t.Cases = n
	for _, step := range []func(context.Context, options, *table, string, int) error{firstFrames, keyToFrame, programs, benchmarks} {
		if err := step(ctx, o, t, dir, n); err != nil {
			return nil, err
		}
	}
	t.Notes = append(t.Notes, "first frame: a pseudo-terminal of 80x24, the least of all tries",
		"key: one of 200x60 and a record of 10,000 events, until the last byte of the frame",
		"the framework waits for the next of its 120 frames a second: up to 8.3 ms of a key's time",
		"programs: processor time of the whole process beside that of `wc -w` over the same file, the least of three",
		"a machine that does something else meanwhile makes all of it slower: run it alone")
	return t, nil
}

// answers are what a terminal says when it is asked for its colours and its cursor.
var answers = [][2]string{{"\x1b]11;?", "\x1b]11;rgb:0000/0000/0000\x1b\\"}, {"\x1b]10;?", "\x1b]10;rgb:ffff/ffff/ffff\x1b\\"},
	{"\x1b[6n", "\x1b[1;1R"}}

// shown is how long a program takes until its terminal, which answers what it is asked, has a text.
func shown(binary, dir, text string, args ...string) (time.Duration, error) {
	c := exec.Command(binary, args...)
	c.Dir, c.Env = dir, append(os.Environ(), "TERM=xterm", "LC_ALL=C.UTF-8")
	began := time.Now()
	tty, err := pty.StartWithSize(c, &pty.Winsize{Cols: 80, Rows: 24})
	if err != nil {
		return 0, err
	}
	defer func() { c.Process.Kill(); c.Wait(); tty.Close() }()
	stop := time.AfterFunc(20*time.Second, func() { c.Process.Kill() })
	defer stop.Stop()
	var all []byte
	buf := make([]byte, 8192)
	for {
		n, err := tty.Read(buf)
		all = append(all, buf[:n]...)
		if bytes.Contains(all, []byte(text)) {
			return time.Since(began), nil
		}
		if err != nil {
			return 0, fmt.Errorf("%s %s: %q was not shown", filepath.Base(binary), strings.Join(args, " "), text)
		}
		for _, a := range answers {
			if bytes.Contains(buf[:n], []byte(a[0])) {
				tty.WriteString(a[1])
			}
		}
	}
}

func firstFrames(ctx context.Context, o options, t *table, dir string, n int) error {
	small := filepath.Join(dir, "bareframe")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", small, "fliptrue/cmd/prove/bareframe").CombinedOutput(); err != nil {
		return fmt.Errorf("bareframe does not build: %w\n%s", err, out)
	}
	var bareTimes, ours []time.Duration
	for i := range n {
		b, err := shown(small, dir, "ready")
		if err != nil {
			return err
		}
		f, err := shown(o.binary, dir, "side", "practice", "--out", filepath.Join(dir, fmt.Sprint("frame", i)))
		if err != nil {
			return err
		}
		bareTimes, ours = append(bareTimes, b), append(ours, f)
	}
	beside(t, "first frame of practice, beside a bare program of the framework", slices.Min(ours), slices.Min(bareTimes), 1.3)
	return nil
}

// beside is a row with a ratio.
func beside(t *table, what string, a, b time.Duration, mark float64) {
	ratio, words := float64(a)/float64(b), ""
	if mark > 0 {
		words = fmt.Sprintf("at most %g times", mark)
		if ratio > mark {
			t.miss("%s: %.2f times; mark %g", what, ratio, mark)
		}
	}
	t.row(what, ms(a), ms(b), ratio, words)
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// programs are read by the whole program beside a count of their words.
func programs(ctx context.Context, o options, t *table, dir string, _ int) error {
	if err := prepare(dir); err != nil {
		return err
	}
	for _, kind := range []struct {
		name string
		mark float64
		line func(i int) string
	}{
		{"flat rows", 12, func(i int) string {
			return fmt.Sprintf("X%.3f Y%.3f\n", 20+0.1*float64(i%400), 20+0.5*float64(i/400%60))
		}},
		{"rows of a ball over a surface", 12, func(i int) string {
			return fmt.Sprintf("X%.3f Y%.3f Z%.3f\n", 20+0.1*float64(i%400), 20+0.5*float64(i/400%60), 17+float64(i%7)*0.01)
		}},
	} {
		var b bytes.Buffer
		b.WriteString("G21 G90 G17 G54\nT3 M6\nS10000 M3\nG43 H3\nG0 Z60\nG0 X20 Y20\nG1 Z18 F300\n")
		for i := range 200_000 {
			b.WriteString(kind.line(i))
		}
		b.WriteString("G0 Z40\nM30\n")
		file := filepath.Join(dir, "top.nc")
		if err := os.WriteFile(file, b.Bytes(), 0o666); err != nil {
			return err
		}
		read, err := cpuOf(ctx, o.binary, "program", filepath.Join(dir, builtin.JobFile), file)
		if err != nil {
			return err
		}
		counted, err := cpuOf(ctx, "wc", "-w", file)
		if err != nil {
			return err
		}
		beside(t, "program of 200,000 lines, "+kind.name+", beside a count of its words", read, counted, kind.mark)
	}
	return nil
}

// cpuOf is the least processor time of three runs of a command. Exit 1 is a finding, and no error.
func cpuOf(ctx context.Context, name string, args ...string) (time.Duration, error) {
	best := time.Duration(1 << 62)
	for range 3 {
		c := exec.CommandContext(ctx, name, args...)
		if out, err := c.CombinedOutput(); c.ProcessState == nil || c.ProcessState.ExitCode() > 1 {
			return 0, fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, out)
		}
		best = min(best, c.ProcessState.UserTime()+c.ProcessState.SystemTime())
	}
	return best, nil
}

var perOp = regexp.MustCompile(`(?m)^(Benchmark\S+?)(?:-\d+)?\s+\d+\s+([0-9.]+) ns/op`)

// benchmarks runs those of the project.
func benchmarks(ctx context.Context, _ options, t *table, _ string, _ int) error {
	for _, b := range timed {
		names := "^" + strings.ReplaceAll(b.bench, "/", "$/^") + "$"
		if b.beside != "" {
			names = "^(" + b.bench + "|" + b.beside + ")$"
		}
		out, err := exec.CommandContext(ctx, "go", "test", "-run", "^$", "-benchtime", "0.3s", "-bench", names, b.pkg).CombinedOutput()
		if err != nil {
			return fmt.Errorf("%s: %w\n%s", b.bench, err, out)
		}
		got := map[string]time.Duration{}
		for s := bufio.NewScanner(bytes.NewReader(out)); s.Scan(); {
			if m := perOp.FindStringSubmatch(s.Text()); m != nil {
				ns, _ := strconv.ParseFloat(m[2], 64)
				name, _, _ := strings.Cut(m[1], "/")
				if strings.HasPrefix(m[1], b.bench) {
					name = b.bench
				}
				if m[1] == b.beside {
					name = b.beside
				}
				got[name] = time.Duration(ns)
			}
		}
		switch {
		case got[b.bench] == 0:
			return fmt.Errorf("%s of %s gave no time:\n%s", b.bench, b.pkg, out)
		case b.beside != "":
			beside(t, b.what, got[b.bench], got[b.beside], 0)
		default:
			t.row(b.what, ms(got[b.bench]), "", "", "")
		}
	}
	return nil
}
