package jobs

import (
	"strings"
	"testing"
)

// Every value with a sign says beside it what plus and minus mean: in what is made new, and in what is written back.
func TestSignsStandBesideTheirValues(t *testing.T) {
	a := Answers{Kinds: []string{"first-side", "second-side"}, Probe: true}
	texts := map[string]string{"job": string(NewJob(a)), "machine": string(NewMachine(a)), "fixture": string(NewFixture(a))}
	for _, c := range []struct{ file, path string }{
		{"job", "setups.NAME.flip"}, {"job", "setups.NAME.zero"}, {"machine", "squareness"}, {"machine", "probe.eccentricity"}, {"machine", "tram.x"}, {"machine", "tram.y"},
		{"fixture", "as-made.bore.bias"}, {"fixture", "as-made.edge.zero"},
	} {
		sign := signOf(c.file, c.path)
		if sign == "" || !strings.Contains(texts[c.file], sign) {
			t.Errorf("%s %s: %q is not said in what is new", c.file, c.path, sign)
		}
	}
	if s := signOf("machine", "probe.eccentricity"); !strings.Contains(s, "probed centre minus true centre") || !strings.Contains(texts["fixture"], s) {
		t.Error(s)
	}

	const path = "testdata/bench.machine.yaml"
	d := cardDisk(t)
	for _, key := range []string{"ball.1#12", "ball.1#13"} {
		if err := WriteCard(d, path, Writeback{Key: key, Set: map[string]string{"probe.eccentricity.0": "0.004", "probe.eccentricity.1": "-0.002", "tram.column-x": "0.004/100", "squareness": "-0.01/100"}}); err != nil {
			t.Fatal(err)
		}
	}
	text := d.Text(path)
	for _, p := range []string{"probe.eccentricity", "tram.column-x", "squareness"} {
		line := "# " + p[strings.LastIndexByte(p, '.')+1:] + ": " + signOf("machine", p) + "\n"
		if n := strings.Count(text, line); n != 1 {
			t.Errorf("%d times %q in\n%s", n, line, text)
		}
		group, _, _ := strings.Cut(p, ".")
		if !strings.Contains(text, line+group+":") {
			t.Errorf("%q does not stand above %s", line, group)
		}
	}
	if m, fs := ReadMachine(d, path); len(fs) > 0 || m.Probe.Eccentricity != [2]float64{0.004, -0.002} {
		t.Errorf("%v %v", m.Probe.Eccentricity, fs)
	}
}
