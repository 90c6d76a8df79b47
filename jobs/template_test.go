package jobs

import (
	"regexp"
	"strings"
	"testing"

	"fliptrue/calc/unit"
)

// A job and cards made from any choice of answers read without a fault or a note.
func TestTemplatesRead(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
		for _, preset := range []string{"", "small/hobby", "bench", "tight"} {
			for _, hold := range []string{"", "T", "M", "S"} {
				for _, probe := range []bool{true, false} {
					for _, size := range [][3]string{{}, {"40mm", "25mm", "6mm"}, {"11-1/2in", "6in", "1.25in"}} {
						a := Answers{Unit: sys, Preset: preset, HoldDown: hold, Probe: probe, Size: size, Job: `box "7": lid, #2`, Machine: "mill & co", Z0: "finished top", Flip: "y"}
						d := Mem(map[string]string{
							"new.job.yaml": string(NewJob(a)), "bench.machine.yaml": string(NewMachine(a)), "lid.fixture.yaml": string(NewFixture(a)),
						})
						j, fs := ReadJob(d, "new.job.yaml")
						if len(fs) > 0 || len(j.Notes) > 0 {
							t.Fatalf("%+v:\n%v\n%v\n%s\n%s\n%s", a, fs, j.Notes, NewJob(a), NewMachine(a), NewFixture(a))
						}
						if j.Name != a.Job || j.Unit != sys || (j.Machine.Probe != nil) != probe {
							t.Errorf("%+v: read %q, %v", a, j.Name, j.Unit)
						}
					}
				}
			}
		}
	}
}

// An inch job and its cards hold no millimetre, no degree Celsius and no newton.
func TestInchTemplatesAreInch(t *testing.T) {
	metric := regexp.MustCompile(`\d ?(mm|C|N|Nm|MPa)\b|\bM\d`)
	for _, kinds := range [][]string{nil, {"ball", "tram", "first-side", "second-side"}} {
		a := Answers{Unit: unit.Imperial, Probe: true, Kinds: kinds, Finds: "edge finder"}
		for what, text := range map[string][]byte{"job": NewJob(a), "machine": NewMachine(a), "fixture": NewFixture(a)} {
			if m := metric.Find(text); m != nil {
				t.Errorf("%s: %q in\n%s", what, m, text)
			}
		}
	}
}

func TestPresets(t *testing.T) {
	for _, c := range []struct {
		name          string
		mm, in        float64
		backlash, mil float64
	}{
		{"small/hobby", 0.10, 0.1016, 0.010, 0.01016}, {"bench", 0.05, 0.0508, 0.005, 0.00508}, {"tight", 0.03, 0.03048, 0.002, 0.00254},
	} {
		for i, want := range [][2]float64{{c.mm, c.backlash}, {c.in, c.mil}} {
			a := Answers{Preset: c.name, Unit: unit.System(i)}
			j, _, fs := readJob("j", NewJob(a))
			m, mfs := readMachine("m", NewMachine(a))
			if len(fs)+len(mfs) > 0 || !near(float64(j.Allowance), want[0]) || !near(m.Backlash, want[1]) {
				t.Errorf("%s: %v, %v, %v %v", c.name, j.Allowance, m.Backlash, fs, mfs)
			}
		}
	}
}

func TestTemplateText(t *testing.T) {
	a := Answers{Probe: true}
	golden(t, "new.txt", string(NewJob(a))+"\n"+string(NewMachine(a))+"\n"+string(NewFixture(a)))
	a = Answers{Unit: unit.Imperial, HoldDown: "M", Z0: "finished top"}
	golden(t, "new-inch.txt", string(NewJob(a))+"\n"+string(NewMachine(a))+"\n"+string(NewFixture(a)))
	// A bad answer is the reader's to name.
	_, _, fs := readJob("j", NewJob(Answers{Size: [3]string{"wide", "1", "1"}, HoldDown: "Q\x1b"}))
	if !strings.Contains(fs.Error(), "U+001B") {
		t.Error(fs)
	}
}
