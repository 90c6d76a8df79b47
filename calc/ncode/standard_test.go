package ncode

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// Clause numbers are of NISTIR 6556. Examples and tables marked "verified copy" were
// checked against the printed text; the rest is from memory.

// recorder keeps the motion.
type recorder struct{ moves []Move }

func (r *recorder) Move(m *Move) { r.moves = append(r.moves, *m) }

// walkText walks a program given as text.
func walkText(t testing.TB, text string, opts Options) (*Summary, []Move) {
	t.Helper()
	var r recorder
	s, err := Walk(context.Background(), bytes.NewReader([]byte(text)), opts, &r)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range r.moves {
		for _, v := range [...]float64{m.From[0], m.From[1], m.From[2], m.To[0], m.To[1], m.To[2], m.Centre[0], m.Centre[1], m.Centre[2], m.Sweep, m.Radius, m.Feed} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("move %d is not finite: %+v", i, m)
			}
		}
	}
	return s, r.moves
}

// head brings a control to a known state, with the tool at X0 Y0 Z10; it has headLines lines.
const (
	head      = "G21 G17 G90 G94 G40 G49 G80 G54\nT1 M6\nS1000 M3 F100\nG0 Z10\nX0 Y0\n"
	headLines = 5
)

// path is the motion in short: kind letter and end point.
func path(ms []Move) string {
	var b strings.Builder
	for i, m := range ms {
		if i > 0 {
			b.WriteString(" ")
		}
		fmt.Fprintf(&b, "%c(%.6g,%.6g,%.6g)", "rfcap"[m.Kind], trim(m.To[0]), trim(m.To[1]), trim(m.To[2]))
	}
	return b.String()
}

func trim(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }

// after walks the head and then the lines, and returns the motion that the lines made.
func after(t *testing.T, lines string) []Move {
	t.Helper()
	s, ms := walkText(t, head+lines+"\nM2\n", Options{})
	for _, f := range s.Findings {
		if f.Severity >= Refused {
			t.Errorf("%q: %v", lines, f)
		}
	}
	return slices.DeleteFunc(ms, func(m Move) bool { return m.Line <= headLines })
}

