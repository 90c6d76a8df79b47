//go:build unix

package jobs

import (
	"os"
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

// A card common to several folders through a link stays one card.
func TestLinkedCardIsWrittenWhereItLies(t *testing.T) {
	dir := t.TempDir()
	card, link := filepath.Join(dir, "common.fixture.yaml"), filepath.Join(dir, "job", "lid.fixture.yaml")
	text, err := os.ReadFile("testdata/lid.fixture.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(card, text, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Dir(link), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../common.fixture.yaml", link); err != nil {
		t.Skip(err)
	}
	if err := WriteCard(OS(), link, Writeback{Key: "lid.1", Add: map[string]int{"uses": 1}}); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link was replaced: %v, %v", info, err)
	}
	if f, fs := ReadFixture(OS(), card); len(fs) > 0 || f.Uses != 1 {
		t.Errorf("uses %d, %v", f.Uses, fs)
	}
}
