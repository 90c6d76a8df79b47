package hold

import (
	"math"
	"strings"
	"testing"
)

// Every row has a source and a flag at every number, in rising order, and a kind; a range whose ends
// nobody printed is not called a verified copy.
func TestMaterialsHaveSources(t *testing.T) {
	var l Library
	names := l.Names()
	if len(names) < 30 {
		t.Errorf("%d materials", len(names))
	}
	seen := map[string]bool{}
	whole := 0
	for _, set := range l.all() {
		for _, m := range set {
			if seen[m.Name] {
				t.Errorf("%s stands twice", m.Name)
			}
			seen[m.Name] = true
			if m.Kind == OtherKind || m.Engage == 0 || m.Peck == 0 {
				t.Errorf("%s: kind %d, engage %g, peck %g", m.Name, m.Kind, m.Engage, m.Peck)
			}
			for what, r := range map[string]Range{"tensile": m.Tensile, "shear": m.Shear, "crush": m.Crush, "stiffness": m.Stiffness, "expansion": m.Expansion, "kc1.1": m.Kc11,
				"density": m.Density, "limit": m.Limit, "heat along": m.Heat.Along, "heat radial": m.Heat.Radial, "heat tangential": m.Heat.Tangential,
				"moist along": m.Moist.Along, "moist radial": m.Moist.Radial, "moist tangential": m.Moist.Tangential} {
				if r == (Range{}) {
					continue
				}
				if err := r.Valid(what + " of " + m.Name); err != nil || r.Source == "" {
					t.Errorf("%s of %s: %v, source %q", what, m.Name, err, r.Source)
				}
				if r.Flag == Verified && strings.Contains(r.Source, "estimate") {
					t.Errorf("%s of %s: %q is no verified copy", what, m.Name, r.Source)
				}
			}
			if m.Shear.Known() && m.Crush.Known() && m.Kc11.Known() && m.Stiffness.Known() && m.Hazard != "" {
				whole++
			}
			if (m.Kind == Wood || m.Kind == Stabilised || m.Kind == Board) && !m.Moist.Known() {
				t.Errorf("%s is wood and does not say how it moves", m.Name)
			}
		}
	}
	if whole < 20 {
		t.Errorf("%d materials can be walked from end to end, 20 are wanted", whole)
	}
}

// Rows as printed. Wood Handbook FPL-GTR-190 table 13-5, coefficients for 6 to 14 % (verified copy):
// cherry 0.00126, 0.00248; walnut 0.00190, 0.00274. Table 4-3 orders the woods by shrinkage:
// cherry, walnut, beech. Aluminum Association: 5083-O 23.8, 7075-T6 23.6 per million; VDI 3323
// group 1: 1350, 0.21; NEMA G-10 flatwise compression 60 000 lbf/in².
func TestMaterialsAsPrinted(t *testing.T) {
	var l Library
	row := func(name string) Material {
		m, err := l.Named(name)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	cherry, walnut, beech := row("black-cherry"), row("black-walnut"), row("beech-american")
	near(t, "cherry, radial", cherry.Moist.Radial.Nominal, 0.00126, 0)
	near(t, "cherry, tangential", cherry.Moist.Tangential.Nominal, 0.00248, 0)
	near(t, "walnut, radial", walnut.Moist.Radial.Nominal, 0.00190, 0)
	near(t, "walnut, tangential", walnut.Moist.Tangential.Nominal, 0.00274, 0)
	near(t, "cherry 120 mm flat sawn, 8 to 11 %", 120*3*cherry.Moist.Tangential.Nominal, 0.8928, 1e-12)
	if c, w, b := cherry.Moist.Tangential.Nominal, walnut.Moist.Tangential.Nominal, beech.Moist.Tangential.Nominal; !(c < w && w < b) {
		t.Errorf("tangential: cherry %g, walnut %g, beech %g", c, w, b)
	}
	near(t, "5083-O", row("aluminium-5083-o").Expansion.Nominal, 23.8, 0)
	near(t, "7075-T6", row("aluminium-7075-t6").Expansion.Nominal, 23.6, 0)
	near(t, "mild steel kc at 0.05", float64(Kienzle(row("mild-steel").Kc11.Nominal, row("mild-steel").Mc, 0.05)), 2533, 1)
	near(t, "G-10 stiffness, 2.2e6 lbf/in2 or above", row("g10-fr4").Stiffness.Low, 15168, 50)
	near(t, "acetal, kg/m3", row("pom-c").Density.Nominal, 1410, 0)
}

// In the plane a board moves by its plane only, wood by whichever way its rings run.
func TestMovementInPlane(t *testing.T) {
	var l Library
	board, _ := l.Named("birch-plywood")
	along, across := board.InPlane(board.Moist)
	if across[2] > 0.0003 || along[2] > 0.0002 {
		t.Errorf("plywood moves by its thickness: %v %v", along, across)
	}
	oak, _ := l.Named("white-oak")
	along, across = oak.InPlane(oak.Moist)
	if across != [3]float64{0.00153, (0.0018 + 0.00365) / 2, 0.0042} || along[2] > 1e-4 {
		t.Errorf("oak: %v %v", along, across)
	}
	stab, _ := l.Named("walnut-stabilised")
	near(t, "stabilised walnut, a fifth of plain", stab.Moist.Tangential.Nominal, 0.2*0.00274, 1e-5)
	if math.IsNaN(across[0]) || (Axes{}).Known() {
		t.Error("nothing is known of nothing")
	}
}

// A beginning that several shipped rows have means the usual one, unless the shop has its own.
func TestUsualMaterial(t *testing.T) {
	var l Library
	for name, want := range map[string]string{"aluminium": "aluminium-6061-t6", "brass": "brass-c260", "Aluminium 7075": "aluminium-7075-t6", "boxwood": "boxwood", "bog oak": "bog-oak"} {
		if m, err := l.Like(name); err != nil || m.Name != want {
			t.Errorf("%q: %q %v, want %q", name, m.Name, err, want)
		}
	}
	own := l.With(Material{Name: "aluminium-cast"})
	if m, err := own.Like("aluminium"); err == nil {
		t.Errorf("aluminium is taken for %q beside the shop's own", m.Name)
	}
	if m, err := l.Like("phenolic"); err == nil {
		t.Errorf("phenolic is taken for %q of two", m.Name)
	}
}
