package jobs

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"syscall"
	"testing"
)

func cardDisk(t *testing.T) *MemDisk {
	t.Helper()
	return diskOf(t, "testdata/lid.job.yaml", "testdata/bench.machine.yaml", "testdata/lid.fixture.yaml")
}

func TestWriteCardAtRelease(t *testing.T) {
	const path = "testdata/lid.fixture.yaml"
	d := cardDisk(t)
	release := Writeback{Key: "lid.1", Add: map[string]int{"uses": 1, "threads.cycles": 1}}
	for range 3 { // a repeat after a crash changes nothing
		if err := WriteCard(d, path, release); err != nil {
			t.Fatal(err)
		}
	}
	d.Crash(0)
	f, fs := ReadFixture(d, path)
	if len(fs) > 0 || f.Uses != 1 || f.Threads.Cycles != 4 || len(f.History) != 1 {
		t.Fatalf("uses %d, cycles %d, %v, %v", f.Uses, f.Threads.Cycles, f.History, fs)
	}
	if err := WriteCard(d, path, Writeback{Key: "lid.2", Add: map[string]int{"uses": 1, "threads.cycles": 1}}); err != nil {
		t.Fatal(err)
	}
	golden(t, "released.fixture.yaml", d.Text(path))
	if f, fs := ReadFixture(d, path); len(fs) > 0 || f.Uses != 2 || f.Threads.Cycles != 5 || len(f.History) != 2 {
		t.Errorf("second release: %+v, %v", f, fs)
	}
}

// What a use found stands in the history, and changes nothing else of the card.
func TestWriteCardKeeps(t *testing.T) {
	const path = "testdata/lid.fixture.yaml"
	d := cardDisk(t)
	for range 2 {
		if err := WriteCard(d, path, Writeback{Key: "lid.1", Add: map[string]int{"uses": 1}, Kept: map[string]string{"skew": "0.012/300", "bore": "8.0012mm"}}); err != nil {
			t.Fatal(err)
		}
	}
	f, fs := ReadFixture(d, path)
	if len(fs) > 0 || len(f.History) != 1 || f.Uses != 1 || f.AsMade.Bore.Dia != 8 {
		t.Fatalf("%+v, %v", f, fs)
	}
	if v := f.History[0].Values; v["skew"] != "0.012/300" || v["bore"] != "8.0012mm" || v["uses"] != "1" || len(v) != 3 {
		t.Errorf("kept %v", v)
	}
}

func TestWriteCardCalibration(t *testing.T) {
	const path = "testdata/bench.machine.yaml"
	d := cardDisk(t)
	err := WriteCard(d, path, Writeback{Key: "ball.1#12", Set: map[string]string{
		"probe.radius": "0.9915", "probe.repeat": "0.0012", "probe.date": "2026-03-01", "probe.source": `ring gauge, "B"`,
		"tram.column-x": "0.004/100", "edge-finder.dia": "10", "edge-finder.repeat": "0.005"}})
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "calibrated.machine.yaml", d.Text(path))
	m, fs := ReadMachine(d, path)
	if len(fs) > 0 || m.Probe.Radius != 0.9915 || m.Probe.Source != `ring gauge, "B"` || m.Probe.Date != "2026-03-01" || m.Finder.Dia != 10 || *m.Tram.ZX != 0.00004 {
		t.Errorf("%+v, %v", m, fs)
	}
}

