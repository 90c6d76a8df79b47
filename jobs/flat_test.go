package jobs

import (
	"fmt"
	"math"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// alike compares two jobs, NaN being equal to NaN, and where they were read aside.
func alike(a, b *Job) bool {
	norm := func(j *Job) Job {
		c := *j
		c.Path, c.Machine.Path, c.Fixture.Path, c.Notes, c.places = "", "", "", nil, nil
		c.Machine.History, c.Fixture.History = nil, nil
		drop := func(m map[string]string) map[string]string {
			kept := map[string]string{}
			for k, v := range m {
				if k != "history" && !strings.HasPrefix(k, "history.") {
					kept[k] = v
				}
			}
			return kept
		}
		c.leaves, c.Machine.leaves, c.Fixture.leaves = drop(c.leaves), drop(c.Machine.leaves), drop(c.Fixture.leaves)
		c.Setups = slices.Clone(c.Setups)
		for i := range c.Setups {
			if math.IsNaN(c.Setups[i].Cut.Lowest) {
				c.Setups[i].Cut.Lowest = -12345
			}
		}
		return c
	}
	return reflect.DeepEqual(norm(a), norm(b))
}

func TestFlattenAndBack(t *testing.T) {
	for _, path := range []string{"testdata/lid.job.yaml", "testdata/inch.job.yaml"} {
		j := readGood(t, path)
		flat := Flatten(j)
		// Through a record, as begin does it.
		line, err := Encode(Event{At: noon, Begin: "side2", Cards: flat})
		if err != nil {
			t.Fatal(err)
		}
		e, err := Decode(line)
		if err != nil || !reflect.DeepEqual(e.Cards, flat) {
			t.Fatalf("%s: cards changed in the record: %v", path, err)
		}
		back, fs := FromFlat(e.Cards)
		if len(fs) > 0 || !alike(j, back) {
			t.Errorf("%s: %v\n%+v\n%+v", path, fs, j, back)
		}
		if again := Flatten(back); !reflect.DeepEqual(again, flat) {
			t.Errorf("%s: flattens otherwise: %v", path, Changed(flat, again))
		}
		t.Logf("%s: %d values, a begin line of %d bytes", path, len(flat), len(line))
	}
}

func TestFlattenKeepsOrderAndOddNames(t *testing.T) {
	j, fs := edited(t, "lid.job.yaml", "far corner: [96, 64]", `far corner: [96, 64], "a.b, 50%": [1, 2], "0": [3, 4], A: [5, 6]`)
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	back, fs := FromFlat(Flatten(j))
	if len(fs) > 0 || !reflect.DeepEqual(back.Part.Features, j.Part.Features) || len(back.Part.Features) != 5 {
		t.Errorf("%+v, %v", back.Part.Features, fs)
	}
}

// A list of more than ten keeps its order: 10 does not come before 2.
func TestFlattenLongLists(t *testing.T) {
	var at []string
	for i := range 12 {
		at = append(at, fmt.Sprintf("[%d, 6]", 6+i))
	}
	j, fs := edited(t, "lid.job.yaml", "[[6, 6], [90, 6], [90, 58], [6, 58]]", "["+strings.Join(at, ", ")+"]")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	back, fs := FromFlat(Flatten(j))
	if len(fs) > 0 || !reflect.DeepEqual(back.Setups[0].Screws.At, j.Setups[0].Screws.At) {
		t.Errorf("%v, %v", back.Setups, fs)
	}
}

func TestFromFlatFaults(t *testing.T) {
	flat := Flatten(readGood(t, "testdata/lid.job.yaml"))
	for _, c := range []struct{ key, value, want string }{
		{"job.allowance", "1e3", "allowance"},
		{"job.zap", "1", `key "zap" is not known`},
		{"machine.probe.radius", "x", "probe.radius"},
		{"job.setups.side2.screws.at.7.0", "1", "of the list is missing"},
		{"job.format", "9", "newer"},
	} {
		bad := map[string]string{}
		for k, v := range flat {
			bad[k] = v
		}
		bad[c.key] = c.value
		if _, fs := FromFlat(bad); !strings.Contains(fs.Error(), c.want) {
			t.Errorf("%s = %s: %v", c.key, c.value, fs)
		}
	}
	if _, fs := FromFlat(nil); len(fs) != 1 {
		t.Errorf("nothing: %v", fs)
	}
}

func TestChangedAndUpdate(t *testing.T) {
	old := Flatten(readGood(t, "testdata/lid.job.yaml"))
	j, fs := edited(t, "lid.job.yaml", "allowance: 0.05", "allowance: 0.050")
	if got := Changed(old, Flatten(j)); len(fs) > 0 || len(got) > 0 {
		t.Errorf("0.05 written 0.050: %v, %v", got, fs)
	}
	j, fs = edited(t, "lid.job.yaml", "washer: 5, through: 2.5", "through: 2.4, wall: true")
	now := Flatten(j)
	got := Changed(old, now)
	want := []string{"job.setups.side2.screws.through", "job.setups.side2.screws.wall", "job.setups.side2.screws.washer"}
	if len(fs) > 0 || !slices.Equal(got, want) {
		t.Errorf("changed %v, %v", got, fs)
	}
	plan, ok := Replan(old, now)
	if !ok || plan.Plan != j.Hash || !slices.Equal(plan.Changed, got) {
		t.Errorf("plan %+v", plan)
	}
	if _, ok := Replan(now, now); ok {
		t.Error("a plan event for no change")
	}
	plan.At = noon
	line, err := Encode(plan)
	if err != nil {
		t.Fatal(err)
	}
	if plan, err = Decode(line); err != nil {
		t.Fatal(err)
	}
	if up := Update(old, plan); !reflect.DeepEqual(up, now) {
		t.Errorf("update leaves %v", Changed(up, now))
	}
	j, _ = edited(t, "lid.job.yaml", "unit: mm", "unit: in")
	if got := Changed(old, Flatten(j)); !slices.Contains(got, "job.part.size.0") || slices.Contains(got, "machine.readout") {
		t.Errorf("another unit: %v", got)
	}
}

// A limit may stand with its reason, which is kept with the job, in the record too.
func TestReasonedLimit(t *testing.T) {
	j, fs := edited(t, "lid.job.yaml", "machine: bench.machine.yaml", "machine: bench.machine.yaml\nlimits: {repeat: 0.004, floor.form: {value: 0.03, reason: sawn plywood}}")
	if len(fs) > 0 || j.Limits["floor.form"] != 0.03 || j.Limits["repeat"] != 0.004 || len(j.Reasons) != 1 || j.Reasons["floor.form"] != "sawn plywood" {
		t.Fatalf("%v %v %v", fs, j.Limits, j.Reasons)
	}
	back, fs := FromFlat(Flatten(j))
	if len(fs) > 0 || !alike(j, back) {
		t.Errorf("%v, %+v", fs, back.Reasons)
	}
	for bad, want := range map[string]string{
		"{value: 0.03}": "a value and its reason are wanted together", "{reason: x}": "a value and its reason are wanted together",
		"{value: -1, reason: x}": "must be above 0", "{value: 1, reason: x, by: me}": "known here: value, reason",
	} {
		if _, fs := edited(t, "lid.job.yaml", "machine: bench.machine.yaml", "machine: bench.machine.yaml\nlimits: {floor.form: "+bad+"}"); !strings.Contains(fs.Error(), want) {
			t.Errorf("%s: %v", bad, fs)
		}
	}
}

// What a job file that reads says is kept by its flat form: it reads back the same.
func FuzzJob(f *testing.F) {
	for _, p := range []string{"testdata/lid.job.yaml", "testdata/inch.job.yaml", "testdata/broken.job.yaml"} {
		b, err := os.ReadFile(p)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Add(NewJob(Answers{}))
	f.Add([]byte("format: 1\njob: j\nmachine: m\nsetups: {t: {kind: tram}}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		j, _, fs := readJob("j", data)
		checkFaults(t, fs, len(data))
		if len(fs) > 0 {
			return
		}
		flat := Flatten(j)
		for k, v := range flat {
			if _, bad := badRune(k + v); bad {
				t.Fatalf("control character in %q: %q", k, v)
			}
		}
		back, fs := FromFlat(flat)
		for _, f := range fs { // without its cards a job may ask for what they lack
			if !strings.Contains(f.What, "card has n") {
				t.Fatalf("%q: flat form: %v", data, fs)
			}
		}
		if !alike(j, back) {
			t.Fatalf("%q became\n%+v\n%+v", data, j, back)
		}
	})
}

func FuzzCards(f *testing.F) {
	for _, p := range []string{"testdata/bench.machine.yaml", "testdata/inch.machine.yaml", "testdata/lid.fixture.yaml", "testdata/inch.fixture.yaml"} {
		b, err := os.ReadFile(p)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j := &Job{leaves: map[string]string{"format": "1", "job": "j", "machine": "m", "setups.t.kind": "tram"}}
		m, mfs := readMachine("m", data)
		x, _, xfs := parseFixture("f", data)
		checkFaults(t, mfs, len(data))
		checkFaults(t, xfs, len(data))
		switch {
		case len(mfs) == 0:
			j.Machine = m
		case len(xfs) == 0:
			j.Fixture = x
		default:
			return
		}
		back, fs := FromFlat(Flatten(j))
		if len(fs) > 0 {
			t.Fatalf("%q: flat form: %v", data, fs)
		}
		back.Machine.Path, back.Fixture.Path = j.Machine.Path, j.Fixture.Path
		jj := *back
		jj.Machine, jj.Fixture = j.Machine, j.Fixture
		if !alike(&jj, back) {
			t.Fatalf("%q became\n%+v\n%+v", data, j, back)
		}
		// A value written to the card changes that value alone.
		d := Mem(map[string]string{"c": string(data)})
		err := WriteCard(d, "c", Writeback{Key: "lid.1", Set: map[string]string{"uses": "7"}})
		if len(mfs) == 0 {
			err = WriteCard(d, "c", Writeback{Key: "lid.1", Set: map[string]string{"backlash": "0.003", "tram.x": "0.01/300", "tram.y": "0/300"}})
		}
		if err != nil && d.Text("c") != string(data) {
			t.Fatalf("failed (%v) and wrote %q", err, d.Text("c"))
		}
	})
}

// checkFaults checks what holds of any fault list: no control character, no endless line.
func checkFaults(t *testing.T, fs Faults, size int) {
	if len(fs) > 3*maxFaults {
		t.Fatalf("%d faults of %d bytes", len(fs), size)
	}
	for _, f := range fs {
		if _, bad := badRune(f.Error()); bad {
			t.Fatalf("control character in fault %q", f.Error())
		}
		if f.What == "" || len(f.Error()) > 2000 {
			t.Fatalf("fault %q", f.Error())
		}
	}
}
