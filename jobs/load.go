package jobs

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
)

// ReadJob reads a job and the cards it names, and returns every fault of the three
// files at once: job first, then machine card, then fixture card, each in the order
// of its lines. The Job is never nil; with faults it holds what could be read.
func ReadJob(d Disk, path string) (*Job, Faults) {
	j, r, fs := openJob(d, path)
	folder := filepath.Dir(path)
	if j.Card != "" {
		m, mfs := ReadMachine(d, filepath.Join(folder, filepath.FromSlash(j.Card)))
		j.Machine, fs = m, append(fs, r.named404(mfs, "machine")...)
	}
	for _, s := range j.Setups {
		if s.Card != "" {
			f, notes, ffs := readFixture(d, filepath.Join(folder, filepath.FromSlash(s.Card)), func(r *reader, f *Fixture) {
				r.fixtureMaterial(j, f)
				r.ground(f)
			})
			j.Fixture, fs = f, append(fs, r.named404(ffs, join("setups", s.Name)+".fixture")...)
			j.Notes = append(j.Notes, notes...)
			break
		}
	}
	if len(fs) == 0 {
		r.together(j)
		fs = append(fs, r.faults.sorted()...)
	}
	return j, fs
}

// openJob reads the job file alone.
func openJob(d Disk, path string) (*Job, *reader, Faults) {
	data, fs := slurp(d, path, "name a job file, as lid.job.yaml")
	if len(fs) > 0 {
		return &Job{Path: path}, newReader(path), fs
	}
	return readJob(path, data)
}

func readJob(path string, data []byte) (*Job, *reader, Faults) {
	j := &Job{}
	r, _ := read(path, data, j)
	j.Path, j.Hash, j.leaves, j.places = path, hash(data), r.leaves, r.places
	j.reasons()
	r.job(j)
	r.partMaterial(j)
	fs := r.faults.sorted()
	r.faults = nil
	return j, r, fs
}

// together checks the job against its cards.
func (r *reader) together(j *Job) {
	r.instruments(j)
	r.engagement(j)
	if !r.flat { // what a record was begun with was taken as it was
		r.fits(j)
		r.implausible(j)
	}
	j.Notes = append(j.Notes, r.notes...)
}

// named404 puts the fault of a card that is not there at the place that names it.
func (r *reader) named404(fs Faults, path string) Faults {
	for i := range fs {
		if fs[i].Line == 0 && fs[i].missing() {
			what, hint := fs[i].What, fs[i].Hint
			fs[i] = r.note(path, what, hint)
		}
	}
	return fs
}

const notThere = "file is not there"

func (f Fault) missing() bool {
	return len(f.What) >= len(notThere) && f.What[:len(notThere)] == notThere
}

// ReadMachine reads a machine card.
func ReadMachine(d Disk, path string) (Machine, Faults) {
	data, fs := slurp(d, path, "put the machine card there, or correct its name in the job")
	if len(fs) > 0 {
		return Machine{Path: path}, fs
	}
	return readMachine(path, data)
}

func readMachine(path string, data []byte) (Machine, Faults) {
	var m Machine
	r, _ := read(path, data, &m)
	m.Path, m.Hash, m.leaves = path, hash(data), r.leaves
	r.machine(&m)
	return m, r.faults.sorted()
}

// ReadFixture reads a fixture card.
func ReadFixture(d Disk, path string) (Fixture, Faults) {
	f, _, fs := readFixture(d, path, nil)
	return f, fs
}

// KindOf tells which of Files a file is, by its name's ending, else by its keys; "" for none.
// A folder or a file that cannot be read is "".
func KindOf(d Disk, path string) string {
	for _, kind := range Files {
		if strings.HasSuffix(path, "."+kind+".yaml") {
			return kind
		}
	}
	data, faults := slurp(d, path, "")
	if bytes.HasPrefix(data, []byte(opening)) {
		return "record"
	}
	root, more := parseTree(path, data)
	switch {
	case len(faults)+len(more) > 0 || root == nil:
		return ""
	case child(root, "job") != nil || child(root, "setups") != nil:
		return "job"
	case child(root, "fixture") != nil:
		return "fixture"
	case child(root, "machine") != nil:
		return "machine"
	}
	return ""
}

// CheckCard reads a machine or a fixture card alone. What only a job can say of it, such as
// a material of its own, is not asked.
func CheckCard(d Disk, path string) (kind, name string, notes, faults Faults) {
	if kind = KindOf(d, path); kind == "fixture" {
		f, notes, faults := readFixture(d, path, func(r *reader, f *Fixture) { r.ground(f) })
		return kind, f.ID, notes, faults
	}
	m, faults := ReadMachine(d, path)
	return "machine", m.Name, nil, faults
}

// readFixture reads a fixture card; more, when set, checks it against what names it.
func readFixture(d Disk, path string, more func(*reader, *Fixture)) (Fixture, Faults, Faults) {
	data, fs := slurp(d, path, "put the fixture card there, or correct its name in the job")
	if len(fs) > 0 {
		return Fixture{Path: path}, nil, fs
	}
	f, r := fixtureOf(path, data)
	if more != nil && len(r.faults) == 0 {
		more(r, &f)
	}
	return f, r.notes, r.faults.sorted()
}

func parseFixture(path string, data []byte) (f Fixture, notes, fs Faults) {
	f, r := fixtureOf(path, data)
	return f, r.notes, r.faults.sorted()
}

func fixtureOf(path string, data []byte) (f Fixture, r *reader) {
	r, _ = read(path, data, &f)
	f.Path, f.Hash, f.leaves = path, hash(data), r.leaves
	r.fixture(&f)
	return f, r
}

// slurp reads a whole file, or says why it cannot.
func slurp(d Disk, path, hint string) ([]byte, Faults) {
	data, err := d.Read(path, maxFile)
	switch {
	case err == nil:
		return data, nil
	case errors.Is(err, fs.ErrNotExist):
		return nil, Faults{{File: path, What: notThere + ": " + quote(filepath.Base(path)), Hint: hint}}
	}
	e := diskError("read", path, err)
	return nil, Faults{{File: path, What: e.What, Hint: e.Hint}}
}

// hash is what a file is known by: the first 16 hex digits of its SHA-256.
func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])[:16]
}
