package unit

import (
	"math"
	"strings"
	"testing"
)

func ids(ss []Slip) string {
	var out []string
	for _, s := range ss {
		out = append(out, s.ID)
	}
	return strings.Join(out, " ")
}

// One case a slip; expected values computed here.
func TestSlips(t *testing.T) {
	other := 87.654
	w := Window{12.346, 0.5}
	for _, c := range []struct {
		text string
		w    Window
		ctx  SlipContext
		ids  string
		of   float64 // Would of the first
	}{
		// The worked example: 12.346 ± 0.5 expected (12.346/25.4 = 0.486063).
		{"123.46", w, SlipContext{}, "point-right", 12.346},
		{"-12.346", w, SlipContext{}, "sign", 12.346},
		{"0.48606", w, SlipContext{}, "inch-as-mm", 12.345924},

		{"1.2346", w, SlipContext{}, "point-left", 12.346},
		{"313.5884", w, SlipContext{}, "too-big-25.4", 12.346},
		{"14.328", w, SlipContext{TipRadius: 0.991}, "ball-diameter", 12.346},
		{"10.364", w, SlipContext{TipRadius: 0.991}, "ball-diameter", 12.346},
		{"13.337", w, SlipContext{TipRadius: 0.991}, "ball-radius", 12.346},
		{"62.346", w, SlipContext{RefLength: 50}, "reference", 12.346},
		{"-37.654", w, SlipContext{RefLength: 50}, "reference", 12.346},
		{"87.654", w, SlipContext{Other: &other}, "axes", 12.346},
		{"-255.104", w, SlipContext{Offset: -267.45}, "machine-as-work", 12.346},
		{"279.796", w, SlipContext{Offset: -267.45}, "work-as-machine", 12.346},
		{"21.346", w, SlipContext{}, "digits-swapped", 12.346},
		{"12.364", Window{12.346, 0.005}, SlipContext{}, "digits-swapped", 12.346},
		{"13.246", Window{12.346, 0.005}, SlipContext{}, "digits-swapped", 12.346}, // across the point
		{"112.346", w, SlipContext{}, "digit-doubled", 12.346},
		{"12.3346", Window{12.346, 0.001}, SlipContext{}, "digit-doubled", 12.346},
		{"-158.2211", Window{-158.221, 0.00001}, SlipContext{}, "digit-doubled", -158.221},
		{"13.346", w, SlipContext{DialTurn: 1}, "dial-turn", 12.346},
		{"11.346", w, SlipContext{DialTurn: 1}, "dial-turn", 12.346},
		{"6.173", w, SlipContext{}, "radius-for-diameter", 12.346},
		{"24.692", w, SlipContext{}, "diameter-for-radius", 12.346},
		{"50.1", w, SlipContext{Earlier: []float64{3, 50.1}}, "earlier", 50.1},

		// A window around zero: what divides explains nothing, or any number would be explained.
		{"0.030", Window{0, 0.01}, SlipContext{}, "", 0},
		{"-0.042", Window{0, 0.02}, SlipContext{}, "", 0},
		{"1.01", Window{0, 0.02}, SlipContext{DialTurn: 1}, "dial-turn", 0.01},
		{"0.21", Window{0, 0.13}, SlipContext{}, "digits-swapped", 0.12},

		// Units and fractions: only the digits of the number itself are touched.
		{"123.46mm", w, SlipContext{}, "point-right", 12.346},
		{"21,346 mm", w, SlipContext{}, "digits-swapped", 12.346},
		{"11/32in", Window{0.79375, 0.05}, SlipContext{}, "digit-doubled", 0.79375},

		// More than one that fits: all of them, in order. 1.000 is a turn of the dial and 1.0 ball radius.
		{"13.346", w, SlipContext{TipRadius: 1, DialTurn: 1}, "ball-radius dial-turn", 12.346},
		// Nothing fits, nothing is named.
		{"40", w, SlipContext{TipRadius: 1, DialTurn: 1, RefLength: 5, Offset: 3, Other: &other}, "", 0},
		// Inside the window, its ends included, only the earlier reading is named.
		{"12.4", w, SlipContext{TipRadius: 0.01}, "", 0},
		{"12.846", w, SlipContext{}, "", 0},
		{"12.4", w, SlipContext{Earlier: []float64{12.4}}, "earlier", 12.4},
		{"12.4", w, SlipContext{Earlier: []float64{12.4001}}, "", 0},
	} {
		c.ctx.Kind, c.ctx.Text = KLength, c.text
		n, err := Parse(c.text, KLength, Metric)
		if err != nil {
			t.Fatal(err)
		}
		got := Slips(n.Value, c.w, c.ctx)
		if ids(got) != c.ids {
			t.Errorf("Slips(%s, %v) = %+v, want %q", c.text, c.w, got, c.ids)
			continue
		}
		if len(got) > 0 && math.Abs(got[0].Would-c.of) > 1e-9 {
			t.Errorf("Slips(%s): %s would be %v, want %v", c.text, got[0].ID, got[0].Would, c.of)
		}
		for _, s := range got {
			if rest := strings.ReplaceAll(s.Words, c.text, ""); rest == s.Words || strings.Contains(rest, "12.346") {
				t.Errorf("Slips(%s): words %q must hold what was typed and not what was expected", c.text, s.Words)
			}
		}
	}
}

func TestSlipsInch(t *testing.T) {
	// An inch job expects 0.4861 in; the calliper stood in mm.
	n, _ := Parse("12.346", KLength, Imperial)
	w := Window{0.4861 * float64(Inch), 0.02 * float64(Inch)}
	got := Slips(n.Value, w, SlipContext{Kind: KLength, System: Imperial, Text: "12.346"})
	if ids(got) != "mm-as-inch" || got[0].Words != "looks like mm typed as inches: 12.346/25.4" {
		t.Errorf("got %+v", got)
	}
}

func TestSlipsDegenerate(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if got := Slips(x, Window{1, 1}, SlipContext{Earlier: []float64{x}}); got != nil {
			t.Errorf("Slips(%v) = %v", x, got)
		}
	}
	// Without a text, the number as printed stands for it.
	if got := Slips(21.346, Window{12.346, 0.5}, SlipContext{Kind: KLength}); ids(got) != "digits-swapped" {
		t.Errorf("without a text: %+v", got)
	}
	// Angles and torques are not mixed up with inches.
	if got := Slips(25.4, Window{1, 0.01}, SlipContext{Kind: KTorque}); len(got) != 0 {
		t.Errorf("torque: %+v", got)
	}
	// Zero changes under no factor and no sign.
	if got := Slips(0, Window{12, 0.5}, SlipContext{Kind: KLength, Text: "0.000"}); len(got) != 0 {
		t.Errorf("zero: %+v", got)
	}
}
