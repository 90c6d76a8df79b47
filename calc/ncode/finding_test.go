package ncode

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
)

func has(fs []Finding, sev Severity, id string, line int) bool {
	return slices.ContainsFunc(fs, func(f Finding) bool { return f.ID == id && f.Severity == sev && (line < 0 || f.Line == line) })
}

const good = "G21 G17 G90 G94 G40 G49 G80\nG54\nT3 M6\nS9000 M3\nG43 H3 G0 Z30\nX10 Y10\nZ18\nG1 Z15 F300\nX80 F900\nG0 Z30\nM5\nG49\nM30\n"

func expectGood() Expect {
	clear, floor := 17.0, 0.0
	return Expect{System: 1, Units: MM, Part: &Cuboid{Max: [3]float64{96, 64, 16}}, Clearance: &clear, Floor: &floor,
		Z0: Z0{Kind: Z0Floor, Thickness: 16}, Tools: map[int]Tool{3: {Length: 76.118, Radius: 1.5875}}, Ceiling: 1,
		Travel: &Cuboid{Min: [3]float64{-400, -250, -300}}, Placed: &Placement{Offset: [3]float64{-267.468, -158.221, -285.690}}}
}

// A good program has no finding; each change of it has the one that belongs to it.
func TestFindings(t *testing.T) {
	s, _ := walkText(t, good, Options{Expect: expectGood()})
	if len(s.Findings) != 0 {
		t.Fatalf("the good program: %v", s.Findings)
	}
	tests := []struct {
		name, old, new string
		sev            Severity
		id             string
		line           int
	}{
		{"no units", "G21 ", "", Fail, "units-missing", 5},
		{"inches", "G21", "G20", Fail, "units", 1},
		{"units late", "G0 Z30\nX10", "G0 Z30\nG20\nX10", Fail, "units", 6},
		{"units change", "G0 Z30\nX10", "G0 Z30\nG20\nX10", Warn, "units-change", 6},
		{"no plane", "G17 ", "", Warn, "plane-missing", 5},
		{"other plane", "X80 F900", "G18 X80 F900", Warn, "plane", 9},
		{"no mode", "G90 ", "", Fail, "mode-missing", 5},
		{"increments", "X80 F900", "G91 X80 F900", Warn, "incremental", 9},
		{"no offset", "G54\n", "\n", Fail, "offset-missing", 5},
		{"other offset", "G54", "G55", Fail, "offset", 2},
		{"offset of the dialect", "G54", "G54.1 P3", Fail, "offset", 2},
		{"second offset", "X80 F900", "G56 X80 F900", Fail, "offset", 9},
		{"not in the list", "T3 M6", "T8 M6", Fail, "tool-list", 3},
		{"H is not T", "H3", "H4", Fail, "length-register", 5},
		{"no length", "G43 H3 ", "", Fail, "length-missing", 5},
		{"no tool", "T3 M6\n", "\n", Warn, "tool-missing", 5},
		{"M6 without T", "T3 M6", "M6", Warn, "tool", 3},
		{"no spindle", "S9000 M3", "S9000", Fail, "spindle", 8},
		{"spindle stopped on the way", "X80 F900", "M5\nX70\nX80", Fail, "spindle", 11},
		{"from home, X and Y are not known", "G0 Z30\nM5", "G91 G28 Y0\nG0 Y1\nG90 M5", NotProven, "start", 11},
		{"from home in Z, X and Y are as they were", "G0 Z30\nM5", "G91 G28 Z0\nG0 X1\nG90 M5", Note, "", 0},
		{"all axes home, X and Y are not known", "G0 Z30\nM5", "G91 G28 X0 Y0 Z0\nG0 X1\nG90 M5", NotProven, "start", 11},
		{"no speed", "S9000 M3", "M3", Warn, "spindle-speed", 4},
		{"backwards", "M3", "M4", Warn, "spindle-direction", 4},
		{"spindle stopped by a tool change", "G43", "M6\nG43", Fail, "spindle", 9},
		{"no feed", " F300", "", Refused, "feed", 8},
		{"G92", "X80 F900", "G92 Z0\nX80 F900", Fail, "zero-shift", 9},
		{"G52", "X80 F900", "G52 X1\nG1 X80 F900", Warn, "zero-shift", 9},
		{"G52 left on", "X80 F900", "G52 X1\nG1 X80 F900", Fail, "shift-left", 14},
		{"G10", "X80 F900", "G10 L2 P1 X0\nG1 X80 F900", Fail, "zero-shift", 9},
		{"G10 L20", "X80 F900", "G10 L20 P1 X0\nG1 X80 F900", Fail, "zero-shift", 9},
		{"offset data as parameters", "X80 F900", "#5221=0\nG1 X80 F900", Fail, "zero-shift", 9},
		{"shift left on", "X80 F900", "G92 Z0\nX80 F900", Fail, "shift-left", 14},
		{"rotation", "X80 F900", "G68 X0 Y0 R1\nG1 X80 F900", Fail, "rotation", 9},
		{"rotation left on", "X80 F900", "G68 X0 Y0 R1\nG1 X80 F900", Fail, "rotation-left", 14},
		{"home through the part", "G0 Z30\nM5", "G28 Z0\nM5", Fail, "home-through", 10},
		{"home by increments is fine", "G0 Z30\nM5", "G91 G28 Z0\nG90 M5", Note, "", 0},
		{"rapid in the part", "G1 Z15 F300", "G0 Z15\nF300 G1 X11", Fail, "rapid-in-part", 8},
		{"rapid across", "Z18\n", "Z16.5\nX20\n", Fail, "rapid-low", 8},
		{"rapid straight down to above the part", "Z18\n", "Z16.5\n", Note, "rapid-low", 7},
		{"X and Y first", "G43 H3 G0 Z30\nX10 Y10\n", "G0 X10 Y10\nG43 H3 Z30\n", Warn, "first-move", 5},
		{"all at once", "G43 H3 G0 Z30\nX10 Y10\n", "G43 H3 G0 X10 Y10 Z30\n\n", Warn, "first-move", 5},
		{"length left on", "G49\nM30", "\nM30", Note, "end-state", 13},
		{"cycle left on", "G0 Z30\nM5", "G81 Z15.5 R17\nM5", Note, "end-state", 13},
		{"compensation", "X80 F900", "G42 D3 X80 F900", NotProven, "compensation", 9},
		{"compensation left on", "X80 F900", "G42 D3 X80 F900", Warn, "end-state", 13},
		{"below the floor", "Z15 F300", "Z15 F300\nG91 Z-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nZ-1\nG90", Fail, "floor", 24},
		{"too deep a step", "Z15 F300", "Z14.5 F300", Fail, "z-step", 8},
		{"past the travel", "X80 F900", "X300 F900", Fail, "travel", 9},
		{"past the travel by G53", "G0 Z30\nM5", "G53 G0 Z1\nM5", Fail, "travel", 10},
		{"the other Z0", "Z18\nG1 Z15 F300", "Z2\nG1 Z-1 F300", Fail, "other-z0", 8},
		{"inch numbers", "X10 Y10\nZ18\nG1 Z15 F300\nX80 F900", "X0 Y0\nZ18\nG1 Z16 F300\nX3.8 Y2.5 F900", Warn, "inch-ratio", 9},
		{"millimetre numbers in an inch program", "G21", "G20", Warn, "inch-ratio", 9},
		{"rotary", "X80 F900", "X80 A90 F900", NotProven, "rotary", 9},
		{"jump", "X80 F900", "IF [#1 GT 0] GOTO 5\nG1 X80 F900", NotProven, "control-flow", 9},
		{"control flow with O", "X80 F900", "O100 WHILE [#1 GT 0]\nG1 X80 F900", NotProven, "control-flow", 9},
		{"half a centre as a place", "X80 F900", "G90.1\nG2 X14 Y14 I10 F900", Refused, "arc-form", 10},
		{"a figure turned", "X80 F900", "G68 X10 Y10 R45\nG1 X80 F900", Warn, "rotation", 9},
		{"speed 0", "S9000 M3", "S0 M3", Fail, "spindle", 8},
		{"a value of the control", "X80 F900", "X#100 F900", NotProven, "parameter", 9},
		{"second program", "M30\n", "O2\nM30\n", NotProven, "program-number", 13},
	}
	for _, tt := range tests {
		text := strings.Replace(good, tt.old, tt.new, 1)
		if tt.name == "millimetre numbers in an inch program" {
			text = strings.Replace(text, "X80 F900", "X80 Y60 F900", 1)
		}
		if text == good {
			t.Fatalf("%s: nothing changed", tt.name)
		}
		s, _ := walkText(t, text, Options{Expect: expectGood()})
		if tt.id == "" {
			if s.Verdict() > Note {
				t.Errorf("%s: %v", tt.name, s.Findings)
			}
			continue
		}
		if !has(s.Findings, tt.sev, tt.id, tt.line) {
			t.Errorf("%s: want %v %s at line %d, got %v", tt.name, tt.sev, tt.id, tt.line, s.Findings)
		}
	}
}

