package jobs

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

const recordPath = "shop/lid.1.record.yaml"

// reading is the n-th of a row of readings.
func reading(n int) Event {
	return Event{At: noon.Add(time.Duration(n) * time.Second), Read: fmt.Sprintf("side2/bore/1/hit%d.x", n), Value: fmt.Sprintf("-312.%04d", n), By: "keyed"}
}

func mustOpen(t *testing.T, d Disk) (*Record, []Event, Report) {
	t.Helper()
	r, es, rep, err := OpenRecord(d, recordPath, "pid 1")
	if err != nil {
		t.Fatal(err)
	}
	return r, es, rep
}

func mustAppend(t *testing.T, r *Record, es ...Event) {
	t.Helper()
	if err := r.Append(es...); err != nil {
		t.Fatal(err)
	}
}

func TestRecordNewThenReopened(t *testing.T) {
	d := Mem(nil)
	r, es, rep := mustOpen(t, d)
	if len(es) != 0 || !rep.New {
		t.Fatalf("new record: %v, %+v", es, rep)
	}
	mustAppend(t, r, reading(1), reading(2))
	mustAppend(t, r)
	r.Close()
	d.Crash(0)
	r, es, rep = mustOpen(t, d)
	defer r.Close()
	if !reflect.DeepEqual(es, []Event{reading(1), reading(2)}) || rep.New || rep.String() != "" {
		t.Fatalf("reopened: %+v, %+v", es, rep)
	}
	if !strings.HasPrefix(d.Text(recordPath), "--- {format: 1}\n--- {at: ") {
		t.Errorf("record begins with %.40q", d.Text(recordPath))
	}
}

