package jobs

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
)

// OS is the disk of the operating system.
func OS() Disk { return osDisk{} }

type osDisk struct{}

// regular refuses folders, devices and pipes before they are opened: to open a pipe that
// nobody writes to waits for ever.
func regular(path string) error {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = errNotRegular
	}
	return err
}

func (osDisk) Read(path string, limit int64) ([]byte, error) {
	if err := regular(path); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNotRegular
	}
	if info.Size() > limit {
		return nil, ErrTooBig
	}
	// The limit again: the file may grow while it is read.
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err == nil && int64(len(data)) > limit {
		err = ErrTooBig
	}
	return data, err
}

func (osDisk) Open(path string) (Source, error) {
	if err := regular(path); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err // not f: a nil *os.File is no nil Source
	}
	return f, nil
}

func (osDisk) Append(path string) (File, error) {
	if err := regular(path); err != nil {
		return nil, err
	}
	// Not O_APPEND alone: Windows refuses to truncate such a handle.
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = errNotRegular
	}
	if err == nil {
		_, err = f.Seek(0, io.SeekEnd)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return osFile{f}, nil
}

// Create leaves it to the umask who else may write: a shop with a group of its own sets 002.
func (osDisk) Create(path string) (File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, err
	}
	return osFile{f}, nil
}

// osFile keeps the writing place at the end after a truncation.
type osFile struct{ *os.File }

func (f osFile) Truncate(size int64) error {
	if err := f.File.Truncate(size); err != nil {
		return err
	}
	_, err := f.Seek(0, io.SeekEnd)
	return err
}

func (osDisk) Rename(from, to string) error { return os.Rename(from, to) }
func (osDisk) Remove(path string) error     { return os.Remove(path) }

func (osDisk) Resolve(path string) (string, error) { return filepath.EvalSymlinks(path) }

func (osDisk) MakeDir(dir string) error { return os.MkdirAll(dir, 0o777) }

func (osDisk) SyncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // a folder cannot be synced there
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}

func (osDisk) Size(path string) (int64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return 0, err
	}
	if !info.Mode().IsRegular() {
		return 0, errNotRegular
	}
	return info.Size(), nil
}

func (osDisk) Mark(path string) (Mark, error) {
	info, err := os.Stat(path)
	if err != nil {
		return Mark{}, err
	}
	if !info.Mode().IsRegular() {
		return Mark{}, errNotRegular
	}
	return Mark{info.Size(), info.ModTime(), info}, nil
}

func (osDisk) List(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	return names, nil
}
