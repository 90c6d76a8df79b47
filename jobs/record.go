package jobs

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	stdhash "hash"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Record is an open record: a file that events are added to and never taken from.
//
// A record is text, one event a line. Its first line is "--- {format: 1}"; by hand
// "format: 1" does as well. Blank lines and lines that begin with # are skipped. An
// event counts when its line ends in } and a newline.
type Record struct {
	mu    sync.Mutex
	disk  Disk
	path  string
	lock  io.Closer
	good  int64 // length up to which everything is known to be on the disk
	dirty bool  // bytes may stand after good

	sum  stdhash.Hash // of the good bytes
	tail []byte       // the last of the good bytes, at most tailLen
	mark Mark         // of the file as we left it
}

// tailLen is how much of a record's end is read again before each writing.
const tailLen = 4096

// grown notes bytes that are good now.
func (r *Record) grown(b []byte) {
	r.good += int64(len(b))
	r.sum.Write(b)
	r.tail = append(r.tail, b[max(0, len(b)-tailLen):]...)
	r.tail = append([]byte(nil), r.tail[max(0, len(r.tail)-tailLen):]...)
}

// Report says what was found on opening a record.
type Report struct {
	New    bool   // the record was made just now
	Events int    // how many events it holds
	Torn   int    // bytes of a last line that broke off; it was never confirmed
	Line   int    // number of that line
	Moved  string // file that the bytes were moved to, "" when only reading
}

// String is what to tell the person, "" when there is nothing to tell.
func (r Report) String() string {
	switch {
	case r.Torn == 0:
		return ""
	case r.Moved == "":
		return fmt.Sprintf("line %d broke off and does not count (%d bytes); if it was written by hand, end it with } and a newline", r.Line,
			r.Torn)
	}
	return fmt.Sprintf("line %d broke off and does not count; its %d bytes were moved to %s", r.Line, r.Torn, quote(filepath.Base(r.Moved)))
}

// ReadRecord reads a record without writing anything.
func ReadRecord(d Disk, path string) ([]Event, Report, Faults) {
	data, faults := slurpRecord(d, path)
	if len(faults) > 0 {
		return nil, Report{}, faults
	}
	s := scanRecord(path, data)
	return s.events, s.report(), s.faults
}

func (s scan) report() Report {
	r := Report{Events: len(s.events), Torn: s.torn}
	if s.torn > 0 {
		r.Line = s.line
	}
	return r
}

func slurpRecord(d Disk, path string) ([]byte, Faults) {
	data, err := d.Read(path, maxRecord)
	if err == nil {
		return data, nil
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, Faults{{File: path, What: notThere + ": " + quote(filepath.Base(path)), Hint: "name a record, as lid.1.record.yaml"}}
	}
	e := diskError("read", path, err)
	return nil, Faults{{File: path, What: e.What, Hint: e.Hint}}
}

// OpenRecord locks a record and opens it for adding, making it when it is not there.
// who names this process to another that finds the lock: "pid 4711 on shop since
// 10:42". A last line that broke off is moved to PATH.torn-N, first copied and synced,
// then cut. The error is Faults for a record that cannot be trusted (nothing is then
// changed), *LockedError, or *DiskError.
func OpenRecord(d Disk, path, who string) (*Record, []Event, Report, error) {
	lock, err := d.Lock(lockPath(d, path), who)
	if err != nil {
		var held *LockedError
		if errors.As(err, &held) {
			held.Path = path
			return nil, nil, Report{}, held
		}
		return nil, nil, Report{}, diskError("lock", path, err)
	}
	r := &Record{disk: d, path: path, lock: lock, sum: sha256.New()}
	events, report, err := r.open()
	if err != nil {
		lock.Close()
		return nil, nil, report, err
	}
	return r, events, report, nil
}

// lockPath is the lock file of a record or a card, beside the file itself: one that is
// shared through links has one lock.
func lockPath(d Disk, path string) string {
	if real, err := d.Resolve(path); err == nil {
		path = real
	}
	dir, base := filepath.Split(path)
	return filepath.Join(dir, "."+base+".lock")
}