// Nothing is asked of a program where nothing is known to hold it against.
func TestNothingExpected(t *testing.T) {
	s, ms := walkText(t, good, Options{})
	if len(s.Findings) != 0 || len(ms) != 6 || s.Machine != nil {
		t.Errorf("%v", s.Findings)
	}
	if got := s.Tools; len(got) != 1 || got[0].Number != 3 || got[0].H != 3 || got[0].Line != 3 || got[0].Feed.Min[2] != 15 {
		t.Errorf("tools %+v", got)
	}
	if s.Words['X'-'A'] != 2 || s.Words['Z'-'A'] != 4 || s.Words['S'-'A'] != 1 {
		t.Errorf("words %v", s.Words)
	}
	if s.Systems[0] != (SystemUse{System: 1, Line: 2, Moves: 6}) {
		t.Errorf("offsets %v", s.Systems)
	}
}

// The worked numbers (computed here): offset X -267.468, program X -3 to 87; Z offset
// -285.690, T3 of 76.118, lowest Z -13.5; Z0 = finished top, T 14, floor margin 0.3.
func TestWorkedNumbers(t *testing.T) {
	text := "G21 G17 G90 G54\nT3 M6\nS1 M3\nG43 H3 G0 Z5\nX-3 Y0\nG1 Z-13.5 F100\nX87\nG0 Z5\nG49 M30\n"
	floor := -14 + 0.3
	ex := Expect{System: 1, Tools: map[int]Tool{3: {Length: 76.118}}, Floor: &floor, Z0: Z0{Kind: Z0Top, Thickness: 14},
		Travel: &Cuboid{Min: [3]float64{-400, -250, -300}}, Placed: &Placement{Offset: [3]float64{-267.468, -158.221, -285.690}},
		Part: &Cuboid{Min: [3]float64{0, 0, -14}, Max: [3]float64{84, 60, 0}}}
	s, _ := walkText(t, text, Options{Expect: ex})
	if len(s.Findings) != 0 {
		t.Errorf("%v", s.Findings)
	}
	for _, c := range []struct{ got, want float64 }{
		{s.Machine.Min[0], -270.468}, {s.Machine.Max[0], -180.468}, {s.Machine.Min[2], -223.072},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("got %.4f, want %.4f", c.got, c.want)
		}
	}
	if m, ok := s.Margin(ex.Travel, 0); !ok || math.Abs(m-129.532) > 1e-9 {
		t.Errorf("margin in X %v %v", m, ok)
	}
	// 0.1 below the margin is too low.
	s, _ = walkText(t, strings.Replace(text, "-13.5", "-13.8", 1), Options{Expect: ex})
	if !has(s.Findings, Fail, "floor", 6) || has(s.Findings, Fail, "other-z0", -1) {
		t.Errorf("Z-13.8: %v", s.Findings)
	}
	// Held against an offset set on the floor, the same program is named.
	ex.Z0.Kind = Z0Floor
	zero := 0.0
	ex.Floor, ex.Part = &zero, &Cuboid{Max: [3]float64{84, 60, 14}}
	s, _ = walkText(t, text, Options{Expect: ex})
	i := slices.IndexFunc(s.Findings, func(f Finding) bool { return f.ID == "other-z0" })
	if i < 0 || !strings.Contains(s.Findings[i].Hint, "posted for Z0 = finished top") || !strings.Contains(s.Findings[i].Hint, "14.0000 too low") {
		t.Errorf("the other Z0: %v", s.Findings)
	}
	if !has(s.Findings, Fail, "floor", 6) {
		t.Errorf("13.5 below the floor: %v", s.Findings)
	}
	// And the other way: posted for the floor, the offset set on the finished top.
	ex.Z0.Kind = Z0Top
	ex.Floor, ex.Part = &floor, &Cuboid{Min: [3]float64{0, 0, -14}, Max: [3]float64{84, 60, 0}}
	up := strings.NewReplacer("Z5", "Z19", "Z-13.5", "Z0.5").Replace(text)
	s, _ = walkText(t, up, Options{Expect: ex})
	if !has(s.Findings, Fail, "other-z0", 6) {
		t.Errorf("posted for the floor: %v", s.Findings)
	}
	// A box of 84 posted as 3.307087.
	inch := strings.NewReplacer("X-3 Y0", "X0 Y0", "X87", "X3.307087 Y2.3622").Replace(text)
	s, _ = walkText(t, inch, Options{Expect: ex})
	if !has(s.Findings, Warn, "inch-ratio", 7) {
		t.Errorf("ratio: %v", s.Findings)
	}
}

