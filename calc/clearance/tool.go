package clearance

import (
	"fmt"
	"math"
)

// Cylinder is one part of a tool: it begins From mm above the tip and goes on upward.
type Cylinder struct {
	Name    string
	R, From float64
}

// Tool is what turns, as cylinders from the tip up.
type Tool struct {
	Name  string
	parts []Cylinder
	reach float64 // largest radius
}

// Dims are the dimensions of a tool in its holder, mm. Neck and Holder may be 0 (none).
type Dims struct {
	Dia, Flute   float64 // cutting part
	Neck, Necked float64 // diameter of a relieved neck, and the height above the tip to which it reaches
	Shank        float64 // diameter
	Stickout     float64 // tip to holder
	Holder       float64 // diameter
}

// NewTool builds a tool, or says which dimension is wrong.
func NewTool(name string, d Dims) (Tool, error) {
	for _, v := range []struct {
		what string
		v    float64
		zero bool
	}{{"diameter", d.Dia, false}, {"flute length", d.Flute, false}, {"neck diameter", d.Neck, true}, {"necked length", d.Necked, true},
		{"shank diameter", d.Shank, false}, {"stick-out", d.Stickout, false}, {"holder diameter", d.Holder, true}} {
		if math.IsNaN(v.v) || math.IsInf(v.v, 0) || v.v < 0 || (v.v == 0 && !v.zero) {
			return Tool{}, fmt.Errorf("%s of tool %q is %g: it must be greater than 0; measure it and enter it again", v.what, name, v.v)
		}
	}
	if d.Flute > d.Stickout {
		return Tool{}, fmt.Errorf("flute length %g of tool %q is longer than its stick-out %g: the holder would grip the flutes; check both",
			d.Flute, name, d.Stickout)
	}
	if (d.Neck > 0) != (d.Necked > 0) || (d.Neck > 0 && (d.Necked <= d.Flute || d.Necked > d.Stickout)) {
		return Tool{}, fmt.Errorf("neck of tool %q (diameter %g up to %g above the tip) must begin above the flutes (%g) and end below the "+
			"holder (%g); give both or neither", name, d.Neck, d.Necked, d.Flute, d.Stickout)
	}
	t := Tool{Name: name, parts: []Cylinder{{"tool", d.Dia / 2, 0}}}
	shank := d.Flute
	if d.Neck > 0 {
		t.parts = append(t.parts, Cylinder{"neck", d.Neck / 2, d.Flute})
		shank = d.Necked
	}
	if shank < d.Stickout {
		t.parts = append(t.parts, Cylinder{"shank", d.Shank / 2, shank})
	}
	if d.Holder > 0 {
		t.parts = append(t.parts, Cylinder{"holder", d.Holder / 2, d.Stickout})
	}
	for _, c := range t.parts {
		t.reach = math.Max(t.reach, c.R)
	}
	return t, nil
}

// Parts returns a copy of the cylinders, from the tip up.
func (t Tool) Parts() []Cylinder { return append([]Cylinder(nil), t.parts...) }
