package jobs

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"
)

// Disk is the one seam to the file system: OS is the real one, Mem one for tests
// that can fail on demand. Paths are those of the operating system. Errors wrap
// fs.ErrNotExist, fs.ErrPermission, fs.ErrExist or a syscall.Errno.
type Disk interface {
	// Read returns a regular file whole; one longer than limit is ErrTooBig.
	Read(path string, limit int64) ([]byte, error)
	// Open opens a regular file to be read a piece at a time.
	Open(path string) (Source, error)
	// Append opens an existing file for writing at its end.
	Append(path string) (File, error)
	// Create makes a new file and opens it for writing; an existing one is fs.ErrExist.
	Create(path string) (File, error)
	// Rename puts a file in the place of another, at once and whole.
	Rename(from, to string) error
	Remove(path string) error
	// Resolve is the path of the file itself where path is a link to it.
	Resolve(path string) (string, error)
	// SyncDir makes created, renamed and removed names of a folder last.
	SyncDir(dir string) error
	// Size is the length of a regular file.
	Size(path string) (int64, error)
	// Mark tells a regular file from one that was changed or exchanged since.
	Mark(path string) (Mark, error)
	// List returns the names in a folder, sorted.
	List(dir string) ([]string, error)
	// MakeDir makes a folder and those above it that are missing.
	MakeDir(dir string) error
	// Lock takes the lock kept in a file, without waiting, and writes who holds it there. What
	// stands at its place and is no plain file is refused, never followed.
	// Held by another process it is *LockedError. A lock dies with its process.
	Lock(path, who string) (io.Closer, error)
}

// Mark is how a file stood when it was looked at. Another mark than the one before means
// that it may have been changed; an equal one, that nothing speaks for it.
type Mark struct {
	Size     int64
	Modified time.Time
	file     fs.FileInfo // which file it is; nil where the disk cannot tell
}

// Same reports whether nothing speaks for a change between two marks.
func (m Mark) Same(o Mark) bool {
	which := m.file == nil || o.file == nil || os.SameFile(m.file, o.file)
	return which && m.Size == o.Size && m.Modified.Equal(o.Modified)
}

// Source is a file open for reading.
type Source interface {
	io.Reader
	io.ReaderAt
	io.Closer
}

// File is an open file. Write writes at the end.
type File interface {
	io.Writer
	Truncate(size int64) error
	Sync() error
	io.Closer
}

// ErrTooBig is a file longer than its reader takes.
var ErrTooBig = errors.New("file is too long")

// errChanged is a record that another program wrote to while it was open.
var errChanged = errors.New("another program changed it")

// errNotRegular is a folder or a device where a file is expected.
var errNotRegular = errors.New("not a regular file")

// LockedError says who holds a lock, as that process wrote it.
type LockedError struct {
	Path, Holder string
}

func (e *LockedError) Error() string {
	holder := "another process"
	if e.Holder != "" {
		holder = e.Holder
	}
	return fmt.Sprintf("%s is in use by %s; close it there first", quote(filepath.Base(e.Path)), holder)
}

// DiskError is a failed act on the disk in plain words. It unwraps to its cause.
type DiskError struct {
	Op, Path   string // read, write, ...; the file
	What, Hint string
	Err        error
}

func (e *DiskError) Error() string { return e.What + "; " + e.Hint }
func (e *DiskError) Unwrap() error { return e.Err }

// causes are the failures a person can do something about, in plain words.
var causes = []struct {
	is         error
	what, hint string
}{
	{syscall.ENOSPC, "disk is full", "free some space, then try again"},
	{syscall.EDQUOT, "disk quota is used up", "free some space, then try again"},
	{syscall.EROFS, "disk is read-only", "make it writable, or move the job's folder to one that is"},
	{syscall.EIO, "disk failed (input/output error)", "check the disk and its cable, then try again"},
	{fs.ErrPermission, "not permitted", "check the owner and permissions of the file and its folder"},
	{fs.ErrNotExist, "file or its folder has vanished", "put the disk or the folder back, then try again"},
	{ErrTooBig, "file is too long", "this is no file of this program; name the right one"},
	{errChanged, "another program changed it meanwhile", "leave, look at the file, and open it again"},
	{errNotRegular, "not a regular file", "name a file"},
	{io.ErrShortWrite, "disk took only a part", "free some space, then try again"},
}

// diskError puts a failure into words. op is a verb: read, write, rename.
func diskError(op, path string, err error) *DiskError {
	if said := (*DiskError)(nil); errors.As(err, &said) {
		return said // it names its own file
	}
	for _, c := range causes {
		if errors.Is(err, c.is) {
			return &DiskError{op, path, fmt.Sprintf("cannot %s %s: %s", op, quote(path), c.what), c.hint, err}
		}
	}
	return &DiskError{op, path, fmt.Sprintf("cannot %s %s: %s", op, quote(path), quote(err.Error())), "check the disk, then try again", err}
}

// create writes a new file whole, and makes it and its name last. What it could not
// finish it takes away again.
func create(d Disk, path string, data []byte) error {
	f, err := d.Create(path)
	if err != nil {
		return err
	}
	err = writeAll(f, data)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		_ = d.Remove(path)
		return err
	}
	return d.SyncDir(filepath.Dir(path))
}

func writeAll(f File, data []byte) error {
	err := writeOnly(f, data)
	if err == nil {
		err = f.Sync()
	}
	return err
}

// writeOnly writes all, which does not last before it is synced.
func writeOnly(f File, data []byte) error {
	n, err := f.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	return err
}
