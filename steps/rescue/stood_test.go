package rescue_test

import (
	"fmt"
	"strings"
	"testing"

	"fliptrue/calc/ncode"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// stoodAt judges what is written down of the lid: the line, where the control shows the tool, and the program held against both for the
// line and the place given after them.
func stoodAt(t *testing.T, line int, at [3]float64, heldFor int, heldAt [3]float64) (fold.Outcome, facts.StoppedFact) {
	t.Helper()
	p := lidPlan(t, nil)
	none := func(fold.FactID) (fold.Known, bool) { return fold.Known{}, false }
	return stoodBy(t, p, line, at, desk.StoodOf(p, none, "top", "top.nc", ncode.Stop{Line: heldFor}, heldAt, ncode.Near{XY: 1, Z: 0.02 + 2*p.Job.Machine.Readout}))
}

func stoodBy(t *testing.T, p *fold.Plan, line int, at [3]float64, held desk.Stood) (fold.Outcome, facts.StoppedFact) {
	t.Helper()
	in := [][2]string{{"line", fmt.Sprint(line)}, {"repeat", "12"}, {"tool", "3"}, {"photo", "yes"}, {"stood", held.Written()}}
	m := [3]float64{-223.015, -139.141, -229.690}
	for i, ax := range "xyz" {
		in = append(in, [2]string{"w" + string(ax), fmt.Sprint(at[i])}, [2]string{"m" + string(ax), fmt.Sprintf("%.6f", at[i]+m[i])})
	}
	o := judged(t, p, "wrote", []fold.Known{oldOffset}, in...)
	f, ok := facts.Stopped.By(o.Fact)
	if !ok {
		t.Fatalf("%+v", o)
	}
	return o, f
}

// The lid's passes are called in lines 14, 18 and 22, at Z 16.3, 16.1 and 16. Two witnesses that agree pass; a line of a later pass does
// not, whoever takes the number begins for the earlier one; a tool that was raised tells by X and Y alone, and the earliest is begun for.
func TestTheLineAgainstTheReadouts(t *testing.T) {
	for _, c := range []struct {
		name       string
		line       int
		z, x       float64
		ok         bool
		from       int
		words, not string
	}{
		{"right", 18, 16.1, 40, true, 18, "", "raised"},
		{"as well as it is read", 18, 16.0795, 40.9, true, 18, "", "raised"},
		{"not as well", 18, 16.076, 40.9, false, 14, "-0.024 off line 18", "raised"},
		{"a later pass", 22, 16.1, 40, false, 18, "line 18, not line 22", ""},
		{"an earlier pass", 14, 16.1, 40, false, 14, "line 18, not line 14", ""},
		{"raised", 22, 19.3, 40, true, 14, "lines 14, 18 and 22. It begins for the earliest, line 14", ""},
		{"raised from the first", 14, 19.3, 40, true, 14, "was raised", "earliest"},
		{"half way between", 22, 16.2, 40, false, 14, "off line 22, and no line cuts there", ""},
		{"sunk", 22, 15.5, 40, false, 14, "-0.500 off line 22", ""},
		{"beside", 22, 16, 130, false, 22, "X and Y stand 31.000 mm off line 22", ""},
	} {
		at := [3]float64{c.x, 20, c.z}
		o, f := stoodAt(t, c.line, at, c.line, at)
		said := strings.Join(o.Notes, " ")
		for _, k := range o.Checks {
			said += " " + k.Words
		}
		if (fold.Worst(o.Checks) == fold.Pass) != c.ok || int(f.Line) != c.from || (f.Wrote > 0) != (c.from != c.line) || !strings.Contains(said, c.words) ||
			c.not != "" && strings.Contains(said, c.not) || (o.Named == "line-of-another-pass") == c.ok {
			t.Errorf("%s: %v, %+v, %q\n%+v", c.name, o.Named, f, said, o.Checks)
		}
		if !c.ok && (len(o.Next) == 0 || o.Next[0].Do != "look" || !strings.HasPrefix(o.Next[0].Words, "Look at the control")) {
			t.Errorf("%s: %+v", c.name, o.Next)
		}
	}
	// Passes 3 apart: the height of an earlier one is no tool that was raised over a later one.
	deep := desk.Stood{Stop: 22, At: [3]float64{40, 20, 19}, Begins: 19, Over: 3, Held: []desk.StoodBy{{Line: 18, Begins: 15}},
		Under: []desk.StoodBy{{Line: 18, Begins: 15}, {Line: 22, Begins: 19, Over: 3}}}
	if o, f := stoodBy(t, lidPlan(t, nil), 22, deep.At, deep); fold.Worst(o.Checks) == fold.Pass || f.Line != 18 || f.Wrote != 22 {
		t.Errorf("%+v, %+v", f, o)
	}
	// What was held against another line or place is held anew; a record that never was keeps what it said.
	at := [3]float64{40, 20, 16.1}
	if o, _ := stoodAt(t, 18, at, 22, at); fold.Worst(o.Checks) == fold.Pass || o.Next[0].Of != "stood" {
		t.Errorf("%+v", o)
	}
	if o, _ := stoodAt(t, 18, at, 18, [3]float64{40, 20, 16.3}); fold.Worst(o.Checks) == fold.Pass || o.Next[0].Of != "stood" {
		t.Errorf("%+v", o)
	}
	if o, f := stoodAt(t, 33, at, 33, at); fold.Worst(o.Checks) != fold.Pass || f.Line != 33 || !strings.Contains(strings.Join(o.Notes, " "), "not held against") {
		t.Errorf("a line that never runs: %+v", o)
	}
}
