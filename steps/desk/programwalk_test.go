package desk

import (
	"bytes"
	"context"
	"fmt"
	"math"
	rand "math/rand/v2"
	"testing"

	"fliptrue/calc/clearance"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// A fold must not follow a program again, and a change of what it is held against must.
func TestProgramIsFollowedOnce(t *testing.T) {
	p := &fold.Plan{Files: &fold.Files{}}
	f := fold.ProgramFile{Name: "a.nc", Hash: "1", Data: []byte("G21 G90 G17 G54\nG0 Z10\nM30\n")}
	a := heldAgainst{lenient: true}
	first := Follow(p, f, a)
	if Follow(p, f, a) != first {
		t.Error("followed twice for nothing")
	}
	a.expect.System = 2
	if second := Follow(p, f, a); second == first || second.sum.Findings[0].ID != "offset" {
		t.Error("not followed again for another offset")
	}
	g := f
	g.Hash, g.Data = "2", []byte("G21 G90 G17 G54\nG0 Z10\nX5\nM30\n")
	if w := Follow(p, g, heldAgainst{lenient: true}); w == first || w.sum.Moves != 2 {
		t.Error("not followed again for another text")
	}
}

// Each field of what a program is held against is in the key of its walk.
func TestEveryDifferenceHasItsKey(t *testing.T) {
	base := heldAgainst{}
	seen := map[string]string{base.key(): "nothing"}
	one := 1.0
	for name, change := range map[string]func(*heldAgainst){
		"system":    func(a *heldAgainst) { a.expect.System = 1 },
		"units":     func(a *heldAgainst) { a.expect.Units = 1 },
		"stock":     func(a *heldAgainst) { a.expect.Stock = 1 },
		"clearance": func(a *heldAgainst) { a.expect.Clearance = &one },
		"floor":     func(a *heldAgainst) { a.expect.Floor = &one },
		"floors":    func(a *heldAgainst) { a.expect.Floors = map[int]float64{1: 1} },
		"z0":        func(a *heldAgainst) { a.expect.Z0.Thickness = 1 },
		"lenient":   func(a *heldAgainst) { a.lenient = true },
		"table":     func(a *heldAgainst) { a.clear = true },
		"obstacle":  func(a *heldAgainst) { a.obstacles = []clearance.Obstacle{{Name: "x", Top: 1}} },
	} {
		a := base
		change(&a)
		if other, ok := seen[a.key()]; ok {
			t.Errorf("%s has the key of %s", name, other)
		}
		seen[a.key()] = name
	}
}

// However long a program is its path is drawn with few places, all of them on it, and over
// its whole extent.
func TestPathIsThinned(t *testing.T) {
	for _, kind := range []string{"one line", "many short ones", "arcs"} {
		var text bytes.Buffer
		text.WriteString("G21 G90 G17 G54 F100 S1000 M3\nG0 Z10\nX0 Y0\nG1 Z0\n")
		for i := range 40_000 {
			a := float64(i) / 1000
			switch kind {
			case "arcs":
				fmt.Fprintf(&text, "G2 X%.4f Y0 R5\n", float64(i%2)*8)
			case "many short ones":
				fmt.Fprintf(&text, "G0 X%.4f Y%.4f\nG1 X%.4f\n", a, a, a+1)
			default:
				fmt.Fprintf(&text, "X%.4f Y%.4f\n", 20*math.Cos(a), 20*math.Sin(a))
			}
		}
		text.WriteString("M30\n")
		a := heldAgainst{lenient: true}
		w, err := a.walk(context.Background(), bytes.NewReader(text.Bytes()), nil)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		lo, hi := fold.XY{X: 1e9, Y: 1e9}, fold.XY{X: -1e9, Y: -1e9}
		for _, l := range w.path {
			n += len(l)
			for _, q := range l {
				lo, hi = fold.XY{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, fold.XY{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
			}
		}
		if n > maxPath || n < maxPath/4 {
			t.Errorf("%s: %d places", kind, n)
		}
		b := w.sum.Feed
		for i, v := range [4]float64{lo.X - b.Min[0], b.Max[0] - hi.X, lo.Y - b.Min[1], b.Max[1] - hi.Y} {
			if v < -1e-6 || v > 2 {
				t.Errorf("%s: side %d is drawn off by %.3f", kind, i, v)
			}
		}
	}
}

// The fixture as obstacles is its box less the pocket: each random place is in one of them
// if and only if it is in the box and not in the pocket.
func TestFixtureBodyIsAboutThePocket(t *testing.T) {
	for name, pocket := range map[string]jobs.Outline{
		"rectangle": {{X: 45, Y: 20}, {X: 141, Y: 20}, {X: 141, Y: 84}, {X: 45, Y: 84}},
		"bevelled":  {{X: 60, Y: 20}, {X: 141, Y: 20}, {X: 141, Y: 70}, {X: 120, Y: 84}, {X: 45, Y: 84}, {X: 45, Y: 40}},
	} {
		j := &jobs.Job{}
		j.Part.Size = [3]float64{96, 64, 16}
		j.Fixture.Pocket.Outline = pocket
		j.Fixture.AsMade.PartZero = jobs.Point{X: 45, Y: 20}
		j.Fixture.AsMade.Floor.Depth = 12
		p := &fold.Plan{Job: j, Setup: &jobs.Setup{Kind: kit.SecondSide, Floating: true}}
		body := fixtureBody(p)
		if len(body) != len(pocket) {
			t.Fatalf("%s: %d obstacles", name, len(body))
		}
		in, err := pocket.Convex()
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := kit.FixtureBox(p)
		r := rand.New(rand.NewPCG(1, 2))
		for range 5000 {
			q := clearance.Point{X: lo.X - 5 + (hi.X-lo.X+10)*r.Float64(), Y: lo.Y - 5 + (hi.Y-lo.Y+10)*r.Float64()}
			inside := q.X > lo.X && q.X < hi.X && q.Y > lo.Y && q.Y < hi.Y
			want := inside && in.Signed(q) > 0
			got := false
			for _, o := range body {
				got = got || o.Outline.Signed(clearance.Point{X: q.X - 45, Y: q.Y - 20}) < 0
				if o.Top != 12 {
					t.Fatalf("%s: top %v", name, o.Top)
				}
			}
			if got != want {
				t.Fatalf("%s: %v is in the body: %v, want %v", name, q, got, want)
			}
		}
	}
}
