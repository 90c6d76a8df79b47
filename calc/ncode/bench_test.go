package ncode

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"testing"

	"fliptrue/calc/clearance"
)

// ringOf returns 20 obstacles: clamps in a ring about the part, their faces about away mm from its rim.
func ringOf(tb testing.TB, away float64) ([]clearance.Obstacle, map[int]clearance.Tool) {
	tb.Helper()
	var obs []clearance.Obstacle
	for i := range 20 {
		a := 2 * math.Pi * float64(i) / 20
		c, s := math.Cos(a), math.Sin(a)
		x, y := 48+(49+away)*c, 32+(32+away)*s
		var pts []clearance.Point
		for _, q := range [][2]float64{{0, -6}, {40, -6}, {40, 6}, {0, 6}} {
			pts = append(pts, clearance.Point{X: x + q[0]*c - q[1]*s, Y: y + q[0]*s + q[1]*c})
		}
		o, err := clearance.NewOutline(pts)
		if err != nil {
			tb.Fatal(err)
		}
		obs = append(obs, clearance.Obstacle{Name: fmt.Sprintf("clamp %d", i+1), Outline: o, Top: 12})
	}
	t, err := clearance.NewTool("flat 3.175", clearance.Dims{Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: 20, Holder: 24})
	if err != nil {
		tb.Fatal(err)
	}
	return obs, map[int]clearance.Tool{3: t}
}

// expectBench is what the generated program is held against.
func expectBench() Expect {
	clear, floor := 2.0, -9.0
	return Expect{System: 1, Units: MM, Part: &Cuboid{Min: [3]float64{0, 0, -16}, Max: [3]float64{96, 64, 0}}, Clearance: &clear,
		Tools: map[int]Tool{3: {Length: 76, Radius: 1.5875}}, Floor: &floor, Ceiling: 0.5,
		Travel: &Cuboid{Min: [3]float64{-400, -250, -300}, Max: [3]float64{0, 0, 0}},
		Placed: &Placement{Offset: [3]float64{-267.468, -158.221, -285.690}, Rotation: 0.0002}}
}

// benchLines is the length of the benchmark program: NCODE_LINES, or 200 000 lines.
func benchLines(tb testing.TB) int {
	n := 200_000
	if s := os.Getenv("NCODE_LINES"); s != "" {
		if _, err := fmt.Sscan(s, &n); err != nil {
			tb.Fatalf("NCODE_LINES %q: %v", s, err)
		}
	}
	return n
}

// BenchmarkWalk measures MB/s of the whole walk, findings and clearance included, with
// 20 obstacles far from the path, and with a tenth of the lines close to them:
//
//	go test -run '^$' -bench Walk -cpu 1,2 ./calc/ncode
//	NCODE_LINES=4000000 go test -run '^$' -bench Walk -benchtime 3x ./calc/ncode
func BenchmarkWalk(b *testing.B) {
	for _, c := range []struct {
		name       string
		near, away float64
	}{{"far", 0, 60}, {"near", 0.1, 2}} {
		b.Run(c.name, func(b *testing.B) {
			var text bytes.Buffer
			if err := generate(&text, benchLines(b), c.near); err != nil {
				b.Fatal(err)
			}
			obs, tools := ringOf(b, c.away)
			b.SetBytes(int64(text.Len()))
			b.ReportAllocs()
			for b.Loop() {
				sink, err := NewClearance(clearance.Usual, obs, tools, nil)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := Walk(context.Background(), bytes.NewReader(text.Bytes()), Options{Expect: expectBench()}, sink); err != nil {
					b.Fatal(err)
				}
				sink.Findings()
			}
		})
	}
}

// BenchmarkLex measures reading and lexing alone.
func BenchmarkLex(b *testing.B) {
	var text bytes.Buffer
	if err := generate(&text, benchLines(b), 0); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(text.Len()))
	for b.Loop() {
		p := plain{c: cutter{r: bytes.NewReader(text.Bytes()), size: blockSize}}
		for p.next() != nil {
		}
	}
}

// TestGenerate writes the benchmark program to the file that NCODE_GEN names, for timing
// a whole process from outside; without it there is nothing to do:
//
//	NCODE_GEN=far.nc NCODE_LINES=4000000 go test -run Generate ./calc/ncode
//	NCODE_GEN=near.nc NCODE_NEAR=1 NCODE_LINES=4000000 go test -run Generate ./calc/ncode
func TestGenerate(t *testing.T) {
	name := os.Getenv("NCODE_GEN")
	if name == "" {
		if err := generate(io.Discard, 1000, 0); err != nil {
			t.Fatal(err)
		}
		return
	}
	near := 0.0
	if os.Getenv("NCODE_NEAR") != "" {
		near = 0.1
	}
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := generate(f, benchLines(t), near); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}
