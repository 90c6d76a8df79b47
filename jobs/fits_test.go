package jobs

import (
	"strings"
	"testing"
)

// A part that does not fit its fixture, as a tired person writes it.
func TestFits(t *testing.T) {
	for _, c := range []struct{ file, old, new, want string }{
		{"lid.job.yaml", "size: [96, 64, 16]", "size: [96.2, 64, 16]", "part.size: a part of 96.200 mm x 64.000 mm does not go into the pocket of 96.040 mm x 64.040 mm; correct the size"},
		{"lid.job.yaml", "size: [96, 64, 16]", "size: [64, 96, 16]", "length and width are exchanged"},
		{"lid.fixture.yaml", "part-zero: [45, 20]", "part-zero: [145, 20]", "part-zero of the fixture card is at X 145.000 mm Y 20.000 mm, and a part in the middle of its pocket has its front left corner at X 45.000 mm Y 20.000 mm"},
		{"lid.fixture.yaml", "part-zero: [45, 20]", "part-zero: [45, 21]", "part-zero of the fixture card"},
		{"lid.fixture.yaml", "part-zero: [45, 20]", "part-zero: [93, 52]", "note: the program zero of the card's part-zero is the middle of the pocket"},
		{"lid.job.yaml", "size: [96, 64, 16]", "size: [90, 64, 16]", "note: part.size #1: along X the pocket is 3.020 mm wider"},
		{"lid.job.yaml", "at: [[6, 6], ", "at: [[40, 30], ", "note: setups.side2.screws.at #1: no solid fixture is under screw 1"},
	} {
		j, fs := edited(t, c.file, c.old, c.new)
		want, from := c.want, fs
		if rest, note := strings.CutPrefix(want, "note: "); note {
			if want, from = rest, Faults(j.Notes); len(fs) > 0 {
				t.Errorf("%s: faults %v", c.new, fs)
			}
		}
		if !strings.Contains(from.Error(), want) {
			t.Errorf("%s: no %q in\n%v", c.new, want, from)
		}
	}
	if j, fs := edited(t, "lid.fixture.yaml", "part-zero: [45, 20]", "part-zero: [45.1, 19.9]"); len(fs)+len(j.Notes) > 0 {
		t.Errorf("a pocket as measured: %v %v", fs, j.Notes)
	}
}

// Material data no material has are a fault, those far from what is shipped a question.
func TestImplausible(t *testing.T) {
	for values, want := range map[string]string{
		"kc: 700, alpha: 23.6":      "materials.aluminium-6061-t6.alpha: 23.6 per K is no value of a material (1e-07 per K to 0.0005 per K)",
		"kc: 70000":                 "materials.aluminium-6061-t6.kc: 70000 MPa is no value of a material",
		"kc: 7000":                  "note: materials.aluminium-6061-t6.kc: 7000 MPa is far from the 700 MPa to 800 MPa that is shipped",
		"e: 6890":                   "note: materials.aluminium-6061-t6.e: 6890 MPa is far from",
		"alpha: 0.000236":           "note: materials.aluminium-6061-t6.alpha: 0.000236 per K is far from",
		"kc: [650, 900], e: 70000":  "",
		"alpha: 0.0000236, kc: 750": "",
	} {
		j, fs := edited(t, "lid.job.yaml", "machine: bench.machine.yaml", "machine: bench.machine.yaml\nmaterials: {aluminium-6061-t6: {"+values+", source: test}}")
		rest, note := strings.CutPrefix(want, "note: ")
		switch {
		case want == "" && len(fs)+len(j.Notes) > 0:
			t.Errorf("%s: %v %v", values, fs, j.Notes)
		case note && (len(fs) > 0 || !strings.Contains(Faults(j.Notes).Error(), rest)):
			t.Errorf("%s: %v, notes %v", values, fs, j.Notes)
		case !note && !strings.Contains(fs.Error(), want):
			t.Errorf("%s: %v", values, fs)
		}
	}
}