// A rotation that the setup wants in the program.
func TestRotationInProgram(t *testing.T) {
	turn := 0.25 * math.Pi / 180
	ex := expectGood()
	ex.Placed.Rotation, ex.Placed.InProgram = turn, true
	text := strings.Replace(strings.Replace(good, "S9000 M3", "S9000 M3\nG68 X0 Y0 R0.25", 1), "G49\nM30", "G49 G69\nM30", 1)
	s, ms := walkText(t, text, Options{Expect: ex})
	if len(s.Findings) != 0 || !slices.Equal(s.Dialect, []string{"G68", "G69"}) {
		t.Errorf("%v %v", s.Findings, s.Dialect)
	}
	// W is the part's own frame; M holds the turn.
	if ms[1].To != [3]float64{10, 10, 30} {
		t.Errorf("W %v", ms[1].To)
	}
	want := -267.468 + 80*math.Cos(turn) - 10*math.Sin(turn)
	if math.Abs(s.Machine.Max[0]-want) > 1e-9 {
		t.Errorf("M X %v, want %v", s.Machine.Max[0], want)
	}
	for _, bad := range []string{"G68 X0 Y0 R-0.25", "G68 X1 Y0 R0.25", "G68 X0 Y0 R0.26"} {
		s, _ := walkText(t, strings.Replace(text, "G68 X0 Y0 R0.25", bad, 1), Options{Expect: ex})
		if !has(s.Findings, Fail, "rotation", 5) {
			t.Errorf("%s: %v", bad, s.Findings)
		}
	}
	s, _ = walkText(t, good, Options{Expect: ex})
	if !has(s.Findings, Fail, "rotation-missing", 6) {
		t.Errorf("without it: %v", s.Findings)
	}
	// One that nobody asked for turns W about its centre.
	_, ms = walkText(t, head+"G68 X10 Y0 R90\nG0 X20 Y0\nG2 X10 Y-10 R10\nG69\nG0 X0\nM2\n", Options{})
	if p := path(ms[2:]); p != "r(10,10,10) c(20,0,10) r(0,0,10)" {
		t.Errorf("turned path %s", p)
	}
}