func TestStandardExamples(t *testing.T) {
	tests := []struct{ clause, lines, want string }{
		// Verified copies: the printed examples.
		{"3.5.16.2, first example", "G0 Z3\nX1 Y2\nG90 G81 G98 X4 Y5 Z1.5 R2.8",
			"r(0,0,3) r(1,2,3) r(4,5,3) r(4,5,2.8) f(4,5,1.5) r(4,5,3)"},
		{"3.5.16.2, second example", "G0 Z3\nX1 Y2\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3",
			"r(0,0,3) r(1,2,3) r(1,2,4.8) r(5,7,4.8) f(5,7,4.2) r(5,7,4.8) r(9,12,4.8) f(9,12,4.2) r(9,12,4.8) r(13,17,4.8) f(13,17,4.2) r(13,17,4.8)"},
		{"3.5.3.2, arc example", "G0 X7 Y7\nG17 G2 X10 Y16 I3 J4 Z9", "r(7,7,10) c(10,16,9)"},
		{"3.5.18, G92 X7 at X4 makes the offset -3", "G0 X4\nG92 X7\nG0 X7\nX0", "r(4,0,10) r(4,0,10) r(-3,0,10)"},
		{"3.5.5, G10 L2 P1 X3.5 Y17.2", "G10 L2 P1 X3.5 Y17.2\nG0 X#5221 Y#5222", "r(3.5,17.2,10)"},
		{"3.3.1, blanks mean nothing", "g0x +0. 12 34y 7", "r(0.1234,7,10)"},
		// From memory.
		{"3.5.16.4, pecks", "G99 G83 X1 Y1 Z-3 R2 Q2",
			"r(1,1,10) r(1,1,2) f(1,1,0) r(1,1,2) r(1,1,0.254) f(1,1,-2) r(1,1,2) r(1,1,-1.746) f(1,1,-3) r(1,1,2)"},
		{"3.5.16.3, R and depth stay", "G98 G82 X1 Y1 Z-3 R2 P0.5\nX2\nX3 Z-4\nG80",
			"r(1,1,10) r(1,1,2) f(1,1,-3) r(1,1,10) r(2,1,10) r(2,1,2) f(2,1,-3) r(2,1,10) r(3,1,10) r(3,1,2) f(3,1,-4) r(3,1,10)"},
		{"3.5.16.5, tapping feeds out", "G99 G84 X1 Y1 Z-3 R2", "r(1,1,10) r(1,1,2) f(1,1,-3) f(1,1,2)"},
		{"3.5.16.6", "G99 G85 X1 Y1 Z-3 R2", "r(1,1,10) r(1,1,2) f(1,1,-3) f(1,1,2)"},
		{"3.5.16.7", "G99 G86 X1 Y1 Z-3 R2 P0", "r(1,1,10) r(1,1,2) f(1,1,-3) r(1,1,2)"},
		{"3.5.16.8, back boring", "G98 G87 X5 Y5 Z-3 R2 I1 J0 K-1",
			"r(6,5,10) r(6,5,-3) r(5,5,-3) f(5,5,-1) f(5,5,-3) r(6,5,-3) r(6,5,10) r(5,5,10)"},
		{"3.5.16.9", "G99 G88 X1 Y1 Z-3 R2 P0", "r(1,1,10) r(1,1,2) f(1,1,-3) r(1,1,2)"},
		{"3.5.16.10", "G99 G89 X1 Y1 Z-3 R2 P0", "r(1,1,10) r(1,1,2) f(1,1,-3) f(1,1,2)"},
		{"3.5.16.1, rise to R first", "G0 Z-5\nG99 G81 X1 Y1 Z-3 R2", "r(0,0,-5) r(0,0,2) r(1,1,2) f(1,1,-3) r(1,1,2)"},
		{"3.5.16, cycle in G18", "G18 G99 G81 X1 Z1 Y-3 R2", "r(0,2,10) r(1,2,1) f(1,-3,1) r(1,2,1)"},
		{"3.5.20, G98 with Z below R returns to R", "G0 Z1\nG98 G81 X1 Y1 Z-3 R2", "r(0,0,1) r(0,0,2) r(1,1,2) f(1,1,-3) r(1,1,2)"},
		{"3.5.17, I and J are increments in G90 as in G91", "G1 X10 Y10\nG91 G3 X-5 Y5 I-5 J0", "f(10,10,10) a(5,15,10)"},
		{"3.5.7, inches", "G20\nG1 X1 Y-.5\nG21 X0", "f(25.4,-12.7,10) f(0,-12.7,10)"},
		{"3.5.12, G53 is not modal", "G0 X1\nG53 G0 Z0\nG0 Z3", "r(1,0,10) r(1,0,3)"},
		{"3.3.3, settings count after the line", "#1=1\n#1=5 G0 X#1\nX#1", "r(1,0,10) r(5,0,10)"},
		{"3.3.3, several settings on a line", "#3=15\n#3=6 #4=#3\nG0 X#3 Y#4", "r(6,15,10)"},
		{"3.3.2.3, order of operations", "G0 X[2.0 / 3 * 1.5 - 5.5 / 11.0]", "r(0.5,0,10)"},
		{"3.3.2.3, power binds tightest, then left to right", "G0 X[1 + 2 * 3 ** 2 - 10 MOD 4] Y[2 ** 3 ** 2]", "r(17,64,10)"},
		{"3.3.2.3, MOD is never negative", "G0 X[[0-7] MOD 5] Y[7 MOD 5]", "r(3,2,10)"},
		{"3.5.18, G92 after G92", "G0 X4\nG92 X7\nG92 X0\nG0 X1\nG92.1\nX1", "r(4,0,10) r(5,0,10) r(1,0,10)"},
		{"3.5.18, G92.2 and G92.3", "G0 X4\nG92 X0\nG92.2\nG0 X1\nG92.3\nX1", "r(4,0,10) r(1,0,10) r(5,0,10)"},
		{"G52 and G68 of the dialect leave the tool where it is", "G0 X5 Y3\nG68 X10 Y0 R30\nG91 G0 Z1\nG69 G52 X2\nZ1", "r(5,3,10) r(5,3,11) r(5,3,12)"},
		{"3.3.2.4, functions in degrees", "G0 X[acos[0]] Y[atan[1]/[-1]] Z[fix[-2.8]+fup[-2.8]+round[2.5]]", "r(90,135,-2)"},
		{"3.3.2.2, parameters of parameters", "#2=7\n#1=2\nG0 X##1", "r(7,0,10)"},
		// Where X and Y stand from the other origin is not known until they are given.
		{"3.5.13, G59.1", "G59.1\nG0 Z10\nX1\nY2", "r(0,0,10) r(1,0,10) r(1,2,10)"},
	}
	for _, tt := range tests {
		if got := path(after(t, tt.lines)); got != tt.want {
			t.Errorf("%s: %q\n got %s\nwant %s", tt.clause, tt.lines, got, tt.want)
		}
	}
	m := after(t, "G0 X7 Y7\nG17 G2 X10 Y16 I3 J4 Z9")[1]
	if m.Centre[0] != 10 || m.Centre[1] != 11 || m.Radius != 5 || m.Kind != ArcCW {
		t.Errorf("3.5.3.2: centre %v radius %v %v, want (10, 11) radius 5 clockwise", m.Centre, m.Radius, m.Kind)
	}
	// From (-3, -4) about the centre to (0, 5), clockwise.
	if want := -(math.Pi - math.Atan2(3, 4)); math.Abs(m.Sweep-want) > 1e-12 {
		t.Errorf("3.5.3.2: sweep %v, want %v", m.Sweep, want)
	}
}