// HeldBy is who has a record open, as that process wrote it; "" when nobody has. It changes
// nothing: only a lock file that is there and names somebody is tried.
func HeldBy(d Disk, path string) string {
	lock := lockPath(d, path)
	if n, err := d.Size(lock); err != nil || n == 0 {
		return ""
	}
	l, err := d.Lock(lock, "")
	var held *LockedError
	switch {
	case err == nil:
		l.Close() // left by a crash
	case errors.As(err, &held):
		if held.Holder == "" {
			return "another process"
		}
		return held.Holder
	}
	return ""
}

func (r *Record) open() ([]Event, Report, error) {
	data, err := r.disk.Read(r.path, maxRecord)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := create(r.disk, r.path, []byte(header)); err != nil {
			return nil, Report{}, diskError("make", r.path, err)
		}
		r.grown([]byte(header))
		return nil, Report{New: true}, r.marked()
	case err != nil:
		return nil, Report{}, diskError("read", r.path, err)
	}
	s := scanRecord(r.path, data)
	report := s.report()
	if len(s.faults) > 0 {
		return nil, report, s.faults
	}
	r.grown(data[:s.good])
	if s.torn > 0 {
		report.Moved, err = r.setAside(data[s.good:])
		if err != nil {
			return nil, report, diskError("set aside the last line of", r.path, err)
		}
		r.dirty = true
	}
	if len(s.events) == 0 {
		// Making it may have failed just before its name was made to last.
		if err := r.disk.SyncDir(filepath.Dir(r.path)); err != nil {
			return nil, report, diskError("open", r.path, err)
		}
	}
	if !s.headed {
		// It broke off before its first line, or is empty.
		if err := r.write([]byte(header)); err != nil {
			return nil, report, diskError("write", r.path, err)
		}
		report.New = s.torn == 0
	} else if r.dirty {
		if err := r.cut(); err != nil {
			return nil, report, diskError("cut", r.path, err)
		}
	}
	return s.events, report, r.marked()
}

// marked notes how the file stands now that it is as we left it.
func (r *Record) marked() error {
	var err error
	if r.mark, err = r.disk.Mark(r.path); err != nil {
		return diskError("open", r.path, err)
	}
	return nil
}

// untouched is errChanged when somebody else has written to the record. The file's length,
// times and last bytes say at little cost that nobody has; where they say otherwise the
// whole is compared, since a copy put back or a backup's touch change nothing.
func (r *Record) untouched() error {
	now, err := r.disk.Mark(r.path)
	if err != nil {
		return err
	}
	if now.Size != r.good {
		return errChanged
	}
	same, err := r.sameTail()
	if err != nil || same && now.Same(r.mark) {
		return err
	}
	data, err := r.disk.Read(r.path, maxRecord)
	if err != nil {
		return err
	}
	if sum := sha256.Sum256(data); !bytes.Equal(sum[:], r.sum.Sum(nil)) {
		return errChanged
	}
	r.mark = now
	return nil
}

