//go:build unix

package jobs

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A pipe in the place of a file is refused at once; opening it would wait for a writer.
func TestPipeIsNoFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lid.job.yaml")
	if err := syscall.Mkfifo(path, 0o644); err != nil {
		t.Skip(err)
	}
	said := make(chan string)
	go func() {
		_, faults := ReadJob(OS(), path)
		_, _, _, err := OpenRecord(OS(), path, "test")
		said <- faults.Error() + "\n" + err.Error()
	}()
	select {
	case text := <-said:
		if strings.Count(text, "not a regular file") != 2 {
			t.Error(text)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("it waits for the pipe")
	}
}