// 3.5.9.3, Table 6 (from memory): a hole's centre from four touches, X again at the
// new Y. The results of a touch live in the control, so it is read through and NOT PROVEN.
func TestProbeExample(t *testing.T) {
	text := head + `
G0 Z10 F100
#1001=50 (nominal X of the hole)
#1002=30
#1003=-5
#1004=1 (tip radius)
#1005=[20/2.0 - #1004]
G0 X#1001 Y#1002
G0 Z#1003
G38.2 X[#1001 + #1005]
#1011=#5061
G0 X#1001 Y#1002
G38.2 X[#1001 - #1005]
#1021=[[#1011 + #5061] / 2.0]
G0 X#1001 Y#1002
M2
`
	s, ms := walkText(t, text, Options{})
	if v := s.Verdict(); v != NotProven {
		t.Errorf("verdict %v, want not proven: %v", v, s.Findings)
	}
	var got []Move
	for _, m := range ms {
		if m.Kind == Probe {
			got = append(got, m)
		}
	}
	if p := path(got); p != "p(59,30,-5) p(41,30,-5)" {
		t.Errorf("touches %s", p)
	}
}

// The error conditions of the standard: each line after a good head must be refused, with
// that clause, at that line.
func TestRefused(t *testing.T) {
	tests := []struct{ clause, line, id string }{
		{"3.3", "G1 X1 (" + strings.Repeat("x", 250) + ")", "line-length"},
		{"3.3.1", "N100000 G0 X1", "line-number"},
		{"3.3.1", "N1.5 G0 X1", "line-number"},
		{"3.3.1", "G0 N5 X1", "line-number"},
		{"3.3.2", "G0 E1", "letter"},
		{"3.3.2", "G0 U1", "letter"},
		{"3.3.2", "G0 V1", "letter"},
		{"3.3.2", "G0 W1", "letter"},
		{"3.3.2", "G0 XY1", "number"},
		{"3.3.2", "G0 X1 = 5", "character"},
		{"3.3.2.1", "G0 X1.2.3", "number"},
		{"3.3.2.1", "G0 X", "number"},
		{"3.3.2.1", "G0 X-", "number"},
		{"3.3.2.1", "G0 X--1", "number"},
		{"3.3.2.1", "G0 X.", "number"},
		{"3.3.2", "G0 X1E5", "letter"}, // no exponent: it reads as a word E, which there is none
		{"3.3.2.1", "G0 X12345678901", "number"},
		{"3.3.2.2", "G0 X#0", "parameter"},
		{"3.3.2.2", "G0 X#5400", "parameter"},
		{"3.3.2.2", "#5400=1", "parameter"},
		{"3.3.2.2", "G0 X#1.5", "parameter"},
		{"3.3.2.3", "G0 X[1+2", "expression"},
		{"3.3.2.3", "G0 X[1/0]", "expression"},
		{"3.3.2.3", "G0 X[5 MOD 0]", "expression"},
		{"3.3.2.3", "G0 X[[0-8]**0.5]", "expression"},
		{"3.3.2.3", "G0 X[1 FOO 2]", "expression"},
		{"3.3.2.3", "G0 X[10**12]", "value"},
		{"3.3.2.4", "G0 X[SQRT[0-1]]", "expression"},
		{"3.3.2.4", "G0 X[ACOS[2]]", "expression"},
		{"3.3.2.4", "G0 X[ASIN[2]]", "expression"},
		{"3.3.2.4", "G0 X[LN[0]]", "expression"},
		{"3.3.2.4", "G0 X[ATAN[1]]", "expression"},
		{"3.3.2.4", "G0 X[SIN 30]", "expression"},
		{"3.3.3", "#1 5", "setting"},
		{"3.3.4", "G0 X1 (open", "comment"},
		{"3.3.4", "G0 X1 (a (b))", "comment"},
		{"3.3.4", "G0 X1 closed)", "comment"},
		{"3.3.5", "G0 X1 X2", "repeat"},
		{"3.3.5", "F1 F2", "repeat"},
		{"3.3.5", "G0 G1 X1", "group"},
		{"3.3.5", "G17 G18", "group"},
		{"3.3.5", "G90 G91", "group"},
		{"3.3.5", "M3 M4", "group"},
		{"3.3.5", "M3 M5 M7 M48 M0", "group"},
		{"3.3.5", "M3 M7 M48 M0 M6", "m-words"},
		{"3.4", "G0 G92 X1", "axis-words"},
		{"3.4", "G1 G28 X1", "axis-words"},
		{"3.4", "G0 G10 L2 P1 X1", "axis-words"},
		{"3.5, Table 5", "G12", "g-word"},
		{"3.5, Table 5", "G38.3 Z1", "g-word"},
		{"3.5, Table 5", "G-1", "g-word"},
		{"3.5, Table 5", "G1.05 X1", "g-word"},
		{"3.5.1", "G0", "axis-words"},
		{"3.5.2", "G1", "axis-words"},
		{"3.5.2", "F0\nG1 X1", "feed"},
		{"3.5.3", "G2 X1 Y1", "arc-form"},
		{"3.5.3", "G2 X1 Y1 R1 I1", "arc-form"},
		{"3.5.3", "G2 R5", "axis-words"},
		{"3.5.3", "G2 Z1 I1", "axis-words"},
		{"3.5.3.1", "G2 X0 Y0 R5", "arc-closed"},
		{"3.5.3.1", "G2 X10 Y0 R4", "arc-short"},
		{"3.5.3.1", "G2 X10 Y0 R0", "arc-zero"},
		{"3.5.3.2", "G2 X10 Y1 I5 J0", "arc-radius"},
		{"3.5.3.2", "G2 X10 Y0 I5.0011 J0", "arc-radius"},
		{"3.5.3.2", "G2 X0 Y0 I0 J0", "arc-zero"},
		{"3.5.3.2", "G2 X10 Y0 I5 K1", "arc-form"},
		{"3.5.3.2", "G18\nG2 X10 Z10 I5 J1", "arc-form"},
		{"3.5.4", "G4", "dwell"},
		{"3.5.4", "G4 P-1", "dwell"},
		{"3.5.4", "G0 X1 P5", "word-unused"},
		{"3.5.5", "G10 P1 X1", "origin"},
		{"3.5.5", "G10 L3 P1 X1", "origin"},
		{"3.5.5", "G10 L2 X1", "origin"},
		{"3.5.5", "G10 L2 P0 X1", "origin"},
		{"3.5.5", "G10 L2 P10 X1", "origin"},
		{"3.5.5", "G10 L2 P1.5 X1", "origin"},
		{"3.5.6", "G41 D1\nG18", "plane"},
		{"3.5.7", "G41 D1\nG20", "units"},
		{"3.5.9", "G38.2", "probe"},
		{"3.5.9", "G38.2 Z9.8", "probe"},
		{"3.5.9", "G93\nG38.2 Z0 F1", "probe"},
		{"3.5.10", "G18\nG41 D1", "compensation"},
		{"3.5.10", "G41 D1\nG42 D1", "compensation"},
		{"3.5.10", "G41 D1.5", "compensation"},
		{"3.5.10", "G41 D-1", "compensation"},
		{"3.5.10", "G0 X1 D1", "word-unused"},
		{"3.5.11", "G43", "length"},
		{"3.5.11", "G43 H-1", "length"},
		{"3.5.11", "G43 H1.5", "length"},
		{"3.5.11", "G0 X1 H1", "word-unused"},
		{"3.5.12", "G81 X1 Z-1 R2\nG53 X1", "machine"},
		{"3.5.12", "G41 D1\nG53 G0 X1", "machine"},
		{"3.5.13", "G41 D1\nG55", "offset"},
		{"3.5.15", "G80 X1", "axis-words"},
		{"3.5.15", "G80\nX1", "axis-words"},
		{"3.5.16", "G81 X1 Y1 Z-1", "cycle"},
		{"3.5.16", "G81 X1 Y1 R2", "cycle"},
		{"3.5.16", "G81", "cycle"},
		{"3.5.16", "G81 R2", "cycle"},
		{"3.5.16", "G81 X1 Z-1 R-2", "cycle"},
		{"3.5.16", "G81 X1 Z-1 R2 L0", "cycle"},
		{"3.5.16", "G81 X1 Z-1 R2 L1.5", "cycle"},
		{"3.5.16", "G82 X1 Z-1 R2", "cycle"},
		{"3.5.16", "G82 X1 Z-1 R2 P-1", "cycle"},
		{"3.5.16", "G81 A1 Z-1 R2", "cycle"},
		{"3.5.16", "G93\nG81 X1 Z-1 R2 F1", "cycle"},
		{"3.5.16", "G41 D1\nG81 X1 Z-1 R2", "cycle"},
		{"3.5.16", "G0 X1 L2", "word-unused"},
		{"3.5.16", "G0 X1 Q2", "word-unused"},
		{"3.5.16.4", "G83 X1 Z-1 R2", "cycle"},
		{"3.5.16.4", "G83 X1 Z-1 R2 Q0", "cycle"},
		{"3.5.16.5", "M5\nG84 X1 Z-1 R2", "cycle"},
		{"3.5.16.8", "G87 X1 Z-1 R2", "cycle"},
		{"3.5.18", "G92", "shift"},
		{"3.5.19", "G93\nG1 X1", "feed"},
		{"3.5.19", "G93\nG1 X1 F10\nX2", "feed"},
		{"3.6, Table 7", "M10", "m-word"},
		{"3.6, Table 7", "M1.5", "m-word"},
		{"3.7.1", "F-1", "feed"},
		{"3.7.2", "S-1", "spindle"},
		{"3.7.3", "T-1", "tool"},
		{"3.7.3", "T1.5", "tool"},
	}
	for _, tt := range tests {
		line := headLines + 1 + strings.Count(tt.line, "\n")
		text := head + tt.line + "\nM2\n"
		s, _ := walkText(t, text, Options{})
		if s.Verdict() != Refused {
			t.Errorf("%s: %q is not refused: %v", tt.clause, tt.line, s.Findings)
			continue
		}
		i := slices.IndexFunc(s.Findings, func(f Finding) bool { return f.Severity == Refused })
		f := s.Findings[i]
		if f.ID != tt.id || f.Clause != tt.clause || f.Line != line {
			t.Errorf("%s: %q: got %v, want id %s at line %d", tt.clause, tt.line, f, tt.id, line)
		}
		if f.Hint == "" {
			t.Errorf("%q: no hint", tt.line)
		}
	}
}

