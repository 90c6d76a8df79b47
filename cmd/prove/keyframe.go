package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"

	"github.com/creack/pty"
)

// longRecord walks a part in dir almost to its release, and opens the round of one step again and
// again until its record has 10,000 events.
func longRecord(ctx context.Context, binary, dir string) error {
	c := exec.CommandContext(ctx, binary, "practice", "--auto", "--mistake", "none", "--out", dir)
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("practice --auto: %w\n%s", err, out)
	}
	path := jobs.RecordPath(filepath.Join(dir, builtin.JobFile), 1)
	es, _, faults := jobs.ReadRecord(jobs.OS(), path)
	if len(faults) > 0 {
		return faults
	}
	es = es[:len(es)-3] // the release and what stands just before it
	for i := 2; len(es) < 10_000; i++ {
		es = append(es, jobs.Event{At: es[0].At, Round: fmt.Sprintf("side2/bore/%d", i)})
	}
	if err := os.Remove(path); err != nil {
		return err
	}
	r, _, _, err := jobs.OpenRecord(jobs.OS(), path, "prove")
	if err != nil {
		return err
	}
	defer r.Close()
	return r.Append(es...)
}

// heard is what a terminal was sent at once.
type heard struct {
	at time.Time
	n  int
}

// keyToFrame opens help at 200x60, with a record of 10,000 events, again and again: two whole frames
// each. No emulator stands between: its own work would count in.
func keyToFrame(ctx context.Context, o options, t *table, dir string, n int) error {
	dir = filepath.Join(dir, "key")
	if err := longRecord(ctx, o.binary, dir); err != nil {
		return err
	}
	c := exec.CommandContext(ctx, o.binary, "open", filepath.Join(dir, builtin.JobFile))
	c.Env = append(os.Environ(), "TERM=xterm", "LC_ALL=C.UTF-8", "XDG_STATE_HOME="+dir)
	tty, err := pty.StartWithSize(c, &pty.Winsize{Cols: 200, Rows: 60})
	if err != nil {
		return err
	}
	defer func() { c.Process.Kill(); c.Wait(); tty.Close() }()
	sent := make(chan heard, 64)
	go func() {
		defer close(sent)
		buf := make([]byte, 1<<16)
		for {
			n, err := tty.Read(buf)
			if err != nil {
				return
			}
			sent <- heard{time.Now(), n}
			if bytes.Contains(buf[:n], []byte("\x1b[c")) { // asked what it is: an Esc is no answer from then on
				tty.WriteString("\x1b[?62c")
			}
		}
	}()
	frame(sent, 2*time.Second)
	var took []time.Duration
	for i := range 4 * n {
		began := time.Now()
		tty.WriteString([]string{"?", "\x1b"}[i%2])
		last, size := frame(sent, 250*time.Millisecond+time.Duration(i)*time.Millisecond) // never in step with the frames
		if i%2 > 0 {                                                                      // Esc waits for what may follow it
			continue
		}
		if size < 1000 {
			return fmt.Errorf("help at 200x60: %d bytes came of it", size)
		}
		took = append(took, last.Sub(began))
	}
	slices.Sort(took)
	p95 := took[len(took)*95/100]
	if ms(p95) > 10 {
		t.miss("key to frame: %.1f ms; mark 10", ms(p95))
	}
	t.row("key to frame at 200x60 with 10,000 events, median", ms(took[len(took)/2]), "", "", "")
	t.row("its 95th percentile", ms(p95), "", "", "at most 10 ms")
	return nil
}

// frame is when the last of what comes within a time came, and how much it was.
func frame(sent <-chan heard, within time.Duration) (last time.Time, size int) {
	end := time.After(within)
	for {
		select {
		case h, ok := <-sent:
			if !ok {
				return last, size
			}
			last, size = h.at, size+h.n
		case <-end:
			return last, size
		}
	}
}
