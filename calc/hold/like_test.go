package hold

import (
	"math"
	"strings"
	"testing"
)

func TestMaterialsAsPeopleWriteThem(t *testing.T) {
	var l Library
	for name, want := range map[string]string{"walnut-stabilised": "walnut-stabilised", "Acrylic cast": "acrylic-cast", "aluminium 6061": "aluminium-6061-t6",
		"aluminium": "aluminium-6061-t6", "STEEL_A36": "steel-a36"} {
		if m, err := l.Like(name); err != nil || m.Name != want {
			t.Errorf("%q: %q %v, want %q", name, m.Name, err, want)
		}
	}
	for _, name := range []string{"", "alu", "unobtainium"} {
		if m, err := l.Like(name); err == nil {
			t.Errorf("%q is taken for %q", name, m.Name)
		}
	}
	// Two that begin alike are none, and the error names the nearest first.
	two := l.With(Material{Name: "steel-4140"})
	if m, err := two.Like("steel"); err == nil {
		t.Errorf("steel is taken for %q of two", m.Name)
	}
	if _, err := l.Like("acrylik-cast"); err == nil || !strings.Contains(err.Error(), "nearest first: acrylic-cast") {
		t.Errorf("%v", err)
	}
}

func TestBoltDiameters(t *testing.T) {
	for name, want := range map[string]float64{"M6": 6, "M10": 10, "m12": 12, "1/4-20": 6.35, "3/8-16": 9.525, "1/2-13": 12.7} {
		if d, err := BoltDiameter(name); err != nil || math.Abs(d-want) > 1e-9 {
			t.Errorf("%s: %v %v, want %v", name, d, err, want)
		}
	}
	for _, name := range []string{"", "M", "Mx", "3/8", "0/0-1", "bolt"} {
		if d, err := BoltDiameter(name); err == nil {
			t.Errorf("%q is a bolt of %v", name, d)
		}
	}
}
