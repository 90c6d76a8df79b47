package jobs

import (
	"errors"
	"fmt"
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
		return fmt.Sprintf("line %d broke off and does not count (%d bytes); if it was written by hand, end it with } and a newline", r.Line, r.Torn)
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
	dir, base := filepath.Split(path)
	lockPath := filepath.Join(dir, "."+base+".lock")
	lock, err := d.Lock(lockPath, who)
	if err != nil {
		var held *LockedError
		if errors.As(err, &held) {
			held.Path = path
			return nil, nil, Report{}, held
		}
		return nil, nil, Report{}, diskError("lock", path, err)
	}
	r := &Record{disk: d, path: path, lock: lock}
	events, report, err := r.open()
	if err != nil {
		lock.Close()
		return nil, nil, report, err
	}
	return r, events, report, nil
}

func (r *Record) open() ([]Event, Report, error) {
	data, err := r.disk.Read(r.path, maxRecord)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := create(r.disk, r.path, []byte(header)); err != nil {
			return nil, Report{}, diskError("make", r.path, err)
		}
		r.good = int64(len(header))
		return nil, Report{New: true}, nil
	case err != nil:
		return nil, Report{}, diskError("read", r.path, err)
	}
	s := scanRecord(r.path, data)
	report := s.report()
	if len(s.faults) > 0 {
		return nil, report, s.faults
	}
	r.good = int64(s.good)
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
	return s.events, report, nil
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
	size, err := r.disk.Size(r.path)
	if err != nil {
		return err
	}
	if size != r.good {
		return errChanged
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
		f.Close()
		return err
	}
	// Synced: an error of closing can take nothing back.
	f.Close()
	r.good += int64(len(b))
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
	return nil
}

// Path is the record's file.
func (r *Record) Path() string { return r.path }

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
