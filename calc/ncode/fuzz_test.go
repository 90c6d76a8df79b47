package ncode

import (
	"bytes"
	"context"
	"math"
	"testing"

	"fliptrue/calc/clearance"
)

// finiteSink fails on a move that is not finite and counts them.
type finiteSink struct {
	t *testing.T
	n int
}

func (s *finiteSink) Move(m *Move) {
	s.n++
	lo, hi := m.Bounds()
	mid := m.At(0.5)
	for i := range 3 {
		for _, v := range [...]float64{m.From[i], m.To[i], m.Centre[i], lo[i], hi[i], mid[i], m.Sweep, m.Radius, m.Feed} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				s.t.Fatalf("move is not finite: %+v", *m)
			}
		}
		if m.Known&(1<<i) == 0 && m.From[i] != 0 || m.Ends&(1<<i) == 0 && m.To[i] != 0 {
			s.t.Fatalf("an unknown place has a value: %+v", *m)
		}
	}
	if m.Line <= 0 || math.Abs(m.Sweep) > 2*math.Pi+1e-9 {
		s.t.Fatalf("move: %+v", *m)
	}
}

// FuzzWalk: whatever is read, there is no panic, no hang and no NaN, the work is bounded
// by the length, findings are bounded and point into the program, what is refused or
// not followed is never a pass, and a second walk says the same.
func FuzzWalk(f *testing.F) {
	for _, s := range []string{
		"%\nG21 G17 G90 G54\nT1 M6\nS1 M3 F1\nG43 H1 G0 Z5\nX1 Y1\nG1 Z-1\nG2 X3 I1\nG3 X1 Y1 Z-2 R1\nG80 G49\nM30\n%\n",
		head + "G83 X1 Y1 Z-9 R2 Q.1 L3\nG91 G81 X1 Z-1 R1 L5\nG87 X1 Z-3 R2 I1 J1 K1\nM2",
		head + "#1=[1+2*3**2 MOD 4] #2=#1\nG0 X[sqrt[#1]] Y##2 Z[atan[1]/[2]]\nM2",
		head + "G68 X1 Y2 R30\nG1 X5\nG92 X0\nG52 Y3\nG91 G28 Z0\nG90 G53 G0 Z0\nG10 L2 P1 X1\nG55 G0 X1\nM2",
		head + "M98 P1 L3\nM30\nO1\nM98 P2 L3\nM99\nO2\nG91 G1 X1\nM99\n",
		"G20 G90 G18\r\nM3\r\nF1\r\n/G1 X1 (MSG, hello)\r\n;rest\r\nIF [#1 EQ 1] GOTO 5\r\n",
		"G1 X" + "[[[[[[1]]]]]]" + "\rG93 G2 X1 Y1 R1 F.0001\rG38.2 Z0\rM2",
		"\xef\xbb\xbfN1 G0 X999999999\nG91 X999999999\nX999999999\nG1 F999999999 X-999999999 Y.000000000000001",
	} {
		f.Add([]byte(s), false)
		f.Add([]byte(s), true)
	}
	o, err := clearance.Rectangle(1, 1, 3, 3)
	if err != nil {
		f.Fatal(err)
	}
	tool, err := clearance.NewTool("flat", clearance.Dims{Dia: 2, Flute: 3, Shank: 2, Stickout: 9, Holder: 20})
	if err != nil {
		f.Fatal(err)
	}
	floor, clear := -5.0, 2.0
	f.Fuzz(func(t *testing.T, text []byte, lenient bool) {
		opts := Options{Lenient: lenient, BlockDelete: !lenient, MaxCalls: 50, MaxLines: 2000}
		if lenient {
			opts.Expect = Expect{System: 1, Units: MM, Part: &Cuboid{Max: [3]float64{20, 10, 5}}, Clearance: &clear, Z0: Z0{Z0Floor, 5},
				Tools: map[int]Tool{1: {Length: 70, Radius: 1}}, Travel: &Cuboid{Min: [3]float64{-100, -100, -100}},
				Placed: &Placement{Offset: [3]float64{-50, -50, -90}, Rotation: 0.01}, Floor: &floor, Ceiling: 0.5}
		}
		one := func() (*Summary, []Finding, int) {
			fin := &finiteSink{t: t}
			sink, err := NewClearance(clearance.Usual, []clearance.Obstacle{{Name: "post", Outline: o, Top: 1}}, map[int]clearance.Tool{0: tool, 1: tool}, fin)
			if err != nil {
				t.Fatal(err)
			}
			s, err := Walk(context.Background(), bytes.NewReader(text), opts, sink)
			if err != nil {
				t.Fatal(err)
			}
			fs := sink.Findings()
			for _, n := range sink.Nearest() {
				if math.IsNaN(n.Gap) || math.IsInf(n.Gap, 0) {
					t.Fatalf("nearest: %+v", n)
				}
			}
			return s, fs, fin.n
		}
		s, fs, n := one()
		if limit := (len(text)/4 + 2000) * 3 * maxPecks; n > limit {
			t.Fatalf("%d moves from %d bytes", n, len(text))
		}
		lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1
		for _, f := range append(s.Findings, fs...) {
			if f.Line < 0 || f.Line > lines || f.ID == "" || f.Hint == "" {
				t.Fatalf("finding %+v in %d lines", f, lines)
			}
			if (f.Severity == Refused) != (f.Clause != "") {
				t.Fatalf("clause of %+v", f)
			}
		}
		if s.Ended == "" && s.Verdict() < NotProven {
			t.Fatalf("no end, and %v", s.Verdict())
		}
		for _, b := range []Box{s.Feed, s.Rapid} {
			for i := range 3 {
				if math.IsNaN(b.Min[i]+b.Max[i]) || math.IsInf(b.Min[i]+b.Max[i], 0) || b.Min[i] > b.Max[i] {
					t.Fatalf("box %+v", b)
				}
			}
		}
		s2, fs2, n2 := one()
		if n != n2 || len(s.Findings) != len(s2.Findings) || len(fs) != len(fs2) {
			t.Fatalf("a second walk says other things")
		}
		for i := range s.Findings {
			if s.Findings[i] != s2.Findings[i] {
				t.Fatalf("%v and %v", s.Findings[i], s2.Findings[i])
			}
		}
	})
}