// sameTail reports whether the record's last bytes are those that we left.
func (r *Record) sameTail() (bool, error) {
	f, err := r.disk.Open(r.path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	b := make([]byte, len(r.tail))
	if _, err := f.ReadAt(b, r.good-int64(len(b))); err != nil && !errors.Is(err, io.EOF) {
		return false, err
	}
	return bytes.Equal(b, r.tail), nil
}

// setAside copies bytes to the first free PATH.torn-N.
func (r *Record) setAside(torn []byte) (string, error) {
	for n := 1; ; n++ {
		path := r.path + ".torn-" + strconv.Itoa(n)
		err := create(r.disk, path, torn)
		if !errors.Is(err, fs.ErrExist) {
			return path, err
		}
	}
}

// Append adds events: one write, one sync. When it returns nil they are on the disk.
// When it fails none of them counts: what was written of them is cut off, at once if
// the disk lets it, else before anything else is written; the record stays usable and
// Append may be called again. The error is a *DiskError in plain words, or says which
// event is unfit.
func (r *Record) Append(events ...Event) error {
	var b []byte
	for _, e := range events {
		line, err := Encode(e)
		if err != nil {
			return err
		}
		b = append(b, line...)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.lock == nil {
		panic("jobs: append to a closed record")
	}
	if len(b) == 0 {
		return nil
	}
	if err := r.write(b); err != nil {
		return diskError("write", r.path, err)
	}
	return nil
}

// write appends at good. The file is opened anew each time: a disk that was pulled and
// put back has other handles, and a file that was removed must not be written unseen.
func (r *Record) write(b []byte) error {
	if r.dirty {
		if err := r.cut(); err != nil {
			return err
		}
	}
	if err := r.untouched(); err != nil {
		return err
	}
	f, err := r.disk.Append(r.path)
	if err != nil {
		return err
	}
	if err := writeAll(f, b); err != nil {
		r.dirty = true
		if f.Truncate(r.good) == nil && f.Sync() == nil {
			r.dirty = false
		}
		r.mark = Mark{}
		f.Close()
		return err
	}
	// Synced: an error of closing can take nothing back, nor can one of looking at it.
	f.Close()
	r.grown(b)
	r.mark, _ = r.disk.Mark(r.path)
	return nil
}

// cut takes off what stands after the last confirmed byte.
func (r *Record) cut() error {
	size, err := r.disk.Size(r.path)
	if err != nil {
		return err
	}
	if size < r.good {
		return errChanged
	}
	f, err := r.disk.Append(r.path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Truncate(r.good); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	r.dirty = false
	r.mark = Mark{} // it is ours that changed it: the whole is compared once
	return nil
}

// Drop takes a record away that holds no event, under its lock; another is left alone.
func (r *Record) Drop() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.lock == nil || r.good != int64(len(header)) || r.dirty || r.untouched() != nil {
		return nil
	}
	if err := r.disk.Remove(r.path); err != nil {
		return diskError("take away", r.path, err)
	}
	return nil
}

// Close frees the lock. Every event appended is already on the disk.
func (r *Record) Close() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.lock == nil {
		return nil
	}
	l := r.lock
	r.lock = nil
	return l.Close()
}

// PartRecord is one record of a job.
type PartRecord struct {
	Part int
	Path string
}

const (
	jobEnd    = ".job.yaml"
	recordEnd = ".record.yaml"
)

// RecordPath is where the record of a part is: lid.1.record.yaml beside lid.job.yaml.
func RecordPath(jobPath string, part int) string {
	stem, ok := strings.CutSuffix(jobPath, jobEnd)
	if !ok {
		stem = strings.TrimSuffix(jobPath, filepath.Ext(jobPath))
	}
	return stem + "." + strconv.Itoa(part) + recordEnd
}

// Records lists the records of a job by part number.
func Records(d Disk, jobPath string) ([]PartRecord, error) {
	dir := filepath.Dir(jobPath)
	names, err := d.List(dir)
	if err != nil {
		return nil, diskError("list", dir, err)
	}
	var list []PartRecord
	for _, name := range names {
		stem, ok := strings.CutSuffix(name, recordEnd)
		if !ok {
			continue
		}
		n, err := strconv.Atoi(stem[strings.LastIndexByte(stem, '.')+1:])
		if err == nil && n > 0 && filepath.Base(RecordPath(jobPath, n)) == name {
			list = append(list, PartRecord{n, filepath.Join(dir, name)})
		}
	}
	slices.SortFunc(list, func(a, b PartRecord) int { return a.Part - b.Part })
	return list, nil
}

// NextPart is one more than the highest part number that has a record.
func NextPart(d Disk, jobPath string) (int, error) {
	list, err := Records(d, jobPath)
	if err != nil || len(list) == 0 {
		return 1, err
	}
	return list[len(list)-1].Part + 1, nil
}

// JobFiles lists the job files in a folder.
func JobFiles(d Disk, dir string) ([]string, error) {
	names, err := d.List(dir)
	if err != nil {
		return nil, diskError("list", dir, err)
	}
	var list []string
	for _, name := range names {
		if strings.HasSuffix(name, jobEnd) && name != jobEnd {
			list = append(list, filepath.Join(dir, name))
		}
	}
	return list, nil
}
