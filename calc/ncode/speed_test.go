package ncode

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/calc/clearance"
)

// TestSpeed prints MB/s, the ratio to "LC_ALL=C wc -w" on the same file in the same run,
// and the peak memory of this process, for a program far from 20 obstacles and for one
// with a tenth of its lines close to them. It asserts nothing about time and runs only when asked:
//
//	NCODE_SPEED=1 NCODE_LINES=4000000 go test -v -run Speed ./calc/ncode
func TestSpeed(t *testing.T) {
	if os.Getenv("NCODE_SPEED") == "" {
		t.Skip("set NCODE_SPEED=1 to measure")
	}
	const rounds = 5
	for _, c := range []struct {
		name       string
		near, away float64
	}{{"far", 0, 60}, {"near", 0.1, 2}} {
		name := filepath.Join(t.TempDir(), c.name+".nc")
		f, err := os.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := generate(f, benchLines(t), c.near); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		obs, tools := ringOf(t, c.away)
		var walk, words, ratio []float64
		var size int64
		for i := range rounds + 1 {
			start := time.Now()
			cmd := exec.Command("wc", "-w", name)
			cmd.Env = append(os.Environ(), "LC_ALL=C")
			if err := cmd.Run(); err != nil {
				t.Skipf("no wc: %v", err)
			}
			a := time.Since(start).Seconds()
			start = time.Now()
			s := walkFile(t, name, obs, tools)
			b := time.Since(start).Seconds()
			if i > 0 { // the first warms the cache
				words, walk, ratio = append(words, a), append(walk, b), append(ratio, b/a)
			}
			size = s.Bytes
		}
		for _, v := range [][]float64{walk, words, ratio} {
			slices.Sort(v)
		}
		t.Logf("%s: %d bytes, walk %.3f s (%.0f MB/s), wc %.3f s, ratio %.2f (%.2f to %.2f), peak %s", c.name, size, walk[rounds/2],
			float64(size)/1e6/walk[rounds/2], words[rounds/2], ratio[rounds/2], ratio[0], ratio[rounds-1], peak())
	}
}

func walkFile(t *testing.T, name string, obs []clearance.Obstacle, tools map[int]clearance.Tool) *Summary {
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sink, err := NewClearance(clearance.Usual, obs, tools, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Walk(context.Background(), f, Options{Expect: expectBench()}, sink)
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