// 3.1: how a program is framed.
func TestFrame(t *testing.T) {
	const body = "G21 G17 G90 G54\nS1 M3 F1\nG0 Z1\nX1 Y1\n"
	tests := []struct {
		name, text, end string
		refused         bool
	}{
		{"M2", body + "M2\n", "M2", false},
		{"M30, no line end", body + "M30", "M30", false},
		{"percent signs", "%\n" + body + "%\n", "%", false},
		{"percent after blank lines", "\n\n  %\n" + body + "%\n", "%", false},
		{"nothing after the second counts", "%\n" + body + "%\nthis is no program (\n", "%", false},
		{"nothing after M2 counts", body + "M2\nthis is no program (\n", "M2", false},
		{"no end", body, "", true},
		{"no closing percent", "%\n" + body, "", true},
		{"empty", "", "", true},
		{"text beside the percent", "%1\n" + body + "M2\n", "M2", true},
	}
	for _, tt := range tests {
		s, _ := walkText(t, tt.text, Options{})
		if (s.Verdict() == Refused) != tt.refused || s.Ended != tt.end {
			t.Errorf("%s: ended %q, %v", tt.name, s.Ended, s.Findings)
		}
	}
}

// Forms that the standard refuses and many controls take.
func TestLenient(t *testing.T) {
	for _, line := range []string{"G0 G17 G40 G80", "G1", "G2 I5", "M10", "G12", "G0 X1 P5", "G1 X1 Q1", "G81 X1 Z-1 R2 H3"} {
		text := head + line + "\nM2\n"
		if s, _ := walkText(t, text, Options{}); s.Verdict() != Refused {
			t.Errorf("%q is not refused", line)
		}
		s, _ := walkText(t, text, Options{Lenient: true})
		if s.Verdict() >= Refused {
			t.Errorf("%q is refused: %v", line, s.Findings)
		}
		if strings.HasSuffix(line, "0") && line[0] == 'M' && s.Verdict() != NotProven {
			t.Errorf("%q: %v, want not proven", line, s.Verdict())
		}
	}
	_, ms := walkText(t, head+"G1 X10\nG2 I5\nM2\n", Options{Lenient: true})
	if m := ms[len(ms)-1]; math.Abs(m.Sweep+2*math.Pi) > 1e-12 || m.Radius != 5 {
		t.Errorf("full circle without an end point: %+v", m)
	}
}

// walkTo walks a program given as text into a sink.
func walkTo(t testing.TB, text string, opts Options, sink Sink) *Summary {
	t.Helper()
	s, err := Walk(context.Background(), strings.NewReader(text), opts, sink)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