// Findings of one kind are bounded, and the last one kept says how many there were.
func TestMany(t *testing.T) {
	s, _ := walkText(t, head+strings.Repeat("G1 X1 U1\n", 1000)+"M2\n", Options{})
	n, more := 0, 0
	for _, f := range s.Findings {
		if f.ID == "letter" {
			n++
			more += f.More
		}
	}
	if n != keep || n+more != 1000 {
		t.Errorf("%d kept, %d more", n, more)
	}
	if f := s.Findings[keep-1].String(); !strings.Contains(f, "995 more like it") {
		t.Errorf("%s", f)
	}
}

func TestBlockDelete(t *testing.T) {
	text := head + "/G0 X5\nG0 Y5\n/ (MSG, look here)\nM2\n"
	s, ms := walkText(t, text, Options{})
	if path(ms[2:]) != "r(5,0,10) r(5,5,10)" || !slices.Equal(s.Messages, []string{"look here"}) {
		t.Errorf("%s %v", path(ms[2:]), s.Messages)
	}
	_, ms = walkText(t, text, Options{BlockDelete: true})
	if path(ms[2:]) != "r(0,5,10)" {
		t.Errorf("with block delete: %s", path(ms[2:]))
	}
	if !has(s.Findings, Warn, "block-delete", headLines+1) {
		t.Errorf("%v", s.Findings)
	}
}