// Comments, layout, line ends and a byte order mark stay as they are.
func TestWriteCardKeepsTheRest(t *testing.T) {
	const card = "# my mill\nformat: 1 # keep\n\nmachine:   'old \"Betty\"'\nreadout: \"0.001\"   # step\nprobe:\n    # the short stylus\n    ball: 2\n    radius: 0.991\n    repeat: 0.001\n    dof: 30\n    source: 'ring, it''s new'  # where\n"
	set := map[string]string{"readout": "0.002", "probe.source": "gauge", "probe.mark": "front", "backlash": "0.004"}
	want := strings.NewReplacer(`"0.001"   # step`, "0.002   # step", "'ring, it''s new'  # where", "gauge  # where", "    ball: 2", "    mark: front\n    ball: 2").Replace(card) +
		"history:\n  k: {backlash: 0.004, probe.mark: front, probe.source: gauge, readout: 0.002}\nbacklash: 0.004\n"
	for name, edit := range map[string]func(string) string{
		"LF":   func(s string) string { return s },
		"CRLF": func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		"BOM":  func(s string) string { return "\xef\xbb\xbf" + s },
	} {
		d := Mem(map[string]string{"m.yaml": edit(card)})
		if err := WriteCard(d, "m.yaml", Writeback{Key: "k", Set: set}); err != nil {
			t.Errorf("%s: %v", name, err)
		} else if got := d.Text("m.yaml"); got != edit(want) {
			t.Errorf("%s:\n%s\nwant\n%s", name, got, edit(want))
		}
	}
}

// A pair of numbers that is not on the card yet comes as a list, and a group of names as a group.
func TestWriteCardMakesLists(t *testing.T) {
	const path = "testdata/lid.fixture.yaml"
	d := cardDisk(t)
	w := Writeback{Key: "lid.1#9", Set: map[string]string{"as-made.part-zero-u.0": "0.0024mm", "as-made.part-zero-u.1": "0.0031mm", "as-made.pads.left": "-0.0009mm", "as-made.pads.away 1": "0.0008mm"}}
	if err := WriteCard(d, path, w); err != nil {
		t.Fatal(err)
	}
	f, fs := ReadFixture(d, path)
	if m := f.AsMade; len(fs) > 0 || m.ZeroU != [2]float64{0.0024, 0.0031} || m.Pads["left"] != -0.0009 || m.Pads["away 1"] != 0.0008 {
		t.Errorf("%v %+v\n%s", fs, f.AsMade, d.Text(path))
	}
}

func TestWriteCardRefuses(t *testing.T) {
	const path = "testdata/bench.machine.yaml"
	for _, c := range []struct {
		set  map[string]string
		want string
	}{
		{map[string]string{"probe.radius": "1.98"}, "does not go with a ball"},
		{map[string]string{"probe.radius": "abc"}, "probe.radius"},
		{map[string]string{"zap": "1"}, `key "zap" is not known`},
		{map[string]string{"probe": "1"}, "group of values"},
		{map[string]string{"readout.x": "1"}, "no group of keys"},
		{map[string]string{"machine": "\x1b[2J"}, "U+001B"},
	} {
		d := cardDisk(t)
		before := d.Text(path)
		err := WriteCard(d, path, Writeback{Key: "k", Set: c.set})
		var fs Faults
		if !errors.As(err, &fs) || !strings.Contains(err.Error(), c.want) || d.Text(path) != before {
			t.Errorf("%v: %v", c.set, err)
		}
	}
}

// The card is the old one or the new one, whatever fails and wherever it crashes.
func TestWriteCardIsWhole(t *testing.T) {
	const path = "testdata/lid.fixture.yaml"
	w := Writeback{Key: "lid.1", Add: map[string]int{"uses": 1}}
	d := cardDisk(t)
	old := d.Text(path)
	if err := WriteCard(d, path, w); err != nil {
		t.Fatal(err)
	}
	done, acts := d.Text(path), len(d.Ops)
	for stop := range acts {
		for _, crash := range []bool{false, true} {
			d, n := cardDisk(t), 0
			d.Short = 100
			d.Fail = func(op, _ string) error {
				if n++; n > stop && (crash || n == stop+1) {
					return syscall.ENOSPC
				}
				return nil
			}
			err := WriteCard(d, path, w)
			d.Fail = nil
			if crash {
				d.Crash(50)
			}
			if got := d.Text(path); got != old && got != done {
				t.Fatalf("act %d, crash %v: card is %q", stop, crash, got)
			}
			if err == nil && d.Text(path) != done {
				t.Fatalf("act %d, crash %v: said done, was not", stop, crash)
			}
			if err != nil && !strings.Contains(err.Error(), "disk is full") {
				t.Errorf("act %d: %v", stop, err)
			}
			if err := WriteCard(d, path, w); err != nil || d.Text(path) != done {
				t.Fatalf("act %d, crash %v: again: %v", stop, crash, err)
			}
		}
	}
}

