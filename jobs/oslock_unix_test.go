//go:build unix

package jobs

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// What stands at the place of a lock file is never followed, written through or waited for.
func TestLockPlaceIsRefused(t *testing.T) {
	const precious = "readings of ten years\n"
	for name, put := range map[string]func(dir, lock string) error{
		"link to a file":    func(dir, lock string) error { return os.Symlink(filepath.Join(dir, "precious"), lock) },
		"link into nothing": func(dir, lock string) error { return os.Symlink(filepath.Join(dir, "made"), lock) },
		"pipe":              func(_, lock string) error { return syscall.Mkfifo(lock, 0o644) },
		"folder":            func(_, lock string) error { return os.Mkdir(lock, 0o755) },
	} {
		dir := t.TempDir()
		record, lock := filepath.Join(dir, "lid.1.record.yaml"), filepath.Join(dir, ".lid.1.record.yaml.lock")
		if err := os.WriteFile(filepath.Join(dir, "precious"), []byte(precious), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := put(dir, lock); err != nil {
			t.Fatal(err)
		}
		said := make(chan error)
		go func() {
			_, _, _, err := OpenRecord(OS(), record, "test")
			said <- err
		}()
		select {
		case err := <-said:
			var disk *DiskError
			if !errors.As(err, &disk) || disk.Path != lock || !strings.Contains(disk.Error(), "where the lock file should be") {
				t.Errorf("%s: %v", name, err)
			}
		case <-time.After(5 * time.Second):
			t.Fatalf("%s: it waits", name)
		}
		if b, _ := os.ReadFile(filepath.Join(dir, "precious")); string(b) != precious {
			t.Errorf("%s: the file behind it is now %q", name, b)
		}
		for _, made := range []string{record, filepath.Join(dir, "made")} {
			if _, err := os.Lstat(made); err == nil {
				t.Errorf("%s: %s was made", name, made)
			}
		}
	}
}

// A lock file exchanged for a link while it is held: letting go writes through nothing.
func TestLockExchangedWhileHeld(t *testing.T) {
	dir := t.TempDir()
	lock, precious := filepath.Join(dir, "lock"), filepath.Join(dir, "precious")
	l, err := OS().Lock(lock, "test")
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(lock); string(b) != "test\n" {
		t.Errorf("the holder is %q", b)
	}
	if _, err := OS().Lock(lock, "other"); err == nil || !strings.Contains(err.Error(), "in use by test") {
		t.Errorf("held: %v", err)
	}
	if err := errors.Join(os.WriteFile(precious, []byte("kept"), 0o644), os.Remove(lock), os.Symlink(precious, lock)); err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Error(err)
	}
	if b, _ := os.ReadFile(precious); string(b) != "kept" {
		t.Errorf("the file behind the link is now %q", b)
	}
}

// A record that two folders share through a link has one lock.
func TestLinkedRecordHasOneLock(t *testing.T) {
	dir := t.TempDir()
	record, link := filepath.Join(dir, "lid.1.record.yaml"), filepath.Join(dir, "linked.1.record.yaml")
	r, _, _, err := OpenRecord(OS(), record, "one")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if err := os.Symlink(record, link); err != nil {
		t.Skip(err)
	}
	var held *LockedError
	if _, _, _, err := OpenRecord(OS(), link, "two"); !errors.As(err, &held) || held.Holder != "one" {
		t.Errorf("through the link: %v", err)
	}
}
