package jobs

import (
	"bytes"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"sync"
)

// MemDisk is a disk in memory for tests: it fails on demand and forgets, at a
// crash, what was not synced. Folders exist as soon as a file is in them.
type MemDisk struct {
	// Fail, when set, is asked before every act: read, append, create, write, truncate,
	// sync, rename, remove, syncdir, size, list, mkdir, lock. A write that fails first
	// writes the number of bytes that Short says.
	Fail  func(op, path string) error
	Short int

	mu    sync.Mutex
	names map[string]*memFile // as seen now
	kept  map[string]*memFile // as they would be after a crash
	locks map[string]string
	Ops   []string // every act in order, "op path"
}

type memFile struct{ data, synced []byte }

// Mem returns a memory disk holding files, all synced.
func Mem(files map[string]string) *MemDisk {
	d := &MemDisk{names: map[string]*memFile{}, kept: map[string]*memFile{}, locks: map[string]string{}}
	for name, text := range files {
		f := &memFile{[]byte(text), []byte(text)}
		d.names[filepath.Clean(name)], d.kept[filepath.Clean(name)] = f, f
	}
	return d
}

// Crash is the power going: what was not synced is lost, locks are free. tail is
// how many of the unsynced bytes of each file made it to the disk all the same.
func (d *MemDisk) Crash(tail int) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.names, d.locks = map[string]*memFile{}, map[string]string{}
	for name, f := range d.kept {
		f.data = append([]byte(nil), f.data[:min(len(f.data), len(f.synced)+tail)]...)
		if len(f.data) < len(f.synced) {
			f.data = bytes.Clone(f.synced)
		}
		f.synced = bytes.Clone(f.data)
		d.names[name] = f
	}
}

// Text is a file's text now, "" when it is not there.
func (d *MemDisk) Text(path string) string {
	d.mu.Lock()
	defer d.mu.Unlock()
	if f := d.names[filepath.Clean(path)]; f != nil {
		return string(f.data)
	}
	return ""
}

// Put sets a file's text, synced, as an editor would.
func (d *MemDisk) Put(path, text string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f := &memFile{[]byte(text), []byte(text)}
	d.names[filepath.Clean(path)], d.kept[filepath.Clean(path)] = f, f
}

// act counts one act and returns the file it is about.
func (d *MemDisk) act(op, path string) (string, error) {
	path = filepath.Clean(path)
	d.Ops = append(d.Ops, op+" "+path)
	if d.Fail != nil {
		return path, d.Fail(op, path)
	}
	return path, nil
}

func notExist(op, path string) error { return &fs.PathError{Op: op, Path: path, Err: fs.ErrNotExist} }

func (d *MemDisk) file(op, path string) (*memFile, error) {
	path, err := d.act(op, path)
	if err != nil {
		return nil, err
	}
	f := d.names[path]
	if f == nil {
		return nil, notExist(op, path)
	}
	return f, nil
}

func (d *MemDisk) Read(path string, limit int64) ([]byte, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.file("read", path)
	if err != nil {
		return nil, err
	}
	if int64(len(f.data)) > limit {
		return nil, ErrTooBig
	}
	return bytes.Clone(f.data), nil
}

// Open gives the file as it is now: later writes to it are not seen.
func (d *MemDisk) Open(path string) (Source, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.file("open", path)
	if err != nil {
		return nil, err
	}
	return memSource{bytes.NewReader(bytes.Clone(f.data))}, nil
}

type memSource struct{ *bytes.Reader }

func (memSource) Close() error { return nil }

func (d *MemDisk) Append(path string) (File, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.file("append", path)
	if err != nil {
		return nil, err
	}
	return &memHandle{d, f, filepath.Clean(path)}, nil
}

func (d *MemDisk) Create(path string) (File, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	path, err := d.act("create", path)
	if err != nil {
		return nil, err
	}
	if d.names[path] != nil {
		return nil, &fs.PathError{Op: "create", Path: path, Err: fs.ErrExist}
	}
	f := &memFile{}
	d.names[path] = f
	return &memHandle{d, f, path}, nil
}

func (d *MemDisk) Rename(from, to string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.file("rename", from)
	if err != nil {
		return err
	}
	delete(d.names, filepath.Clean(from))
	d.names[filepath.Clean(to)] = f
	return nil
}

func (d *MemDisk) Remove(path string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, err := d.file("remove", path); err != nil {
		return err
	}
	delete(d.names, filepath.Clean(path))
	return nil
}

// Resolve is the path itself: there are no links here.
func (d *MemDisk) Resolve(path string) (string, error) { return path, nil }

func (d *MemDisk) SyncDir(dir string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	dir, err := d.act("syncdir", dir)
	if err != nil {
		return err
	}
	for name := range d.kept {
		if filepath.Dir(name) == dir && d.names[name] == nil {
			delete(d.kept, name)
		}
	}
	for name, f := range d.names {
		if filepath.Dir(name) == dir {
			d.kept[name] = f
		}
	}
	return nil
}

func (d *MemDisk) Size(path string) (int64, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.file("size", path)
	if err != nil {
		return 0, err
	}
	return int64(len(f.data)), nil
}

// Mark knows the length only.
func (d *MemDisk) Mark(path string) (Mark, error) {
	n, err := d.Size(path)
	return Mark{Size: n}, err
}

func (d *MemDisk) List(dir string) ([]string, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	dir, err := d.act("list", dir)
	if err != nil {
		return nil, err
	}
	var names []string
	for name := range d.names {
		if filepath.Dir(name) == dir {
			names = append(names, filepath.Base(name))
		}
	}
	slices.Sort(names)
	return names, nil
}

func (d *MemDisk) MakeDir(dir string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	_, err := d.act("mkdir", dir)
	return err
}

func (d *MemDisk) Lock(path, who string) (io.Closer, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	path, err := d.act("lock", path)
	if err != nil {
		return nil, err
	}
	if holder, held := d.locks[path]; held {
		return nil, &LockedError{path, plain(holder)}
	}
	d.locks[path] = who
	return memLock{d, path}, nil
}

type memLock struct {
	d    *MemDisk
	path string
}

func (l memLock) Close() error {
	l.d.mu.Lock()
	defer l.d.mu.Unlock()
	delete(l.d.locks, l.path)
	return nil
}

type memHandle struct {
	d    *MemDisk
	f    *memFile
	path string
}

func (h *memHandle) Write(p []byte) (int, error) {
	h.d.mu.Lock()
	defer h.d.mu.Unlock()
	if _, err := h.d.act("write", h.path); err != nil {
		n := min(h.d.Short, len(p))
		h.f.data = append(h.f.data, p[:n]...)
		return n, err
	}
	h.f.data = append(h.f.data, p...)
	return len(p), nil
}

func (h *memHandle) Truncate(size int64) error {
	h.d.mu.Lock()
	defer h.d.mu.Unlock()
	if _, err := h.d.act("truncate", h.path); err != nil {
		return err
	}
	h.f.data = h.f.data[:size:size]
	return nil
}

func (h *memHandle) Sync() error {
	h.d.mu.Lock()
	defer h.d.mu.Unlock()
	if _, err := h.d.act("sync", h.path); err != nil {
		return err
	}
	h.f.synced = bytes.Clone(h.f.data)
	return nil
}

func (h *memHandle) Close() error { return nil }