// The step in Z is what the tip drops below what stood at the same place.
func TestStep(t *testing.T) {
	ex := expectGood()
	ex.Ceiling = 0
	const top = "G21 G17 G90 G54 T3 M6\nS1 M3 F100\nG43 H3 G0 Z20\nX20 Y20\n"
	for _, c := range []struct {
		name, lines string
		want        float64
		line        int
	}{
		{"slot in one go", "G1 Z14\nX60", 2, 5},
		{"slot in two", "G1 Z15\nX60\nZ14.2\nX20", 1, 5},
		{"ramp", "G1 Z16\nX60 Z15.5\nX20 Z15\nX60", 1, 0},
		{"next to it, without a first level", "G1 Z15\nX60\nG0 Z20\nX20 Y40\nG1 Z14\nX60", 2, 9},
		{"outside the part", "G0 X-20\nG1 Z-5\nY60", 0, 0},
		{"into the part from outside", "G0 X-20\nG1 Z13\nX40", 3, 7},
		{"above it", "G1 Z16\nX60", 0, 0},
		{"a hole made with a cutter counts", "G81 Z4 R18\nG80", 12, 5},
		{"straight down over a little X", "G1 Z16\nX20.1 Z10.5", 5.5, 6},
	} {
		s, _ := walkText(t, top+c.lines+"\nG0 Z20\nG49 M30\n", Options{Expect: ex})
		got := s.Tools[0]
		if c.name == "ramp" {
			// On the way back the place at X20 stands 0.5 above the ramp: the drop lies between the two.
			if got.Step < 0.5-1e-9 || got.Step > 1 {
				t.Errorf("ramp: step %v", got.Step)
			}
			continue
		}
		if math.Abs(got.Step-c.want) > 1e-5 || got.StepLine != c.line {
			t.Errorf("%s: step %v at line %d, want %v at %d (%v)", c.name, got.Step, got.StepLine, c.want, c.line, s.Findings)
		}
	}
}

// A hole a little too deep is no program for the other Z0.
func TestTooDeepIsNotTheOtherZ0(t *testing.T) {
	text := strings.Replace(good, "G1 Z15 F300", "G1 Z-0.2 F300", 1)
	s, err := Walk(context.Background(), strings.NewReader(text), Options{Expect: expectGood()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !has(s.Findings, Fail, "floor", 8) || has(s.Findings, Fail, "other-z0", -1) {
		t.Errorf("findings %v", s.Findings)
	}
}

// A drill may go lower than the cutters do; what has no floor is held against none.
func TestEachToolHasItsFloor(t *testing.T) {
	const text = "G17 G21 G90 G54\nT3 M6\nG43 H3 S1000 M3\nG0 Z40\nX6 Y6\nG1 Z-0.5 F60\nG0 Z40\nT5 M6\nG43 H5\nG0 X20 Y20\nG1 Z-0.9 F60\nG0 Z40\nG49 M30\n"
	low := 0.3
	for _, c := range []struct {
		name   string
		floors map[int]float64
		want   []string
	}{
		{"one for all", nil, []string{"line 6: fail: floor: Z-0.5000; 0.8000 below the lowest Z allowed, 0.3000", "line 11: fail: floor: Z-0.9000; 1.2000 below the lowest Z allowed, 0.3000"}},
		{"drill deeper", map[int]float64{5: -1}, []string{"line 6: fail: floor: Z-0.5000; 0.8000 below the lowest Z allowed, 0.3000"}},
		{"drill too deep", map[int]float64{3: -1, 5: -0.8}, []string{"line 11: fail: floor: Z-0.9000; 0.1000 below the lowest Z allowed, -0.8000"}},
		{"none", map[int]float64{3: math.Inf(-1), 5: math.Inf(-1)}, nil},
	} {
		s, err := Walk(context.Background(), strings.NewReader(text), Options{Expect: Expect{System: 1, Units: MM, Floor: &low, Floors: c.floors}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range s.Findings {
			if f.ID == "floor" {
				got = append(got, f.String())
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