// A record cut at any byte gives exactly the events whose line is whole; opening it for
// writing keeps the rest in a file of its own, and it goes on from there.
func TestRecordCutAtEveryByte(t *testing.T) {
	d := Mem(nil)
	r, _, _ := mustOpen(t, d)
	var all []Event
	for n := range 5 {
		all = append(all, reading(n))
	}
	all = append(all, Event{At: noon, Note: `a "} b\`}, Event{At: noon, Begin: "side2", Cards: map[string]string{"job.a": "}"}})
	for _, e := range all {
		mustAppend(t, r, e)
	}
	whole := d.Text(recordPath)
	for cut := range len(whole) + 1 {
		d := Mem(map[string]string{recordPath: whole[:cut]})
		lines := strings.Count(whole[:cut], "\n")
		want := all[:max(0, lines-1)]
		torn := cut - (strings.LastIndexByte(whole[:cut], '\n') + 1)

		es, rep, faults := ReadRecord(d, recordPath)
		if len(faults) > 0 || !slices.EqualFunc(es, want, same) || rep.Torn != torn {
			t.Fatalf("cut at %d: read %d events, %+v, %v; want %d", cut, len(es), rep, faults, len(want))
		}
		if d.Text(recordPath) != whole[:cut] {
			t.Fatalf("cut at %d: reading wrote", cut)
		}
		r, es, rep := mustOpen(t, d)
		if !slices.EqualFunc(es, want, same) || rep.Torn != torn {
			t.Fatalf("cut at %d: opened %d events, want %d", cut, len(es), len(want))
		}
		if torn > 0 && d.Text(recordPath+".torn-1") != whole[cut-torn:cut] {
			t.Fatalf("cut at %d: set aside %q", cut, d.Text(recordPath+".torn-1"))
		}
		mustAppend(t, r, reading(99))
		r.Close()
		d.Crash(0)
		es, rep, faults = ReadRecord(d, recordPath)
		if len(faults) > 0 || rep.Torn != 0 || !slices.EqualFunc(es, append(slices.Clone(want), reading(99)), same) {
			t.Fatalf("cut at %d: after going on %d events, %+v, %v", cut, len(es), rep, faults)
		}
	}
}

func same(a, b Event) bool { return reflect.DeepEqual(a, b) }

func TestRecordTornTwice(t *testing.T) {
	d := Mem(map[string]string{recordPath: header + "--- {at", recordPath + ".torn-1": "older"})
	r, _, rep := mustOpen(t, d)
	defer r.Close()
	if rep.Moved != recordPath+".torn-2" || d.Text(rep.Moved) != "--- {at" || d.Text(recordPath+".torn-1") != "older" {
		t.Errorf("moved to %q, %q", rep.Moved, d.Text(rep.Moved))
	}
	if want := `line 2 broke off and does not count; its 7 bytes were moved to "lid.1.record.yaml.torn-2"`; rep.String() != want {
		t.Errorf("report %q", rep.String())
	}
}

// What a crash leaves of unsynced bytes never adds an event and never takes one.
func TestRecordCrashWhileWriting(t *testing.T) {
	for tail := range 120 {
		d := Mem(nil)
		r, _, _ := mustOpen(t, d)
		mustAppend(t, r, reading(1))
		d.Fail = func(op, _ string) error {
			if op == "sync" || op == "truncate" {
				return syscall.EIO
			}
			return nil
		}
		if r.Append(reading(2)) == nil {
			t.Fatal("append without sync passed")
		}
		d.Fail = nil
		d.Crash(tail)
		r, es, _ := mustOpen(t, d)
		if len(es) < 1 || len(es) > 2 || !same(es[0], reading(1)) || len(es) == 2 && !same(es[1], reading(2)) {
			t.Fatalf("tail %d: %+v", tail, es)
		}
		r.Close()
	}
}

// Each fault of the disk is said in plain words, loses nothing that was confirmed,
// leaves nothing that was not, and is over when the disk recovers.
func TestRecordDiskFaults(t *testing.T) {
	for _, c := range []struct {
		op    string
		err   error
		short int
		want  string
	}{
		{"write", syscall.ENOSPC, 0, "disk is full"},
		{"write", syscall.ENOSPC, 17, "disk is full"},
		{"write", syscall.ENOSPC, 1000, "disk is full"},
		{"write", syscall.EDQUOT, 5, "quota"},
		{"write", syscall.EIO, 3, "input/output"},
		{"sync", syscall.EIO, 0, "input/output"},
		{"sync", syscall.ENOSPC, 0, "disk is full"},
		{"append", syscall.EROFS, 0, "read-only"},
		{"append", syscall.EACCES, 0, "not permitted"},
		{"size", fs.ErrNotExist, 0, "vanished"},
		{"append", syscall.ENOENT, 0, "vanished"},
		{"write", errors.New("strange\x1b[2J"), 9, `strange\x1b[2J`},
	} {
		for _, noCut := range []bool{false, true} {
			name := fmt.Sprintf("%s/%v/%d/%v", c.op, c.err, c.short, noCut)
			d := Mem(nil)
			r, _, _ := mustOpen(t, d)
			mustAppend(t, r, reading(1))
			before := d.Text(recordPath)
			d.Short = c.short
			d.Fail = func(op, path string) error {
				if op == c.op || noCut && op == "truncate" {
					return c.err
				}
				return nil
			}
			for range 2 {
				err := r.Append(reading(2), reading(3))
				var de *DiskError
				if !errors.As(err, &de) || !strings.Contains(err.Error(), c.want) || !errors.Is(err, c.err) {
					t.Errorf("%s: %v", name, err)
				}
				if strings.Contains(err.Error(), "\x1b") {
					t.Errorf("%s: escape in %q", name, err)
				}
			}
			if !noCut && c.op != "sync" && d.Text(recordPath) != before {
				t.Errorf("%s: left %q", name, d.Text(recordPath)[len(before):])
			}
			d.Fail = nil
			mustAppend(t, r, reading(4))
			d.Crash(0)
			es, rep, faults := ReadRecord(d, recordPath)
			if len(faults) > 0 || rep.Torn > 0 || !slices.EqualFunc(es, []Event{reading(1), reading(4)}, same) {
				t.Errorf("%s: %+v, %+v, %v", name, es, rep, faults)
			}
			r.Close()
		}
	}
}

func TestRecordOpenFaults(t *testing.T) {
	for _, c := range []struct{ op, want string }{
		{"create", "disk is full"}, {"write", "disk is full"}, {"sync", "disk is full"}, {"syncdir", "disk is full"},
		{"lock", "disk is full"}, {"read", "disk is full"},
	} {
		d := Mem(nil)
		d.Fail = func(op, _ string) error {
			if op == c.op {
				return syscall.ENOSPC
			}
			return nil
		}
		if _, _, _, err := OpenRecord(d, recordPath, "me"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.op, err)
		}
		d.Fail = nil
		r, es, _ := mustOpen(t, d)
		if len(es) > 0 {
			t.Errorf("%s: then %v", c.op, es)
		}
		mustAppend(t, r, reading(1))
	}
	// The last line is cut only once its copy is safe.
	for _, op := range []string{"create", "write", "sync", "syncdir", "truncate"} {
		text := header + "--- {at: 2026"
		d := Mem(map[string]string{recordPath: text})
		d.Fail = func(o, _ string) error {
			if o == op {
				return syscall.EROFS
			}
			return nil
		}
		if _, _, _, err := OpenRecord(d, recordPath, "me"); err == nil || !strings.Contains(err.Error(), "read-only") {
			t.Errorf("torn, %s: %v", op, err)
		}
		if d.Text(recordPath) != text {
			t.Errorf("torn, %s: record is now %q", op, d.Text(recordPath))
		}
	}
}

func TestRecordFolderIsSynced(t *testing.T) {
	d := Mem(nil)
	r, _, _ := mustOpen(t, d)
	mustAppend(t, r, reading(1))
	if !slices.Contains(d.Ops, "syncdir shop") {
		t.Errorf("folder not synced: %q", d.Ops)
	}
	if i, j := slices.Index(d.Ops, "sync "+recordPath), slices.Index(d.Ops, "syncdir shop"); i > j {
		t.Errorf("folder synced before the file: %q", d.Ops)
	}
}

func TestRecordChangedMeanwhile(t *testing.T) {
	for _, text := range []string{header, header + "--- {at: 2026-03-01T10:42:05Z, note: a}\n--- {at: 2026-03-01T10:42:05Z, note: b}\n"} {
		d := Mem(nil)
		r, _, _ := mustOpen(t, d)
		mustAppend(t, r, reading(1))
		d.Put(recordPath, text)
		if err := r.Append(reading(2)); err == nil || !strings.Contains(err.Error(), "another program") {
			t.Errorf("append to a changed record: %v", err)
		}
		if d.Text(recordPath) != text {
			t.Errorf("changed record was written")
		}
	}
}

func TestRecordRefused(t *testing.T) {
	good, _ := Encode(reading(1))
	for _, c := range []struct {
		name, text, want string
		line             int
	}{
		{"newer format", "--- {format: 2, colour: red}\n--- {at: x, zap: 3}\n", "newer", 1},
		{"bad format", "--- {format: one}\n", "not known", 1},
		{"no header", string(good), "format is missing", 1},
		{"second header key", "--- {format: 1, a: b}\n", "not known beside format", 1},
		{"bad line in the middle", header + "--- {at: 2026\n" + string(good), "does not end in }", 2},
		{"bad last line", header + string(good) + "--- {at: 2026}\n", `time "2026"`, 3},
		{"binary line", header + "\x00\x01\xff\n" + string(good), "not UTF-8", 2},
		{"binary file", "\x7fELF\x02\x01\x01\x00\x00", "not a record", 1},
		{"other text", "hello", "not a record", 1},
		{"CR alone", strings.ReplaceAll(header+string(good), "\n", "\r"), "CR alone", 1},
		{"10 MB line", header + "--- {at: 2026-03-01T10:42:05Z, note: \"" + strings.Repeat("x", 10<<20) + "\"}\n", "line of 10485", 2},
		{"escape in text", header + "--- {at: 2026-03-01T10:42:05Z, note: \"\x1b[31m\"}\n", "control character U+001B", 2},
		{"alias", header + "--- {at: 2026-03-01T10:42:05Z, note: *a}\n", "alias", 2},
		{"two events a line", header + "--- {at: 2026-03-01T10:42:05Z, note: a} {b: c}\n", "more than one event", 2},
	} {
		d := Mem(map[string]string{recordPath: c.text})
		_, _, faults := ReadRecord(d, recordPath)
		_, _, _, err := OpenRecord(d, recordPath, "me")
		if len(faults) == 0 || err == nil {
			t.Errorf("%s: taken", c.name)
			continue
		}
		if !strings.Contains(faults[0].Error(), c.want) || faults[0].Line != c.line || err.Error() != faults.Error() {
			t.Errorf("%s: %v; opening: %v", c.name, faults, err)
		}
		if strings.Contains(faults.Error(), "\x1b") {
			t.Errorf("%s: escape in %q", c.name, faults.Error())
		}
		if d.Text(recordPath) != c.text || d.Text(recordPath+".torn-1") != "" {
			t.Errorf("%s: a refused record was changed", c.name)
		}
	}
}

func TestRecordByHand(t *testing.T) {
	text := "\xef\xbb\xbf# typed in from the paper sheet\r\n\r\n--- {format: 1}\r\n--- {at: 2026-03-01T10:42:05+01:00, read: side2/bore/1/hit3.x, value: -312.4450}\r\n\n"
	d := Mem(map[string]string{recordPath: text})
	want := []Event{{At: noon, Read: "side2/bore/1/hit3.x", Value: "-312.4450"}}
	r, es, rep := mustOpen(t, d)
	if !slices.EqualFunc(es, want, same) || rep.Torn != 0 {
		t.Fatalf("%+v, %+v", es, rep)
	}
	mustAppend(t, r, reading(1))
	if es, _, fs := ReadRecord(d, recordPath); len(fs) > 0 || len(es) != 2 {
		t.Errorf("%+v, %v", es, fs)
	}
	for head, ok := range map[string]bool{"format: 1": true, "format: 1  # mine": true, "--- { format: 1 }": true, "format: 2": false, "format:": false} {
		d := Mem(map[string]string{recordPath: head + "\n--- {at: 2026-03-01T10:42:05+01:00, read: side2/bore/1/hit3.x, value: -312.4450}\n"})
		es, _, fs := ReadRecord(d, recordPath)
		if ok != (len(fs) == 0) || ok != slices.EqualFunc(es, want, same) {
			t.Errorf("headed %q: %+v, %v", head, es, fs)
		}
	}
}

func TestAppendRefusesUnfitEvents(t *testing.T) {
	d := Mem(nil)
	r, _, _ := mustOpen(t, d)
	if err := r.Append(reading(1), Event{At: noon, Note: "\x1b[2J"}); err == nil || !strings.Contains(err.Error(), "U+001B") {
		t.Errorf("escape: %v", err)
	}
	if d.Text(recordPath) != header {
		t.Errorf("part of a refused append was written: %q", d.Text(recordPath))
	}
}

func TestRecordLock(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "lid.1.record.yaml")
	r, _, _, err := OpenRecord(OS(), path, "pid 4711 on shop since 10:42\x1b[2J")
	if err != nil {
		t.Fatal(err)
	}
	_, _, _, err = OpenRecord(OS(), path, "pid 2")
	var held *LockedError
	if !errors.As(err, &held) || held.Holder != "pid 4711 on shop since 10:42[2J" {
		t.Errorf("second opening: %v", err)
	}
	// Reading needs no lock.
	if _, _, fs := ReadRecord(OS(), path); len(fs) > 0 {
		t.Error(fs)
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	if r, _, _, err = OpenRecord(OS(), path, "pid 2"); err != nil {
		t.Fatalf("after closing: %v", err)
	}
	r.Close()
}

// The real disk: the folder goes while a record is open, and comes back.
func TestRecordFolderVanishes(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	if err := OS().MakeDir(dir); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "lid.1.record.yaml")
	r, _, _, err := OpenRecord(OS(), path, "me")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	mustAppend(t, r, reading(1))
	if err := os.Rename(dir, dir+"-away"); err != nil {
		t.Skip(err) // a system that does not rename open folders
	}
	if err := r.Append(reading(2)); err == nil || !strings.Contains(err.Error(), "vanished") {
		t.Errorf("folder gone: %v", err)
	}
	if err := os.Rename(dir+"-away", dir); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, r, reading(2))
	es, _, faults := ReadRecord(OS(), path)
	if len(faults) > 0 || !slices.EqualFunc(es, []Event{reading(1), reading(2)}, same) {
		t.Errorf("%+v, %v", es, faults)
	}
}

// The process is killed while it writes: what it had said is on the disk is there, its
// lock is free, and the next one goes on.
func TestRecordSurvivesKill(t *testing.T) {
	const env = "JOBS_TEST_RECORD"
	if path := os.Getenv(env); path != "" {
		r, _, _, err := OpenRecord(OS(), path, "pid of a test")
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		for n := 1; ; n++ {
			if err := r.Append(reading(n)); err != nil {
				fmt.Println(err)
				os.Exit(1)
			}
			fmt.Println("taken", n)
		}
	}
	path := filepath.Join(t.TempDir(), "lid.1.record.yaml")
	cmd := exec.Command(os.Args[0], "-test.run=^TestRecordSurvivesKill$")
	cmd.Env = append(os.Environ(), env+"="+path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines, taken := bufio.NewScanner(out), 0
	for lines.Scan() {
		if _, err := fmt.Sscanf(lines.Text(), "taken %d", &taken); err != nil {
			t.Fatal(lines.Text())
		}
		if taken == 50 {
			if _, _, _, err := OpenRecord(OS(), path, "me"); err == nil || !strings.Contains(err.Error(), "is in use by pid of a test") {
				t.Errorf("while it runs: %v", err)
			}
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		}
	}
	_ = cmd.Wait() // killed
	r, es, rep, err := OpenRecord(OS(), path, "me")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if taken < 50 || len(es) < taken || len(es) > taken+1 {
		t.Fatalf("%d were confirmed, %d are there, %+v", taken, len(es), rep)
	}
	for i, e := range es {
		if !same(e, reading(i+1)) {
			t.Fatalf("event %d is %+v", i+1, e)
		}
	}
}

// Whatever a record's bytes are: reading writes nothing, a fault refuses it unchanged,
// and opening keeps its events, loses no byte and can be added to.
func FuzzRecord(f *testing.F) {
	a, _ := Encode(reading(1))
	b, _ := Encode(Event{At: noon, Begin: "side2", Cards: map[string]string{"job.a": "1"}})
	f.Add([]byte(header + string(a) + string(b)))
	f.Add([]byte(header + "# note\r\n\n" + string(a[:30])))
	f.Add([]byte("--- {form"))
	f.Add([]byte("\xef\xbb\xbf" + header + "\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d := Mem(map[string]string{recordPath: string(data)})
		es, rep, faults := ReadRecord(d, recordPath)
		checkFaults(t, faults, len(data))
		r, opened, _, err := OpenRecord(d, recordPath, "me")
		if len(faults) > 0 {
			if err == nil || d.Text(recordPath) != string(data) {
				t.Fatalf("%q: %v, then opened: %v", data, faults, err)
			}
			return
		}
		if err != nil || !slices.EqualFunc(es, opened, same) {
			t.Fatalf("%q: read %d, opened %d, %v", data, len(es), len(opened), err)
		}
		if whole := strings.TrimSuffix(d.Text(recordPath), header) + d.Text(recordPath+".torn-1"); rep.Torn > 0 && d.Text(recordPath)+d.Text(recordPath+".torn-1") != string(data) && whole != string(data) {
			t.Fatalf("%q: bytes lost: %q, %q", data, d.Text(recordPath), d.Text(recordPath+".torn-1"))
		}
		if err := r.Append(reading(9)); err != nil {
			t.Fatal(err)
		}
		d.Crash(0)
		again, rep, faults := ReadRecord(d, recordPath)
		if len(faults) > 0 || rep.Torn > 0 || !slices.EqualFunc(again, append(es, reading(9)), same) {
			t.Fatalf("%q: after adding: %d events, %+v, %v", data, len(again), rep, faults)
		}
	})
}

func TestRecordNames(t *testing.T) {
	if p := RecordPath("shop/lid.job.yaml", 3); p != "shop/lid.3.record.yaml" {
		t.Error(p)
	}
	d := Mem(map[string]string{
		"shop/lid.job.yaml": "", "shop/lid.2.record.yaml": "", "shop/lid.10.record.yaml": "", "shop/lid.01.record.yaml": "",
		"shop/lid.x.record.yaml": "", "shop/box.7.record.yaml": "", "shop/lid.2.record.yaml.torn-1": "", "shop/box.job.yaml": "",
	})
	list, err := Records(d, "shop/lid.job.yaml")
	if want := []PartRecord{{2, "shop/lid.2.record.yaml"}, {10, "shop/lid.10.record.yaml"}}; err != nil || !reflect.DeepEqual(list, want) {
		t.Errorf("Records = %v, %v", list, err)
	}
	if n, err := NextPart(d, "shop/lid.job.yaml"); n != 11 || err != nil {
		t.Errorf("NextPart = %d, %v", n, err)
	}
	if jobs, err := JobFiles(d, "shop"); err != nil || !reflect.DeepEqual(jobs, []string{"shop/box.job.yaml", "shop/lid.job.yaml"}) {
		t.Errorf("JobFiles = %v, %v", jobs, err)
	}
}

func BenchmarkAppend(b *testing.B) {
	r, _, _, err := OpenRecord(OS(), filepath.Join(b.TempDir(), "x.1.record.yaml"), "me")
	if err != nil {
		b.Fatal(err)
	}
	defer r.Close()
	for b.Loop() {
		if err := r.Append(reading(1)); err != nil {
			b.Fatal(err)
		}
	}
}