func TestWriteFileWritesOverNothing(t *testing.T) {
	d := Mem(map[string]string{"a.job.yaml": "mine"})
	if err := WriteFile(d, "a.job.yaml", []byte("new")); err == nil || !strings.Contains(err.Error(), "is already there") || d.Text("a.job.yaml") != "mine" {
		t.Errorf("%v, %q", err, d.Text("a.job.yaml"))
	}
	dir := t.TempDir()
	if err := WriteFile(OS(), dir+"/b.yaml", []byte("new")); err != nil {
		t.Error(err)
	}
	if b, err := os.ReadFile(dir + "/b.yaml"); string(b) != "new" {
		t.Error(err)
	}
	if err := replace(OS(), dir+"/b.yaml", []byte("newer")); err != nil {
		t.Error(err)
	}
	if b, err := os.ReadFile(dir + "/b.yaml"); string(b) != "newer" {
		t.Error(err)
	}
	if names, err := OS().List(dir); err != nil || len(names) != 1 {
		t.Errorf("left behind: %v, %v", names, err)
	}
}

// A write that failed only in making the new name last is made good by the next try.
func TestWriteCardAgainAfterAFailedSync(t *testing.T) {
	const path = "testdata/lid.fixture.yaml"
	d := cardDisk(t)
	broken := true
	d.Fail = func(op, _ string) error {
		if op == "syncdir" && broken {
			return syscall.EIO
		}
		return nil
	}
	w := Writeback{Key: "lid.1", Add: map[string]int{"uses": 1}}
	for range 2 {
		if err := WriteCard(d, path, w); err == nil {
			t.Fatal("a card that does not last counts as written")
		}
	}
	broken = false
	if err := WriteCard(d, path, w); err != nil {
		t.Fatal(err)
	}
	d.Crash(0)
	if f, fs := ReadFixture(d, path); len(fs) > 0 || f.Uses != 1 {
		t.Errorf("after the power went: uses %d, %v", f.Uses, fs)
	}
}

// TestWriteFiles: what stands there already is left alone, another's is never written over, and
// what is not written whole is taken away again.
func TestWriteFiles(t *testing.T) {
	texts := map[string]string{"a": "one", "b": "two"}
	d := Mem(map[string]string{"p/a": "one"})
	last, err := WriteFiles(d, "p", texts)
	if err != nil || d.Text("p/b") != "two" {
		t.Fatal(err, d.Text("p/b"))
	}
	if err := last(); err != nil {
		t.Fatal(err)
	}
	if d.Crash(0); d.Text("p/a") != "one" || d.Text("p/b") != "two" {
		t.Error("they do not last")
	}
	if _, err := WriteFiles(d, "p", map[string]string{"b": "three"}); !errors.Is(err, fs.ErrExist) || d.Text("p/b") != "two" {
		t.Errorf("another's file: %v, holds %q", err, d.Text("p/b"))
	}
	for _, op := range []string{"create", "write", "sync", "syncdir"} {
		d = Mem(nil)
		d.Short = 1
		d.Fail = func(o, _ string) error {
			if o == op {
				return syscall.ENOSPC
			}
			return nil
		}
		last, err := WriteFiles(d, "p", texts)
		if err == nil {
			err = last()
		}
		var said *DiskError
		if !errors.As(err, &said) || !strings.Contains(said.What, "full") {
			t.Errorf("%s fails: %v", op, err)
		}
		if d.Text("p/b") != "" && op != "syncdir" {
			t.Errorf("%s fails: left %q", op, d.Text("p/b"))
		}
	}
}
