//go:build unix

package ncode

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"fliptrue/calc/clearance"
)

// TestSpeed prints, for each kind of program, the time of a processor that the walk took, the ratio
// to that of "LC_ALL=C wc -w" on the same file in the same run, and the memory that is held. It asserts nothing about time and runs
// only when asked:
//
//	NCODE_SPEED=1 NCODE_LINES=1000000 go test -v -run Speed ./calc/ncode
func TestSpeed(t *testing.T) {
	if os.Getenv("NCODE_SPEED") == "" {
		t.Skip("set NCODE_SPEED=1 to measure")
	}
	const rounds = 3
	for i := range kinds {
		k := &kinds[i]
		if only := os.Getenv("NCODE_KIND"); only != "" && !strings.Contains(k.name, only) {
			continue
		}
		name := filepath.Join(t.TempDir(), "program.nc")
		f, err := os.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := writeKind(f, k, benchLines(t)); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		away := 60.0
		if k.name == "pocket, near" {
			away = 2
		}
		obs, tools := ringOf(t, away)
		if k.part == plateSize {
			obs = nil
		}
		if tools[k.tool], err = clearance.NewTool("", benchTools[k.tool].d); err != nil {
			t.Fatal(err)
		}
		var walk, words, ratio []float64
		var s *Summary
		for range rounds {
			cmd := exec.Command("wc", "-w", name)
			cmd.Env = append(os.Environ(), "LC_ALL=C")
			if err := cmd.Run(); err != nil {
				t.Skipf("no wc: %v", err)
			}
			a := (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
			runtime.GC()
			start := busy(t)
			s = walkFile(t, name, expectKind(k), obs, tools)
			b := (busy(t) - start).Seconds()
			words, walk, ratio = append(words, a), append(walk, b), append(ratio, b/a)
		}
		for _, v := range [][]float64{walk, words, ratio} {
			slices.Sort(v)
		}
		runtime.GC()
		t.Logf("%-38s %5.1f MB, %7d moves, walk %6.3f s, wc %.3f s, ratio %5.1f, step %.3f, peak %s", k.name, float64(s.Bytes)/1e6, s.Moves,
			walk[0], words[0], ratio[rounds/2], s.Tools[0].Step, peak())
	}
}

// busy is the time of a processor that this process has had.
func busy(t *testing.T) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Skip(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func walkFile(t *testing.T, name string, e Expect, obs []clearance.Obstacle, tools map[int]clearance.Tool) *Summary {
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sink, err := NewClearance(clearance.Usual, obs, tools, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Walk(context.Background(), f, Options{Expect: e, Lenient: true}, sink)
	if err != nil {
		t.Fatal(err)
	}
	sink.Findings()
	return s
}

// peak is the largest resident size of this process so far, where the system says.
func peak() string {
	f, err := os.Open("/proc/self/status")
	if err != nil {
		return "not known here"
	}
	defer f.Close()
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if v, ok := strings.CutPrefix(sc.Text(), "VmHWM:"); ok {
			return strings.TrimSpace(v)
		}
	}
	return "not known here"
}
